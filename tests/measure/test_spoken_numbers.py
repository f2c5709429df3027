"""Numbers as they are said aloud, put in figures that keep their place."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest

from foldwright.measure.prose import find_measures
from foldwright.measure.spoken import in_figures
from workbench.long import LONG, tries

ONES = "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen"
WORDS = [*ONES.split(), "eighteen", "nineteen"]
TENS = "_ _ twenty thirty forty fifty sixty seventy eighty ninety".split()
INCH = Fraction(254, 10)


def in_words(number: int) -> str:
    """The English number word, written the usual way (common practice, no source)."""
    if number < 20:
        return WORDS[number]
    if number < 100:
        return TENS[number // 10] + (f"-{WORDS[number % 10]}" if number % 10 else "")
    rest = f" and {in_words(number % 100)}" if number % 100 else ""
    return f"{WORDS[number // 100]} hundred{rest}"


def heard(text: str) -> list[Fraction]:
    figures = in_figures(text)
    assert len(figures) == len(text)
    return written(figures)


def written(text: str) -> list[Fraction]:
    """What is found where the same stands in the words of a recipe."""
    return [length.mm for one in find_measures(text, frozenset({"cut", "score"})).measures for length in one.lengths]


@pytest.mark.parametrize("number", range(1, 1000) if LONG else [*range(1, 131), *range(131, 1000, 37)])
def test_every_whole_number_below_a_thousand_is_heard(number: int) -> None:
    for words in (in_words(number), in_words(number).replace("-", " ").replace(" and ", " ")):
        assert heard(f"cut it {words} millimetres long") == written(f"cut it {words} millimetres long") == [number]


@pytest.mark.parametrize("bottom", [4, 8, 16, 32, 64])
def test_every_part_of_an_inch_on_a_ruler_is_read(bottom: int) -> None:
    name = {4: "quarter", 8: "eighth", 16: "sixteenth", 32: "thirty-second", 64: "sixty-fourth"}[bottom]
    for top in range(1, bottom):
        part = f"{in_words(top)} {name}{'s' if top > 1 else ''} of an inch"
        assert written(f"cut it {part} long") == [INCH * top / bottom]
        whole = top * 7 % 99 + 1
        assert written(f"cut it {in_words(whole)} and {part} long") == [INCH * (whole + Fraction(top, bottom))]


def test_a_number_word_before_a_number_is_never_lost() -> None:
    """Of two words that are one number, as `twenty five`, both count or neither does; two others are a count and a
    size."""
    for first in (*WORDS[1:], *TENS[2:], "hundred", "thousand"):
        for second in WORDS[1:]:
            number = WORDS.index(second)
            together = TENS.index(first) * 10 + number if first in TENS and number < 10 else 0
            squares = written(f"cut {first} {second} inch squares")
            assert squares == ([] if together or first in ("hundred", "thousand") else [INCH * number]), (first, second)
            if together:
                assert written(f"cut it {first} {second} inches long") == [INCH * together]
                assert written(f"cut {first} {second}-inch squares") == [INCH * number]


# By hand: an inch is 25.4 mm.
SAID: dict[str, list[Fraction | int]] = {
    "three and a half inches": [INCH * 7 / 2],
    "an inch and a quarter": [INCH * 5 / 4],
    "one and three quarters and two and a half inches": [INCH * 7 / 4, INCH * 5 / 2],
    "five by four and a quarter inches": [INCH * 5, INCH * 17 / 4],
    "one and three sixteenths of an inch": [INCH * 19 / 16],
    "thirteen sixteenths of an inch": [INCH * 13 / 16],
    "two and eleven sixteenths inches": [INCH * 43 / 16],
    "a thirty-second of an inch": [INCH / 32],
    "twenty-three thirty seconds of an inch": [INCH * 23 / 32],
    "two point five centimetres": [25],
    "nought point five millimetres": [Fraction(1, 2)],
    "a hundred and eight by one hundred twenty seven millimetres": [108, 127],
    "seventeen and a half inches": [INCH * 35 / 2],
    "wait thirty seconds": [],
    "the thirty second mark": [],
    "two of them": [],
}


@pytest.mark.parametrize(("said", "lengths"), SAID.items())
def test_spoken_lengths_are_heard(said: str, lengths: list[Fraction | int]) -> None:
    assert heard(said) == written(said) == lengths


def test_whatever_is_said_keeps_its_length_and_its_place() -> None:
    random = Random(7)
    words = [
        *WORDS,
        *TENS[2:],
        "hundred",
        "and",
        "a",
        "point",
        "inches",
        "half",
        "sixteenths",
        "-",
        "3/4",
        "seconds",
        "é",
    ]
    for _ in range(tries(500, 20_000)):
        text = " ".join(random.choice(words) for _ in range(random.randint(0, 12)))
        figures = in_figures(text)
        assert len(figures) == len(text)
        assert in_figures(figures) == figures
