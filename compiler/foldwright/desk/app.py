"""The addresses of the desk, and what answers at each."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute

from foldwright.desk.assets import assets
from foldwright.desk.beginning.pages import routes as begin_routes
from foldwright.desk.desk import Desk, page
from foldwright.desk.guarding import Guard
from foldwright.desk.paper_workers import PaperWorker
from foldwright.desk.planning.pages import routes as plan_routes
from foldwright.desk.planning.plans import Plans
from foldwright.desk.writing.manuscripts import Manuscripts
from foldwright.desk.writing.pages import routes as write_routes


def desk_app(desk: Desk, hosts: tuple[str, ...], port: int) -> Guard:
    """The whole desk, behind its guard."""
    workers = PaperWorker(), PaperWorker()
    manuscripts = Manuscripts(desk, workers)
    plans = Plans(desk, workers[1])

    @asynccontextmanager
    async def lifespan(_app: Starlette) -> AsyncIterator[None]:
        yield
        await manuscripts.close()
        plans.close()
        for worker in workers:
            worker.close()

    routes: list[BaseRoute] = [
        *begin_routes(desk),
        *write_routes(manuscripts, workers[1]),
        *plan_routes(plans),
        *assets(),
    ]
    app = Starlette(routes=routes, exception_handlers={404: _not_there}, lifespan=lifespan)
    return Guard(app, desk.key, hosts, port)


async def _not_there(_request: Request, _trouble: Exception) -> Response:
    return page("missing.html", 404)
