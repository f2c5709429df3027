"""Things that are no paper, as simple solids: boxes, round things, wrapped sweets, bottles.

They stand on the table (x to the right, y away from the viewer, z up, millimetres). A box is the sides of it that are
seen. What is round is drawn as it is seen, a flat shape that looks at the viewer: nobody sees the difference, and it
is one leaf and not forty.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, hypot, pi, sin

from msgspec import Struct

from foldwright.geometry.folding.space import Spot, plus, times
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.pictures.view import View
from foldwright.geometry.scene import LineKind, Point, Tone

type Box = tuple[Spot, Spot]
"""The smallest and the largest x, y and z."""

_ROUND = 20
"""Corners of a circle: at the size of a step's picture nobody counts them."""
_HAIR = 0.02
"""Millimetres by which one part of a thing is nearer than the part it covers."""


class Solid(Struct, frozen=True):
    """What a thing looks like: `box`, `round` (a ball), `upright` (a cylinder), `bottle`, `sweet` or `flat`.

    `size` is across, down and high in millimetres as it lies, `tone` what it is of, `axis` the way its own top looks: 0
    to the right, 1 away, 2 up.
    """

    kind: str
    size: Spot
    tone: Tone
    axis: int = 2


class Sight(Struct, frozen=True):
    """The three directions of a picture in the frame of the table: to the right, down, and towards the viewer."""

    right: Spot
    down: Spot
    near: Spot

    @classmethod
    def of(cls, view: View) -> Sight:
        """A projection along a line of sight is a turn: its rows are the directions it shows across and down."""
        x, y, z = (view.project(axis) for axis in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))
        right, down, near = ((x[row], y[row], z[row]) for row in range(3))
        return cls(right, down, near)

    def spot(self, centre: Spot, point: Point, nearer: float = 0.0) -> Spot:
        """The place that is seen so far right of a centre and below it, in the plane through it that looks at us."""
        off = plus(times(self.right, point[0]), times(self.down, point[1]))
        return plus(plus(centre, off), times(self.near, nearer))

    def leaf(
        self,
        centre: Spot,
        outline: Sequence[Point],
        tone: Tone,
        nearer: float = 0.0,
        marks: Sequence[Sequence[Point]] = (),
    ) -> Leaf:
        """A flat shape that looks at the viewer."""
        return Leaf(
            tuple(self.spot(centre, point, nearer) for point in outline),
            self.near,
            (LineKind.CUT,) * len(outline),
            stuff=tone,
            marks=tuple(tuple(self.spot(centre, point, nearer) for point in mark) for mark in marks),
        )


def solid_of(shape: Solid, middle: Spot, view: View) -> tuple[Leaf, ...]:
    """A thing with the middle of its underside at a place of the table."""
    wide, deep, high = shape.size
    x, y, z = middle
    centre = x, y, z + high / 2
    sight = Sight.of(view)
    if shape.kind == "round":
        return (_ball(sight, centre, min(shape.size) / 2, shape.tone),)
    if shape.kind == "upright":
        return tuple(_turned(centre, shape, _DRUM, view))
    if shape.kind == "bottle":
        return tuple(_turned(centre, shape, _BOTTLE, view))
    if shape.kind == "sweet":
        return (_sweet(sight, view, centre, shape.size, shape.tone),)
    low = x - wide / 2, y - deep / 2, z
    return box_leaves((low, (x + wide / 2, y + deep / 2, z + high)), view, shape.tone)


def box_leaves(bounds: Box, view: View, tone: Tone | None, paper: int = 0) -> tuple[Leaf, ...]:
    """The sides of a box that look at the viewer."""
    (x1, y1, z1), (x2, y2, z2) = bounds
    sides = (
        ((0.0, 0.0, 1.0), ((x1, y1, z2), (x2, y1, z2), (x2, y2, z2), (x1, y2, z2))),
        ((0.0, -1.0, 0.0), ((x1, y1, z1), (x2, y1, z1), (x2, y1, z2), (x1, y1, z2))),
        ((1.0, 0.0, 0.0), ((x2, y1, z1), (x2, y2, z1), (x2, y2, z2), (x2, y1, z2))),
        ((-1.0, 0.0, 0.0), ((x1, y2, z1), (x1, y1, z1), (x1, y1, z2), (x1, y2, z2))),
        ((0.0, 1.0, 0.0), ((x2, y2, z1), (x1, y2, z1), (x1, y2, z2), (x2, y2, z2))),
    )
    return tuple(
        Leaf(outline, good, (LineKind.CUT,) * 4, paper=paper, stuff=tone) for good, outline in sides if view.sees(good)
    )


def circle(radius: float, corners: int = _ROUND) -> tuple[Point, ...]:
    """A ring of places round the origin."""
    return tuple((radius * cos(2 * pi * at / corners), radius * sin(2 * pi * at / corners)) for at in range(corners))


def _ball(sight: Sight, centre: Spot, radius: float, tone: Tone) -> Leaf:
    shine = tuple((x * 0.6 - radius * 0.04, y * 0.6 - radius * 0.04) for x, y in circle(radius)[11:15])
    return sight.leaf(centre, circle(radius), tone, marks=(shine,))


_DRUM = ((1.0, 0.0, 1.0),)
_BOTTLE = ((1.0, 0.0, 0.66), (0.72, 0.66, 0.75), (0.42, 0.75, 0.89), (0.48, 0.89, 1.0))
"""Round parts one on another: how wide, and from where to where, as parts of the whole."""


def _turned(centre: Spot, shape: Solid, parts: Sequence[tuple[float, float, float]], view: View) -> Iterator[Leaf]:
    """Round parts about one line, the nearest last: of each its outline as it is seen, and the end that is seen."""
    axis, long = shape.axis, shape.size[shape.axis]
    radius = min(size for at, size in enumerate(shape.size) if at != axis) / 2
    sight = Sight.of(view)
    seen = view.sees(tuple(1.0 if at == axis else 0.0 for at in range(3)))  # type: ignore[arg-type]
    cx, cy = view.point(centre)
    for number, (wide, low, top) in enumerate(parts if seen else parts[::-1]):
        rims = []
        for level in (low, top) if seen else (top, low):
            ring = (_on_axis(centre, axis, (level - 0.5) * long, point) for point in circle(radius * wide))
            rims.append([(x - cx, y - cy) for x, y in map(view.point, ring)])
        yield sight.leaf(centre, around([*rims[0], *rims[1]]), shape.tone, 2 * number * _HAIR)
        yield sight.leaf(centre, rims[1], shape.tone, (2 * number + 1) * _HAIR)


def _on_axis(centre: Spot, axis: int, along: float, point: Point) -> Spot:
    """A place of a ring round a line through a centre."""
    x, y, z = centre
    if axis == 0:
        return x + along, y + point[0], z + point[1]
    return (x + point[0], y + along, z + point[1]) if axis == 1 else (x + point[0], y + point[1], z + along)


def _sweet(sight: Sight, view: View, centre: Spot, size: Spot, tone: Tone) -> Leaf:
    """A wrapped sweet: a round body between two twisted ends, lying along its longest side."""
    long, thick = max(size), sorted(size)[1]
    along = (1.0, 0.0, 0.0) if size[0] >= size[1] else (0.0, 1.0, 0.0)
    if size[2] == long and long > max(size[:2]):
        along = (0.0, 0.0, 1.0)
    (zx, zy), (ax, ay) = view.point((0.0, 0.0, 0.0)), view.point(along)
    ux, uy = ax - zx, ay - zy
    half, vx, vy = long * hypot(ux, uy) / 2, -uy / hypot(ux, uy), ux / hypot(ux, uy)
    ux, uy = ux / hypot(ux, uy), uy / hypot(ux, uy)

    def put(part: float, off: float) -> Point:
        return ux * part * half + vx * off * thick / 2, uy * part * half + vy * off * thick / 2

    belly = [put(-0.6 * cos(pi * at / 8), -0.86 * sin(pi * at / 8) ** 0.6 - 0.14) for at in range(9)]
    back = [put(0.6 * cos(pi * at / 8), 0.86 * sin(pi * at / 8) ** 0.6 + 0.14) for at in range(9)]
    right = [put(0.97, -0.62), put(1.0, -0.2), put(0.94, 0.0), put(1.0, 0.2), put(0.97, 0.62)]
    left = [put(-0.97, 0.62), put(-1.0, 0.2), put(-0.94, 0.0), put(-1.0, -0.2), put(-0.97, -0.62)]
    lines = [(put(side * 0.6, -0.14), put(side * 0.6, 0.14)) for side in (-1, 1)]
    lines += [(put(side * 0.64, off * 0.05), put(side * 0.9, off * 0.3)) for side in (-1, 1) for off in (-1, 1)]
    return sight.leaf(centre, (*belly, *right, *back, *left), tone, marks=lines)


def around(points: Sequence[Point]) -> tuple[Point, ...]:
    """The convex outline of places in a plane (Andrew's chains, 1979)."""
    ordered = sorted(set(points))

    def chain(run: Sequence[Point]) -> list[Point]:
        found: list[Point] = []
        for x, y in run:
            while len(found) > 1 and _turns(found[-2], found[-1], (x, y)) <= 0:
                found.pop()
            found.append((x, y))
        return found[:-1]

    return (*chain(ordered), *chain(ordered[::-1]))


def _turns(one: Point, other: Point, next_: Point) -> float:
    return (other[0] - one[0]) * (next_[1] - one[1]) - (other[1] - one[1]) * (next_[0] - one[0])


def curve(start: Point, bend: Point, end: Point) -> tuple[Point, ...]:
    """A smooth way from place to place that is drawn towards a third (a quadratic Bézier curve)."""
    parts = [step / _SMOOTH for step in range(_SMOOTH + 1)]

    def at(part: float, axis: int) -> float:
        one = 1 - part
        return one * one * start[axis] + 2 * one * part * bend[axis] + part * part * end[axis]

    return tuple((at(part, 0), at(part, 1)) for part in parts)


_SMOOTH = 8
