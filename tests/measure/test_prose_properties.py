"""What holds of `find_measures` whatever it is given: any spelling of a length is found, any text is read quickly."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.long_texts import MEASURES, growth_in_calls
from foldwright.measure.length import Length, Shape, Unit
from foldwright.measure.prose import find_measures
from foldwright.vocabulary import length_acts
from workbench.long import tries

VULGAR = {Fraction(1, 2): "½", Fraction(1, 4): "¼", Fraction(3, 4): "¾", Fraction(1, 8): "⅛", Fraction(5, 8): "⅝"}
SYMBOLS = {
    Unit.INCH: (" in", "in", " inch", " inches", '"', "″", "”", "\u202fin", "-inch"),
    Unit.FOOT: (" ft", " feet", "′"),
    Unit.YARD: (" yd", " yards"),
    Unit.MILLIMETRE: (" mm", "mm", "\u00a0mm", " millimetres", "-mm"),
    Unit.CENTIMETRE: (" cm", "cm", " centimetres"),
    Unit.METRE: (" m", " metres"),
}
# Each leaves no other reading of what stands in it: an act that takes a length, then nothing that could be "in" them.
CARRIERS = ("Cut it {} wide.", "Score at {} from the left edge.", "Trim {}, then turn.", "Mark ({}) with care.")


@st.composite
def spelled_lengths(draw: st.DrawFn) -> tuple[Length, str]:
    """A length and one of the ways to write it."""
    unit = draw(st.sampled_from(list(Unit)))
    whole = draw(st.integers(0, 48))
    ending = draw(st.sampled_from(SYMBOLS[unit]))
    form = draw(st.sampled_from(("whole", "fraction", "hyphened", "vulgar", "slash", "point", "comma")))
    if form == "whole":
        return Length.of(Fraction(max(whole, 1)), unit), f"{max(whole, 1)}{ending}"
    if form in {"point", "comma"}:
        digits = draw(st.integers(1, 99))
        mark = "." if form == "point" else ","
        return Length.of(whole + Fraction(digits, 100), unit), f"{whole}{mark}{digits:02d}{ending}"
    if form == "vulgar":
        part = draw(st.sampled_from(sorted(VULGAR)))
        return Length.of(whole + part, unit), f"{whole or ''}{VULGAR[part]}{ending}"
    bottom = draw(st.sampled_from((2, 4, 8, 16, 32, 64)))
    part = Fraction(2 * draw(st.integers(0, bottom // 2 - 1)) + 1, bottom)
    slash = "⁄" if form == "slash" else "/"
    between = "-" if form == "hyphened" else " "
    said = f"{whole}{between}" if whole else ""
    return Length.of(whole + part, unit), f"{said}{part.numerator}{slash}{part.denominator}{ending}"


@settings(max_examples=tries(100, 300))
@given(spelled_lengths(), st.sampled_from(CARRIERS))
def test_any_spelling_is_found_exactly(spelled: tuple[Length, str], carrier: str) -> None:
    length, said = spelled
    text = carrier.format(said)
    (found,) = find_measures(text, length_acts()).measures
    assert text[found.start : found.end] == said
    assert found.lengths == (length,)
    assert found.lengths[0].unit is length.unit


@settings(max_examples=tries(100, 300))
@given(st.lists(spelled_lengths(), min_size=2, max_size=3), st.sampled_from((" x ", " × ", "x", " by ")))
def test_any_cross_with_its_own_units_is_one_measure(spelled: list[tuple[Length, str]], joiner: str) -> None:
    words = [said for _, said in spelled]
    if joiner == "x":
        # Glued to a letter, `x` is one: `5 inx7`. Only a mark or a figure may stand before it.
        words = [said if said[-1] in '"″”′' else f"{said} " for said in words[:-1]] + words[-1:]
    text = f"Cut it {joiner.join(words)} exactly."
    (found,) = find_measures(text, length_acts()).measures
    assert found.shape is Shape.CROSS
    assert found.lengths == tuple(length for length, _ in spelled)


@settings(max_examples=tries(100, 300))
@given(st.lists(st.integers(1, 40), min_size=2, max_size=6), st.sampled_from(("mm", "in", "cm")))
def test_a_list_shares_its_last_unit(numbers: list[int], symbol: str) -> None:
    said = f"{', '.join(map(str, numbers[:-1]))} and {numbers[-1]} {symbol}"
    (found,) = find_measures(f"Score at {said} from the top.", length_acts()).measures
    assert found.shape is Shape.LIST
    assert [length.value for length in found.lengths] == numbers


WORDS = (
    "cut score fold at to and or x by in inch inches the each half 1 2 3 12 1/2 3/4 4 1/8 ½ ⅛ 4.5 4,5 0 1/0 mm cm m ft "
    "yd \" ' ” “ ″ ′ – — - , . ; : ( ) \\ \n one two a an quarter of all round wide step £3 3:40 v1.2 £ % # / // in."
).split(" ")


@settings(max_examples=tries(166, 500))
@given(st.lists(st.sampled_from(WORDS), max_size=30), st.sampled_from((" ", "", "  ", "\u00a0")))
def test_scrambled_words_never_trip_it(words: list[str], between: str) -> None:
    _offsets_make_sense(between.join(words))


@settings(max_examples=tries(100, 300))
@given(st.text(max_size=200))
def test_arbitrary_text_never_trips_it(text: str) -> None:
    _offsets_make_sense(text)


def _offsets_make_sense(text: str) -> None:
    found = find_measures(text, length_acts())
    at = 0
    for measure in found.measures:
        assert at <= measure.start < measure.end <= len(text)
        assert len(measure.joiners) == len(measure.lengths) - 1
        assert all(length.mm > 0 for length in measure.lengths)
        assert text[measure.start : measure.end] == text[measure.start : measure.end].strip()
        at = measure.end
    for offset in found.cancelled:
        assert text[offset] == "\\"
    for passed in found.passed_over:
        assert 0 <= passed.start < passed.end <= len(text)


@pytest.mark.parametrize("piece", MEASURES)
def test_long_texts_take_work_in_proportion(piece: str) -> None:
    """In calls, which are the same on every machine; `start.py bench` has the time."""
    assert growth_in_calls(lambda text: find_measures(text, length_acts()), piece) <= 9
