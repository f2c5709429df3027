"""Packing: first what arithmetic tells, then every way a few things may lie, then searches that count their steps.

Any packing can be pushed together until every thing stands, in each direction, at a sum of sides of other things
(Herz 1972, Christofides and Whitlock 1977, from memory): only those places need to be tried.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import product
from math import lcm, prod

from msgspec.structs import replace

from foldwright.pack.filling import fill
from foldwright.pack.model import Answer, LaidThing, Packing, Size, Thing
from foldwright.pack.rounds import most_rounds, pack_rounds

_MOST_IN_A_GRID = 10_000
"""More things than that nobody puts into a paper box."""


def pack(things: Sequence[Thing], room: Size) -> Packing:
    """Whether the things go into the room, which must be more than nothing in every direction."""
    if any(thing.round for thing in things) and all(thing == things[0] for thing in things):
        return _pack_alike_rounds(things, room)
    found = _pack_boxes(things, room)
    if found.answer is Answer.GOES_IN or not any(thing.round for thing in things):
        return found
    alone = all(thing.ways_into(room) for thing in things)
    return Packing(Answer.UNKNOWN) if alone and found.answer is Answer.DOES_NOT else found


def _pack_alike_rounds(things: Sequence[Thing], room: Size) -> Packing:
    """In a grid where that goes; else closer than the boxes round them; and last as these boxes, however mixed."""
    if len(things) <= _MOST_IN_A_GRID and (laid := _in_a_grid(things, room)):
        return _packing(laid, room)
    closer = pack_rounds(things, room)
    if closer.answer is Answer.GOES_IN:
        return closer
    found = _pack_boxes(things, room)
    if found.answer is Answer.GOES_IN:
        return found
    return replace(closer, short=found.short) if found.short else closer


def _pack_boxes(things: Sequence[Thing], room: Size) -> Packing:
    if not things:
        return Packing(Answer.GOES_IN, (), room)
    alike = all(thing == things[0] for thing in things) and len(things) <= _MOST_IN_A_GRID
    short = _least_short(things, room) if alike else None
    if alike and (laid := _in_a_grid(things, room)):
        return _packing(laid, room)
    if cannot_go_in(things, room):
        return Packing(Answer.DOES_NOT, short=short)
    try:
        few = search(things, room)
        return _packing(few, room) if few else Packing(Answer.DOES_NOT, short=short)
    except UndecidedError:
        found = fill(things, room)
        return _packing(found, room) if found else Packing(Answer.UNKNOWN, short=short)


def most_that_go_in(thing: Thing, count: int, room: Size) -> int:
    """How many of so many alike go in for sure, all lying the same way."""
    rounds = most_rounds(thing, count, room) if thing.round else 0
    most = (prod(int(wide // long) for wide, long in zip(room, way, strict=True)) for way in thing.ways)
    return max(rounds, min(count, max(most)))


def _packing(laid: tuple[LaidThing, ...], room: Size) -> Packing:
    taken = [max(one.at[axis] + one.size[axis] for one in laid) for axis in range(3)]
    return Packing(Answer.GOES_IN, laid, (room[0] - taken[0], room[1] - taken[1], room[2] - taken[2]))


# --- things alike, in rows and layers ---------------------------------------------------------------------------------


def _grids(count: int) -> Iterator[tuple[int, int, int]]:
    """So many across, down and in layers, with no whole row to spare."""
    for across in range(1, count + 1):
        for down in range(1, -(-count // across) + 1):
            if across * down < count + min(across, down):
                yield across, down, -(-count // (across * down))


def _in_a_grid(things: Sequence[Thing], room: Size) -> tuple[LaidThing, ...]:
    """All lying the same way, in as few layers as go, then with the most room where it is tightest."""
    best: tuple[tuple[int, Fraction], Size, tuple[int, int, int]] | None = None
    for way in things[0].ways:
        for grid in _grids(len(things)):
            left = [wide - long * many for wide, long, many in zip(room, way, grid, strict=True)]
            if min(left) < 0:
                continue
            merit = -grid[2], min(left)
            if best is None or merit > best[0]:
                best = merit, way, grid
    if best is None:
        return ()
    _, way, grid = best
    places = product(range(grid[2]), range(grid[1]), range(grid[0]))
    return tuple(
        LaidThing(number, (x * way[0], y * way[1], z * way[2]), way)
        for number, (z, y, x) in zip(range(len(things)), places, strict=False)
    )


def _least_short(things: Sequence[Thing], room: Size) -> tuple[int, Fraction] | None:
    """The direction in which the room would have to grow least, and by how much, for all to lie in rows and layers."""
    found: list[tuple[Fraction, int]] = []
    for way in things[0].ways:
        for grid in _grids(len(things)):
            over = [long * many - wide for wide, long, many in zip(room, way, grid, strict=True)]
            beyond = [axis for axis in range(3) if over[axis] > 0]
            if len(beyond) == 1:
                found.append((over[beyond[0]], beyond[0]))
    if not found:
        return None
    least, axis = min(found)
    return axis, least


def cannot_go_in(things: Sequence[Thing], room: Size) -> bool:
    """Whether one thing alone does not fit, all together are too much, or they would all have to lie in one row."""
    return (
        any(not thing.ways_into(room) for thing in things)
        or sum((thing.volume for thing in things), Fraction(0)) > room[0] * room[1] * room[2]
        or any(_too_long_in_a_row(things, room, axis) for axis in range(3))
    )


def _too_long_in_a_row(things: Sequence[Thing], room: Size, axis: int) -> bool:
    """Things that are all more than half as wide as the room in the two other directions lie one behind the other."""
    total = Fraction(0)
    others = [other for other in range(3) if other != axis]
    for thing in things:
        ways = thing.ways_into(room)
        # Two such things overlap in both other directions wherever they lie, so only along this one can they be apart.
        if not ways or any(2 * way[other] <= room[other] for way in ways for other in others):
            return False
        total += min(way[axis] for way in ways)
    return total > room[axis]


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
    found = _TreeSearch([things[number] for number in order], places).go_on([], [], 0)
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

    def go_on(self, taken: list[_Box], chosen: list[int], number: int) -> list[_Box] | None:
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
            found = self.go_on([*taken, box], [*chosen, at], number + 1)
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
