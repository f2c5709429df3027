"""Cubes and prisms with their tabs: what they hold by the textbook, and that every tab lies where it is glued."""

from __future__ import annotations

from math import pi, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from foldwright.geometry.flat.inside import rooms
from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.meeting import collisions
from foldwright.geometry.pieces import lay_flat
from geometry.folding.shapes import area_of, closed_volume, made
from geometry.laid import recipe_of
from workbench.long import tries

SOME = settings(max_examples=tries(40, 150), deadline=None)
SIDES = st.one_of(
    st.integers(10, 120).map(lambda side: (f"{side}", "mm", 1.0)),
    st.integers(4, 40).map(lambda side: (f"{side / 8:g}", "in", 25.4)),
)


@SOME
@given(SIDES, st.sampled_from(["{0} {1}", "{0} x {0} x {0} {1}"]))
def test_a_cube_holds_the_third_power_of_its_side(side: tuple[str, str, float], written: str) -> None:
    number, unit, mm = side
    blank, folded, codes = made(f"fold: cube\nfinished: {written.format(number, unit)}")
    assert codes == set()
    long = float(number) * mm
    _closes(folded, 4, long, long, long**3, 6 * long**2)
    assert {size for _, size in blank.made} == {blank.made[0][1]}


@SOME
@given(SIDES, st.integers(3, 12), st.integers(1, 8))
def test_a_prism_holds_its_base_by_its_height(side: tuple[str, str, float], count: int, slender: int) -> None:
    """The area of a regular polygon is n s^2 / (4 tan(pi / n)) (any formulary); its volume that times the height, its
    surface twice that and n s h."""
    number, unit, mm = side
    long = float(number)
    high = f"{long * slender / 2:g}"
    _, folded, codes = made(f"fold: prism, {count} sides\nfinished: {number} x {high} {unit}")
    assert codes == set()
    long, tall = long * mm, float(high) * mm
    base = count * long * long / (4 * tan(pi / count))
    _closes(folded, count, long, tall, base * tall, 2 * base + count * long * tall)


def _closes(folded: Folded, count: int, side: float, high: float, volume: float, surface: float) -> None:
    """All round, measured on the folded net; and every glue flap lies in the plane of a panel and within it."""
    assert not list(collisions(folded)) and folded.opened == ()
    panels = [number for number, panel in folded.panels if not panel.glued]
    assert len(panels) == count + 2
    assert closed_volume([folded.corners(number) for number in panels]) == pytest.approx(volume, rel=1e-5)
    areas = [area_of(folded.net.panels[number].outline) for number in panels]
    assert sum(areas) == pytest.approx(surface, rel=1e-5)
    flaps = [number for number, panel in folded.panels if panel.glued]
    assert len(flaps) == 2 * (count - 1) + 1
    for flap in flaps:
        assert any(_lies_on(folded, flap, number) for number in panels)


def _lies_on(folded: Folded, flap: int, panel: int) -> bool:
    pose = folded.poses[panel]
    assert pose is not None
    spots = []
    for spot in folded.corners(flap):
        off = [a - b for a, b in zip(spot, pose.origin, strict=True)]
        along, down, out = (
            sum(a * b for a, b in zip(off, way, strict=True)) for way in (pose.along, pose.down, pose.out)
        )
        if abs(out) > 1e-3:
            return False
        spots.append((along, down))
    return bool(Polygon(folded.net.panels[panel].outline).buffer(1e-3).contains(Polygon(spots)))


@SOME
@given(SIDES, st.integers(3, 12))
def test_no_tab_lies_on_its_neighbours_on_the_flat_blank(side: tuple[str, str, float], count: int) -> None:
    number, unit, _ = side
    blank, folded, _ = made(f"fold: prism, {count} sides\nfinished: {number} x {number} {unit}")
    whole = Polygon([(float(x), float(y)) for x, y in blank.outline])
    assert whole.is_valid
    assert sum(area_of(panel.outline) for _, panel in folded.panels) == pytest.approx(whole.area, rel=1e-6)


def test_the_room_in_a_cube_is_less_by_the_tabs() -> None:
    """By hand, of 0.5 mm of card: two halves of walls; a flap besides; two tabs besides."""
    lines = "  box:\n    from: thick card\n    fold: cube\n    finished: 40 mm\n"
    blank = lay_flat(recipe_of(lines)).blank("box")
    assert blank is not None
    assert [float(room.inside) for room in rooms(blank, blank.made[0][1] / 80)] == [39.5, 39, 38.5]


@pytest.mark.parametrize(
    ("facts", "code"),
    [
        ("fold: prism, 2 sides\nfinished: 40 x 60 mm", "prism-of-how-many"),
        ("fold: prism, 20 sides\nfinished: 40 x 60 mm", "prism-of-how-many"),
        ("fold: cube\nfinished: 40 x 40 x 50 mm", "finished-wants"),
    ],
)
def test_what_is_no_prism_is_told(facts: str, code: str) -> None:
    lines = "\n".join("    " + line for line in facts.splitlines())
    assert code in {one.code for one in lay_flat(recipe_of(f"  box:\n    from: card\n{lines}\n")).findings}
