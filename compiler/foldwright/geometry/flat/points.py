"""Places on a blank: exact ones as plain numbers, plain ones kept exactly, rectangles, and arcs as polylines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import atan2, cos, hypot, pi, sin

from foldwright.geometry.flat.blank import ExactPoint
from foldwright.geometry.scene import Point

_STEPS = 24


def kept(mm: float | Fraction, parts: int = 1000) -> Fraction:
    """What was measured, or has a root in it, kept to a thousandth of a millimetre: far finer than any knife."""
    return Fraction(round(mm * parts), parts)


def floats(ring: Iterable[ExactPoint]) -> tuple[Point, ...]:
    """Exact places as floats, both in millimetres."""
    return tuple((float(x), float(y)) for x, y in ring)


def box_between(left: float, top: float, right: float, bottom: float) -> tuple[Point, ...]:
    """The corners of a rectangle, clockwise from its top left."""
    return (left, top), (right, top), (right, bottom), (left, bottom)


def arc_points(points: Sequence[Point]) -> tuple[Point, ...]:
    """The arc from the first point through the second to the third; straight when they lie in line."""
    (ax, ay), (bx, by), (cx, cy) = points
    across = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by))
    if abs(across) < 1e-9 * (abs(ax) + abs(bx) + abs(cx) + abs(ay) + abs(by) + abs(cy) + 1) ** 2:
        return tuple(points)
    a2, b2, c2 = ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy
    x = (a2 * (by - cy) + b2 * (cy - ay) + c2 * (ay - by)) / across
    y = (a2 * (cx - bx) + b2 * (ax - cx) + c2 * (bx - ax)) / across
    radius = hypot(ax - x, ay - y)
    start = atan2(ay - y, ax - x)
    through = (atan2(by - y, bx - x) - start) % (2 * pi)
    turn = (atan2(cy - y, cx - x) - start) % (2 * pi)
    if through > turn:
        turn -= 2 * pi
    angles = (start + turn * step / _STEPS for step in range(_STEPS + 1))
    return tuple((x + radius * cos(angle), y + radius * sin(angle)) for angle in angles)
