"""The page on which a recipe is written: its addresses, and the talk with the browser over a web socket."""

from __future__ import annotations

import asyncio
import io
import json
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route, WebSocketRoute
from starlette.websockets import WebSocket, WebSocketDisconnect

from foldwright.desk.compiling import Message, SheetWish
from foldwright.desk.desk import Desk, page
from foldwright.desk.drafting import Drafting
from foldwright.desk.keeping import Choice, RecipeOnDisk
from foldwright.desk.manuscript import Manuscript
from foldwright.desk.paper_workers import PaperWorker
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong

_PREVIEW = (
    "default-src 'none'; style-src 'unsafe-inline'; img-src 'self' data:; font-src data:; form-action 'none'; "
    "base-uri 'none'; frame-ancestors 'self'; sandbox allow-same-origin"
)
"""What the tutorial beside the text may do: be looked at. No script runs in it, whatever the recipe says."""


class Manuscripts:
    """The recipes that are open. Each is opened when it is first asked for, and stays until the desk closes."""

    def __init__(self, desk: Desk, worker: PaperWorker) -> None:
        self._desk, self._worker = desk, worker
        self._open: dict[str, Manuscript] = {}

    def of(self, slug: str) -> Manuscript | Wrong | None:
        """The manuscript of a recipe; None where there is none of that name."""
        if slug in self._open:
            return self._open[slug]
        source = self._desk.recipe(slug)
        if source is None:
            return None
        on_disk = RecipeOnDisk(source.folder, self._desk.folder)
        opened = on_disk.open()
        if isinstance(opened, Wrong):
            return opened
        made = Manuscript(source, Drafting(on_disk, opened), opened.text, self._worker)
        self._open[slug] = made
        return made

    async def close(self) -> None:
        """Write what is not written yet."""
        for one in self._open.values():
            await one.close()


def routes(desk: Desk, manuscripts: Manuscripts) -> list[BaseRoute]:
    """The addresses of writing."""

    async def write(request: Request) -> Response:
        manuscript = manuscripts.of(request.path_params["slug"])
        if manuscript is None:
            return page("missing.html", 404)
        if isinstance(manuscript, Wrong):
            why = catalogue().say(manuscript.message, **dict(manuscript.facts))
            return page("unreadable.html", 409, why=why)
        return page("write.html", slug=manuscript.source.slug, text=manuscript.text, **_choices())

    async def preview(_request: Request) -> Response:
        return Response("<!doctype html><html><head></head><body></body></html>", media_type="text/html", headers={"content-security-policy": _PREVIEW})

    async def sheet(request: Request) -> Response:
        manuscript = manuscripts.of(request.path_params["slug"])
        made = manuscript.sheets.sheet(request.path_params["kind"]) if isinstance(manuscript, Manuscript) else None
        return _file_of(made, request.path_params["file"]) if made else page("missing.html", 404)

    async def line(socket: WebSocket) -> None:
        manuscript = manuscripts.of(socket.path_params["slug"])
        if not isinstance(manuscript, Manuscript):
            await socket.close(1008)
            return
        await Talk(socket, manuscript).go_on()

    return [
        Route("/recipe/{slug}", write),
        Route("/recipe/{slug}/preview", preview),
        Route("/recipe/{slug}/sheet/{kind}/{file}", sheet),
        WebSocketRoute("/recipe/{slug}/line", line),
    ]
