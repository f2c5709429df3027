"""Things in a picture: several kinds lie beside each other as they are packed, and none under the roof of a sleeve."""

from __future__ import annotations

from itertools import combinations
from random import Random

import pytest

from foldwright.authoring.form_pictures import made_scene
from foldwright.begin.design.designing import design
from foldwright.begin.design.drafting import draft_of_proposal
from foldwright.begin.design.model import DesignWish
from foldwright.begin.design.wishing import read_wish
from foldwright.begin.draft.writing import write_draft
from foldwright.begin.options import DesignOptions
from foldwright.document.catalogue import catalogue
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.pictures.standing import extent_of
from foldwright.geometry.pictures.stuff import laid_together
from foldwright.geometry.pictures.things import Solid
from foldwright.geometry.pictures.view import View
from foldwright.geometry.scene import Face, Tone
from foldwright.pipeline import check_recipe
from workbench.long import tries

SIDES = 3
"""Sides of a box that are seen."""


def boxes(leaves: tuple[Leaf, ...]) -> list[tuple[tuple[float, ...], tuple[float, ...]]]:
    """The corners of each box, from the three sides of it that are drawn."""
    return [extent_of(leaves[at : at + SIDES]) for at in range(0, len(leaves), SIDES)]


@pytest.mark.parametrize("seed", range(tries(20, 200)))
def test_kinds_lie_beside_each_other_inside_the_room(seed: int) -> None:
    random = Random(seed)
    room = ((0.0, 0.0, 0.0), (100.0, 80.0, 40.0))
    kinds = tuple(
        (
            (Solid("box", tuple(float(random.randint(10, 35)) for _ in range(3)), Tone.THING),) * random.randint(1, 3),
            False,
        )  # type: ignore[arg-type]
        for _ in range(2)
    )
    found = boxes(laid_together(kinds, room, View()))
    assert len(found) == sum(len(alike) for alike, _ in kinds)
    for low, high in found:
        assert all(wall - 0.01 <= at for at, wall in zip(low, room[0], strict=True))
        # The room of a picture gives a little.
        assert all(at <= wall + 2.01 for at, wall in zip(high, room[1], strict=True))
    for (low, high), (other_low, other_high) in combinations(found, 2):
        assert any(high[axis] <= other_low[axis] + 0.01 or other_high[axis] <= low[axis] + 0.01 for axis in range(3))


def test_what_does_not_go_in_is_not_laid() -> None:
    too_long = ((Solid("box", (30.0, 10.0, 10.0), Tone.THING),), False)
    assert laid_together((too_long, too_long), ((0.0, 0.0, 0.0), (20.0, 20.0, 20.0)), View()) == ()


def things_drawn(said: str, form: str) -> list[Face]:
    wish = read_wish(DesignOptions(things=(said,), form=form, sheet="A3"))
    assert isinstance(wish, DesignWish)
    (proposal, *_) = design(wish, 1).all
    text = write_draft(draft_of_proposal(wish, proposal, catalogue()), catalogue())
    understood = check_recipe(text, "proposal", "proposal").understood
    assert understood is not None
    scene = made_scene(understood)
    assert scene is not None
    return [face for face in scene.faces if face.tone is Tone.THING]


def test_a_drawer_half_out_shows_half_of_what_is_in_it() -> None:
    """A tea light has two faces, its side and its top, each as wide as it is: of two rows of four, four lie outside."""
    tray, drawer = (things_drawn("8 tea lights 38 mm round x 16 mm", form) for form in ("tray", "drawer"))
    assert len(tray) == 8 * 2
    assert len(drawer) == 4 * 2
    for face in drawer:
        xs = [x for x, _ in face.outline]
        # Level circles are seen as wide as they are.
        assert max(xs) - min(xs) == pytest.approx(38, abs=0.6)
