"""The page on which a recipe is written: its addresses."""

from __future__ import annotations

import asyncio
from contextlib import suppress
from typing import Any

from starlette.requests import ClientDisconnect, Request
from starlette.responses import JSONResponse, Response
from starlette.routing import BaseRoute, Route, WebSocketRoute
from starlette.websockets import WebSocket

from foldwright.authoring.inserting import GROUPS, insert_list, is_known
from foldwright.authoring.sketches import sketch
from foldwright.desk.desk import page
from foldwright.desk.offsets import Offsets
from foldwright.desk.paper_workers import Overtaken, PaperWorker, WorkLost
from foldwright.desk.writing.manuscript import Manuscript
from foldwright.desk.writing.manuscripts import Manuscripts
from foldwright.desk.writing.photographs import MOST_BYTES, take_in
from foldwright.desk.writing.sheets import PAPER_SHEETS
from foldwright.desk.writing.talk import Talk
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.finding.changes import changed
from foldwright.measure.length import System
from foldwright.render.paper.papers import PAPERS
from foldwright.render.themes import built_in_themes

PREVIEW = (
    "default-src 'none'; style-src 'self'; img-src 'self'; font-src data:; form-action 'none'; "
    "base-uri 'none'; frame-ancestors 'self'; sandbox allow-same-origin"
)
"""What the tutorial beside the text may do: be looked at. No script runs in it, whatever the recipe says."""
_ALONE = "sandbox allow-scripts allow-modals"
"""The tutorial on a page of its own may switch units and be printed; to the desk it is a stranger."""
_PATIENCE = 10
"""How many times as much as is taken may be sent before nobody listens any more."""
_FOR_EVER = {"cache-control": "private, max-age=31536000, immutable"}
_EMPTY = "<!doctype html><html><head></head><body></body></html>"
_SHEETS = ("tutorial", *PAPER_SHEETS, "pieces", "steps")


def routes(manuscripts: Manuscripts, worker: PaperWorker) -> list[BaseRoute]:
    """The addresses of writing."""
    pages = _Writing(manuscripts, worker)
    return [
        Route("/recipe/{slug}", pages.write),
        Route("/recipe/{slug}/preview", pages.preview),
        Route("/recipe/{slug}/look/{name}", pages.look),
        Route("/recipe/{slug}/photos/{name}", pages.photo),
        Route("/recipe/{slug}/tutorial.html", pages.tutorial),
        Route("/recipe/{slug}/photo", pages.take_photo, methods=["POST"]),
        Route("/recipe/{slug}/all.zip", pages.everything),
        Route("/recipe/{slug}/sheet/{kind}/{file}", pages.sheet),
        Route("/put-in/{code}.svg", pages.sketch),
        WebSocketRoute("/recipe/{slug}/line", pages.line),
    ]


class _Writing:
    def __init__(self, manuscripts: Manuscripts, worker: PaperWorker) -> None:
        self._manuscripts, self._worker = manuscripts, worker
        self._sketches: dict[str, str] = {}

    def _opened(self, asked: Request | WebSocket) -> Manuscript | Wrong | None:
        return self._manuscripts.of(asked.path_params["slug"])

    async def write(self, request: Request) -> Response:
        """The page itself; what is on it comes over the web socket."""
        manuscript = self._opened(request)
        if isinstance(manuscript, Manuscript):
            return page("write.html", **_facts(manuscript))
        return _not_opened(manuscript)

    async def preview(self, _request: Request) -> Response:
        """An empty page, into which the desk's own script puts the tutorial's parts."""
        return Response(_EMPTY, media_type="text/html", headers={"content-security-policy": PREVIEW})

    async def tutorial(self, request: Request) -> Response:
        """The tutorial on a page of its own."""
        manuscript = self._opened(request)
        whole = await manuscript.whole_page() if isinstance(manuscript, Manuscript) else None
        if whole is None:
            return page("missing.html", 404)
        return Response(whole, media_type="text/html", headers={"content-security-policy": _ALONE})

    async def photo(self, request: Request) -> Response:
        """A photograph of the recipe, by the name that the tutorial has for it."""
        manuscript = self._opened(request)
        name = request.path_params["name"]
        ready = manuscript.compiler.live.photo(name) if isinstance(manuscript, Manuscript) else None
        if ready is None:
            return page("missing.html", 404)
        # Its name is made of its bytes: another picture has another.
        return Response(ready.data, media_type=f"image/{ready.kind}", headers=_FOR_EVER)

    async def take_photo(self, request: Request) -> Response:
        """A photograph sent in for the step at an offset, or for the finished thing; what it changes in the text."""
        manuscript = self._opened(request)
        if not isinstance(manuscript, Manuscript):
            return page("missing.html", 404)
        text, at = manuscript.text, request.query_params.get("at", "")
        offsets = Offsets(text)
        where = offsets.here(int(at)) if at.isascii() and at.isdecimal() and int(at) else None
        try:
            data = await _body(request)
        except ClientDisconnect:
            return Response(status_code=400)
        taken = await asyncio.to_thread(take_in, manuscript.drafting.on_disk, data, text, where)
        if isinstance(taken, Wrong):
            return JSONResponse({"trouble": catalogue().say(taken.message, **dict(taken.facts))})
        after = Offsets(changed(text, taken.put.changes))
        select = [after.there(one) for one in taken.put.select]
        return JSONResponse({"name": taken.name, "changes": offsets.changes(taken.put.changes), "select": select})

    async def look(self, request: Request) -> Response:
        """The style of the tutorial beside the text."""
        manuscript = self._opened(request)
        live = manuscript.compiler.live if isinstance(manuscript, Manuscript) else None
        style = live.style(request.path_params["name"]) if live else None
        return page("missing.html", 404) if style is None else Response(style, media_type="text/css", headers=_FOR_EVER)

    async def everything(self, request: Request) -> Response:
        """Every sheet in one archive."""
        manuscript = self._opened(request)
        if not isinstance(manuscript, Manuscript):
            return page("missing.html", 404)
        archive = await manuscript.everything()
        if archive is None:
            return page("unreadable.html", 409, why=catalogue().say("desk.write.not-all"))
        return _saved(archive, "application/zip", f"{manuscript.source.slug}.zip", "attachment")

    async def sheet(self, request: Request) -> Response:
        """A sheet on paper: its PDF, or the picture of one of its pages."""
        manuscript, name = self._opened(request), request.path_params["file"]
        made = manuscript.sheets.sheet(request.path_params["kind"]) if isinstance(manuscript, Manuscript) else None
        if made and name in made.pdfs:
            return _saved(made.pdfs[name], "application/pdf", name, "inline")
        number = name.removesuffix(".png")
        if made and number.isascii() and number.isdecimal() and int(number) < len(made.pages):
            kept = {"cache-control": "private, max-age=3600"}
            return Response(made.pages[int(number)][2], media_type="image/png", headers=kept)
        return page("missing.html", 404)

    async def sketch(self, request: Request) -> Response:
        """The picture of an entry of the insert list, drawn when it is first seen."""
        code = request.path_params["code"]
        if code not in self._sketches and is_known(code):
            with suppress(Overtaken, WorkLost):
                self._sketches[code] = await self._worker.ask(f"sketch {code}", sketch, code)
        svg = self._sketches.get(code)
        if svg:
            return Response(svg, media_type="image/svg+xml", headers={"cache-control": "private, max-age=3600"})
        # An entry with nothing to draw is no mistake.
        return Response(status_code=204 if is_known(code) else 404)

    async def line(self, socket: WebSocket) -> None:
        """The talk with a tab."""
        manuscript = self._opened(socket)
        if isinstance(manuscript, Manuscript):
            await Talk(socket, manuscript).go_on()
        else:
            await socket.close(1008)


async def _body(request: Request) -> bytes:
    """What is sent, or as much of it as shows that it is too much. The rest is heard out: a browser that is cut off
    while it speaks does not hear why."""
    data, heard = bytearray(), 0
    async for part in request.stream():
        heard += len(part)
        if len(data) <= MOST_BYTES:
            data += part
        if heard > _PATIENCE * MOST_BYTES:
            break
    return bytes(data)


def _not_opened(why: Wrong | None) -> Response:
    if why is None:
        return page("missing.html", 404)
    return page("unreadable.html", 409, why=catalogue().say(why.message, **dict(why.facts)))


def _saved(data: bytes, kind: str, name: str, how: str) -> Response:
    """A file for the browser to show (`inline`) or to save (`attachment`) under a name."""
    return Response(data, media_type=kind, headers={"content-disposition": f'{how}; filename="{name}"'})


def _facts(manuscript: Manuscript) -> dict[str, Any]:
    """What the page is filled with."""
    title = manuscript.answer.title if manuscript.answer else ""
    return {
        "slug": manuscript.source.slug,
        "title": title or manuscript.source.slug,
        "looks": built_in_themes(),
        "papers": [paper.name for paper in PAPERS],
        "units": [system.value for system in System],
        "sheets": _SHEETS,
        "inserts": _inserts(),
    }


def _inserts() -> list[dict[str, Any]]:
    """The insert list, group by group."""
    words, entries = catalogue(), insert_list()
    return [
        {
            "heading": words.say(f"authoring.group.{group}"),
            "entries": [one for one in entries if one.group == group],
        }
        for group in GROUPS
    ]
