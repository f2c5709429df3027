"""Lengths as people type them, and what is said of those that are none."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.measure.length import Length, Unit
from foldwright.measure.numbers import VULGAR
from foldwright.measure.reading import UNIT_WORDS, read_length, read_lengths_cross, read_number
from foldwright.measure.unreadable import Unreadable
from foldwright.measure.writing import (
    plain_cross,
    typographic,
    write_at,
    write_exact,
    write_readable,
)

INCHES = {
    "4 1/8 in": "33/8", "4-1/8 in": "33/8", '4-1/8"': "33/8", "4⅛ in": "33/8", "4 ⅛ in": "33/8", "4 1⁄8″": "33/8",
    "4 1∕8 in": "33/8", "4.125 inches": "33/8", "4–1/8 in": "33/8", "4 – 1/8 in": "33/8", "4‑1/8 in": "33/8",
    "4 and 1/8 in": "33/8", "4\u00a01/8\u00a0in": "33/8", "4\u202f1⁄8\u202fin": "33/8", "4¹⁄₈ in": "33/8",
    "¹⁄₈ in": "1/8", "3/8 in.": "3/8", "3/8in": "3/8", "½″": "1/2", "½”": "1/2", "½ inch": "1/2", ".5 in": "1/2",
    "0,125 in": "1/8", "1 ft 6 in": "18", "1′ 6″": "18", "5' 6 1/2\"": "133/2", "1 yd 2 ft": "60", "2 ft": "24",
    "2 feet": "24", "1 foot": "12", "3 yards": "108", "20 yd": "720", "5 1/2-inch": "11/2", "5 In.": "5", "5''": "5",
    "5 ins": "5", "one inch": "1", "two and a half inches": "5/2", "half an inch": "1/2", "a quarter inch": "1/4",
    "three quarters of an inch": "3/4", "one and three quarters in": "7/4", "9/8 in": "9/8", "12 in": "12",
}  # fmt: skip
MILLIMETRES = {
    "105 mm": "105", "105mm": "105", "10,5 cm": "105", "10.5 cm": "105", "2 m": "2000", "1 m 20 cm": "1200",
    "3 metres": "3000", "3 meters": "3000", "1 millimetre": "1", "2.5 millimeters": "2.5", "2,25 mm": "2.25",
    "12345,678 mm": "12345.678", "½ mm": "0.5", "210\u2009mm": "210",
}  # fmt: skip


@pytest.mark.parametrize(("text", "inches"), INCHES.items())
def test_inches_as_typed(text: str, inches: str) -> None:
    length = read_length(text)
    assert isinstance(length, Length)
    assert length.mm == Fraction(inches) * Fraction("25.4")


@pytest.mark.parametrize(("text", "mm"), MILLIMETRES.items())
def test_millimetres_as_typed(text: str, mm: str) -> None:
    length = read_length(text)
    assert isinstance(length, Length)
    assert length.mm == Fraction(mm)


@pytest.mark.parametrize("word", UNIT_WORDS)
def test_every_spelling_of_a_unit(word: str) -> None:
    assert read_length(f"2 {word}") == Length.of(2, UNIT_WORDS[word])
    assert read_length(f"2 {word}.") == Length.of(2, UNIT_WORDS[word])
    assert read_length(f"2{word.upper()}") == Length.of(2, UNIT_WORDS[word])


@pytest.mark.parametrize(("character", "value"), VULGAR.items())
def test_every_fraction_that_is_one_character(character: str, value: Fraction) -> None:
    assert read_number(f"2{character}") == 2 + value
    assert read_number(character) == value


UNREADABLE = {
    "4": "no-unit", "1 1/2": "no-unit", "": "no-number", "in": "no-number", "about 3 in": "no-number",
    "5 inches long": "no-number", "4 1 / 8 in": "no-number", "5 incs": "unknown-unit", "4 1/8 wombats": "unknown-unit",
    "0 in": "zero-length", "0/5 in": "zero-length", "0.0 mm": "zero-length", "-3 in": "negative-number",
    "− 3 in": "negative-number", "–3 in": "negative-number", "1e999 in": "absurd-number", "1E5 mm": "absurd-number",
    "1/0 in": "fraction-over-nothing", "4 1/0 in": "fraction-over-nothing", "9999999999 mm": "absurd-number",
    "1/99999999999 in": "absurd-number", "0.0000001 in": "absurd-number", "999999 m": "absurd-number",
    "1,000 mm": "comma-of-thousands", "4,125 in": "comma-of-thousands", "1,200.00 mm": "parted-thousands",
    "1.200,00 mm": "parted-thousands", "1,234,567 mm": "parted-thousands", "1 200 mm": "parted-thousands",
    "4 9/8 in": "top-heavy-fraction", "4 41/8 in": "top-heavy-fraction", "41/8 in": "run-together-fraction",
    "5 1/2 x 3 in": "one-length-wanted", "12 in 3 ft": "one-length-wanted", "1 ft 20 mm": "one-length-wanted",
}  # fmt: skip


@pytest.mark.parametrize(("text", "code"), UNREADABLE.items())
def test_what_is_no_length_is_named(text: str, code: str) -> None:
    why = read_length(text)
    assert isinstance(why, Unreadable)
    assert why.code == code


def test_what_a_message_needs_is_handed_on() -> None:
    why = read_length("41/8 in")
    assert isinstance(why, Unreadable)
    assert dict(why.facts) == {"text": "41/8", "spaced": "4 1/8", "top_heavy": "5 1/8"}
    why = read_length("1,000 mm")
    assert isinstance(why, Unreadable)
    assert dict(why.facts) == {"text": "1,000", "whole": "1000", "decimal": "1.000"}
    why = read_length("1.200,50 mm")
    assert isinstance(why, Unreadable)
    assert dict(why.facts) == {"text": "1.200,50", "whole": "1200.50"}
    why = read_length("5 inchs")
    assert isinstance(why, Unreadable)
    assert dict(why.facts) == {"text": "5 inchs", "word": "inchs", "nearest": "inches"}


@pytest.mark.parametrize("text", ["9" * 100_000 + " in", "1 " * 50_000, "x" * 100_000, "1/" + "9" * 5000, "4 " * 90,
                                  "½" * 60, "1" + " " * 190 + "inn", "''" * 100, "a half" * 20, "1-" * 90])  # fmt: skip
def test_heaps_of_figures_are_refused_and_come_to_an_end(text: str) -> None:
    """A reader that tried every way of taking these apart would never be done."""
    for reader in (read_length, read_lengths_cross, read_number):
        assert not isinstance(reader(text), Length)


@given(st.text(max_size=60) | st.text("0123456789/.,-x ⅛½inmcft'\"″⁄", max_size=40))
def test_no_text_whatever_raises(text: str) -> None:
    assert isinstance(read_length(text), Length | Unreadable)
    assert isinstance(read_length(text, Unit.INCH), Length | Unreadable)
    assert isinstance(read_lengths_cross(text), tuple | Unreadable)
    assert isinstance(read_number(text), Fraction | Unreadable)


NUMBERS = {"3": "3", "0": "0", "4 1/8": "33/8", "4,5": "9/2", "2.25": "9/4", " 010 ": "10", "dozen": None, "-1": None}


@pytest.mark.parametrize(("text", "value"), NUMBERS.items())
def test_numbers_alone(text: str, value: str | None) -> None:
    read = read_number(text)
    assert isinstance(read, Unreadable) if value is None else read == Fraction(value)


CROSSES = {
    "8 1/2 x 11 in": "8 1/2 x 11 in", "8 1/2 × 11 in": "8 1/2 x 11 in", "12x12 in": "12 x 12 in",
    "5in x 4in": "5 x 4 in", '5"x4"': "5 x 4 in", "5″ × 4 1/4″": "5 x 4 1/4 in", "5½×4¼ in": "5 1/2 x 4 1/4 in",
    "2,5 x 3 cm": "2.5 x 3 cm", "5 by 4 in": "5 x 4 in", "1 x 5/8 x 1/2 in": "1 x 5/8 x 1/2 in",
    "4 in x 3": "4 x 3 in", "six x six in": "6 x 6 in", "10 mm x 1 in": "10 mm x 1 in", "4inx3in": "4 x 3 in",
    "60 X 90 X 20 mm": "60 x 90 x 20 mm", "5 in": "5 in", "1 ft 6 in x 2 ft": "18 in x 2 ft",
}  # fmt: skip


@pytest.mark.parametrize(("text", "written"), CROSSES.items())
def test_crosses(text: str, written: str) -> None:
    lengths = read_lengths_cross(text)
    assert isinstance(lengths, tuple)
    assert plain_cross([write_exact(length) for length in lengths]) == written


NO_CROSS = {
    "5 x 4": "no-unit", "5 x": "unknown-unit", "1x2x3x4 in": "too-many-lengths", "x": "no-number",
    "5 x 0 in": "zero-length",
}  # fmt: skip


@pytest.mark.parametrize(("text", "code"), NO_CROSS.items())
def test_what_is_no_cross_is_named(text: str, code: str) -> None:
    why = read_lengths_cross(text)
    assert isinstance(why, Unreadable)
    assert why.code == code


def test_a_unit_given_covers_bare_numbers() -> None:
    assert read_length("4 1/8", Unit.INCH) == read_length("4 1/8 in")
    assert read_lengths_cross("60 x 2 cm", Unit.MILLIMETRE) == read_lengths_cross("60 x 2 cm")
    assert read_lengths_cross("60 x 20", Unit.MILLIMETRE) == read_lengths_cross("60 x 20 mm")


# --- writing ----------------------------------------------------------------------------------------------------

WRITTEN = {
    "4.125 in": "4 1/8 in", "4.1 in": "4.1 in", "3/64 in": "3/64 in", "1/3 in": "1/3 in", "10,5 cm": "10.5 cm",
    "1/2 mm": "0.5 mm", "1/8 mm": "0.125 mm", "1/16 mm": "1/16 mm", "2/3 mm": "2/3 mm", "0,05 mm": "0.05 mm",
    "20 yd": "20 yd", "2 1/2 ft": "2 1/2 ft", "1 1/3 yd": "1 1/3 yd",
}  # fmt: skip


@pytest.mark.parametrize(("text", "written"), WRITTEN.items())
def test_a_length_is_written_in_its_own_unit(text: str, written: str) -> None:
    length = read_length(text)
    assert isinstance(length, Length)
    assert write_exact(length).plain == written


@given(st.fractions(min_value=Fraction(1, 64), max_value=400, max_denominator=700), st.sampled_from(list(Unit)))
def test_what_is_written_reads_the_same(value: Fraction, unit: Unit) -> None:
    length = Length.of(value, unit)
    printed = write_exact(length)
    assert printed.mm == length.mm
    back = read_length(printed.plain)
    if isinstance(back, Unreadable):
        # Only a fraction of tens that stands alone is asked about, as a person's `11/16` might be `1 1/16`.
        assert back.code == "run-together-fraction"
    else:
        assert (back.mm, back.unit) == (length.mm, unit)
        assert read_length(typographic(printed)) == back


@given(st.integers(1, 4000), st.sampled_from([Fraction(1), Fraction(1, 2), Fraction(1, 10)]))
def test_millimetres_on_a_step_read_the_same(count: int, step: Fraction) -> None:
    assert read_length(write_at(count * step, Unit.MILLIMETRE, step).plain) == Length(count * step, Unit.MILLIMETRE)


def test_a_value_off_its_step_is_refused() -> None:
    with pytest.raises(ValueError, match="does not lie on the step"):
        write_at(Fraction(1, 3), Unit.MILLIMETRE, Fraction(1, 2))


def test_typeset_figures() -> None:
    eight = write_exact(Length.of(Fraction(17, 2), Unit.INCH))
    eleven = write_exact(Length.of(11, Unit.INCH))
    assert typographic(eight) == "8\u202f1\u20442\u202fin"
    millimetre = write_exact(Length.of(10, Unit.MILLIMETRE))
    assert plain_cross([eleven, millimetre]) == "11 in x 10 mm"


def test_lengths_compare_by_size_alone():
    inch, metric = Length.of(1, Unit.INCH), Length.of(Fraction(254, 10), Unit.MILLIMETRE)
    assert (inch == metric) is True
    assert (inch != metric) is False
    assert hash(inch) == hash(metric)
    assert inch <= metric and inch >= metric
    longer = Length.of(26, Unit.MILLIMETRE)
    assert inch < longer and longer > inch
    assert (inch != longer, inch == longer) == (True, False)
    assert not longer <= inch and not inch >= longer
    assert inch != "1 in"


@pytest.mark.parametrize(
    ("length", "read"),
    [
        (Length(Fraction(254, 30), Unit.INCH), "1/3 in"),
        (Length(Fraction(21, 2), Unit.MILLIMETRE), "10.5 mm"),
        (Length(Fraction(2308800749, 10**7), Unit.MILLIMETRE), "230.88 mm"),
        (Length(Fraction(15022, 100) + Fraction(1, 10**9), Unit.INCH), "5.914 in"),
    ],
)
def test_a_message_gives_no_number_that_nobody_could_read(length: Length, read: str) -> None:
    assert write_readable(length).plain == read
