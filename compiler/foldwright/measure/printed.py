"""A length as it will stand on the page: already rounded, still exact."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from foldwright.measure.length import Unit


class Printed(Struct, frozen=True):
    """`whole` and `numerator/denominator` (numerator 0 when there is none), or `decimals` after a decimal point.

    `mm` is the exact value of what is printed, so that sums over printed figures can be checked.
    """

    mm: Fraction
    unit: Unit
    whole: int
    numerator: int = 0
    denominator: int = 1
    decimals: str = ""

    @property
    def number(self) -> str:
        """The number alone, in plain characters: `4 1/8`, `3/4`, `10.5`."""
        if self.decimals:
            return f"{self.whole}.{self.decimals}"
        if not self.numerator:
            return str(self.whole)
        fraction = f"{self.numerator}/{self.denominator}"
        return f"{self.whole} {fraction}" if self.whole else fraction

    @property
    def plain(self) -> str:
        """Number and unit in plain characters: `4 1/8 in`."""
        return f"{self.number} {self.unit.symbol}"
