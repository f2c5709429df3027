"""Round things: how many circles lie in a rectangle or in a circle, in rows straight or staggered, and the rest of it.

In rows a pitch p apart, staggered by half of it, the next row lies sqrt(d^2 - (p/2)^2) on, and the next but one
straight behind the first, so no nearer than d. The pitch is stretched until a row fills its side. With the least pitch
that is the hexagonal laying; with one circle a row it is a zigzag; with 2, 1, 2 the five of a die.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import product
from math import ceil, pi, sqrt

from foldwright.pack.model import Answer, LaidThing, Packing, Size, Thing

type Centres = tuple[tuple[float, float], ...]

_HAIR = 1e-9
"""As a part of a circle: rounding may not keep out what just goes in."""
_IN_A_CIRCLE = (1.0, 2.0, 1 + 2 / sqrt(3), 1 + sqrt(2), 1 + 1 / 0.5877852522924731, 3.0, 3.0)
"""How many times as wide as one circle a circle is that just holds 1 to 7 of them (textbook values, from memory; for
five it is 1 + 1 / sin 36 degrees)."""
_KEPT = 10_000


def circles_in(wide: float, deep: float, width: float) -> Centres:
    """The most circles of a width found in a rectangle, by their centres from its corner: rows straight or staggered
    along either side."""
    along = [*_rows(wide, deep, width)]
    turned = [tuple((y, x) for x, y in centres) for centres in _rows(deep, wide, width)]
    return max([*along, *turned], key=len, default=())


def _rows(wide: float, deep: float, width: float) -> Iterator[Centres]:
    slack = _HAIR * width
    if min(wide, deep) < width - slack:
        return
    most, rows = int(wide / width + _HAIR), int(deep / width + _HAIR)
    yield tuple((width * (x + 0.5), width * (y + 0.5)) for y, x in product(range(rows), range(most)))
    for many in range(1, most + 1):
        # Rows of so many and one less in turn, then rows of so many each.
        for odd, spaces in ((many - 1, many - 1.0), (many, many - 0.5)):
            pitch = (wide - width) / spaces if spaces else 0.0
            if odd and (pitch >= width - slack or many == 1):
                yield _staggered(many, odd, pitch, deep, width)


def _staggered(many: int, odd: int, pitch: float, deep: float, width: float) -> Centres:
    on = max(sqrt(max(0.0, width * width - pitch * pitch / 4)), width / 2)
    rows = 1 + int((deep - width) / on + _HAIR)
    return tuple(
        (width / 2 + pitch * (x + row % 2 / 2), width / 2 + on * row)
        for row in range(rows)
        for x in range(odd if row % 2 else many)
    )


def circles_in_circle(wide: float, width: float) -> int:
    """How many circles of a width go into a circle for sure: up to seven by the textbook, more in rows in a square."""
    few = sum(wide >= width * times * (1 - _HAIR) for times in _IN_A_CIRCLE)
    return max(few, len(circles_in(wide / sqrt(2), wide / sqrt(2), width)))


def most_circles(wide: float, deep: float, width: float) -> int:
    """More circles than this never go into a rectangle (Oler 1961, from memory): of points at least d apart in a convex
    shape there are at most 2 A / (sqrt(3) d^2) + P / (2 d) + 1."""
    if min(wide, deep) < width:
        return 0
    across, down = wide - width, deep - width
    return int(2 * across * down / (sqrt(3) * width * width) + (across + down) / width + 1 + _HAIR)


def pack_rounds(things: Sequence[Thing], room: Size) -> Packing:
    """Round things, all alike, standing or lying; the answer is no only where a bound says so."""
    thing, count = things[0], len(things)
    found = [laid for way in thing.ways for laid in _layings(thing, way, count, room)]
    if found:
        return max(found, key=lambda one: min(one.left) if one.left else Fraction(0))
    return Packing(Answer.DOES_NOT if _too_many(thing, count, room) else Answer.UNKNOWN)


def _layings(thing: Thing, way: Size, count: int, room: Size) -> Iterator[Packing]:
    """All with their axes one way, layer upon layer along it."""
    axis = axis_of(thing, way)
    sides = [at for at in range(3) if at != axis]
    width = float(way[sides[0]])
    centres = circles_in(float(room[sides[0]]), float(room[sides[1]]), width)
    if centres and way[axis] <= room[axis]:
        layers = ceil(count / len(centres))
        if layers * way[axis] <= room[axis]:
            spots = [(*centres[at % len(centres)], at // len(centres) * float(way[axis])) for at in range(count)]
            yield _packing(spots, sides, axis, way, room)


def _packing(
    spots: Sequence[tuple[float, float, float]], sides: list[int], axis: int, way: Size, room: Size
) -> Packing:
    laid = []
    for number, (x, y, on) in enumerate(spots):
        at = [Fraction(0)] * 3
        for side, middle in zip(sides, (x, y), strict=True):
            at[side] = Fraction(round(middle * _KEPT), _KEPT) - way[side] / 2
        at[axis] = Fraction(round(on * _KEPT), _KEPT)
        laid.append(LaidThing(number, (at[0], at[1], at[2]), way))
    taken = [max(one.at[side] + one.size[side] for one in laid) for side in range(3)]
    left = [max(Fraction(0), wide - end) for wide, end in zip(room, taken, strict=True)]
    return Packing(Answer.GOES_IN, tuple(laid), (left[0], left[1], left[2]))


def axis_of(thing: Thing, way: Size) -> int:
    """Along which direction the axis of a round thing runs that lies this way."""
    width, _, long = thing.size
    return 2 if width == long else next(at for at in (2, 1, 0) if way[at] == long)


def most_rounds(thing: Thing, count: int, room: Size) -> int:
    """How many of so many go in for sure, all lying the same way."""
    most = 0
    for way in thing.ways:
        axis = axis_of(thing, way)
        one, other = (float(room[at]) for at in range(3) if at != axis)
        most = max(most, int(room[axis] // way[axis]) * len(circles_in(one, other, float(thing.size[0]))))
    return min(count, most)


def _too_many(thing: Thing, count: int, room: Size) -> bool:
    """Whether they do not go in for sure: one alone does not, they are too much, or too many circles for one layer."""
    ways = thing.ways_into(room)
    width, _, long = map(float, thing.size)
    volume = pi / 6 * width**3 if width == long else pi / 4 * width * width * long
    if not ways or volume * count > float(room[0] * room[1] * room[2]):
        return True
    if len(ways) > 1 and thing.size[0] != thing.size[2]:
        return False
    axis = axis_of(thing, ways[0])
    one, other = (float(room[at]) for at in range(3) if at != axis)
    return room[axis] < 2 * ways[0][axis] and width != long and count > most_circles(one, other, width)
