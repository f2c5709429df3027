"""How plain a length is: how much there is to say to name it on a ruler.

A ruler of a foot (twelve inches, 300 mm) has so many marks of each kind; to pick one out takes the binary logarithm of
that number in yes-or-no questions. Those are the points of a length, to the nearest half: the fewer, the plainer. Marks
that makers seldom cut to cost more: a sixteenth one point, what is finer (and half a millimetre) five.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import log2
from types import MappingProxyType

from msgspec import Struct

from foldwright.measure.length import System, Unit

_RULER_MM = 12 * Unit.INCH.mm
"""A ruler's length; another one would give every mark the same points more or less."""
_MARKS = {
    System.IMPERIAL: ((1, 0), (2, 0), (4, 0), (8, 0), (16, 1), (32, 5), (64, 5)),
    System.METRIC: ((Fraction(1, 10), 0), (Fraction(1, 5), 0), (1, 0), (2, 5), (10, 5)),
}
"""How many marks of each kind an inch or a millimetre has, coarsest first (common practice, no source), and the points
that one costs beyond its logarithm (a reasoned guess: one maker in two cuts to sixteenths, one in thirty finer)."""


class RulerMark(Struct, frozen=True):
    """Lengths that are multiples of `mm` cost `points` to name."""

    mm: Fraction
    points: Fraction


def _marks(system: System) -> tuple[RulerMark, ...]:
    unit = Unit.INCH if system is System.IMPERIAL else Unit.MILLIMETRE
    return tuple(
        RulerMark(unit.mm / number, extra + Fraction(round(2 * log2(_RULER_MM / (unit.mm / number))), 2))
        for number, extra in _MARKS[system]
    )


MARKS: Mapping[System, tuple[RulerMark, ...]] = MappingProxyType({system: _marks(system) for system in System})
"""The marks of each system's ruler, coarsest first: 1 in costs 3 1/2 points, 1/8 in 6 1/2; 10 mm 5, 1 mm 8 1/2."""


def points_of(mm: Fraction, system: System) -> Fraction | None:
    """The points of a length on the ruler of a system; None when it lies between the finest marks."""
    return next((mark.points for mark in MARKS[system] if not mm % mark.mm), None)
