"""Every phrase of tests/cases/measures-in-prose.txt: what is found in it, exactly, or the reason nothing is."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.measure.length import Length, Unit
from foldwright.measure.prose import FoundMeasure, find_measures
from foldwright.vocabulary import length_acts
from measure.prose_phrases import Expected, Phrase, phrases


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
        said = " ".join(phrase.text[measure.start : measure.end].split())
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
