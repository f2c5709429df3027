"""Amounts that are not lengths: areas, volumes and masses, converted exactly through pint.

Reading a unit's name costs nothing; pint is only imported when something is converted.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Any

from msgspec import Struct

from foldwright.measure.length import System


class AmountUnit(Struct, frozen=True):
    """A unit of area, volume or mass: how it is written, what it measures, what pint calls it, its counterpart.

    `counterpart` is the symbol of the unit the other system would use for such an amount.
    """

    symbol: str
    dimension: str
    system: System
    pint_name: str
    counterpart: str


_I, _M = System.IMPERIAL, System.METRIC
_UNITS = {
    unit.symbol: unit
    for unit in (
        AmountUnit("sq in", "area", _I, "inch ** 2", "cm²"),
        AmountUnit("sq ft", "area", _I, "foot ** 2", "m²"),
        AmountUnit("sq yd", "area", _I, "yard ** 2", "m²"),
        AmountUnit("mm²", "area", _M, "millimetre ** 2", "sq in"),
        AmountUnit("cm²", "area", _M, "centimetre ** 2", "sq in"),
        AmountUnit("m²", "area", _M, "metre ** 2", "sq ft"),
        AmountUnit("tsp", "volume", _I, "teaspoon", "ml"),
        AmountUnit("tbsp", "volume", _I, "tablespoon", "ml"),
        AmountUnit("fl oz", "volume", _I, "fluid_ounce", "ml"),
        AmountUnit("cup", "volume", _I, "cup", "ml"),
        AmountUnit("gal", "volume", _I, "gallon", "l"),
        AmountUnit("ml", "volume", _M, "millilitre", "fl oz"),
        AmountUnit("l", "volume", _M, "litre", "fl oz"),
        AmountUnit("oz", "mass", _I, "ounce", "g"),
        AmountUnit("lb", "mass", _I, "pound", "g"),
        AmountUnit("g", "mass", _M, "gram", "oz"),
        AmountUnit("kg", "mass", _M, "kilogram", "lb"),
    )
}
_SPELLINGS = {
    "sq in": ("square inch", "square inches", "sq. in", "in²", "in2"),
    "sq ft": ("square foot", "square feet", "sq. ft", "ft²", "ft2"),
    "sq yd": ("square yard", "square yards", "sq. yd", "yd²", "yd2"),
    "mm²": ("mm2", "sq mm", "square millimetre", "square millimetres"),
    "cm²": ("cm2", "sq cm", "square centimetre", "square centimetres"),
    "m²": ("m2", "sq m", "square metre", "square metres"),
    "tsp": ("teaspoon", "teaspoons"),
    "tbsp": ("tablespoon", "tablespoons"),
    "fl oz": ("fluid ounce", "fluid ounces", "fl. oz"),
    "cup": ("cups",),
    "gal": ("gallon", "gallons"),
    "ml": ("millilitre", "millilitres", "milliliter", "milliliters"),
    "l": ("litre", "litres", "liter", "liters"),
    "oz": ("ounce", "ounces"),
    "lb": ("lbs", "pound", "pounds"),
    "g": ("gram", "grams", "gr"),
    "kg": ("kilo", "kilos", "kilogram", "kilograms"),
}
AMOUNT_WORDS: Mapping[str, AmountUnit] = MappingProxyType(
    _UNITS | {spelling: _UNITS[symbol] for symbol, spellings in _SPELLINGS.items() for spelling in spellings}
)
"""Every spelling of a unit of area, volume or mass, in lower case."""


def amount_unit(word: str) -> AmountUnit | None:
    """The unit an author's word means, or None."""
    return AMOUNT_WORDS.get(" ".join(word.lower().rstrip(".").split()))


def converted(number: Fraction, unit: AmountUnit, to: AmountUnit) -> Fraction:
    """`number` of `unit` in `to`, exactly. Raises ValueError when they do not measure the same kind of thing."""
    if unit.dimension != to.dimension:
        raise ValueError(f"{unit.symbol} is {unit.dimension} and {to.symbol} is {to.dimension}")
    return number * _factor(unit.pint_name, to.pint_name)


def in_other_system(number: Fraction, unit: AmountUnit) -> tuple[Fraction, AmountUnit]:
    """The same amount, exactly, in the unit the other system would use."""
    counterpart = _UNITS[unit.counterpart]
    return converted(number, unit, counterpart), counterpart


@cache
def _factor(unit: str, to: str) -> Fraction:
    registry = _registry()
    factor = registry.Quantity(Fraction(1), unit).to(to).magnitude
    return Fraction(factor)


@cache
def _registry() -> Any:
    import pint

    text = resources.files("foldwright.measure").joinpath("units.txt").read_text(encoding="utf-8")
    registry = pint.UnitRegistry(None, non_int_type=Fraction, cache_folder=None)
    registry.load_definitions(text.splitlines())
    return registry
