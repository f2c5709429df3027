"""What is printed on a paper: gingham, dots, stripes, leaves, stars, flowers, a map, at one size in every picture.

Everything is plain shapes cut at the edge of the face: no pattern elements, which need ids and which not every
typesetter draws, and no strokes, which would be one more width of line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import ceil, cos, floor, hypot, pi, sin

from foldwright.geometry.scene import Point

type Ring = Sequence[Point]

_APART = {"gingham": 2.6, "dots": 3.4, "stripes": 2.4, "leaf": 5.0, "stars": 5.0, "floral": 5.0, "map": 6.0}
"""Millimetres of the picture from one to the next, whatever the scale."""
_LEAST_FACE = 12.0
"""Square millimetres: on less than that a pattern is only noise."""
_MOST = 900
"""So many marks at most on a face: on a larger one they stand farther apart."""


def printed(pattern: str, rings: Sequence[Ring], along: Point, across: Point) -> tuple[str, ...]:
    """The pattern as path data, in layers. `rings` are the face's outline and its gaps in millimetres of the picture;
    `along` and `across` the directions of the paper in it, however they are foreshortened."""
    frame = _Grain(rings[0], along, across)
    if frame.area < _LEAST_FACE:
        return ()
    inside = [[frame.inward(point) for point in ring] for ring in rings]
    apart = max(_APART[pattern], (frame.area / frame.shrunk / _MOST) ** 0.5)
    layers = [_marks(inside, apart, _MARKS[pattern])] if pattern in _MARKS else [_bands(inside, apart, 0)]
    if pattern == "gingham":
        layers.append(_bands(inside, apart, 1))
    return tuple(way for layer in layers if (way := "".join(map(frame.path, layer))))


class _Grain:
    """The paper's own directions, in each of which a millimetre is a millimetre of the picture seen straight on."""

    def __init__(self, outline: Ring, along: Point, across: Point) -> None:
        longest = max(hypot(*along), hypot(*across))
        (self.ax, self.ay), (self.bx, self.by) = ((x / longest, y / longest) for x, y in (along, across))
        self.shrunk = abs(self.ax * self.by - self.ay * self.bx)
        pairs = zip(outline, (*outline[1:], outline[0]), strict=True)
        self.area = abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)) / 2 if self.shrunk > 0.1 else 0.0
        self.x, self.y = outline[0]

    def inward(self, point: Point) -> Point:
        x, y = point[0] - self.x, point[1] - self.y
        turn = self.ax * self.by - self.ay * self.bx
        return (x * self.by - y * self.bx) / turn, (y * self.ax - x * self.ay) / turn

    def path(self, ring: Ring) -> str:
        return f"M{'L'.join(f'{x:.2f} {y:.2f}' for x, y in map(self.outward, ring))}Z"

    def outward(self, point: Point) -> Point:
        u, v = point
        return self.x + u * self.ax + v * self.bx, self.y + u * self.ay + v * self.by


def _bands(rings: Sequence[Ring], apart: float, axis: int) -> Iterator[Ring]:
    """Bands as wide as the gaps between them, cut at the edges of the face; where a ring is a gap, of the gap as well:
    the shape is filled by the even-odd rule."""
    values = [point[axis] for point in rings[0]]
    for number in range(floor(min(values) / apart), ceil(max(values) / apart)):
        low, high = number * apart, number * apart + apart / 2
        for ring in rings:
            kept = _cut(_cut(ring, axis, low, 1.0), axis, high, -1.0)
            if len(kept) > 2:
                yield kept


def _cut(ring: Ring, axis: int, at: float, sign: float) -> list[Point]:
    """What of a ring lies beyond a line (Sutherland and Hodgman, 1974)."""
    kept: list[Point] = []
    for one, other in zip(ring, (*ring[1:], *ring[:1]), strict=True):
        before, after = (one[axis] - at) * sign, (other[axis] - at) * sign
        if before >= 0:
            kept.append(one)
        if (before < 0) != (after < 0):
            part = before / (before - after)
            kept.append((one[0] + (other[0] - one[0]) * part, one[1] + (other[1] - one[1]) * part))
    return kept


def _marks(rings: Sequence[Ring], apart: float, mark: Ring) -> Iterator[Ring]:
    """Marks in staggered rows, those that lie on the face whole."""
    us, vs = [u for u, _ in rings[0]], [v for _, v in rings[0]]
    edges = [(one, other) for ring in rings for one, other in zip(ring, (*ring[1:], *ring[:1]), strict=True)]
    reach = max(hypot(u, v) for u, v in mark)
    for row in range(floor(min(vs) / apart), ceil(max(vs) / apart) + 1):
        for column in range(floor(min(us) / apart), ceil(max(us) / apart) + 1):
            u, v = (column + (row % 2) / 2 + 0.25) * apart, (row + 0.5) * apart
            if _within(edges, u, v) and all(_distance(u, v, *edge) > reach for edge in edges):
                yield [(u + du, v + dv) for du, dv in mark]


def _within(edges: Sequence[tuple[Point, Point]], u: float, v: float) -> bool:
    crossed = 0
    for (u1, v1), (u2, v2) in edges:
        if (v1 > v) != (v2 > v) and u < u1 + (u2 - u1) * (v - v1) / (v2 - v1):
            crossed += 1
    return crossed % 2 == 1


def _distance(u: float, v: float, one: Point, other: Point) -> float:
    du, dv = other[0] - one[0], other[1] - one[1]
    long = du * du + dv * dv
    part = max(0.0, min(1.0, ((u - one[0]) * du + (v - one[1]) * dv) / long)) if long else 0.0
    return hypot(u - one[0] - part * du, v - one[1] - part * dv)


def _ring_of(corners: int, radius: Callable[[int], float]) -> Ring:
    turns = [2 * pi * number / corners - pi / 2 for number in range(corners)]
    return [(radius(number) * cos(turn), radius(number) * sin(turn)) for number, turn in enumerate(turns)]


_MARKS: dict[str, Ring] = {
    "dots": _ring_of(10, lambda _: 0.62),
    "stars": _ring_of(10, lambda number: 0.42 if number % 2 else 1.05),
    "floral": _ring_of(15, lambda number: 0.55 if number % 3 == 0 else 1.0),
    "leaf": [(-1.0, 1.0), (-0.85, -0.1), (-0.3, -0.75), (1.0, -1.0), (0.75, 0.3), (0.1, 0.85)],
    "map": [(-1.3, -0.2), (-0.5, -0.9), (0.5, -0.6), (1.3, -0.8), (1.0, 0.1), (1.2, 0.7), (0.2, 0.5), (-0.7, 0.9)],
}
"""Round the middle, in millimetres."""
