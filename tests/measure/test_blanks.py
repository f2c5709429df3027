"""How many blanks stand in a measure, and of which kind, changes nothing in what is understood; places stay true."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.measure.conversion import read_measures
from foldwright.measure.prose import ProseMeasures, find_measures
from foldwright.measure.reading import read_length, read_lengths_cross, read_number
from foldwright.vocabulary import length_acts
from measure.prose_phrases import phrases
from workbench.long import tries

BLANKS = ("  ", "     ", "\t", " \t ", "\n", "\n   ", " \n\t", "\u00a0", "\u202f ", "\u2009", " \u200b", "\u2060 ")
"""Runs of spaces and tabs, a line end with an indent, blanks that do not break, thin ones, ones of no width."""
SENTENCES = [phrase.text for phrase in phrases() if " " in phrase.text]
VALUES = (
    "4 1/8 in", "4 x 3 3/4 in", "4 ½ in", "12 in", "1 ft 6 in", "8 1/2 x 11 in", "85 x 55 x 20 mm", "10,5 cm",
    "half an inch", "two and a half inches", "4 and 1/8 in", "4 - 1/8 in", "3 in by 4 in", "4 & 1/8 inches",
)  # fmt: skip
# Behind a unit a line end parts measures: `1 ft` on a line and `6 in` on the next are two.
ASKED = (
    *(value for value in VALUES if "ft" not in value),
    "3/4 | 3 1/2 | 3/4 in",
    "5/8 + 2 7/8 + 5/8 = 4 1/8 in",
    "5/8, 2 7/8, 5/8, total 4 1/8 in",
)


@st.composite
def spaced(draw: st.DrawFn, texts: tuple[str, ...] | list[str]) -> tuple[str, str]:
    """A text, and the same with other blanks in some of its places."""
    text = draw(st.sampled_from(texts))
    parts = text.split(" ")
    blanks = draw(st.lists(st.sampled_from((" ", *BLANKS)), min_size=len(parts) - 1, max_size=len(parts) - 1))
    return text, "".join(part + blank for part, blank in zip(parts, (*blanks, ""), strict=True))


def _understood(text: str, found: ProseMeasures) -> tuple[object, ...]:
    measures = [(one.shape, one.lengths, one.joiners, one.hyphenated, one.why) for one in found.measures]
    units = [length.unit for one in found.measures for length in one.lengths]
    said = [_bare(text[one.start : one.end]) for one in (*found.measures, *found.passed_over)]
    return measures, units, said, [one.why for one in found.passed_over], len(found.cancelled)


def _bare(text: str) -> str:
    return re.sub("[\\s\u200b\u2060]+", "", text)


@settings(max_examples=tries(200, 600))
@given(spaced(SENTENCES))
def test_a_sentence_means_the_same_however_it_is_spaced(texts: tuple[str, str]) -> None:
    plain, other = texts
    assert _understood(other, find_measures(other, length_acts())) == _understood(
        plain, find_measures(plain, length_acts())
    )


@settings(max_examples=tries(100, 300))
@given(spaced(VALUES))
def test_a_value_means_the_same_however_it_is_spaced(texts: tuple[str, str]) -> None:
    plain, other = texts
    assert read_lengths_cross(other) == read_lengths_cross(plain)
    assert read_length(other) == read_length(plain) or "x" in plain or "by" in plain
    number = plain.partition(" in")[0]
    assert read_number(other.replace(other.lstrip(), other)) == read_number(other)
    assert read_number(number) == read_number(number.replace(" ", "  "))


@settings(max_examples=tries(100, 300))
@given(spaced(ASKED))
def test_what_is_asked_for_means_the_same_however_it_is_spaced(texts: tuple[str, str]) -> None:
    plain, other = texts
    assert [(one.shape, one.lengths, one.total) for one in _asked(other)] == [
        (one.shape, one.lengths, one.total) for one in _asked(plain)
    ]


def _asked(text: str) -> tuple[object, ...]:
    asked = read_measures(text)
    assert isinstance(asked, tuple), (text, asked)
    return asked


@pytest.mark.parametrize(
    "text", ["3 in\n4 in", "3 1/2 in\n 4 x 6 in", "20 mm\n60 mm\n20 mm", "5 ft\n\n1/2 in", '3"\n½"']
)
def test_a_line_that_ends_in_a_unit_is_a_measure_of_its_own(text: str) -> None:
    assert [one.said for one in _asked(text)] == [" ".join(line.split()) for line in text.split("\n") if line]


def test_a_column_of_numbers_is_a_row() -> None:
    (row,) = read_measures("20\n60\n20 mm\n= 100 mm")
    assert [length.value for length in row.lengths] == [20, 60, 20]
