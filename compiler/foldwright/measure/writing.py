"""Writing a length: which figures stand for it, and how they look in plain and in typeset text."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import gcd

from foldwright.measure.length import Length, System, Unit
from foldwright.measure.printed import Printed

_FINEST_DENOMINATOR = 64
"""The finest mark of an inch ruler (common practice, no source)."""
_MOST_DECIMALS = 3
_DECIMAL_SCALE = 10**_MOST_DECIMALS

NARROW_SPACE = "\u202f"
FRACTION_SLASH = "\u2044"
TIMES = "\u00d7"


def write_exact(length: Length) -> Printed:
    """A length as written, in its own unit and without rounding.

    Inches, feet and yards are written with a fraction of halves to sixty-fourths where that is exact; else, and for
    millimetres, centimetres and metres, with up to three decimals; what neither can say keeps its plain fraction.
    """
    mm, unit = length.mm, length.unit
    # In whole numbers rather than as a quotient of fractions: this runs for every length of a page, twice.
    top, bottom = mm.numerator * unit.mm.denominator, mm.denominator * unit.mm.numerator
    shared = gcd(top, bottom)
    bottom //= shared
    whole, rest = divmod(top // shared, bottom)
    if not rest:
        return Printed(mm, unit, whole)
    binary = bottom <= _FINEST_DENOMINATOR and bottom & (bottom - 1) == 0
    if (binary and unit.system is System.IMPERIAL) or _DECIMAL_SCALE % bottom:
        return Printed(mm, unit, whole, rest, bottom)
    digits = str(rest * (_DECIMAL_SCALE // bottom)).rjust(_MOST_DECIMALS, "0")
    return Printed(mm, unit, whole, decimals=digits.rstrip("0"))


def write_readable(length: Length) -> Printed:
    """As written where people write such a number; one with a root in it, or from both systems, to three decimals."""
    printed = write_exact(length)
    if printed.denominator <= _FINEST_DENOMINATOR:
        return printed
    nearly = Fraction(round(length.value * _DECIMAL_SCALE), _DECIMAL_SCALE)
    return write_exact(Length(nearly * length.unit.mm, length.unit))


def write_at(mm: Fraction, unit: Unit, step: Fraction) -> Printed:
    """A value that already lies on the step (both in millimetres), in `unit`; raises ValueError when it does not."""
    if mm % step:
        raise ValueError(f"{mm} mm does not lie on the step of {step} mm")
    return write_exact(Length(mm, unit))


def typographic(printed: Printed) -> str:
    """`4 1⁄8 in` with a fraction slash and narrow no-break spaces; the page turns the fraction into one figure."""
    number = printed.number.replace(" ", NARROW_SPACE).replace("/", FRACTION_SLASH)
    return f"{number}{NARROW_SPACE}{printed.unit.symbol}"


def plain_cross(lengths: Sequence[Printed]) -> str:
    """`8 1/2 x 11 in`: one unit behind them all when they share it, else each its own."""
    if len({printed.unit for printed in lengths}) == 1:
        return " x ".join(printed.number for printed in lengths) + f" {lengths[0].unit.symbol}"
    return " x ".join(printed.plain for printed in lengths)
