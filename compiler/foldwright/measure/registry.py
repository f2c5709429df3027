"""The units of units.txt as pint reads them. Imports pint, so only what calculates asks for it."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from importlib import resources
from typing import Any


@cache
def registry() -> Any:
    """Pint's registry with our units and no others; every magnitude is a `Fraction`."""
    import pint

    text = resources.files("foldwright.measure").joinpath("units.txt").read_text(encoding="utf-8")
    units = pint.UnitRegistry(None, non_int_type=Fraction, cache_folder=None)
    units.load_definitions(text.splitlines())
    return units
