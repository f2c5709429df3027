"""Pieces at a slant, turned back by shapely's own rotation, and against trying every tenth of a degree."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import MultiPoint, Polygon

from foldwright.geometry.slanting import hull_round, slant_that_fits

spots = st.tuples(st.integers(0, 300), st.integers(0, 300))
shapes = st.lists(spots, min_size=3, max_size=9).map(lambda found: MultiPoint(found).convex_hull)


def room(shape: Polygon, angle: float) -> tuple[float, float]:
    """Width and height once turned; with y downwards shapely turns clockwise."""
    left, top, right, bottom = affinity.rotate(shape, angle).bounds
    return right - left, bottom - top


@given(shapes.filter(lambda hull: hull.area > 100), st.integers(20, 320), st.integers(20, 320))
def test_it_fits_at_the_angle_that_is_said_and_at_none_where_none_is(shape: Polygon, wide: int, high: int) -> None:
    slant = slant_that_fits(hull_round(list(shape.exterior.coords)), wide, high)
    if slant is not None:
        across, down = room(shape, slant)
        # The hull may be simplified by 0.02 mm.
        assert across <= wide + 0.05 and down <= high + 0.05
        return
    for tenth in range(1800):
        across, down = room(shape, tenth / 10)
        assert across > wide - 0.05 or down > high - 0.05


@pytest.mark.parametrize(
    ("long", "wide", "room", "angle"),
    [
        # (long + wide) / root 2 across the diagonal of a square (Pythagoras).
        (280, 10, (206, 206), "45"),
        (280, 10, (205, 205), None),
        # Along the diagonal of 30 by 40: atan(3 / 4) is 36.9 degrees.
        (49.9, 0.05, (40, 30), "36.87"),
        (50.1, 0.05, (40, 30), None),
    ],
)
def test_strips_lie_along_a_diagonal(long: float, wide: float, room: tuple[float, float], angle: str | None) -> None:
    found = slant_that_fits(((0, 0), (long, 0), (long, wide), (0, wide)), *room)
    assert (None if found is None else pytest.approx(abs(found), abs=2)) == (None if angle is None else float(angle))
