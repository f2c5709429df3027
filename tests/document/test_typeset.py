"""Measures as typographic objects: their parts, their plain form, and how they are said."""

from __future__ import annotations

import pytest

from foldwright.document.typeset import typesetter
from foldwright.document.words import Figure
from foldwright.measure.length import Length, Unit
from foldwright.measure.printed import Printed
from foldwright.measure.reading import read_number
from foldwright.measure.writing import write_exact

UNITS = {unit.symbol: unit for unit in Unit}
SET = typesetter("en")


def printed(text: str) -> Printed:
    number, unit = text.rsplit(" ", 1)
    value = read_number(number)
    return write_exact(Length.of(value, UNITS[unit]))  # type: ignore[arg-type]


# How measures are read aloud in English: common practice, no source.
SPOKEN = {
    "4 1/8 in": "4 and 1 eighth inches",
    "1 in": "1 inch",
    "2 in": "2 inches",
    "1 1/2 in": "1 and 1 half inches",
    "3/4 in": "3 quarters of an inch",
    "1/16 in": "1 sixteenth of an inch",
    "5/32 in": "5 thirty-seconds of an inch",
    "2 63/64 in": "2 and 63 sixty-fourths inches",
    "105 mm": "105 millimetres",
    "1 mm": "1 millimetre",
    "44.5 mm": "44.5 millimetres",
    "0.5 mm": "0.5 millimetres",
    "1.5 m": "1.5 metres",
    "20 yd": "20 yards",
    "1 ft": "1 foot",
    "10.5 cm": "10.5 centimetres",
}


@pytest.mark.parametrize("text", SPOKEN)
def test_how_a_measure_is_said(text):
    phrase = SET.single(printed(text))
    assert phrase.spoken == SPOKEN[text]
    assert phrase.plain == text


def test_a_fraction_no_ruler_has_is_said_by_its_numbers():
    assert SET.single(printed("2 3/7 in")).spoken == "2 and 3 over 7 inches"


def test_the_parts_of_a_figure():
    assert SET.single(printed("4 1/8 in")).parts == (Figure("4", "1", "8", "in"),)
    assert SET.single(printed("3/4 in")).parts == (Figure("", "3", "4", "in"),)
    assert SET.single(printed("44.5 mm")).parts == (Figure("44.5", unit="mm"),)


def test_lengths_of_one_unit_carry_it_once():
    cross = SET.cross([printed("5 in"), printed("4 1/4 in")])
    assert cross.parts == (Figure("5"), " × ", Figure("4", "1", "4", "in"))
    assert cross.plain == "5 x 4 1/4 in"
    assert cross.spoken == "5 by 4 and 1 quarter inches"


def test_lengths_of_two_units_carry_their_own():
    cross = SET.cross([printed("914 mm"), printed("1.2 m")])
    assert cross.plain == "914 mm x 1.2 m"
    assert cross.spoken == "914 millimetres by 1.2 metres"


def test_a_list_and_a_range():
    assert SET.listed([printed("19 mm")]).plain == "19 mm"
    assert SET.listed([printed("19 mm"), printed("108 mm")]).plain == "19 and 108 mm"
    three = SET.listed([printed("3/4 in"), printed("1 in"), printed("2 1/2 in")])
    assert three.plain == "3/4, 1 and 2 1/2 in"
    assert three.spoken == "3 quarters, 1 and 2 and 1 half inches"
    span = SET.phrase((printed("1/2 in"), printed("3/4 in")), ("-",))
    assert span.parts[1] == "–"
    assert span.spoken == "1 half to 3 quarters of an inch"


def test_before_a_noun_the_unit_is_singular():
    assert SET.phrase((printed("5 1/2 in"),), (), hyphenated=True).spoken == "5 and 1 half inch"
    assert SET.phrase((printed("140 mm"),), (), hyphenated=True).spoken == "140 millimetre"
