"""How many whole sets of a few pieces come out of one sheet by plain strips: each strip of one piece, side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import product
from math import lcm

type Sides = tuple[Fraction, Fraction]
"""Across and down, in millimetres."""


def sets_on_sheet(pieces: Sequence[Sides], sheet: Sides) -> Fraction:
    """The most sets, each of one of every piece; a part of one (1/2) when a set takes more sheets than one.

    Nought when a piece comes out of no sheet at all. No kerf, no margin; strips run either way.
    """
    most = max((_in_strips(strips) for strips in _strips(*_in_whole_numbers(pieces, sheet))), default=0)
    if most or len(pieces) == 1:
        return Fraction(most)
    single = [sets_on_sheet([piece], sheet) for piece in pieces]
    if not all(single):
        return Fraction(0)
    sheets = sum((-(-1 // number) for number in single), Fraction(0))
    return Fraction(1, int(sheets))


type _Whole = tuple[int, int]
type _Strip = tuple[int, int]
"""How many of a piece lie in a strip, and how wide the strip is."""


def _in_whole_numbers(pieces: Sequence[Sides], sheet: Sides) -> tuple[list[_Whole], _Whole]:
    """The same sizes as multiples of what divides them all: whole numbers are ten times as quick as fractions."""
    parts = lcm(*(side.denominator for sides in (*pieces, sheet) for side in sides))
    whole = [(int(across * parts), int(down * parts)) for across, down in (*pieces, sheet)]
    return whole[:-1], whole[-1]


def _strips(pieces: Sequence[_Whole], sheet: _Whole) -> Iterator[tuple[list[_Strip], int]]:
    """For each way the strips may run and each way the pieces may lie in them: the strips, and the room for them."""
    for along, room in (sheet, sheet[::-1]):
        for turned in product((False, True), repeat=len(pieces)):
            strips = [
                (along // (down if turn else across), across if turn else down)
                for (across, down), turn in zip(pieces, turned, strict=True)
            ]
            if all(number for number, _ in strips):
                yield strips, room


def _in_strips(strips_in_room: tuple[list[_Strip], int]) -> int:
    strips, room = strips_in_room
    sets = 0
    # One more set is tried until there is no room for its strips.
    while sum(-(-(sets + 1) // number) * wide for number, wide in strips) <= room:
        sets += 1
    return sets
