"""Trays of six and eight sides with their glue flaps, against the areas of regular polygons."""

from __future__ import annotations

from fractions import Fraction
from math import dist, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from foldwright.geometry.flat.inside import rooms
from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.meeting import collisions
from foldwright.geometry.folding.space import Spot
from geometry.folding.shapes import area_of, closed_volume, made
from geometry.laid import laid
from workbench.long import tries

SOME = settings(max_examples=tries(40, 150), deadline=None)
AREAS = {"hexagonal": (6, sqrt(3) / 2), "octagonal": (8, 2 * (sqrt(2) - 1))}
"""Sides, and the area of a regular polygon as a part of the square of its width from side to side (any formulary)."""
SIZES = st.one_of(
    st.tuples(st.integers(20, 200), st.integers(10, 150)).map(lambda size: f"{size[0]} x {size[1]} mm"),
    st.tuples(st.integers(8, 64), st.integers(4, 48)).map(lambda size: f"{size[0] / 8:g} x {size[1] / 8:g} in"),
)


@SOME
@given(st.sampled_from(sorted(AREAS)), SIZES)
def test_a_tray_of_many_sides_closes_and_holds_its_floor_by_its_height(kind: str, size: str) -> None:
    blank, folded, codes = made(f"fold: {kind} box\nfinished: {size}")
    assert codes == set() and not list(collisions(folded)) and folded.opened == ()
    count, part = AREAS[kind]
    flat, high = float(blank.made[0][1]), float(blank.made[2][1])
    net = folded.net
    floor = folded.corners(net.root)
    assert net.panels[net.root].name == "floor"
    assert area_of(net.panels[net.root].outline) == pytest.approx(part * flat * flat, rel=1e-6)
    walls = [folded.corners(at) for at, panel in folded.panels if not panel.glued and at != net.root]
    assert len(walls) == count and all(len(wall) == 4 for wall in walls)
    lid = [(x, y, -high) for x, y, _ in floor]
    assert closed_volume([floor, *walls, lid]) == pytest.approx(part * flat * flat * high, rel=1e-6)


@SOME
@given(st.sampled_from(sorted(AREAS)), SIZES)
def test_every_flap_lies_on_the_next_wall_and_on_no_other_flap(kind: str, size: str) -> None:
    blank, folded, _ = made(f"fold: {kind} box\nfinished: {size}")
    walls = [at for at, panel in folded.panels if not panel.glued and at != folded.net.root]
    flaps = [at for at, panel in folded.panels if panel.glued]
    assert len(flaps) == AREAS[kind][0]
    carries = [next(wall for wall in walls if _lies_on(folded, flap, wall)) for flap in flaps]
    assert sorted(carries) == sorted(walls)
    for flap, wall in zip(flaps, carries, strict=True):
        hung = next(one.across(flap) for one in folded.net.creases if flap in (one.one, one.other))
        assert hung != wall
    # Flat, no flap lies on a wall beside it: their areas add up to that of the outline.
    whole = Polygon([(float(x), float(y)) for x, y in blank.outline])
    assert whole.is_valid
    assert sum(area_of(panel.outline) for _, panel in folded.panels) == pytest.approx(whole.area, rel=1e-6)


def _lies_on(folded: Folded, flap: int, wall: int) -> bool:
    """In the plane of the wall, and within its outline there."""
    pose = folded.poses[wall]
    assert pose is not None

    def at(spot: Spot) -> tuple[float, float, float]:
        off = [a - b for a, b in zip(spot, pose.origin, strict=True)]
        along, down, out = (
            sum(a * b for a, b in zip(off, way, strict=True)) for way in (pose.along, pose.down, pose.out)
        )
        return along, down, out

    spots = [at(spot) for spot in folded.corners(flap)]
    shape = Polygon(folded.net.panels[wall].outline).buffer(1e-4)
    return all(abs(out) < 1e-4 for _, _, out in spots) and shape.contains(Polygon([spot[:2] for spot in spots]))


@pytest.mark.parametrize(
    ("said", "layers"), [("", 3), (", flaps inside", 3), (", flaps outside", 1), ("\nfits over: tin", 1)]
)
def test_flaps_take_room_where_they_lie_inside(said: str, layers: int) -> None:
    """By hand: half a thickness of either wall, and a whole one of a flap on either."""
    flat = laid(
        f"  box:\n    from: thick card\n    fold: hexagonal box{said.partition(chr(10))[0]}\n    finished: 72 x 20 mm\n"
        + (f"    {said.strip()}\n" if "fits" in said else "")
        + "  tin:\n    from: thick card\n    fold: hexagonal box\n    finished: 70 x 40 mm\n"
    )
    blank = flat.blank("box")
    assert blank is not None
    across = rooms(blank, Fraction(1, 2))[0]
    assert (across.inside, across.outside) == (72 - Fraction(layers, 2), Fraction(145, 2))
    assert blank.flaps_outside is (layers == 1)


def test_where_an_outer_flap_comes_to_lie_is_marked_for_glue() -> None:
    blank, folded, _ = made("fold: hexagonal box, flaps outside\nfinished: 70 x 30 mm")
    areas = [line.points for line in blank.drawn if line.kind == "glue area"]
    assert len(areas) == 6
    walls = {at: Polygon(panel.outline) for at, panel in folded.panels if not panel.glued and at != folded.net.root}
    for area in areas:
        shape = Polygon([(float(x), float(y)) for x, y in area])
        wall = next(at for at, outline in walls.items() if outline.contains(shape))
        x, y = (sum(map(float, axis)) / 4 for axis in zip(*area, strict=True))
        middle = folded.place(wall, (x, y))
        nearest = min(
            dist(middle, [sum(axis) / 4 for axis in zip(*folded.corners(at), strict=True)])
            for at, panel in folded.panels
            if panel.glued
        )
        assert nearest < 1e-4
