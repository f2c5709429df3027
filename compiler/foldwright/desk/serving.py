"""Opens the desk: a port of this machine, the address with its key, and the server until it is stopped."""

from __future__ import annotations

import socket
from collections.abc import Callable
from contextlib import closing

import uvicorn

from foldwright.desk.app import desk_app
from foldwright.desk.desk import Desk
from foldwright.finding import Wrong

HOST = "127.0.0.1"
_MOST_MESSAGE = 4 * 1024 * 1024
"""Of a message over a web socket, in bytes; a recipe may have one megabyte."""


def open_port(port: int) -> socket.socket | Wrong:
    """A socket that listens on a port of this machine alone; 0 takes one that is free."""
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((HOST, port))
        listening.listen(64)
    except OSError:
        listening.close()
        return Wrong.of("desk-port-taken", port=port)
    return listening


def address_of(desk: Desk, listening: socket.socket) -> str:
    """What is opened in a browser."""
    return f"http://{HOST}:{listening.getsockname()[1]}/?key={desk.key}"


def serve(desk: Desk, listening: socket.socket, ready: Callable[[], None]) -> None:
    """Serve the desk until the process is told to end; `ready` is called once it answers."""
    port = listening.getsockname()[1]
    hosts = (f"{HOST}:{port}", f"localhost:{port}")
    config = uvicorn.Config(
        desk_app(desk, hosts, port),
        http="h11",
        ws="websockets-sansio",
        ws_max_size=_MOST_MESSAGE,
        log_config=None,
        access_log=False,
        server_header=False,
        timeout_graceful_shutdown=2,
    )
    with closing(listening):
        _Told(config, ready).run(sockets=[listening])


class _Told(uvicorn.Server):
    def __init__(self, config: uvicorn.Config, ready: Callable[[], None]) -> None:
        super().__init__(config)
        self._ready = ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        self._ready()
