"""The finished thing of a recipe, what is proposed for what goes inside, and the pictures of the ways to begin."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from msgspec.structs import replace

from foldwright.authoring.form_pictures import form_picture, made_scene
from foldwright.begin.draft.begun import begin
from foldwright.begin.draft.model import DraftSupply
from foldwright.begin.forms import FormAnswers, draft_of_form
from foldwright.begin.recover.notes.reading import read_sample
from foldwright.begin.recover.recovering import Recovered, recover
from foldwright.begin.recover.shown import recovered_scene
from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.papers import papers_of
from foldwright.geometry.scene import Scene
from foldwright.measure.length import Length, Unit
from foldwright.pipeline import Understood, draw_steps
from foldwright.render.drawing.svg import draw

_WIDE_MM, _LEAST_MM, _TEXT_PT = 60.0, 5.0, 8.0
_PLAN_MM, _LEAST_PLAN_MM, _PLAN_PT = 80.0, 20.0, 9.0
"""As wide as a phone may show it with figures that can be read."""


def draw_scene(scene: Scene, title: str = "") -> str:
    """A scene as SVG, no higher than it is wide."""
    width = max(_WIDE_MM * min(1.0, scene.width / scene.height), _LEAST_MM)
    return draw(scene, {}, width, _TEXT_PT, title)


def draw_recipe(understood: Understood) -> str:
    """The finished thing; of what no picture shows by itself, the last thing done. Empty where there is neither."""
    pictures = draw_steps(understood)
    painted = papers_of(understood.recipe).painted(pictures[-1].scene) if pictures else None
    return draw_scene(painted, understood.recipe.title.value) if painted else ""


def draw_made(understood: Understood) -> str:
    """The same, without a look at the steps where the paper and what is in it tell enough."""
    scene = made_scene(understood)
    title = understood.recipe.title.value
    return draw_scene(papers_of(understood.recipe).painted(scene), title) if scene else draw_recipe(understood)


def draw_recovered(recovered: Recovered, words: Catalogue) -> tuple[tuple[str, str], ...]:
    """The plan of each piece that was recovered, by its name; where there is doubt, it is marked."""
    drawn = []
    for known in recovered.pieces:
        scene, labels = recovered_scene(known, recovered.doubt)
        rows = {side: tuple(known.row(side)) for side in ("across", "down")}
        title = words.say("desk-begin.drawing.plan-title", piece=known.piece.name)
        width = max(_PLAN_MM * min(1.0, 1.3 * scene.width / scene.height), _LEAST_PLAN_MM)
        svg = draw(scene, labels, width, _PLAN_PT, title, words.say("desk-begin.drawing.plan-desc", **rows))
        drawn.append((known.piece.name, svg))
    return tuple(drawn)


# --- the ways to begin ----------------------------------------------------------------------------------------------


@lru_cache(maxsize=8)
def draw_way(name: str) -> str:
    """A picture of a way to begin: `form`, `sample` or `things`."""
    return _WAYS[name]()


def _form() -> str:
    return form_picture("tuck box", catalogue())


def _sample() -> str:
    read = read_sample("base across: 1 | 3 | 1 in\nbase down: 1 | 2 | 1 in\n", "sample").sample
    assert read is not None
    found = recover(read).recovered
    assert found is not None
    scene, _ = recovered_scene(found.pieces[0], None)
    return draw_scene(replace(scene, dimensions=()))


def _things() -> str:
    inches = tuple(Length.of(long, Unit.INCH) for long in (4, 2, 1))
    draft = draft_of_form(FormAnswers("Box", "box", inches, 0, "white card"), catalogue())
    sweets = DraftSupply("caramel", "wrapped sweet, use 3, size 1 1/8 x 1 x 3/4 in", "box")
    begun = begin(replace(draft, supplies=(sweets,)), "box", "box")
    assert begun.checked.understood is not None
    return draw_made(begun.checked.understood)


_WAYS: dict[str, Callable[[], str]] = {"form": _form, "sample": _sample, "things": _things}
DRAWN_WAYS = frozenset(_WAYS)
