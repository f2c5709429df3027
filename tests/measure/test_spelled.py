"""Numbers in words where they are the whole of a value."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.measure.length import Length
from foldwright.measure.reading import read_length
from foldwright.measure.spelled import spelled_value
from foldwright.measure.unreadable import Unreadable
from measure.test_spoken_numbers import in_words
from workbench.long import LONG

INCH = Fraction(254, 10)
PARTS = {2: "half", 3: "third", 4: "quarter", 8: "eighth", 16: "sixteenth", 32: "thirty-second", 64: "sixty-fourth"}


def millimetres(said: str) -> Fraction | None:
    read = read_length(said)
    assert isinstance(read, (Length, Unreadable))
    return read.mm if isinstance(read, Length) else None


@pytest.mark.parametrize("number", range(1, 1000) if LONG else [*range(1, 131), *range(131, 1000, 37)])
def test_every_whole_number_below_a_thousand_is_read(number: int) -> None:
    words = in_words(number)
    for said in (words, words.replace("-", " "), words.replace(" and ", " ")):
        assert spelled_value(said) == number
        assert millimetres(f"{said} mm") == number


@pytest.mark.parametrize("bottom", [8, 16, 32, 64])
def test_every_part_of_an_inch_on_a_ruler_is_read(bottom: int) -> None:
    for top in range(1, bottom):
        part = f"{'a' if top == 1 else in_words(top)} {PARTS[bottom]}{'s' if top > 1 else ''}"
        assert millimetres(f"{part} of an inch") == INCH * top / bottom
        assert millimetres(f"two and {part} inches") == INCH * (2 + Fraction(top, bottom))


@pytest.mark.parametrize("tens", ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"])
@pytest.mark.parametrize("part", ["third", "fourth", "fifth", "eighth"])
def test_an_ordinal_is_no_number_of_parts(tens: str, part: str) -> None:
    """`a twenty-fifth` is one of twenty-five in English, and never twenty of five."""
    for said in (f"{tens}-{part}", f"{tens} {part}", f"a {tens}-{part}"):
        if said != "a sixty-fourth":
            assert spelled_value(said) is None
            assert millimetres(f"{said} inch") is None


@pytest.mark.parametrize("said", ["ten quarter", "two quarter", "thirty-second", "two and five halves", "a", "and", ""])
def test_what_may_be_a_count_of_things_is_not_guessed(said: str) -> None:
    assert spelled_value(said) is None
