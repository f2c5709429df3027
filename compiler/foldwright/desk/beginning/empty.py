"""Beginning with an empty page: a name, and a recipe that has hardly more."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from foldwright.authoring.empty_page import empty_page
from foldwright.desk.beginning.begun import name_wrong, opened, told
from foldwright.desk.desk import Desk, page
from foldwright.desk.fields import Fields, read_fields
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.measure.length import System, system_named
from foldwright.outputs.new_folders import studio_beside


def empty_routes(desk: Desk) -> list[BaseRoute]:
    """The address of the empty page."""

    async def empty(request: Request) -> Response:
        fields = await read_fields(request) if request.method == "POST" else Fields({})
        if fields is None:
            return page("too-much.html", 413)
        name = fields.line("name")
        system = system_named(fields.line("units")) or System.IMPERIAL
        if fields.line("do") != "begin":
            return page("begin-empty.html", called=name, units=system.value, troubles={})
        done = await run_in_threadpool(_begun, name, system, desk)
        if isinstance(done, Wrong):
            return page("begin-empty.html", called=name, units=system.value, troubles={"name": told(done)})
        return done

    return [Route("/begin/empty", empty, methods=["GET", "POST"])]


def _begun(name: str, system: System, desk: Desk) -> Response | Wrong:
    if wrong := name_wrong(name, desk):
        return wrong
    text = empty_page(catalogue(), studio_beside(desk.folder), system, name)
    return opened(name, text, {}, desk)
