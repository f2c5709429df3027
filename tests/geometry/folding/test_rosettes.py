"""Rosettes: a strip in pleats, closed to a ring and pressed flat."""

from __future__ import annotations

from math import dist, hypot, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.geometry.flat.rosettes import in_triangles
from foldwright.geometry.folding.forms import bends_of
from foldwright.geometry.folding.subdividing import net_of
from foldwright.geometry.pictures.pleating import pleated
from foldwright.geometry.pictures.story import step_pictures
from foldwright.geometry.pieces import lay_flat
from foldwright.pipeline import Checked, check_recipe
from geometry.laid import SUPPLIES, recipe_of, the_blank
from workbench.long import tries


def strip(count: int, pleat: int, high: int, more: str = "") -> str:
    size = f"    size: {count * pleat} x {high} mm\n    across: {count} of {pleat}\n"
    return f"  strip:\n    from: card\n{size}    fold: rosette\n{more}"


@settings(max_examples=tries(40, 200))
@given(st.integers(8, 60), st.integers(4, 20), st.integers(10, 80))
def test_it_lies_flat_where_its_pleats_reach_once_round(count: int, pleat: int, high: int) -> None:
    """The rim of a disc of radius r is 2 pi r long; one pleat is lost to glue."""
    codes = {one.code for one in lay_flat(recipe_of(strip(count, pleat, high))).findings}
    short = (count - 1) * pleat < 2 * pi * high
    assert ("rosette-too-short" in codes) == short


@pytest.mark.parametrize("count", [29, 30])
def test_pressed_flat_it_is_a_disc_twice_as_wide_as_its_strip(count: int) -> None:
    recipe = recipe_of(strip(count, 10, 40))
    blank = in_triangles(the_blank(lay_flat(recipe), "strip"))
    bends = bends_of(blank, recipe.pieces[0].fold.value if recipe.pieces[0].fold else None)
    assert bends is not None
    net = net_of(blank, bends.angles)
    assert len(net.panels) == 2 * count
    flat = pleated(net, 1.0)
    for number, panel in flat.panels:
        for place, (x, y, _) in zip(panel.outline, flat.corners(number), strict=True):
            assert hypot(x, y) == pytest.approx(40 if place[1] == 0 else 0, abs=1e-9)
    # What hangs together on the paper still does, and a fold is as long as the strip is wide, but for a hair.
    for crease in net.creases:
        ends = [[flat.place(at, place) for place in (crease.start, crease.end)] for at in (crease.one, crease.other)]
        assert max(dist(one, other) for one, other in zip(*ends, strict=True)) < 1e-6
        if not crease.smooth:
            assert dist(*ends[0]) == pytest.approx(40, rel=0.03)


def checked(facts: str, steps: str) -> Checked:
    disc = "  disc:\n    from: card\n    size: 25 x 25 mm\n    outline: circle\n    goes on: outside of strip\n"
    head = f"---\ntitle: T\nmakes: 1\nmeasured in: mm\n{SUPPLIES}\npieces:\n  strip:\n    from: card\n"
    text = f"{head}{facts}{disc}---\n\n{steps}"
    return check_recipe(text, "recipe.md", "t", read=lambda path, most: b"")


def test_an_accordion_that_is_glued_to_itself_and_pressed_is_one_and_is_drawn_on_its_way() -> None:
    facts = "    size: 300 x 40 mm\n    across: 30 of 10\n    fold: accordion\n"
    steps = "## A\n\ndo: cut strip, pleat strip\n\nWords.\n\n## B\n\ndo: glue strip\n\nWords.\n\n"
    found = checked(facts, f"{steps}## C\n\ndo: press strip, cut disc, glue disc to strip\n\nWords.\n")
    assert not {"layer-across-fold", "finished-differs"} & {one.code for one in found.findings}
    known = found.understood
    assert known is not None
    codes = [one.code for one in step_pictures(known.recipe, known.flat, known.folding) if one.piece == "strip"]
    assert [code for code in codes if code not in ("cut", "made", "joined")] == ["fold", "ring", "press-flat"]
    plain = checked(facts, "## A\n\ndo: cut strip, pleat strip\n\nWords.\n").understood
    assert plain is not None and not the_blank(plain.flat, "strip").pressed


@pytest.mark.parametrize(("finished", "told"), [("80 x 80", False), ("90 x 90", True)])
def test_its_finished_size_is_compared(finished: str, told: bool) -> None:
    codes = {one.code for one in lay_flat(recipe_of(strip(30, 10, 40, f"    finished: {finished} mm\n"))).findings}
    assert ("rosette-of-another-size" in codes) == told
