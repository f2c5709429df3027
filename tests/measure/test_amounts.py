"""Areas, volumes and masses: factors of the yard and pound agreement of 1959 and of the US gallon."""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction

import pint
import pytest

from foldwright.measure.amounts import AMOUNT_WORDS, AmountUnit, amount_unit, converted, in_other_system

UNITS = {unit.symbol: unit for unit in AMOUNT_WORDS.values()}


def unit(word: str) -> AmountUnit:
    found = amount_unit(word)
    assert found is not None
    return found


# Exact by definition: 1 in = 2.54 cm, 1 lb = 453.59237 g, 1 US gallon = 231 cubic inches (128 fluid ounces).
FACTORS = {
    ("sq in", "cm²"): "6.4516", ("sq ft", "m²"): "0.09290304", ("sq yd", "m²"): "0.83612736",
    ("lb", "g"): "453.59237", ("oz", "g"): "28.349523125", ("gal", "l"): "3.785411784",
    ("fl oz", "ml"): "29.5735295625", ("cup", "ml"): "236.5882365", ("tsp", "ml"): "4.92892159375",
}  # fmt: skip


@pytest.mark.parametrize(("pair", "factor"), FACTORS.items())
def test_factors_are_exact(pair: tuple[str, str], factor: str) -> None:
    one, other = map(unit, pair)
    assert converted(Fraction(1), one, other) == Fraction(factor)
    assert converted(Fraction(factor), other, one) == 1


def test_every_unit_against_the_stock_registry_of_pint() -> None:
    registry = pint.UnitRegistry(non_int_type=Fraction)
    for one in UNITS.values():
        here, counterpart = in_other_system(Fraction(3), one)
        there = registry.Quantity(Fraction(3), one.pint_name).to(counterpart.pint_name).magnitude
        assert here == there, one
        assert counterpart.system is one.system.other, one
        assert counterpart.dimension == one.dimension, one


@pytest.mark.parametrize(
    ("word", "symbol"),
    {"Square inches": "sq in", "grams": "g", "fl.  oz": "fl oz", "tsp.": "tsp", "cm2": "cm²", "LBS": "lb"}.items(),
)
def test_units_as_typed(word: str, symbol: str) -> None:
    assert unit(word).symbol == symbol


@pytest.mark.parametrize("word", ["", "in", "mm", "sheets", "a little"])
def test_what_is_no_amount(word: str) -> None:
    assert amount_unit(word) is None


def test_an_area_is_no_mass() -> None:
    with pytest.raises(ValueError, match="sq in is area and g is mass"):
        converted(Fraction(1), unit("sq in"), unit("g"))


def test_reading_a_unit_does_not_import_pint() -> None:
    reads = "from foldwright.measure.amounts import amount_unit; amount_unit('g')"
    program = f"import sys; {reads}; sys.exit('pint' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
