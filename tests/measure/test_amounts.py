"""Areas, volumes, masses and counts as pint's quantities: exact, added up, never mixed."""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.measure.amounts import AMOUNT_UNITS, AmountUnit, Dimension, amount_unit, number_of, quantity
from foldwright.measure.length import System


def unit(word: str) -> AmountUnit:
    found = amount_unit(word)
    assert found is not None
    return found


# Exact by definition: 1 in = 2.54 cm, 1 lb = 453.59237 g (the agreement of 1959), 1 US gallon = 231 cubic inches, which
# are 4 quarts, 8 pints, 16 cups, 128 fluid ounces; a tablespoon is 1/2, a teaspoon 1/6 of a fluid ounce (NIST Handbook
# 44, appendix C, from memory).
FACTORS = {
    ("sq in", "cm²"): "6.4516", ("sq ft", "m²"): "0.09290304", ("sq yd", "m²"): "0.83612736", ("cm²", "mm²"): "100",
    ("lb", "g"): "453.59237", ("oz", "g"): "28.349523125", ("kg", "g"): "1000",
    ("gal", "l"): "3.785411784", ("qt", "l"): "0.946352946", ("pint", "ml"): "473.176473", ("cup", "ml"): "236.5882365",
    ("fl oz", "ml"): "29.5735295625", ("tbsp", "ml"): "14.78676478125", ("tsp", "ml"): "4.92892159375",
    ("l", "ml"): "1000", ("dl", "ml"): "100", ("cl", "ml"): "10",
    ("yd", "m"): "0.9144", ("ft", "in"): "12", ("in", "mm"): "25.4",
}  # fmt: skip


@pytest.mark.parametrize(("pair", "factor"), FACTORS.items())
def test_factors_are_exact(pair: tuple[str, str], factor: str) -> None:
    one, other = pair
    assert number_of(quantity(Fraction(1), one), other) == Fraction(factor)
    assert number_of(quantity(Fraction(factor), other), one) == 1


IN_SMALL = {
    Dimension.AREA: {"mm²": Fraction(1), "cm²": Fraction(100), "m²": Fraction(10**6), "sq in": Fraction("645.16"),
                     "sq ft": Fraction("645.16") * 144, "sq yd": Fraction("645.16") * 1296},
    Dimension.VOLUME: {"ml": Fraction(1), "cl": Fraction(10), "dl": Fraction(100), "l": Fraction(1000),
                       "gal": Fraction("16.387064") * 231, "fl oz": Fraction("16.387064") * 231 / 128,
                       "cup": Fraction("16.387064") * 231 / 16, "tsp": Fraction("16.387064") * 231 / 768,
                       "tbsp": Fraction("16.387064") * 231 / 256},
    Dimension.MASS: {"g": Fraction(1), "kg": Fraction(1000), "lb": Fraction("453.59237"),
                     "oz": Fraction("453.59237") / 16},
}  # fmt: skip
"""A cubic inch is 2.54 cm cubed, 16.387064 ml."""
NUMBERS = st.fractions(min_value=0, max_value=1000, max_denominator=64)


@given(
    st.sampled_from([Dimension.AREA, Dimension.VOLUME, Dimension.MASS]),
    st.lists(st.tuples(NUMBERS, st.integers(0, 99), st.integers(1, 50)), min_size=1, max_size=6),
)
def test_sums_through_pint_are_those_of_fractions_reckoned_by_hand(
    dimension: Dimension, said: list[tuple[Fraction, int, int]]
) -> None:
    """Every amount is put into the smallest metric unit by the factors above, which pint never sees."""
    small = {Dimension.AREA: "mm²", Dimension.VOLUME: "ml", Dimension.MASS: "g"}[dimension]
    sizes = IN_SMALL[dimension]
    symbols = sorted(sizes)
    parts = [(number, symbols[which % len(symbols)], times) for number, which, times in said]
    quantities = (quantity(number, symbol) * times for number, symbol, times in parts)
    through_pint = sum(quantities, quantity(Fraction(0), small))
    by_hand = sum((number * sizes[symbol] * times for number, symbol, times in parts), Fraction(0))
    for symbol in symbols:
        assert number_of(through_pint, symbol) == by_hand / sizes[symbol]


@pytest.mark.parametrize(
    ("word", "symbol"),
    {
        "Square inches": "sq in", "sq. in": "sq in", "in²": "sq in", "sq cm": "cm²", "square centimeters": "cm²",
        "grams": "g", "fl.  oz": "fl oz", "fl. oz.": "fl oz", "fluid ounces": "fl oz", "tsp.": "tsp", "cm2": "cm²",
        "LBS": "lb", "cl": "cl", "centilitres": "cl", "dl": "dl", "ounces": "oz", "cups": "cup", "gallon": "gal",
        "kilos": "kg", "m2": "m²", "sqm": "m²",
    }.items(),
)  # fmt: skip
def test_units_as_typed(word: str, symbol: str) -> None:
    assert unit(word).symbol == symbol


@pytest.mark.parametrize("word", ["", "in", "mm", "sheets", "a little", "pt", "°C", "lb cover", "g/m2", "pixel"])
def test_what_is_no_amount(word: str) -> None:
    assert amount_unit(word) is None


@pytest.mark.parametrize(("one", "other"), [("sq in", "g"), ("oz", "cup"), ("", "yd"), ("ml", ""), ("in", "sq in")])
def test_what_measures_different_things_is_never_added_up(one: str, other: str) -> None:
    with pytest.raises(pint.DimensionalityError):
        quantity(Fraction(1), one) + quantity(Fraction(1), other)
    with pytest.raises(pint.DimensionalityError):
        number_of(quantity(Fraction(1), one), other)


def test_every_unit_of_an_amount_has_a_system_and_its_counterparts() -> None:
    for dimension in (Dimension.LENGTH, Dimension.AREA, Dimension.VOLUME, Dimension.MASS):
        systems = {one.system for one in AMOUNT_UNITS.values() if one.dimension is dimension}
        assert systems == set(System)


def test_reading_a_unit_does_not_import_pint() -> None:
    reads = "from foldwright.measure.amounts import amount_unit; amount_unit('g')"
    program = f"import sys; {reads}; sys.exit('pint' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
