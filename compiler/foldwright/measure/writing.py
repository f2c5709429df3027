"""Writing a length: which figures stand for it, and how they look in plain and in typeset text."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from foldwright.measure.length import Length, System, Unit
from foldwright.measure.printed import Printed

_FINEST_DENOMINATOR = 64
"""The finest mark of an inch ruler (common practice, no source)."""
_MOST_DECIMALS = 3

NARROW_SPACE = "\u202f"
FRACTION_SLASH = "\u2044"
TIMES = "\u00d7"


def write_exact(length: Length) -> Printed:
    """A length as written, in its own unit and without rounding.

    Inches, feet and yards are written with a fraction of halves to sixty-fourths where that is exact; else, and for
    millimetres, centimetres and metres, with up to three decimals; what neither can say keeps its plain fraction.
    """
    value = length.value
    denominator = value.denominator
    if denominator == 1:
        return Printed(length.mm, length.unit, int(value))
    binary = denominator <= _FINEST_DENOMINATOR and denominator & (denominator - 1) == 0
    if (binary and length.unit.system is System.IMPERIAL) or 10**_MOST_DECIMALS % denominator:
        return _with_fraction(value, length.unit, length.mm)
    return _with_decimals(value, length.unit, length.mm)


def write_at(mm: Fraction, unit: Unit, step: Fraction) -> Printed:
    """A value that already lies on the step (both in millimetres), in `unit`; raises ValueError when it does not."""
    if mm % step:
        raise ValueError(f"{mm} mm does not lie on the step of {step} mm")
    return write_exact(Length(mm, unit))


def _with_fraction(value: Fraction, unit: Unit, mm: Fraction) -> Printed:
    whole, rest = divmod(value, 1)
    return Printed(mm, unit, whole, rest.numerator, rest.denominator)


def _with_decimals(value: Fraction, unit: Unit, mm: Fraction) -> Printed:
    whole, rest = divmod(value, 1)
    digits = str(int(rest * 10**_MOST_DECIMALS)).rjust(_MOST_DECIMALS, "0")
    return Printed(mm, unit, whole, decimals=digits.rstrip("0"))


def typographic(printed: Printed) -> str:
    """`4 1⁄8 in` with a fraction slash and narrow no-break spaces; the page turns the fraction into one figure."""
    return f"{typographic_number(printed)}{NARROW_SPACE}{printed.unit.symbol}"


def typographic_number(printed: Printed) -> str:
    """The number of `typographic`, without its unit."""
    return printed.number.replace(" ", NARROW_SPACE).replace("/", FRACTION_SLASH)


def plain_cross(lengths: Sequence[Printed]) -> str:
    """`8 1/2 x 11 in`: one unit behind them all when they share it, else each its own."""
    if len({printed.unit for printed in lengths}) == 1:
        return " x ".join(printed.number for printed in lengths) + f" {lengths[0].unit.symbol}"
    return " x ".join(printed.plain for printed in lengths)


def typographic_cross(lengths: Sequence[Printed]) -> str:
    """The same with a multiplication sign, real fractions and narrow no-break spaces."""
    cross = f" {TIMES} "
    if len({printed.unit for printed in lengths}) == 1:
        numbers = cross.join(typographic_number(printed) for printed in lengths)
        return f"{numbers}{NARROW_SPACE}{lengths[0].unit.symbol}"
    return cross.join(typographic(printed) for printed in lengths)
