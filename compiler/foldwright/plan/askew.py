"""Whether a piece comes out of a sheet when it is laid on it at a slant, neither straight nor turned a quarter.

What matters of a piece is its convex hull. Turned by an angle it is as wide as two of its corners say, and between two
directions of its edges those corners stay the same: the width is then one cosine. So where it fits at all, it fits at
an angle at which it just fills the sheet one way, or at the direction of an edge: these few are tried.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import acos, atan2, cos, degrees, hypot, pi, sin

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.lines import outline_of
from foldwright.geometry.scene import Point

_HAIR = 1e-9
"""As a part of the sheet: what floats may be off."""
_SIMPLER = 0.02
"""Millimetres a curved outline is simplified by, far below what anybody cuts."""


def slant_that_fits(blank: Blank, across: float, down: float) -> float | None:
    """The least angle in degrees, under a quarter turn, at which the blank lies within the sheet; None when none."""
    corners = _hull(blank)
    fitting = [angle for angle in _candidates(corners, across, down) if _fits(corners, angle, across, down)]
    return degrees(min(fitting)) if fitting else None


def _hull(blank: Blank) -> Sequence[Point]:
    from shapely import MultiPoint

    hull = MultiPoint(outline_of(blank)).convex_hull.simplify(_SIMPLER)
    return [(float(x), float(y)) for x, y in hull.exterior.coords[:-1]]


def _candidates(corners: Sequence[Point], across: float, down: float) -> Iterator[float]:
    """Angles from 0 to a half turn at which the piece may just begin, or cease, to fit."""
    ways = sorted({atan2(y2 - y1, x2 - x1) % (pi / 2) for (x1, y1), (x2, y2) in pairwise((*corners, corners[0]))})
    turns = [quarter - way for quarter in (pi / 2, pi) for way in ways]
    bounds = sorted({0.0, pi / 2, pi, *turns})
    yield from bounds
    for start, end in pairwise(bounds):
        middle = (start + end) / 2
        for side, room in ((0, across), (1, down)):
            turned = [_turned(corner, middle)[side] for corner in corners]
            low, high = corners[turned.index(min(turned))], corners[turned.index(max(turned))]
            dx, dy = high[0] - low[0], high[1] - low[1]
            long = hypot(dx, dy)
            if long < room or long == 0.0:
                continue
            # Turned by an angle t, (dx, dy) measures long * cos(t + way) across and long * sin(t + way) down.
            way = atan2(dy, dx) - (pi / 2 if side else 0.0)
            for angle in (acos(room / long) - way, -acos(room / long) - way):
                if start <= angle % (2 * pi) <= end:
                    yield angle % (2 * pi)


def _turned(point: Point, angle: float) -> Point:
    x, y = point
    return x * cos(angle) - y * sin(angle), x * sin(angle) + y * cos(angle)


def _fits(corners: Sequence[Point], angle: float, across: float, down: float) -> bool:
    turned = [_turned(corner, angle) for corner in corners]
    xs, ys = [x for x, _ in turned], [y for _, y in turned]
    hair = _HAIR * max(across, down)
    return max(xs) - min(xs) <= across + hair and max(ys) - min(ys) <= down + hair
