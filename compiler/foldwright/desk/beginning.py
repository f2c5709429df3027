"""The first page: what would you like to make?"""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from foldwright.desk.desk import Desk, page


def routes(desk: Desk) -> list[BaseRoute]:
    """The addresses of beginning."""

    async def first(_request: Request) -> Response:
        return page("begin.html", recipes=desk.recipes())

    return [Route("/", first)]
