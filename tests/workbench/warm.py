"""A process that has the program's modules loaded, and makes of itself one that runs a command. Not a test.

Starting Python and loading what sets pages takes longer than most commands. What runs here is `foldwright.cli.main`, in
a process, a folder and with the streams of its own, as `python -m foldwright` would run it; only the loading is done.
`test_imports` and `test_version` start the program from nothing.
"""

from __future__ import annotations

import atexit
import importlib
import json
import os
import socket
import sys

LOADED = (
    "foldwright.cli.app",
    "foldwright.cli.build",
    "foldwright.cli.check",
    "foldwright.cli.kit",
    "foldwright.cli.new",
    "foldwright.outputs.compiling",
    "foldwright.render.paper.typesetting",
    "babel.numbers",
    "highspy",
    "jinja2",
    "numpy",
    "PIL.Image",
    "resvg_py",
    "shapely",
    "weasyprint",
)


_ended_with = [1]
"""The status of this process, as far as it is known: a traceback leaves the one that Python gives it."""


@atexit.register
def _leave() -> None:
    """Registered first, so called last. All that would follow is putting memory away, module by module, which takes ten
    times as long as a short command."""
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(_ended_with[0])


def serve(line: socket.socket) -> None:
    """A command a line, its status for an answer; ends with whoever asks."""
    for name in LOADED:
        importlib.import_module(name)
    with line.makefile("rwb", buffering=0) as asked:
        for request in iter(asked.readline, b""):
            child = os.fork()
            if not child:
                asked.close()
                line.close()
                _ended_with[0] = run(**json.loads(request))
                return
            _, status = os.waitpid(child, 0)
            asked.write(b"%d\n" % os.waitstatus_to_exitcode(status))
    _ended_with[0] = 0


def run(words: list[str], cwd: str, streams: list[str]) -> int:
    """The command in its folder; `streams` are files for what is typed, said and complained of."""
    from foldwright.cli import main

    os.chdir(cwd)
    for number, (name, mode) in enumerate(zip(streams, (os.O_RDONLY, os.O_WRONLY, os.O_WRONLY), strict=True)):
        file = os.open(name, mode)
        os.dup2(file, number)
        os.close(file)
    sys.argv = ["foldwright", *words]
    return main()


if __name__ == "__main__":
    serve(socket.socket(fileno=int(sys.argv[1])))
