"""What goes round a thing or through a hole in it: bands, belts, twine, ribbon, and the bow they end in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import cos, hypot, inf, pi, sin

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.folding.space import Spot, cross, dot, length, minus, plus, times, unit
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.pictures.things import around, circle
from foldwright.geometry.pictures.view import View
from foldwright.geometry.scene import Face, LineKind, Point, Stroke, Tone

_OFF = 0.6
"""Millimetres by which a band lies outside of what it goes round: enough to know which is nearer."""
_SHORT = 0.05
"""Millimetres: half of what a sheet is thick to what goes round it, and the shortest side of a belt."""
_NEARLY = 1e-9
_TAIL = 0.9
"""How long the ends of a bow are, as a part of how far a loop reaches."""


class Cord(Struct, frozen=True):
    """Twine, ribbon or elastic: how wide it is drawn, in millimetres, and what it is of."""

    wide: float
    tone: Tone
    paper: int = 0


class Belt(Struct, frozen=True):
    """Something that lies round a thing: its sides, and the middle of the side that is seen best."""

    leaves: tuple[Leaf, ...]
    front: Spot
    wide: float
    """How long that side is."""


def belt_round(leaves: Sequence[Leaf], axis: int, at: float, cord: Cord, view: View, off: float = _OFF) -> Belt | None:
    """A taut band round things, in the plane where x, y or z (`axis` 0, 1, 2) is `at`; None where nothing is there."""
    others = [one for one in range(3) if one != axis]
    found = [(spot[others[0]], spot[others[1]]) for spot in _through(leaves, axis, at)]
    found = [(x + dx, y + dy) for x, y in found for dx in (-_SHORT, _SHORT) for dy in (-_SHORT, _SHORT)]
    if not found:
        return None
    ring = _widened(around(found), off)

    def spot(point: Point, along: float) -> Spot:
        place = [0.0, 0.0, 0.0]
        place[others[0]], place[others[1]], place[axis] = point[0], point[1], at + along
        return place[0], place[1], place[2]

    half, sides = cord.wide / 2, list(zip(ring, (*ring[1:], ring[0]), strict=True))
    shown: list[Leaf] = []
    best = 0.0, spot(ring[0], 0.0), 0.0
    for number, (one, other) in enumerate(sides):
        long = hypot(other[0] - one[0], other[1] - one[1])
        if long < 3 * _SHORT:
            continue
        good = minus(spot(((other[1] - one[1]) / long, (one[0] - other[0]) / long), 0.0), spot((0.0, 0.0), 0.0))
        corners = spot(one, -half), spot(other, -half), spot(other, half), spot(one, half)
        edges = (LineKind.CUT, _bend(ring, number, number + 1), LineKind.CUT, _bend(ring, number - 1, number))
        paper = cord.tone if cord.tone is not Tone.GOOD else None
        shown.append(Leaf(corners, good, edges, paper=cord.paper, stuff=paper))
        seen = max(view.project(good)[2], 0.0) * long
        if seen > best[0]:
            best = seen, times(plus(spot(one, 0.0), spot(other, 0.0)), 0.5), long
    return Belt(tuple(shown), best[1], best[2])


def _bend(ring: Sequence[Point], number: int, next_: int) -> LineKind | None:
    """A line where a band bends sharply from one side to the next; none where it runs round a curve."""
    count = len(ring)
    ways = []
    for at in (number % count, next_ % count):
        (ax, ay), (bx, by) = ring[at], ring[(at + 1) % count]
        long = hypot(bx - ax, by - ay) or 1.0
        ways.append(((bx - ax) / long, (by - ay) / long))
    straight = ways[0][0] * ways[1][0] + ways[0][1] * ways[1][1]
    return None if straight > _SHARP else LineKind.CREASE


_SHARP = cos(pi / 6)
"""What turns by less than thirty degrees is drawn as a curve."""


def _through(leaves: Sequence[Leaf], axis: int, at: float) -> Iterator[Spot]:
    """Where the edges of the leaves go through a plane, or lie in it."""
    for leaf in leaves:
        ring = leaf.outline
        for one, other in zip(ring, (*ring[1:], ring[0]), strict=True):
            before, after = one[axis] - at, other[axis] - at
            if before * after <= 0 and before != after:
                part = before / (before - after)
                yield plus(one, times(minus(other, one), part))
            elif abs(before) < _SHORT:
                yield one


def _widened(ring: Sequence[Point], by: float) -> tuple[Point, ...]:
    """Every corner moved outwards, each way by the same."""
    x, y = sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)

    def out(at: float, middle: float) -> float:
        return at + by * max(-1.0, min(1.0, (at - middle) / _OFF))

    return tuple((out(px, x), out(py, y)) for px, py in ring)


# --- bows and knots, flat in the picture ------------------------------------------------------------------------------


def bow(spot: Spot, size: float, cord: Cord, view: View) -> tuple[Face, ...]:
    """A bow that looks at the viewer: two loops, two ends, a knot. `size` is how far a loop reaches, in millimetres."""
    x, y = view.point(spot)
    wide = min(cord.wide, size * 0.3)
    faces: list[Face] = []
    for side in (-1.0, 1.0):
        tail = [(side * size * part * _TAIL * 0.7, size * _TAIL * (part**1.5)) for part in (0.0, 0.25, 0.5, 0.75, 1.0)]
        faces.append(_face(strip_along(tail, wide), cord.tone, (x, y)))
    faces += [_loop(size, side, wide, cord.tone, (x, y)) for side in (-1.0, 1.0)]
    faces.append(_face(circle(max(wide * 0.85, size * 0.09), 10), cord.tone, (x, y)))
    return tuple(faces)


def _loop(size: float, side: float, wide: float, tone: Tone, at: Point) -> Face:
    """One half of a lemniscate, tilted up; open in the middle as a cord's is."""
    turns = [pi * (step / 16 - 0.5) for step in range(1, 16)]
    lobe = [(size * cos(t) / (1 + sin(t) ** 2), size * 1.25 * sin(t) * cos(t) / (1 + sin(t) ** 2)) for t in turns]
    tilted = [(side * (px * 0.94 + py * 0.34), py * 0.94 - px * 0.34) for px, py in ((0.0, 0.0), *lobe)]
    middle = (side * size * 0.6 * 0.94, -size * 0.6 * 0.34)
    inner = 1 - 2 * wide / (size * 0.72)
    if inner < 0.2:
        return _face(tilted, tone, at)
    hole = [(middle[0] + (px - middle[0]) * inner, middle[1] + (py - middle[1]) * inner) for px, py in tilted]
    return _face(tilted, tone, at, hole)


def _face(outline: Sequence[Point], tone: Tone, at: Point, gap: Sequence[Point] = ()) -> Face:
    def put(ring: Sequence[Point]) -> tuple[Point, ...]:
        return tuple((x + at[0], y + at[1]) for x, y in ring)

    rings = [put(outline), *([put(gap)] if gap else [])]
    edges = tuple(Stroke(LineKind.CUT, ring, True) for ring in rings)
    return Face(rings[0], tone, edges=edges, shade=1, gaps=tuple(rings[1:]))


def strip_along(path: Sequence[Point], wide: float) -> tuple[Point, ...]:
    """The outline of a strip of some width along a line."""
    left: list[Point] = []
    right: list[Point] = []
    for number, (x, y) in enumerate(path):
        (ax, ay), (bx, by) = path[max(number - 1, 0)], path[min(number + 1, len(path) - 1)]
        long = hypot(bx - ax, by - ay) or 1.0
        nx, ny = -(by - ay) / long * wide / 2, (bx - ax) / long * wide / 2
        left.append((x + nx, y + ny))
        right.append((x - nx, y - ny))
    return (*left, *right[::-1])


# --- through holes ----------------------------------------------------------------------------------------------------


class Eyelet(Struct, frozen=True):
    """A hole that something goes through: its middle, the way to the nearest edge of its sheet (of length 1), how far
    that is, and the direction the sheet looks in.
    """

    middle: Spot
    outwards: Spot
    far: float
    good: Spot
    wide: float


def eyelets_of(leaves: Sequence[Leaf]) -> tuple[Eyelet, ...]:
    """Every hole in some leaves."""
    return tuple(_eyelet(leaf, gap) for leaf in leaves for gap in leaf.gaps)


def _eyelet(leaf: Leaf, gap: Sequence[Spot]) -> Eyelet:
    middle = times(_sum(gap), 1 / len(gap))
    best: tuple[float, Spot] | None = None
    for one, other in zip(leaf.outline, (*leaf.outline[1:], leaf.outline[0]), strict=True):
        way = minus(other, one)
        if length(way) < _SHORT:
            continue
        part = max(0.0, min(1.0, dot(minus(middle, one), way) / dot(way, way)))
        off = minus(plus(one, times(way, part)), middle)
        if best is None or length(off) < best[0]:
            best = length(off), off
    far, off = best or (1.0, (0.0, 1.0, 0.0))
    wide = 2 * min(_off_line(middle, one, other) for one, other in zip(gap, (*gap[1:], gap[0]), strict=True))
    return Eyelet(middle, unit(off) if far > _SHORT else (0.0, 1.0, 0.0), far, leaf.good, wide)


def _off_line(spot: Spot, one: Spot, other: Spot) -> float:
    """How far a place is from the line through two others; far off where these are one."""
    way = minus(other, one)
    long = length(way)
    return length(cross(minus(spot, one), way)) / long if long > _NEARLY else inf


def _sum(spots: Sequence[Spot]) -> Spot:
    total = 0.0, 0.0, 0.0
    for spot in spots:
        total = plus(total, spot)
    return total


def looped(hole: Eyelet, long: float, cord: Cord, tied: bool) -> tuple[Leaf, ...]:
    """A cord through a hole and round the edge beside it: one part before the sheet, one behind; knotted if `tied`.

    `long` is how far it reaches past the edge, in millimetres.
    """
    wide = min(cord.wide, hole.wide)
    knot = hole.far + long * 0.35
    end = hole.far + long
    spread = max(wide, long * 0.1)
    leaves = []
    for side in (1.0, -1.0):
        way = [(0.0, 0.0), (hole.far * 0.6, side * spread * 0.5), (hole.far, side * spread * 0.6)]
        way += [(knot, 0.0), (knot + (end - knot) * 0.5, -side * spread * 0.7), (end, -side * spread * 1.3)]
        if not tied:
            way[3:] = [(knot, side * spread), (end, side * spread * 1.6)]
        leaves.append(_strip(hole, way, wide, side, cord))
    if tied:
        around_knot = [(knot + x, y) for x, y in circle(wide * 0.95, 10)]
        leaves.append(_flat(hole, around_knot, 2.0, cord))
    return tuple(leaves)


def hanging(hole: Eyelet, long: float, cord: Cord) -> tuple[Leaf, ...]:
    """A loop to pull by that hangs down, both ends through the hole of a wall that stands."""
    wide = min(cord.wide, hole.wide * 2)
    hole = replace(hole, outwards=unit(minus((0.0, 0.0, 1.0), times(hole.good, hole.good[2]))))
    turns = [2 * pi * step / _LOOP for step in range(_LOOP + 1)]
    path = [(-long * (1 - cos(turn)) / 2, wide * 1.1 * sin(turn)) for turn in turns]
    half = _LOOP // 2
    return _strip(hole, path[: half + 1], wide, 1.0, cord), _strip(hole, path[half:], wide, 1.6, cord)


_LOOP = 16


def handle(one: Eyelet, other: Eyelet, cord: Cord) -> tuple[Leaf, ...]:
    """A handle from hole to hole of one sheet: up past the edge and back, its ends behind the sheet."""
    apart = minus(other.middle, one.middle)
    half, high = length(apart) / 2, one.far + length(apart) * 0.7
    middle = times(plus(one.middle, other.middle), 0.5)
    across = unit(apart)
    path = [(half * cos(pi * step / 12), high * sin(pi * step / 12)) for step in range(13)]
    strip = strip_along(path, min(cord.wide, one.wide))
    outline = tuple(
        plus(plus(middle, times(across, x)), plus(times(one.outwards, y), times(one.good, 1.0))) for x, y in strip
    )
    return (Leaf(outline, one.good, (LineKind.CUT,) * len(outline), stuff=cord.tone),)


def laced(holes: Sequence[Eyelet], cord: Cord) -> tuple[Leaf, ...]:
    """From hole to hole in turn, before the sheet and behind it."""
    leaves = []
    for number, (one, other) in enumerate(pairwise(holes)):
        way = minus(other.middle, one.middle)
        side = times(unit(cross(one.good, way)), min(cord.wide, one.wide) / 2)
        off = times(one.good, 1.0 if number % 2 == 0 else -1.0)
        corners = plus(one.middle, side), plus(other.middle, side), minus(other.middle, side), minus(one.middle, side)
        outline = tuple(plus(corner, off) for corner in corners)
        leaves.append(Leaf(outline, one.good, (LineKind.CUT,) * 4, stuff=cord.tone))
    return tuple(leaves)


def _strip(hole: Eyelet, path: Sequence[Point], wide: float, side: float, cord: Cord) -> Leaf:
    return _flat(hole, strip_along(path, wide), side, cord)


def _flat(hole: Eyelet, ring: Sequence[Point], off: float, cord: Cord) -> Leaf:
    """A shape in the plane of the sheet, moved off it by so much: x runs to the nearest edge, y along that."""
    along = unit(cross(hole.good, hole.outwards))
    outline = tuple(
        plus(plus(hole.middle, times(hole.good, off)), plus(times(hole.outwards, x), times(along, y))) for x, y in ring
    )
    return Leaf(outline, hole.good, (LineKind.CUT,) * len(outline), stuff=cord.tone)
