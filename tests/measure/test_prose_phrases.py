"""Every phrase of tests/cases/measures-in-prose.txt: what is found in it, exactly, or the reason nothing is."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import pytest

from foldwright.measure.length import Length, Unit
from foldwright.measure.prose import FoundMeasure, find_measures
from foldwright.measure.shape import Shape
from foldwright.vocabulary import length_acts

CASES = Path(__file__).parents[1] / "cases" / "measures-in-prose.txt"
SHAPES = {"x": Shape.CROSS, "to": Shape.RANGE, "list": Shape.LIST}
UNITS = {unit.symbol: unit for unit in Unit}


@dataclass(frozen=True)
class Expected:
    """What one measure must be; `lengths` are compared with their units."""

    said: str
    shape: Shape
    lengths: tuple[tuple[Fraction, Unit], ...]
    hyphenated: bool


@dataclass(frozen=True)
class Phrase:
    line: int
    text: str
    expected: tuple[Expected, ...]
    reason: str


def phrases() -> list[Phrase]:
    lines = CASES.read_text(encoding="utf-8").split("\n")
    return [_phrase(number, line) for number, line in enumerate(lines, 1) if "=>" in line and not line.startswith("#")]


def _phrase(number: int, line: str) -> Phrase:
    marked, _, wanted = line.rpartition("=>")
    marked, wanted = marked.rstrip(" "), wanted.strip()
    said = re.findall(r"\{([^}]*)\}", marked)
    text = marked.replace("{", "").replace("}", "")
    if wanted.startswith("(") or not wanted:
        assert not said, f"line {number}: braces, but nothing behind the arrow"
        return Phrase(number, text, (), wanted.strip("()"))
    measures = wanted.split(";")
    return Phrase(number, text, tuple(_expected(*pair) for pair in zip(said, measures, strict=True)), "")


def _expected(said: str, wanted: str) -> Expected:
    words = wanted.split()
    hyphenated = words[0] == "adjective"
    words = words[1:] if hyphenated else words
    shape = SHAPES.get(words[0], Shape.SINGLE)
    numbers = " ".join(words[1:] if words[0] in SHAPES else words).split(",")
    lengths = tuple((Fraction(number.split()[0]), UNITS[number.split()[1]]) for number in numbers)
    return Expected(said, shape, lengths, hyphenated)


def _seen(text: str, found: FoundMeasure) -> Expected:
    lengths = tuple((length.value, length.unit) for length in found.lengths)
    return Expected(text[found.start : found.end], found.shape, lengths, found.hyphenated)


@pytest.mark.parametrize("phrase", phrases(), ids=lambda phrase: f"line {phrase.line}: {phrase.text[:40]}")
def test_a_phrase_holds_just_these_measures(phrase: Phrase) -> None:
    found = find_measures(phrase.text, length_acts())
    assert tuple(_seen(phrase.text, measure) for measure in found.measures) == phrase.expected
    if phrase.reason:
        assert [passed.why for passed in found.passed_over][:1] == [phrase.reason]


@pytest.mark.parametrize("phrase", phrases(), ids=lambda phrase: f"line {phrase.line}: {phrase.text[:40]}")
def test_joiners_are_what_stands_between_the_lengths(phrase: Phrase) -> None:
    for measure in find_measures(phrase.text, length_acts()).measures:
        assert len(measure.joiners) == len(measure.lengths) - 1
        said = phrase.text[measure.start : measure.end]
        for joiner in measure.joiners:
            assert joiner in said
            assert not any(character.isdigit() for character in joiner)


def test_there_are_phrases_enough_both_ways() -> None:
    every = phrases()
    assert len(every) >= 240
    assert sum(bool(phrase.expected) for phrase in every) >= 120
    assert sum(not phrase.expected for phrase in every) >= 100


def test_a_length_remembers_the_unit_it_was_written_in() -> None:
    """25.4 mm to the inch (international yard and pound agreement, 1 July 1959): a whole number of tenths each way."""
    inch, metric = find_measures("Score at 1 in, then at 25.4 mm.", length_acts()).measures
    assert inch.lengths == metric.lengths == (Length(Fraction(254, 10), Unit.INCH),)
    assert (inch.lengths[0].unit, metric.lengths[0].unit) == (Unit.INCH, Unit.MILLIMETRE)
