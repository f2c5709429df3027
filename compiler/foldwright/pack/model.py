"""What is packed into what, and the answer."""

from __future__ import annotations

from enum import Enum
from fractions import Fraction

from msgspec import Struct

type Size = tuple[Fraction, Fraction, Fraction]
"""Across, down and high, in millimetres, exactly."""


class Thing(Struct, frozen=True):
    """One thing to be packed. An `upright` one may turn about, but not lie on its side.

    A `round` one is as wide as its first two sides, which are alike, and as long as its third: a disc, a can, or a ball
    where all three are.
    """

    size: Size
    upright: bool = False
    round: bool = False

    @property
    def ways(self) -> tuple[Size, ...]:
        """Every way it may lie, each once."""
        a, b, c = self.size
        turned = ((a, b, c), (b, a, c))
        lying = () if self.upright else ((a, c, b), (c, a, b), (b, c, a), (c, b, a))
        return tuple(dict.fromkeys((*turned, *lying)))

    def ways_into(self, room: Size) -> list[Size]:
        """The ways in which it goes into a room by itself."""
        return [way for way in self.ways if all(long <= wide for long, wide in zip(way, room, strict=True))]

    @property
    def volume(self) -> Fraction:
        return self.size[0] * self.size[1] * self.size[2]


class LaidThing(Struct, frozen=True):
    """A thing in its place: the corner nearest the room's origin, and its size as it lies."""

    thing: int
    at: Size
    size: Size


class Answer(Enum):
    """Whether things go into a room."""

    GOES_IN = "goes in"
    DOES_NOT = "does not go in"
    UNKNOWN = "not known"
    """No way was found, and none was ruled out."""


class Packing(Struct, frozen=True):
    """`laid` is the way they go in, `left` what is over in each direction then.

    `short` is the one direction (0 across, 1 down, 2 high) and the least that is missing there, if that alone would do.
    """

    answer: Answer
    laid: tuple[LaidThing, ...] = ()
    left: Size | None = None
    short: tuple[int, Fraction] | None = None
