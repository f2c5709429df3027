"""The files that pages of the desk load: our own, the editor and the 3-D library that NiceGUI carries, and the faces.

Of NiceGUI nothing is imported, which would take a second: it is where these libraries can be had from PyPI, ready to be
served. The versions that are tested stand in `compiler/pinned.txt`.
"""

from __future__ import annotations

import importlib.util
from pathlib import Path

from starlette.responses import Response
from starlette.routing import BaseRoute, Mount
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from foldwright.desk.desk import HERE
from foldwright.guide import FOLDER
from foldwright.render.fonts import FACES, font_file

_FOR_AN_HOUR = "private, max-age=3600"


def assets() -> list[BaseRoute]:
    """Under which addresses they are served."""
    elements = _nicegui() / "elements"
    return [
        Mount("/static", Kept(directory=HERE / "static")),
        Mount("/editor", Kept(directory=elements / "codemirror" / "dist")),
        Mount("/three", Kept(directory=elements / "scene" / "dist")),
        Mount("/guide", Kept(directory=FOLDER / "pictures")),
        Mount("/faces", Kept(directory=font_file(FACES["sans"]).parent)),
    ]


class Kept(StaticFiles):
    """Files that a browser may keep for a while: our own are asked about each time, as they change with the program."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        answer = await super().get_response(path, scope)
        ours = str(self.directory) == str(HERE / "static")
        answer.headers["cache-control"] = "no-cache" if ours else _FOR_AN_HOUR
        return answer


def _nicegui() -> Path:
    spec = importlib.util.find_spec("nicegui")
    if spec is None or spec.origin is None:
        raise FileNotFoundError("nicegui is not installed")
    return Path(spec.origin).parent
