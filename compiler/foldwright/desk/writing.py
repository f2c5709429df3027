"""The page on which a recipe is written: its addresses."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route, WebSocketRoute
from starlette.websockets import WebSocket

from foldwright.desk.desk import page
from foldwright.desk.manuscript import Manuscript
from foldwright.desk.manuscripts import Manuscripts
from foldwright.desk.sheets import PAPER_SHEETS
from foldwright.desk.talk import Talk
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
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
_EMPTY = "<!doctype html><html><head></head><body></body></html>"
_KEPT = {"cache-control": "private, max-age=86400, immutable"}
"""What has a name no other content has is asked for once."""
_SHEETS = ("tutorial", *PAPER_SHEETS, "pieces")


def routes(manuscripts: Manuscripts) -> list[BaseRoute]:
    """The addresses of writing."""
    pages = _Writing(manuscripts)
    return [
        Route("/recipe/{slug}", pages.write),
        Route("/recipe/{slug}/preview", pages.preview),
        Route("/recipe/{slug}/look/{name}", pages.look),
        Route("/recipe/{slug}/photos/{name}", pages.photo),
        Route("/recipe/{slug}/tutorial.html", pages.tutorial),
        Route("/recipe/{slug}/all.zip", pages.everything),
        Route("/recipe/{slug}/sheet/{kind}/{file}", pages.sheet),
        WebSocketRoute("/recipe/{slug}/line", pages.line),
    ]


class _Writing:
    def __init__(self, manuscripts: Manuscripts) -> None:
        self._manuscripts = manuscripts

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

    async def look(self, request: Request) -> Response:
        """The style of the tutorial beside the text."""
        manuscript = self._opened(request)
        live = manuscript.compiler.live if isinstance(manuscript, Manuscript) else None
        style = live.style(request.path_params["name"]) if live else None
        return page("missing.html", 404) if style is None else Response(style, media_type="text/css", headers=_KEPT)

    async def photo(self, request: Request) -> Response:
        """A photograph of it."""
        manuscript = self._opened(request)
        live = manuscript.compiler.live if isinstance(manuscript, Manuscript) else None
        photo = live.photo(request.path_params["name"]) if live else None
        if photo is None:
            return page("missing.html", 404)
        return Response(photo.data, media_type=f"image/{photo.kind}", headers=_KEPT)

    async def everything(self, request: Request) -> Response:
        """Every sheet in one archive."""
        manuscript = self._opened(request)
        if not isinstance(manuscript, Manuscript) or manuscript.answer is None:
            return page("missing.html", 404)
        archive = await manuscript.sheets.all(manuscript.answer, manuscript.wish)
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

    async def line(self, socket: WebSocket) -> None:
        """The talk with a tab."""
        manuscript = self._opened(socket)
        if isinstance(manuscript, Manuscript):
            await Talk(socket, manuscript).go_on()
        else:
            await socket.close(1008)


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
        "inserts": [],
    }
