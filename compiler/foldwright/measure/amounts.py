"""Amounts that are no plain length: areas, volumes, masses and counts. They are pint's quantities, and exact.

Reading a unit's name costs nothing; pint is only brought in when something is added up or converted.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum
from fractions import Fraction
from functools import cache
from types import MappingProxyType
from typing import Any

from msgspec import Struct

from foldwright.measure.length import System
from foldwright.measure.unit_table import UNITS

type Quantity = Any
"""One of pint's. Its own type says nothing of what the number is, and would bring pint in."""


class Dimension(Enum):
    """What an amount measures. Two amounts go together when they measure the same."""

    COUNT = "count"
    LENGTH = "length"
    AREA = "area"
    VOLUME = "volume"
    MASS = "mass"


class AmountUnit(Struct, frozen=True):
    """A unit an amount may be told in: how it is written, what it measures, its system, what pint calls it."""

    symbol: str
    dimension: Dimension
    system: System
    name: str


AMOUNT_UNITS: Mapping[str, AmountUnit] = MappingProxyType(
    {
        symbol: AmountUnit(symbol, Dimension(dimension), System(group), name)
        for symbol, (name, dimension, group, _, _) in UNITS.items()
        if group != "typesetting" and dimension not in ("paper_weight", "temperature")
    }
)
"""Every unit of length, area, volume or mass by its symbol."""
AMOUNT_WORDS: Mapping[str, AmountUnit] = MappingProxyType(
    {
        spelling: unit
        for symbol, unit in AMOUNT_UNITS.items()
        if unit.dimension is not Dimension.LENGTH
        for spelling in UNITS[symbol][3]
    }
)
"""Every spelling of a unit of area, volume or mass, in lower case and without full stops."""


def amount_unit(word: str) -> AmountUnit | None:
    """The unit of area, volume or mass an author's word means, or None."""
    return AMOUNT_WORDS.get(" ".join(word.lower().replace(".", " ").split()))


@cache
def registry() -> Any:
    """Pint's registry with our units and no others; every magnitude is a `Fraction`."""
    # Both are slow to import, and only what calculates asks for them.
    from importlib import resources

    import pint

    text = resources.files("foldwright.measure").joinpath("units.txt").read_text(encoding="utf-8")
    units = pint.UnitRegistry(None, non_int_type=Fraction, cache_folder=None)
    units.load_definitions(text.splitlines())
    return units


def quantity(number: Fraction, symbol: str = "") -> Quantity:
    """So much of a unit as pint has it; without one, so many things that are counted."""
    return registry().Quantity(number, _name(symbol))


def number_of(amount: Quantity, symbol: str = "") -> Fraction:
    """An amount in a unit, exactly. Raises pint's DimensionalityError where the unit measures something else."""
    return Fraction(amount.m_as(_name(symbol)))


def _name(symbol: str) -> str:
    return AMOUNT_UNITS[symbol].name if symbol else "piece"
