"""Arcs through three points, as polylines."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, hypot, pi, sin

from foldwright.geometry.scene import Point

_STEPS = 24


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
