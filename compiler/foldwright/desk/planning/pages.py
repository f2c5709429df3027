"""Planning an event: its addresses. The page asks for the plan again whenever something is typed, then for papers."""

from __future__ import annotations

import asyncio
import io
import zipfile
from collections.abc import Iterable, Mapping
from urllib.parse import quote

import msgspec
from msgspec import Struct
from starlette.requests import ClientDisconnect, Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from foldwright.desk.desk import page, script_words
from foldwright.desk.paper_workers import Overtaken, WorkLost
from foldwright.desk.planning.form import Typed, field_names, form_of
from foldwright.desk.planning.plans import PlannedRecipes, Plans
from foldwright.desk.planning.work import EventFolder, PlannedEvent
from foldwright.document.catalogue import catalogue

_MOST = 3 * 1024 * 1024
"""Bytes of what is sent in; a list of guests may have two megabytes."""
_FIRST = "what-to-print"
_TO_LOOK_AT = "frame-ancestors 'self'; base-uri 'none'; form-action 'none'"
"""The policy of a PDF: a browser's own viewer brings what it needs."""


class _Sent(Struct, frozen=True):
    """What the page sends: what stands in its fields, and from which tab."""

    typed: dict[str, str]
    tab: str = ""
    show: bool = False


class _Following(Struct, frozen=True):
    """The answer to something typed. `trouble`: why it is not on the disk."""

    plan: PlannedEvent
    trouble: str
    drafts: tuple[str, ...]


class _Papers(Struct, frozen=True):
    """The answer with papers: files to print, and those that are not."""

    number: int
    printed: tuple[str, ...]
    others: tuple[str, ...]
    told: EventFolder


def routes(plans: Plans) -> list[BaseRoute]:
    """The addresses of planning."""
    at = _Planning(plans)
    return [
        Route("/plan", at.page),
        Route("/plan/follow", at.follow, methods=["POST"]),
        Route("/plan/papers", at.papers, methods=["POST"]),
        Route("/plan/show", at.show, methods=["POST"]),
        Route("/plan/event.zip", at.folder),
        Route("/plan/file/{file}", at.file),
        Route("/plan/picture/{file}", at.picture),
    ]


class _Planning:
    """What answers at each address. All of them name the recipes: `?recipe=birdhouse&recipe=twine-tag`."""

    def __init__(self, plans: Plans) -> None:
        self._plans = plans

    def _recipes(self, request: Request) -> PlannedRecipes | None:
        return self._plans.recipes(request.query_params.getlist("recipe"))

    async def page(self, request: Request) -> Response:
        if not request.query_params.getlist("recipe"):
            there = self._plans.recipes(one.slug for one in self._plans.desk.recipes())
            return page("plan-choose.html", recipes=await asyncio.to_thread(there.asked) if there else ())
        recipes = self._recipes(request)
        if recipes is None:
            return page("missing.html", 404)
        asked = await asyncio.to_thread(recipes.asked)
        typed = recipes.typed()
        return page(
            "plan.html",
            recipes=asked,
            form=form_of(asked, typed),
            words=script_words("desk-plan"),
            room=self._plans.desk.room,
            shown=self._plans.shows(recipes),
            query=request.url.query,
            from_stock=bool(typed["stock"]),
        )

    async def follow(self, request: Request) -> Response:
        recipes, sent = self._recipes(request), await _sent(request)
        if recipes is None or sent is None:
            return Response(status_code=404)
        typed = await self._known(recipes, sent.typed)
        wrong = await asyncio.to_thread(recipes.keep, typed)
        trouble = catalogue().say(wrong.message, **dict(wrong.facts)) if wrong else ""
        try:
            planned = await self._plans.follow(recipes, typed, sent.tab)
        except (Overtaken, WorkLost) as lost:
            return _not_done(lost)
        return _json(_Following(planned, trouble, await asyncio.to_thread(recipes.drafts)))

    async def papers(self, request: Request) -> Response:
        recipes, sent = self._recipes(request), await _sent(request)
        if recipes is None or sent is None:
            return Response(status_code=404)
        try:
            made = await self._plans.made(recipes, await self._known(recipes, sent.typed))
        except (Overtaken, WorkLost) as lost:
            return _not_done(lost)
        printed, others = _sorted(made.folder.files)
        told = EventFolder(made.folder.slug, made.folder.told)
        return _json(_Papers(made.number, printed, others, told))

    async def show(self, request: Request) -> Response:
        recipes, sent = self._recipes(request), await _sent(request)
        if recipes is None or sent is None or self._plans.desk.room is None:
            return Response(status_code=404)
        if not sent.show:
            self._plans.hide(recipes)
            return _json(False)
        try:
            return _json(await self._plans.show(recipes, await self._known(recipes, sent.typed)))
        except Overtaken:
            # It is shown as soon as the newer papers are made.
            return _json(True)
        except WorkLost as lost:
            return _not_done(lost)

    async def folder(self, request: Request) -> Response:
        recipes = self._recipes(request)
        if recipes is None:
            return page("missing.html", 404)
        try:
            made = await self._plans.made(recipes, recipes.typed())
        except (Overtaken, WorkLost) as lost:
            return _not_done(lost)
        if not made.folder.files:
            return page("missing.html", 404)
        data = await asyncio.to_thread(_zipped, made.folder)
        return Response(data, media_type="application/zip", headers=_named(f"{made.folder.slug}.zip"))

    async def file(self, request: Request) -> Response:
        recipes, name = self._recipes(request), request.path_params["file"]
        made = self._plans.held(recipes) if recipes else None
        if made is None or name not in made.folder.files:
            return page("missing.html", 404)
        data = made.folder.files[name]
        if name.endswith(".pdf"):
            headers = {"content-security-policy": _TO_LOOK_AT}
            return Response(data, media_type="application/pdf", headers=headers)
        return Response(data, media_type="application/octet-stream", headers=_named(name))

    async def picture(self, request: Request) -> Response:
        """The first page of a paper."""
        recipes, name = self._recipes(request), request.path_params["file"]
        made = self._plans.held(recipes) if recipes else None
        if made is None or not (name.endswith(".pdf") and name in made.folder.files):
            return Response(status_code=404)
        try:
            pages = await self._plans.pictures(made, name)
        except (Overtaken, WorkLost) as lost:
            return _not_done(lost)
        return Response(pages[0].png, media_type="image/png")

    async def _known(self, recipes: PlannedRecipes, typed: Typed) -> dict[str, str]:
        """What stands in fields that there are."""
        names = field_names(await asyncio.to_thread(recipes.asked))
        return {name: value for name, value in typed.items() if name in names}


async def _sent(request: Request) -> _Sent | None:
    """What the page sent; None where it is too much, or something else."""
    data = bytearray()
    try:
        async for part in request.stream():
            data += part
            if len(data) > _MOST:
                return None
        return msgspec.json.decode(bytes(data), type=_Sent)
    except (ClientDisconnect, msgspec.MsgspecError):
        return None


def _json(answer: object) -> Response:
    return Response(msgspec.json.encode(answer), media_type="application/json")


def _not_done(lost: Overtaken | WorkLost) -> Response:
    """409: something newer was asked for, which gets the answer. 503: it could not be done."""
    return Response(status_code=409 if isinstance(lost, Overtaken) else 503)


def _sorted(files: Iterable[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What is printed, the list of it first; and what is not."""
    names = tuple(files)
    printed = sorted((name for name in names if name.endswith(".pdf")), key=lambda name: not name.startswith(_FIRST))
    return tuple(printed), tuple(name for name in names if not name.endswith(".pdf"))


def _zipped(folder: EventFolder) -> bytes:
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in folder.files.items():
            packed.writestr(f"{folder.slug}/{name}", content)
    return data.getvalue()


def _named(name: str) -> Mapping[str, str]:
    """A file to keep. Names come from those of folders, which may have letters of any script (RFC 6266, RFC 8187)."""
    return {"content-disposition": f"attachment; filename*=UTF-8''{quote(name)}"}
