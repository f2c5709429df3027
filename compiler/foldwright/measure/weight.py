"""What a paper weighs: pounds a ream of a grade's basic size, as grams a square metre."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from foldwright.measure.unit_table import UNITS

_POUNDS: Mapping[str, Fraction] = MappingProxyType(
    {
        spelling.removeprefix("lb "): Fraction(*size)
        for symbol, (_, _, _, spellings, size) in UNITS.items()
        if symbol.startswith("lb ") and size
        for spelling in spellings
        if spelling.startswith("lb ")
    }
)
"""Grams a square metre of one pound of each grade."""
GRADES = tuple(_POUNDS)
"""The grades of paper whose pounds are known."""

METRIC_WORDS = frozenset({*UNITS["g/m²"][3], *UNITS["g"][3]})
"""Of paper, a plain `g` is g/m² (common practice, no source)."""
POUND_WORDS = frozenset({*UNITS["lb"][3], "#"})
_WORDS = sorted(METRIC_WORDS | POUND_WORDS, key=len, reverse=True)
WEIGHT_WORD = "|".join(rf"{re.escape(word)}\.?".replace(r"\ ", r"\.? ?") for word in _WORDS)
"""A pattern for any of them, with a full stop or without."""


def grammage(number: Fraction, unit: str, grade: str = "") -> Fraction | None:
    """The exact weight in g/m2; None when the unit is not known, or is pounds of no known grade."""
    if unit.lower() in METRIC_WORDS:
        return number
    pound = _POUNDS.get(grade.lower())
    return number * pound if pound and unit.lower() in POUND_WORDS else None


def whole_grams(grams: Fraction) -> int:
    """A weight as paper makers print it: whole grams a square metre, a half going up."""
    return int(grams + Fraction(1, 2))
