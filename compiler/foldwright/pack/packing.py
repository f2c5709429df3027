"""Packing: first what arithmetic tells, then every way a few things may lie, then searches that count their steps."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import product

from foldwright.pack.filling import fill
from foldwright.pack.model import Answer, LaidThing, Packing, Size, Thing
from foldwright.pack.searching import UndecidedError, search

_MOST_IN_A_GRID = 10_000
"""More things than that nobody puts into a paper box."""


def pack(things: Sequence[Thing], room: Size) -> Packing:
    """Whether the things go into the room, which must be more than nothing in every direction."""
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
    return max((min(count, _fit_count(way, room)) for way in thing.ways), default=0)


def _fit_count(way: Size, room: Size) -> int:
    across, down, high = (int(wide // long) for wide, long in zip(room, way, strict=True))
    return across * down * high


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
        any(not _goes_in(thing, room) for thing in things)
        or sum((thing.volume for thing in things), Fraction(0)) > room[0] * room[1] * room[2]
        or any(_too_long_in_a_row(things, room, axis) for axis in range(3))
    )


def _goes_in(thing: Thing, room: Size) -> bool:
    return any(all(long <= wide for long, wide in zip(way, room, strict=True)) for way in thing.ways)


def _too_long_in_a_row(things: Sequence[Thing], room: Size, axis: int) -> bool:
    """Things that are all more than half as wide as the room in the two other directions lie one behind the other."""
    total = Fraction(0)
    others = [other for other in range(3) if other != axis]
    for thing in things:
        ways = [way for way in thing.ways if all(long <= wide for long, wide in zip(way, room, strict=True))]
        # Two such things overlap in both other directions wherever they lie, so only along this one can they be apart.
        if not ways or any(2 * way[other] <= room[other] for way in ways for other in others):
            return False
        total += min(way[axis] for way in ways)
    return total > room[axis]
