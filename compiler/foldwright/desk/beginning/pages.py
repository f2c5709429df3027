"""The first page: the recipes that are there, and what would you like to make?"""

from __future__ import annotations

from datetime import UTC, datetime
from functools import lru_cache

from msgspec import Struct
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from foldwright.authoring.recipe_pictures import DRAWN_WAYS, draw_recipe, draw_way
from foldwright.desk.beginning.again import again_routes
from foldwright.desk.beginning.empty import empty_routes
from foldwright.desk.beginning.form import form_routes
from foldwright.desk.beginning.sample import sample_routes
from foldwright.desk.beginning.things import things_routes
from foldwright.desk.desk import Desk, page
from foldwright.document.catalogue import catalogue
from foldwright.document.wording import date_words, span_words
from foldwright.outputs.checking import check_texts
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source
from foldwright.plan.times import add_up
from foldwright.recipe.reading import read_recipe

_WAYS = {
    "form": "/begin/form",
    "sample": "/begin/sample",
    "things": "/begin/things",
    "again": "/begin/again",
    "empty": "/begin/empty",
}
_SVG = "image/svg+xml"


class OwnRecipe(Struct, frozen=True):
    """A recipe as the first page lists it."""

    slug: str
    title: str
    time: str
    changed: str


def routes(desk: Desk) -> list[BaseRoute]:
    """The addresses of beginning."""

    async def first(_request: Request) -> Response:
        recipes = await run_in_threadpool(own_recipes, desk)
        ways = {way: address for way, address in _WAYS.items() if recipes or way != "again"}
        return page("begin.html", recipes=recipes, ways=ways)

    async def old_ones(_request: Request) -> Response:
        return page("begin-old.html", recipes=await run_in_threadpool(own_recipes, desk))

    async def picture(request: Request) -> Response:
        source = desk.recipe(request.path_params["slug"])
        svg = await run_in_threadpool(_picture, source) if source else ""
        return Response(svg, media_type=_SVG) if svg else page("missing.html", 404)

    async def way(request: Request) -> Response:
        name = request.path_params["way"]
        if name not in DRAWN_WAYS:
            return page("missing.html", 404)
        svg = await run_in_threadpool(draw_way, name)
        return Response(svg, media_type=_SVG, headers={"cache-control": "private, max-age=3600"})

    return [
        Route("/", first),
        Route("/begin/again", old_ones),
        Route("/begin/way/{way}.svg", way),
        Route("/begin/picture/{slug}.svg", picture),
        *form_routes(desk),
        *sample_routes(desk),
        *things_routes(desk),
        *again_routes(desk),
        *empty_routes(desk),
    ]


def own_recipes(desk: Desk) -> tuple[OwnRecipe, ...]:
    """The recipes of the folder, what was changed last first."""
    by_age = sorted(((_changed(one), one) for one in desk.recipes()), key=lambda pair: pair[0], reverse=True)
    return tuple(OwnRecipe(one.slug, *_told(one.slug, read_texts(one).text), _dated(on)) for on, one in by_age)


def _changed(source: Source) -> datetime:
    try:
        return datetime.fromtimestamp((source.folder / source.text).stat().st_mtime, UTC).astimezone()
    except OSError:
        return datetime.fromtimestamp(0, UTC)


def _dated(on: datetime) -> str:
    return date_words(on.date().isoformat(), catalogue().say("page.date"), catalogue().locale)[1]


@lru_cache(maxsize=256)
def _told(slug: str, text: str | None) -> tuple[str, str]:
    """What a recipe is called and how long it takes; of one that cannot be read, the name of its folder."""
    recipe = read_recipe(text, slug, slug).recipe if text else None
    if recipe is None:
        return slug, ""
    seconds = add_up(recipe).whole.elapsed
    return recipe.title.value, span_words(catalogue(), seconds) if seconds else ""


def _picture(source: Source) -> str:
    texts = read_texts(source)
    checked = check_texts(texts, source.surroundings)
    return draw_recipe(checked.understood) if checked.understood else ""
