"""units.txt against the registry pint brings (an independent list) and published definitions; what is made of it."""

from __future__ import annotations

import io
import re
import tokenize
from fractions import Fraction
from pathlib import Path

import pint
import pytest

from foldwright.measure.amounts import registry
from foldwright.measure.length import millimetres
from foldwright.measure.tabling import unit_table
from foldwright.measure.unit_table import UNITS

PACKAGE = Path(__file__).parents[2] / "compiler" / "foldwright"
STOCK = pint.UnitRegistry(non_int_type=Fraction)
"""The units pint brings along, which are not ours."""
ELSEWHERE = {
    "mil": "thou",
    "square_millimetre": "mm ** 2", "square_centimetre": "cm ** 2", "square_metre": "m ** 2",
    "square_inch": "inch ** 2", "square_foot": "foot ** 2", "square_yard": "yard ** 2",
    "gram_per_square_metre": "gram / metre ** 2",
    # Basic sizes in inches, as in the weight tables of paper makers; 500 sheets a ream.
    "pound_bond": "pound / (500 * 17 * 22 * inch ** 2)", "pound_text": "pound / (500 * 25 * 38 * inch ** 2)",
    "pound_cover": "pound / (500 * 20 * 26 * inch ** 2)", "pound_index": "pound / (500 * 51 * 61 * inch ** 2 / 4)",
    "pound_tag": "pound / (500 * 24 * 36 * inch ** 2)", "pound_bristol": "pound / (500 * 45 * 57 * inch ** 2 / 4)",
    # CSS Values and Units 3, section 6.2: 1 in is 6 pc, 72 pt, 96 px; 1 Q is 1/40 cm.
    "typographic_point": "inch / 72", "pica": "inch / 6", "pixel": "inch / 96", "quarter_millimetre": "cm / 40",
}  # fmt: skip
"""What the other registry calls differently, or has not at all."""


def test_the_table_is_what_pint_makes_of_the_units() -> None:
    assert (PACKAGE / "measure" / "unit_table.py").read_text(encoding="utf-8") == unit_table()


# A temperature is no multiple of another: see the fixed points below.
@pytest.mark.parametrize("symbol", [symbol for symbol, row in UNITS.items() if row[1] != "temperature"])
def test_every_unit_against_the_registry_that_pint_brings(symbol: str) -> None:
    name = UNITS[symbol][0]
    there = Fraction(7, 3) * STOCK.parse_expression(ELSEWHERE.get(name, name)).to_base_units()
    here = registry().Quantity(Fraction(7, 3), name).to_base_units()
    # Its gram is a thousandth of its kilogram, ours the base of masses; metres are the base of both.
    in_grams = STOCK.get_dimensionality(there.units).get("[mass]", 0)
    assert here.magnitude == Fraction(there.magnitude) * 1000 ** int(in_grams)


# Fixed points that every physics handbook has: water freezes at 32 °F, boils at 212 °F; -40 is the same on both.
@pytest.mark.parametrize(("fahrenheit", "celsius"), [(32, 0), (212, 100), (-40, -40), (250, Fraction(1090, 9))])
def test_temperatures_convert_exactly(fahrenheit: int, celsius: Fraction | int) -> None:
    converted = registry().Quantity(Fraction(fahrenheit), "degree_Fahrenheit").to("degree_Celsius").magnitude
    assert isinstance(converted, Fraction)
    assert converted == celsius


def test_a_point_of_card_is_no_point_of_type() -> None:
    # 10 pt card is 0.010 in (trade practice, apiprintproductions); a point of type is 1/72 in (CSS Values and Units 3).
    assert 10 * millimetres("mil") == Fraction("0.254")
    assert 72 * millimetres("typographic point") == Fraction("25.4")


def test_no_spelling_means_two_units() -> None:
    spelled = [spelling for *_, spellings, _ in UNITS.values() for spelling in spellings]
    assert len(spelled) == len(set(spelled))
    assert {'"', "″", "''", "fl oz", "sq in", "in²", "m2", "g/m2", "cl"} <= set(spelled)


_NUMBERS = {Fraction(text) for text in ("25.4", "254", "127", "2.54", "0.0254", "453.59237", "28.3495", "3.785411784")}


def test_the_inch_and_the_pound_are_typed_nowhere_else() -> None:
    typed = []
    for path in PACKAGE.rglob("*.py"):
        name = path.relative_to(PACKAGE).as_posix()
        for token in tokenize.generate_tokens(io.StringIO(path.read_text(encoding="utf-8")).readline):
            if token.type == tokenize.NUMBER and re.fullmatch(r"[0-9_.]+", token.string):
                number = Fraction(token.string.replace("_", ""))
                if name != "measure/unit_table.py" and (number in _NUMBERS or number * 10 in _NUMBERS):
                    typed.append((name, token.start[0], token.string))
    assert not typed
