"""Beginning with an empty page: a name, and a recipe that has hardly more."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from foldwright.desk.begun import name_wrong, opened, told
from foldwright.desk.desk import Desk, page
from foldwright.desk.fields import Fields, read_fields
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong


def empty_routes(desk: Desk) -> list[BaseRoute]:
    """The address of the empty page."""

    async def empty(request: Request) -> Response:
        fields = await read_fields(request) if request.method == "POST" else Fields({})
        if fields is None:
            return page("too-much.html", 413)
        name = fields.line("name")
        if fields.line("do") != "begin":
            return page("begin-empty.html", typed=name, troubles={})
        done = name_wrong(name, desk) or opened(name, empty_text(name), {}, desk)
        return page("begin-empty.html", typed=name, troubles={"name": told(done)}) if isinstance(done, Wrong) else done

    return [Route("/begin/empty", empty, methods=["GET", "POST"])]


def empty_text(title: str) -> str:
    """A recipe with a title, a sentence and a first step."""
    return catalogue().say("desk-begin.empty.text", title=title)
