"""Amounts as people measure them out: household measures, what is cut off a roll, no more promised than there is."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.measure.amounts import AMOUNT_UNITS, Dimension, number_of, quantity
from foldwright.measure.length import System, millimetres
from foldwright.measure.portions import Portion, Rounding, in_system, measured_out

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL


def portion(said: str) -> Portion:
    number, _, unit = said.partition(" ")
    return Portion(Fraction(number), unit)


# Household measures of food labels, 21 CFR 101.9 (b)(5)(viii): teaspoon 5 ml, tablespoon 15 ml, fluid ounce 30 ml,
# ounce 28 g (from memory). Both ways, but for the ounce, of which 28 g are a little less.
HOUSEHOLD = [
    ("1 tsp", "5 ml"), ("1 tbsp", "15 ml"), ("1 fl oz", "30 ml"), ("1 oz", "28 g"), ("2 tsp", "10 ml"),
    ("5 ml", "1 tsp"), ("15 ml", "1 tbsp"), ("30 ml", "1 fl oz"), ("28 g", "1 oz"), ("60 ml", "2 fl oz"),
]  # fmt: skip
# What one cuts off a roll, up: common practice, no source. Sums: 60 in are 1524 mm, 500 mm are 19.69 in.
ROLLS = [
    ("60 in", "1.6 m"), ("500 mm", "20 in"), ("36 in", "920 mm"), ("9 in", "230 mm"), ("1 in", "30 mm"),
    ("20 yd", "18.3 m"), ("1 m", "40 in"), ("2 m", "2.25 yd"), ("5 m", "5.5 yd"), ("60 mm", "2.5 in"),
]  # fmt: skip
# 454 g are 16.01 oz, 1 kg 2.2046 lb, 1 gal 3.785 l, 250 ml 8.45 fl oz, 20 sq in 129.03 cm², 1 sq ft 929.03 cm².
OTHERS = [
    ("454 g", "16 oz"), ("1 kg", "2.25 lb"), ("1 lb", "454 g"), ("1 gal", "3.8 l"), ("250 ml", "8.5 fl oz"),
    ("1 cup", "237 ml"), ("20 cm²", "3.25 sq in"), ("20 sq in", "130 cm²"), ("1 sq ft", "930 cm²"),
    ("1 m²", "11 sq ft"),
]  # fmt: skip


@pytest.mark.parametrize(("written", "printed"), HOUSEHOLD + ROLLS + OTHERS)
def test_what_is_needed_is_said_as_people_measure_it(written: str, printed: str) -> None:
    number, unit = portion(written).number, portion(written).unit
    other = AMOUNT_UNITS[unit].system.other
    assert in_system(number, unit, other) == portion(printed)
    assert in_system(number, unit, other.other) == Portion(number, unit), "as written in its own system"


# Rolls of tape carry both: 60 yd (54.8 m), 20 yd (18.2 m), never rounded up (labels in the shops, no source).
def test_what_a_pack_holds_is_never_overstated() -> None:
    assert in_system(Fraction(60), "yd", METRIC, Rounding.DOWN) == portion("54.8 m")
    assert in_system(Fraction(20), "yd", METRIC, Rounding.DOWN) == portion("18.2 m")


@given(
    st.sampled_from([unit for unit, one in AMOUNT_UNITS.items() if one.dimension is not Dimension.COUNT]),
    st.sampled_from(System),
    st.fractions(min_value=Fraction(1, 64), max_value=10_000, max_denominator=64),
)
def test_up_is_enough_and_down_is_there(unit: str, system: System, number: Fraction) -> None:
    """Compared in one unit, by pint; a spoon or a scale may be a fortieth short, what is cut off a roll never."""
    exact = quantity(number, unit)
    up = measured_out(number, unit, system, Rounding.UP)
    down = measured_out(number, unit, system, Rounding.DOWN)
    short = Fraction(1, 40) if AMOUNT_UNITS[unit].dimension in (Dimension.VOLUME, Dimension.MASS) else 0
    assert AMOUNT_UNITS[up.unit].system is system
    assert up.number >= number_of(exact, up.unit) * (1 - short)
    assert 0 <= down.number <= number_of(exact, down.unit)
    coarsest = 10 if up.unit == "mm" else 1
    assert up.number - down.number <= coarsest, "no step is coarser"


def test_a_length_is_told_without_pint() -> None:
    assert in_system(Fraction(60), "in", METRIC).number * millimetres("m") == 1600
