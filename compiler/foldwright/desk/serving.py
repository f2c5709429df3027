"""Opens the desk: a port of this machine, the address with its key, and the server until it is stopped."""

from __future__ import annotations

import asyncio
import gc
import socket
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager

import uvicorn
from starlette.types import ASGIApp

from foldwright.desk.app import desk_app
from foldwright.desk.desk import Desk
from foldwright.desk.tablets import room_app
from foldwright.finding import Wrong

HOST = "127.0.0.1"
_MOST_MESSAGE = 4 * 1024 * 1024
"""Of a message over a web socket, in bytes; a recipe may have one megabyte."""
_SELDOM = 10_000
"""After how many new objects to look for garbage: a change of a recipe leaves half a megabyte in some hundred."""


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


def serve(
    desk: Desk, listening: socket.socket, ready: Callable[[], None], in_room: socket.socket | None = None
) -> None:
    """Serve the desk until the process is told to end; `ready` is called once it answers. Where the desk has a room,
    its own application is served to the network beside it, through the socket `in_room`."""
    _load_at_once()
    port = listening.getsockname()[1]
    hosts = (f"{HOST}:{port}", f"localhost:{port}")
    config = _config(desk_app(desk, hosts, port))
    # What is loaded by now stays; what comes from here on comes and goes for hours.
    gc.freeze()
    gc.enable()
    gc.set_threshold(_SELDOM)
    with closing(listening):
        if desk.room is None or in_room is None:
            _Told(config, ready).run(sockets=[listening])
            return
        with closing(in_room):
            room = _Beside(_config(room_app(desk.room, in_room.getsockname()[1])))
            _Told(config, ready, (room, in_room)).run(sockets=[listening])


def _load_at_once() -> None:
    """What two threads must not begin to load at the same time: after that it could not be loaded at all, and no recipe
    compiled nor a page of theirs shown until the desk is started again."""
    import numpy  # noqa: F401
    import shapely  # noqa: F401


def _config(app: ASGIApp) -> uvicorn.Config:
    return uvicorn.Config(
        app,
        http="h11",
        ws="websockets-sansio",
        ws_max_size=_MOST_MESSAGE,
        log_config=None,
        access_log=False,
        server_header=False,
        timeout_graceful_shutdown=2,
    )


class _Beside(uvicorn.Server):
    """A server that begins and ends with another, which alone hears the signals."""

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        yield


class _Told(uvicorn.Server):
    def __init__(
        self, config: uvicorn.Config, ready: Callable[[], None], beside: tuple[_Beside, socket.socket] | None = None
    ) -> None:
        super().__init__(config)
        self._ready, self._beside = ready, beside
        self._tasks: list[asyncio.Task[None]] = []

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if self._beside:
            server, listening = self._beside
            self._tasks.append(asyncio.create_task(server.serve(sockets=[listening])))
        self._ready()

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        if self._beside:
            self._beside[0].should_exit = True
            await asyncio.gather(*self._tasks)
        await super().shutdown(sockets)
