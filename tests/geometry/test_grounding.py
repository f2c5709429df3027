"""Shadows on the table, held against their definition at many places: a place lies in a shadow when something that
stands, moved along the light by no more than that shadow falls away, is no farther from it than the shadow goes round.

Distances are plain sums over edges; nothing of the geometry library that the program joins shadows with is used.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from random import Random

import pytest

from foldwright.geometry.folding.space import Spot
from foldwright.geometry.pictures.grounding import _CAST, _FALLS, _ROUND, ground_of
from foldwright.geometry.pictures.view import View
from foldwright.geometry.scene import Point
from workbench.long import tries

type Ring = Sequence[Point]

_ABOUT = 0.005
"""As a part of its reach: how far the edge of a shadow may be from where it should be. Arcs are drawn as four chords, a
fiftieth of their radius inside them, and corners nearer than a five hundredth to a straight line are left out."""


def _floor(ring: Ring) -> tuple[Spot, ...]:
    return tuple((x, y, 0.0) for x, y in ring)


def _wall(one: Point, other: Point) -> tuple[Spot, ...]:
    return (*_floor((one, other)), (*other, 30.0), (*one, 30.0))


_SQUARE: Ring = ((0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0))
_WING: Ring = ((60.0, 10.0), (100.0, 10.0), (100.0, 30.0), (60.0, 30.0))
_APART: Ring = ((150.0, 0.0), (170.0, 0.0), (160.0, 25.0))
THINGS: dict[str, list[tuple[Spot, ...]]] = {
    "a box": [_floor(_SQUARE), *(_wall(_SQUARE[at], _SQUARE[at - 1]) for at in range(4))],
    "a cross": [_floor(_SQUARE), _floor(_WING)],
    "two things": [_floor(_SQUARE), _floor(_APART)],
    "a card on its edges": [_wall((0.0, 0.0), (50.0, 20.0)), _wall((50.0, 20.0), (90.0, 0.0))],
}


@pytest.mark.parametrize("left_handed", [False, True])
@pytest.mark.parametrize("thing", THINGS)
def test_what_lies_in_shadow_is_what_the_definition_says(thing: str, left_handed: bool) -> None:
    view, outlines = View(left_handed), THINGS[thing]
    footprints = [[spot[:2] for spot in outline if not spot[2]] for outline in outlines]
    xs, ys = zip(*(spot for ring in footprints for spot in ring), strict=True)
    reach = max(max(xs) - min(xs), max(ys) - min(ys))
    shadows = ground_of(outlines, view)
    right = -_FALLS[0] if view.lit_from_right else _FALLS[0]
    dice, told = Random(f"{thing} {left_handed}"), set()
    for _ in range(tries(300, 3000)):
        x = dice.uniform(min(xs) - 0.2 * reach, max(xs) + 0.2 * reach)
        y = dice.uniform(min(ys) - 0.2 * reach, max(ys) + 0.2 * reach)
        should = []
        for wide, cast in zip(_ROUND, _CAST, strict=True):
            from_where = x - right * cast * reach, y - _FALLS[1] * cast * reach
            off = min(_off(ring, (x, y), from_where) for ring in footprints)
            should.append(off - wide * reach)
        if any(abs(one) < _ABOUT * reach for one in should):
            continue
        in_so_many = sum(_holds(ring, view.point((x, y, 0.0))) for ring in shadows)
        assert in_so_many == sum(one < 0 for one in should), (x, y)
        told.add(in_so_many)
    assert told >= {0, 5}, "places in no shadow, and in all of them, were among those tried"


def _off(ring: Ring, one: Point, other: Point) -> float:
    """How far a way from one place to another is from an area, or from a line of two ends; nothing in it."""
    if len(ring) > 2 and _holds(ring, one):
        return 0.0
    return min(_apart(one, other, ring[at - 1], ring[at]) for at in range(len(ring)))


def _apart(one: Point, other: Point, start: Point, end: Point) -> float:
    """How far two lines are from one another: nothing where they cross, else as far as one of their ends."""
    sides = [_side(one, other, start) * _side(one, other, end), _side(start, end, one) * _side(start, end, other)]
    if max(sides) < 0:
        return 0.0
    ends = ((one, start, end), (other, start, end), (start, one, other), (end, one, other))
    return min(_from_line(*each) for each in ends)


def _side(one: Point, other: Point, place: Point) -> float:
    return (other[0] - one[0]) * (place[1] - one[1]) - (other[1] - one[1]) * (place[0] - one[0])


def _from_line(place: Point, one: Point, other: Point) -> float:
    (x, y), dx, dy = place, other[0] - one[0], other[1] - one[1]
    part = max(0.0, min(1.0, ((x - one[0]) * dx + (y - one[1]) * dy) / (dx * dx + dy * dy)))
    return hypot(x - one[0] - part * dx, y - one[1] - part * dy)


def _holds(ring: Ring, place: Point) -> bool:
    """Whether a line that starts there crosses the ring an odd number of times."""
    x, y = place
    crossed = 0
    for at in range(len(ring)):
        (x1, y1), (x2, y2) = ring[at - 1], ring[at]
        crossed += (y1 > y) != (y2 > y) and x < x1 + (x2 - x1) * (y - y1) / (y2 - y1)
    return crossed % 2 == 1
