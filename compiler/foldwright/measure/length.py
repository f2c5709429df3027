"""A length as an exact number of millimetres that remembers the unit its author wrote."""

from __future__ import annotations

from enum import Enum
from fractions import Fraction

from msgspec import Struct

from foldwright.measure.unit_table import UNITS


class System(Enum):
    """A unit system a whole document is printed in."""

    IMPERIAL = "imperial"
    METRIC = "metric"

    @property
    def other(self) -> System:
        return System.METRIC if self is System.IMPERIAL else System.IMPERIAL


def system_named(name: str) -> System | None:
    """The unit system of this name, in any letters."""
    return next((system for system in System if system.value == name.strip().lower()), None)


def millimetres(symbol: str) -> Fraction:
    """The exact size of any unit of length, those of typesetting too."""
    size = UNITS[symbol][4]
    assert size is not None
    return Fraction(*size)


class Unit(Enum):
    """A unit that lengths are written in: symbol, exact size in millimetres, system, spellings in lower case."""

    INCH = "in"
    FOOT = "ft"
    YARD = "yd"
    MILLIMETRE = "mm"
    CENTIMETRE = "cm"
    METRE = "m"

    def __init__(self, symbol: str) -> None:
        _, _, group, self.spellings, _ = UNITS[symbol]
        self.symbol = symbol
        self.mm = millimetres(symbol)
        self.system = System(group)

    @property
    def fine(self) -> Unit:
        """The unit small work is measured in, in the same system."""
        return Unit.INCH if self.system is System.IMPERIAL else Unit.MILLIMETRE


class Length(Struct, frozen=True, eq=False):
    """An exact length in millimetres; `unit` is the one it was written in and takes no part in comparison."""

    mm: Fraction
    unit: Unit

    # A Struct compares all its fields, so each comparison is said anew.
    def __eq__(self, other: object) -> bool:
        return self.mm == other.mm if isinstance(other, Length) else NotImplemented

    def __ne__(self, other: object) -> bool:
        return self.mm != other.mm if isinstance(other, Length) else NotImplemented

    def __hash__(self) -> int:
        return hash(self.mm)

    def __lt__(self, other: Length) -> bool:
        return self.mm < other.mm

    def __le__(self, other: Length) -> bool:
        return self.mm <= other.mm

    def __gt__(self, other: Length) -> bool:
        return self.mm > other.mm

    def __ge__(self, other: Length) -> bool:
        return self.mm >= other.mm

    @classmethod
    def of(cls, value: Fraction | int, unit: Unit) -> Length:
        return cls(value * unit.mm, unit)

    @property
    def value(self) -> Fraction:
        """The number in the length's own unit."""
        return self.mm / self.unit.mm

    def __add__(self, other: Length) -> Length:
        return Length(self.mm + other.mm, self.unit)

    def __sub__(self, other: Length) -> Length:
        return Length(self.mm - other.mm, self.unit)

    def __mul__(self, factor: Fraction | int) -> Length:
        return Length(self.mm * factor, self.unit)

    __rmul__ = __mul__


class Shape(Enum):
    """One length or several, and what joins them."""

    SINGLE = "single"
    CROSS = "cross"
    """A x B (or A x B x C)."""
    RANGE = "range"
    """A to B."""
    LIST = "list"
    """Several lengths that share the unit of the last: `1 3/4 and 2 1/2 in`."""
