"""Parallel strokes across a face: where glue goes, what is waste, and an engraver's shades."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, hypot

from foldwright.geometry.scene import Point

type Ring = Sequence[Point]
type Segment = tuple[Point, Point]

_APART = {2: 1.1, 3: 0.65}
"""Millimetres of the picture between an engraver's strokes on a side in each shade; one in the light has none."""
_LEAST_FACE = 8.0
"""Square millimetres: on less than that strokes are a blot."""
_MOST = 60
"""So many strokes at most on a face: on a larger one they stand farther apart."""


def strokes_across(rings: Sequence[Ring], way: Point, apart: float) -> list[Segment]:
    """Strokes in the direction `way` (of length one) at equal distances, cut at the edges of a face: its outline, then
    its gaps. Every other one runs back, so that a pen has the shortest way from each to the next."""
    dx, dy = way
    turned = [[(x * dx + y * dy, y * dx - x * dy) for x, y in ring] for ring in rings]
    offs = [off for _, off in turned[0]]
    first = min(offs) + apart / 2
    crossings: list[list[float]] = [[] for _ in range(max(0, ceil((max(offs) - first) / apart)))]
    for ring in turned:
        (one, before) = ring[-1]
        for other, after in ring:
            slope = (other - one) / (after - before) if after != before else 0.0
            low, high = (before, after) if before < after else (after, before)
            start, step = one + slope * (first - before), slope * apart
            for number in range(max(0, ceil((low - first) / apart)), min(len(crossings), ceil((high - first) / apart))):
                crossings[number].append(start + step * number)
            one, before = other, after
    strokes: list[Segment] = []
    for number, along in enumerate(crossings):
        off = first + number * apart
        across, down = -off * dy, off * dx
        along.sort(reverse=number % 2 == 1)
        spots = [(at * dx + across, at * dy + down) for at in along]
        strokes += zip(spots[::2], spots[1::2], strict=False)
    return strokes


def engraved(rings: Sequence[Ring], shade: int) -> list[Segment]:
    """The strokes that shade a face; none on one in the light, and on one that is too small."""
    if shade not in _APART or _area(rings[0]) < _LEAST_FACE:
        return []
    way = _longest(rings[0])
    offs = [y * way[0] - x * way[1] for x, y in rings[0]]
    return strokes_across(rings, way, max(_APART[shade], (max(offs) - min(offs)) / _MOST))


def _longest(ring: Ring) -> Point:
    """The direction of the longest edge: strokes that follow it follow the face."""
    (x1, y1), (x2, y2) = max(zip(ring, (*ring[1:], *ring[:1]), strict=True), key=_length)
    long = hypot(x2 - x1, y2 - y1)
    return (x2 - x1) / long, (y2 - y1) / long


def _length(edge: Segment) -> float:
    (x1, y1), (x2, y2) = edge
    # To hundredths, or equal edges of a box would be told apart by rounding.
    return round(hypot(x2 - x1, y2 - y1), 2)


def _area(ring: Ring) -> float:
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], *ring[:1]), strict=True))) / 2


def path_of(segments: Sequence[Segment]) -> str:
    """Strokes as path data, each told from the end of the one before: half as long."""
    parts: list[str] = []
    # In whole hundredths of a millimetre, or roundings would add up.
    x, y = 0, 0
    for (x1, y1), (x2, y2) in segments:
        left, top, right, bottom = round(x1 * 100), round(y1 * 100), round(x2 * 100), round(y2 * 100)
        parts.append(f"m{(left - x) / 100} {(top - y) / 100}l{(right - left) / 100} {(bottom - top) / 100}")
        x, y = right, bottom
    return "".join(parts)
