"""A few things, every way they may lie: an exhaustive search that either finds a way or proves that there is none.

Any packing can be pushed together until every thing stands, in each direction, at a sum of sides of other things
(Herz 1972, Christofides and Whitlock 1977, from memory): only those places need to be tried.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import lcm

from foldwright.pack.model import LaidThing, Size, Thing

_MOST_THINGS = 6
_MOST_PLACES = 4_000
_MOST_STEPS = 60_000
"""Places to try in all: some tenths of a second."""

type _Box = tuple[int, int, int, int, int, int]


class UndecidedError(Exception):
    """There are too many things or places to try them all."""


def search(things: Sequence[Thing], room: Size) -> tuple[LaidThing, ...] | None:
    """A way for all of them to lie, or None when there is none. Raises UndecidedError."""
    if len(things) > _MOST_THINGS:
        raise UndecidedError
    scale = lcm(*(side.denominator for size in (room, *(thing.size for thing in things)) for side in size))
    wide = tuple(int(side * scale) for side in room)
    # The largest first, things alike one after the other.
    order = sorted(range(len(things)), key=lambda number: (-things[number].volume, things[number].size, number))
    places = {thing: _places(thing, things, wide, scale) for thing in dict.fromkeys(things)}
    found = _TreeSearch([things[number] for number in order], places).boxes()
    if found is None:
        return None

    def exact(numbers: tuple[int, ...]) -> Size:
        across, down, high = (Fraction(number, scale) for number in numbers)
        return across, down, high

    return tuple(
        LaidThing(number, exact(box[:3]), exact(tuple(box[axis + 3] - box[axis] for axis in range(3))))
        for number, box in zip(order, found, strict=True)
    )


def _places(thing: Thing, things: Sequence[Thing], room: tuple[int, ...], scale: int) -> list[_Box]:
    """Every place a thing may stand in, in each of its ways, as the box from its near to its far corner."""
    sums = [_sums(things, room[axis], scale) for axis in range(3)]
    found: list[_Box] = []
    for way in thing.ways:
        sides = [int(side * scale) for side in way]
        spots = [[at for at in ats if at + side <= wide] for ats, side, wide in zip(sums, sides, room, strict=True)]
        if len(found) + len(spots[0]) * len(spots[1]) * len(spots[2]) > _MOST_PLACES:
            raise UndecidedError
        found += [
            (x, y, z, x + sides[0], y + sides[1], z + sides[2]) for z in spots[2] for y in spots[1] for x in spots[0]
        ]
    return found


def _sums(things: Sequence[Thing], most: int, scale: int) -> list[int]:
    """Sums of one side each of any of the things but one, up to the room."""
    reached = {0}
    for number, thing in enumerate(things):
        if number == len(things) - 1:
            break
        sides = {int(side * scale) for side in thing.size}
        reached |= {at + side for at in reached for side in sides if at + side <= most}
    if any(thing != things[0] for thing in things):
        # The one left out might be any of them: with different ones all have to be counted.
        sides = {int(side * scale) for side in things[-1].size}
        reached |= {at + side for at in reached for side in sides if at + side <= most}
    return sorted(reached)


class _TreeSearch:
    def __init__(self, things: Sequence[Thing], places: dict[Thing, list[_Box]]) -> None:
        self._things = things
        self._places = places
        self._steps = 0

    def boxes(self) -> list[_Box] | None:
        return self._go_on([], [], 0)

    def _go_on(self, taken: list[_Box], chosen: list[int], number: int) -> list[_Box] | None:
        if number == len(self._things):
            return taken
        thing = self._things[number]
        # Things alike are put in the order of their places, or every order of them would be tried.
        start = chosen[-1] + 1 if number and self._things[number - 1] == thing else 0
        places = self._places[thing]
        for at in range(start, len(places)):
            self._steps += 1
            if self._steps > _MOST_STEPS:
                raise UndecidedError
            box = places[at]
            if any(_overlap(box, other) for other in taken):
                continue
            found = self._go_on([*taken, box], [*chosen, at], number + 1)
            if found is not None:
                return found
        return None


def _overlap(one: _Box, other: _Box) -> bool:
    return (
        one[0] < other[3]
        and other[0] < one[3]
        and one[1] < other[4]
        and other[1] < one[4]
        and one[2] < other[5]
        and other[2] < one[5]
    )
