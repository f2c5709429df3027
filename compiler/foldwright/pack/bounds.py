"""What rules a packing out by arithmetic alone, exactly."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from foldwright.pack.model import Size, Thing


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
