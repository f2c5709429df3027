"""Pieces at a slant: by what angle a piece is turned so that it lies within a rectangle it does not fit in straight.

What matters of a piece is its convex hull. Turned by an angle it is as wide as two of its corners say, and between two
directions of its edges those corners stay the same: the width is then one cosine. So the angles at which it begins, or
ceases, to fit are those at which it just fills the rectangle one way, or the direction of an edge: these few are tried.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import acos, atan2, cos, degrees, hypot, pi, radians, sin

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.lines import outline_of
from foldwright.geometry.scene import Point

_HAIR = 1e-9
"""As a part of the rectangle: what floats may be off."""
_SIMPLER = 0.02
"""Millimetres a curved outline is simplified by, far below what anybody cuts."""


def hull_of(blank: Blank) -> tuple[Point, ...]:
    """The corners of the convex hull of a blank, in millimetres."""
    return hull_round(outline_of(blank))


def hull_round(points: Sequence[Point]) -> tuple[Point, ...]:
    """The corners of the smallest convex shape that holds all points."""
    from shapely import MultiPoint

    hull = MultiPoint(points).convex_hull.simplify(_SIMPLER)
    return tuple((float(x), float(y)) for x, y in hull.exterior.coords[:-1]) if hull.area else ()


def slant_that_fits(corners: Sequence[Point], across: float, down: float) -> float | None:
    """Degrees to turn a convex shape clockwise (below nothing the other way, a quarter turn at most) so that it lies
    within a rectangle; None where it does at none.

    Of all angles it is the one in the middle of those that fit, so that a hand may be a little off either way; in whole
    degrees where a whole one fits.
    """
    if not corners:
        return None
    bounds = sorted({angle % pi for angle in _candidates(corners, across, down)} | {0.0, pi})
    stretches = [(start, end) for start, end in pairwise(bounds) if _fits(corners, (start + end) / 2, across, down)]
    edges = [(angle, angle) for angle in bounds if _fits(corners, angle, across, down)]
    joined = _joined([*stretches, *edges])
    if not joined:
        return None
    start, end = max(joined, key=lambda stretch: (round(stretch[1] - stretch[0], 9), -abs(_signed(sum(stretch) / 2))))
    middle = degrees((start + end) / 2)
    for digits in (0, 1, 2):
        rounded = round(middle, digits)
        if _fits(corners, radians(rounded), across, down):
            return degrees(_signed(radians(rounded))) if rounded % 90 else rounded
    return degrees(_signed(radians(middle)))


def turned(point: Point, angle: float) -> Point:
    """A point turned about the origin by so many radians, clockwise as it is seen with y downwards."""
    x, y = point
    return x * cos(angle) - y * sin(angle), x * sin(angle) + y * cos(angle)


def _signed(angle: float) -> float:
    """A shape that is turned by half a turn fits as it did: the smaller of the two ways, in radians."""
    return angle if angle <= pi / 2 else angle - pi


def _joined(stretches: list[tuple[float, float]]) -> list[tuple[float, float]]:
    joined: list[tuple[float, float]] = []
    for start, end in sorted(stretches):
        if joined and start <= joined[-1][1] + _HAIR:
            joined[-1] = joined[-1][0], max(end, joined[-1][1])
        else:
            joined.append((start, end))
    return joined


def _candidates(corners: Sequence[Point], across: float, down: float) -> Iterator[float]:
    """Angles from 0 to a half turn at which the piece may just begin, or cease, to fit."""
    ways = sorted({atan2(y2 - y1, x2 - x1) % (pi / 2) for (x1, y1), (x2, y2) in pairwise((*corners, corners[0]))})
    turns = [quarter - way for quarter in (pi / 2, pi) for way in ways]
    bounds = sorted({0.0, pi / 2, pi, *turns})
    yield from bounds
    for start, end in pairwise(bounds):
        middle = (start + end) / 2
        for side, room in ((0, across), (1, down)):
            there = [turned(corner, middle)[side] for corner in corners]
            low, high = corners[there.index(min(there))], corners[there.index(max(there))]
            dx, dy = high[0] - low[0], high[1] - low[1]
            long = hypot(dx, dy)
            if long < room or long == 0.0:
                continue
            # Turned by an angle t, (dx, dy) measures long * cos(t + way) across and long * sin(t + way) down.
            way = atan2(dy, dx) - (pi / 2 if side else 0.0)
            for angle in (acos(room / long) - way, -acos(room / long) - way):
                if start <= angle % (2 * pi) <= end:
                    yield angle % (2 * pi)


def _fits(corners: Sequence[Point], angle: float, across: float, down: float) -> bool:
    there = [turned(corner, angle) for corner in corners]
    xs, ys = [x for x, _ in there], [y for _, y in there]
    hair = _HAIR * max(across, down)
    return max(xs) - min(xs) <= across + hair and max(ys) - min(ys) <= down + hair
