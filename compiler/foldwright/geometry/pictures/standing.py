"""How a piece stands on the table, and pieces moved about on it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from enum import Enum

from msgspec.structs import replace

from foldwright.geometry.folding.space import Spot, extent, plus
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.scene import Sign


class Standing(Enum):
    """Which way the blank's good side looks once the piece stands on the table, and which edge is near.

    The bottom edge of the blank is the near one, except where the name says the top is.
    """

    GOOD_UP = "good side up"
    GOOD_UP_TOP_NEAR = "good side up, top near"
    PLAIN_UP = "plain side up"
    PLAIN_UP_TOP_NEAR = "plain side up, top near"
    UPRIGHT = "upright, good side to the front"
    UPRIGHT_BACK = "upright, plain side to the front"
    HEAD_DOWN = "upright, upside down"
    SIDEWAYS = "upright on its right edge, good side to the front"
    SIDEWAYS_DOWN = "upright on its left edge, good side to the front"


UPRIGHT = frozenset(
    {Standing.UPRIGHT, Standing.UPRIGHT_BACK, Standing.HEAD_DOWN, Standing.SIDEWAYS, Standing.SIDEWAYS_DOWN}
)

_TURNS: dict[Standing, Callable[[Spot], Spot]] = {
    Standing.GOOD_UP: lambda spot: (spot[0], -spot[1], spot[2]),
    Standing.GOOD_UP_TOP_NEAR: lambda spot: (-spot[0], spot[1], spot[2]),
    Standing.PLAIN_UP: lambda spot: (-spot[0], -spot[1], -spot[2]),
    Standing.PLAIN_UP_TOP_NEAR: lambda spot: (spot[0], spot[1], -spot[2]),
    Standing.UPRIGHT: lambda spot: (spot[0], -spot[2], -spot[1]),
    Standing.UPRIGHT_BACK: lambda spot: (-spot[0], spot[2], -spot[1]),
    Standing.HEAD_DOWN: lambda spot: (-spot[0], -spot[2], spot[1]),
    Standing.SIDEWAYS: lambda spot: (-spot[1], -spot[2], -spot[0]),
    Standing.SIDEWAYS_DOWN: lambda spot: (spot[1], -spot[2], spot[0]),
}
"""From the blank's frame (x right, y down, z out of the good side) to the table's, none of them a mirror image."""


def stood(sheets: Sequence[Leaf], standing: Standing) -> tuple[Leaf, ...]:
    """The sheets as they stand, not moved otherwise."""
    return tuple(mapped(sheet, _TURNS[standing], _TURNS[standing]) for sheet in sheets)


def turn_of(standing: Standing) -> Callable[[Spot], Spot]:
    """What turns a spot of a thing as it was folded into one of the thing as it stands."""
    return _TURNS[standing]


def moved(sheets: Sequence[Leaf], by: Spot) -> tuple[Leaf, ...]:
    """The sheets, all moved the same way."""
    return tuple(mapped(sheet, lambda spot: plus(spot, by), lambda way: way) for sheet in sheets)


def quarter_turned(sheets: Sequence[Leaf]) -> tuple[Leaf, ...]:
    """Turned a quarter on the table, to the left."""

    def turn(spot: Spot) -> Spot:
        return -spot[1], spot[0], spot[2]

    return tuple(mapped(sheet, turn, turn) for sheet in sheets)


def rested(sheets: Sequence[Leaf]) -> tuple[Leaf, ...]:
    """Moved so that they rest on the table, their middle over its origin."""
    low, high = extent_of(sheets)
    return moved(sheets, (-(low[0] + high[0]) / 2, -(low[1] + high[1]) / 2, -low[2]))


def extent_of(sheets: Sequence[Leaf]) -> tuple[Spot, Spot]:
    """The smallest and the largest x, y and z."""
    return extent([spot for sheet in sheets for spot in sheet.outline])


def mapped(sheet: Leaf, place: Callable[[Spot], Spot], turn: Callable[[Spot], Spot]) -> Leaf:
    """A sheet with every place and every direction sent elsewhere."""
    return replace(
        sheet,
        outline=tuple(map(place, sheet.outline)),
        good=turn(sheet.good),
        gaps=tuple(tuple(map(place, gap)) for gap in sheet.gaps),
        slits=tuple(tuple(map(place, slit)) for slit in sheet.slits),
        marks=tuple(tuple(map(place, mark)) for mark in sheet.marks),
    )


_GOOD = frozenset({Standing.GOOD_UP, Standing.GOOD_UP_TOP_NEAR})
_HEAD_UP = frozenset({Standing.UPRIGHT, Standing.UPRIGHT_BACK, Standing.SIDEWAYS})


def signs_between(before: Standing, after: Standing) -> tuple[Sign, ...]:
    """What is done with a piece that stood one way to make it stand another. That it is stood up, or laid down, is
    plain to see."""
    if before is after or (before in UPRIGHT) != (after in UPRIGHT):
        return ()
    if before in UPRIGHT:
        return (Sign.TURN_ROUND,) if (before in _HEAD_UP) != (after in _HEAD_UP) else ()
    return (Sign.TURN_OVER,) if (before in _GOOD) != (after in _GOOD) else (Sign.TURN_ROUND,)
