"""The marks lengths are rounded to, coarsest first, and how far a length may move to reach one."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from foldwright.measure.length import System, Unit

STEPS: Mapping[System, tuple[Fraction, ...]] = MappingProxyType(
    {System.METRIC: (Fraction(1), Fraction(1, 2)), System.IMPERIAL: (Unit.INCH.mm / 16, Unit.INCH.mm / 32)}
)
"""What an ordinary ruler shows, in millimetres: 1 and 1/2 mm, 1/16 and 1/32 in (common practice, no source)."""

BETWEEN_LINES: Mapping[System, tuple[Fraction, ...]] = MappingProxyType(
    {System.METRIC: (Fraction(1, 10),), System.IMPERIAL: (Unit.INCH.mm / 64,)}
)
"""What lies between a ruler's lines: 1/10 mm, 1/64 in."""

EXACT: Mapping[System, Fraction] = MappingProxyType(
    {System.METRIC: Fraction(1, 1000), System.IMPERIAL: Unit.INCH.mm / 1000}
)
"""As many digits as are written of a number nobody wants rounded: thousandths of a millimetre or an inch."""

FARTHEST: Mapping[System, Fraction] = MappingProxyType(
    {System.METRIC: Fraction(1, 2), System.IMPERIAL: Unit.INCH.mm / 32}
)
"""The farthest a length may move before a finer step is taken: half of the coarsest step."""


def nearest(mm: Fraction, step: Fraction) -> Fraction:
    """The multiple of `step` nearest to `mm`; from the very middle, the smaller one."""
    return -((step - 2 * mm) // (2 * step)) * step
