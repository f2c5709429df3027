"""An amount as a person measures it out: in the units of one system, no finer than its spoons, scales and rolls are."""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum
from fractions import Fraction
from functools import lru_cache
from math import ceil, floor
from types import MappingProxyType

from msgspec import Struct

from foldwright.measure.amounts import AMOUNT_UNITS, Dimension, number_of, quantity, registry
from foldwright.measure.length import System, millimetres
from foldwright.measure.unit_table import UNITS


class Portion(Struct, frozen=True):
    """A number of a unit, as it is printed."""

    number: Fraction
    unit: str


class _PortionStep(Struct, frozen=True):
    """From `least` of a unit on people measure in it, in steps of `step`."""

    unit: str
    least: Fraction
    step: Fraction


def _marks(rows: str) -> tuple[_PortionStep, ...]:
    split = (row.rsplit(" ", 2) for row in rows.split(", "))
    return tuple(_PortionStep(unit, Fraction(least), Fraction(step)) for unit, least, step in split)


_I, _M = System.IMPERIAL, System.METRIC
_MARKS: Mapping[tuple[Dimension, System], tuple[_PortionStep, ...]] = MappingProxyType(
    {
        (Dimension.LENGTH, _M): _marks("m 1 1/10, mm 100 10, mm 0 5"),
        (Dimension.LENGTH, _I): _marks("yd 2 1/4, in 12 1, in 0 1/2"),
        (Dimension.AREA, _M): _marks("m² 1/4 1/100, cm² 10 1, cm² 0 1/2"),
        (Dimension.AREA, _I): _marks("sq ft 4 1/2, sq in 10 1, sq in 0 1/4"),
        (Dimension.VOLUME, _M): _marks("l 1 1/20, ml 5 1, ml 0 1/2"),
        (Dimension.VOLUME, _I): _marks("gal 1 1/4, fl oz 16 1, fl oz 4 1/2, fl oz 1 1/4, tbsp 1 1/2, tsp 0 1/4"),
        (Dimension.MASS, _M): _marks("kg 1 1/20, g 5 1, g 0 1/2"),
        (Dimension.MASS, _I): _marks("lb 2 1/4, oz 1 1/4, oz 0 1/8"),
    }
)
"""The largest unit that will do, and its step (common practice, no source)."""
_NEAR_ENOUGH = Fraction(1, 40)
"""A spoon or a kitchen scale is no truer: of 30 ml, which are 1.014 fl oz, 1 fl oz is enough (common practice, no
source). What is cut off a roll has to be there to the end."""


_DEGREES = Fraction(5)


class Rounding(Enum):
    """Which way an amount that is measured out is rounded."""

    UP = "up"
    """It is needed: too little will not do."""
    DOWN = "down"
    """There is so much: too much must not be promised (as net contents are rounded on labels)."""


def in_system(number: Fraction, unit: str, system: System, rounding: Rounding = Rounding.UP) -> Portion:
    """An amount as written in its own system, in the other as it can be measured out."""
    if AMOUNT_UNITS[unit].system is system:
        return Portion(number, unit)
    portion = measured_out(number, unit, system, rounding)
    return portion if portion.number else measured_out(number, unit, system, Rounding.UP)


@lru_cache(maxsize=1024)
def measured_out(number: Fraction, unit: str, system: System, rounding: Rounding = Rounding.UP) -> Portion:
    """An amount in the units of a system, rounded to their marks; nought where less than one mark is there."""
    dimension = AMOUNT_UNITS[unit].dimension
    for mark in _MARKS[dimension, system]:
        exact = _in(number, unit, mark.unit)
        if exact >= mark.least:
            break
    steps = exact / mark.step
    if rounding is Rounding.DOWN:
        return Portion(floor(steps) * mark.step, mark.unit)
    spare = _NEAR_ENOUGH if dimension in (Dimension.VOLUME, Dimension.MASS) else Fraction(0)
    near = round(steps)
    return Portion((near if near >= steps * (1 - spare) else ceil(steps)) * mark.step, mark.unit)


def _in(number: Fraction, unit: str, other: str) -> Fraction:
    if AMOUNT_UNITS[unit].dimension is Dimension.LENGTH:
        return number * millimetres(unit) / millimetres(other)
    return number_of(quantity(number, unit), other)


def to_degrees(number: Fraction, unit: str) -> Portion:
    """A temperature on the other scale, to the nearest five degrees: no glue gun is truer (common practice)."""
    other = "°C" if unit == "°F" else "°F"
    converted = registry().Quantity(number, UNITS[unit][0]).m_as(UNITS[other][0])
    return Portion(round(Fraction(converted) / _DEGREES) * _DEGREES, other)
