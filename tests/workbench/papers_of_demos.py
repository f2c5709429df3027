"""Cards and handouts of the demo recipes, each made once for all who look at it. Not a test.

Most of what a paper takes is measuring its words, which is the same for all papers of a recipe in one look and one
system of units. So a usual run has each recipe in one look and one system, and whoever looks at papers of a recipe
takes those.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from itertools import cycle, product

from foldwright.measure.length import System
from foldwright.render.paper import handout as handouts
from foldwright.render.paper.card import Card, Misfit, Proof
from foldwright.render.paper.handout import Handout
from foldwright.render.paper.imposing import impose
from foldwright.render.paper.papers import A4, LETTER, Paper, sheets_for
from foldwright.render.photos import ReadyPhoto, prepare_photos
from workbench.compiled import DEMOS, RECIPES, compiled_demo, demo
from workbench.demo_pages import THEMES
from workbench.long import LONG

PAPER_OF = {System.IMPERIAL: LETTER, System.METRIC: A4}
_USUAL = dict(
    zip(DEMOS, zip(cycle((System.METRIC, System.IMPERIAL)), cycle(("harbour", "almanac", "workbench"))), strict=False)
)
LOOKED_AT = [
    (name, system, theme)
    for name, system, theme in product(DEMOS, PAPER_OF, THEMES)
    if LONG or _USUAL[name] == (system, theme)
]
"""Each recipe in one look and one system, each look in both systems; on a long run, all in all."""
IN_ONE_SYSTEM = [one for one in LOOKED_AT if one[1] is _USUAL[one[0]][0]]
"""The same, but on a long run in all looks alone."""


@cache
def photos(name: str) -> Mapping[str, ReadyPhoto]:
    """The photographs of a recipe, made ready."""
    recipe = compiled_demo(name)[1].recipe
    assert recipe is not None
    return prepare_photos(recipe, lambda path, most: (RECIPES / name / path).read_bytes())[0]


@cache
def proof(name: str, system: System, theme: str) -> Proof:
    """What all cards of a recipe in one look and system are made from."""
    return Proof(demo(name), system, theme, photos(name))


@cache
def card(
    name: str, system: System, theme: str, paper: Paper, *, back: bool = False, up: int = 1, strips: bool = True
) -> Card | Misfit:
    """A card, or why there is none; `up` are so many on a sheet, if there is one that holds them."""
    placed = impose(paper, up, sheets_for(paper, demo(name).papers)) if up > 1 else None
    assert placed or up == 1, f"{up} of {paper.name} go on no sheet of {name}"
    return proof(name, system, theme).card(paper, back, placed, strips)


def well_made_card(name: str, system: System, theme: str, paper: Paper, **more: bool) -> Card:
    made = card(name, system, theme, paper, **more)
    assert isinstance(made, Card), made
    return made


@cache
def handout(
    name: str, system: System, theme: str, paper: Paper, *, large_print: bool = False, most: int = 0
) -> Handout:
    """The handout of a recipe, which has to come out."""
    made = handouts.handout(demo(name), system, theme, photos(name), paper, large_print, most)
    assert isinstance(made, Handout), made
    return made
