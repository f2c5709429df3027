"""The page on which a recipe is written: its addresses."""

from __future__ import annotations

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
from foldwright.render.themes import DEFAULT_THEME, built_in_themes

_PREVIEW = (
    "default-src 'none'; style-src 'unsafe-inline'; img-src 'self' data:; font-src data:; form-action 'none'; "
    "base-uri 'none'; frame-ancestors 'self'; sandbox allow-same-origin"
)
"""What the tutorial beside the text may do: be looked at. No script runs in it, whatever the recipe says."""
_EMPTY = "<!doctype html><html><head></head><body></body></html>"
_SHEETS = ("tutorial", *PAPER_SHEETS, "pieces")


def routes(manuscripts: Manuscripts) -> list[BaseRoute]:
    """The addresses of writing."""

    def opened(request: Request) -> Manuscript | Wrong | None:
        return manuscripts.of(request.path_params["slug"])

    async def write(request: Request) -> Response:
        manuscript = opened(request)
        if isinstance(manuscript, Manuscript):
            return page("write.html", **_facts(manuscript))
        if manuscript is None:
            return page("missing.html", 404)
        return page("unreadable.html", 409, why=catalogue().say(manuscript.message, **dict(manuscript.facts)))

    async def preview(_request: Request) -> Response:
        return Response(_EMPTY, media_type="text/html", headers={"content-security-policy": _PREVIEW})

    async def sheet(request: Request) -> Response:
        manuscript = opened(request)
        made = manuscript.sheets.sheet(request.path_params["kind"]) if isinstance(manuscript, Manuscript) else None
        name = request.path_params["file"]
        if made and name in made.pdfs:
            shown = {"content-disposition": f'inline; filename="{manuscript.source.slug}-{name}"'}
            return Response(made.pdfs[name], media_type="application/pdf", headers=shown)
        number = name.removesuffix(".png")
        if made and number.isascii() and number.isdecimal() and int(number) < len(made.pages):
            kept = {"cache-control": "private, max-age=3600"}
            return Response(made.pages[int(number)][2], media_type="image/png", headers=kept)
        return page("missing.html", 404)

    async def line(socket: WebSocket) -> None:
        manuscript = manuscripts.of(socket.path_params["slug"])
        if isinstance(manuscript, Manuscript):
            await Talk(socket, manuscript).go_on()
        else:
            await socket.close(1008)

    return [
        Route("/recipe/{slug}", write),
        Route("/recipe/{slug}/preview", preview),
        Route("/recipe/{slug}/sheet/{kind}/{file}", sheet),
        WebSocketRoute("/recipe/{slug}/line", line),
    ]


def _facts(manuscript: Manuscript) -> dict[str, object]:
    """What the page is filled with."""
    return {
        "slug": manuscript.source.slug,
        "title": manuscript.source.slug,
        "looks": built_in_themes(),
        "look": DEFAULT_THEME,
        "papers": [paper.name for paper in PAPERS],
        "units": [system.value for system in System],
        "system": System.IMPERIAL.value,
        "sheets": _SHEETS,
        "inserts": [],
    }
