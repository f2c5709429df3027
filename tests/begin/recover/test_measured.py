"""Readings typed at their panels say the same as the notes a person would write of them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.begin.recover.measured import TypedPiece, TypedSample, TypedSide, field_found, notes_of, sample_typed
from foldwright.begin.recover.model import MakerHabit, Sample
from foldwright.begin.recover.notes.reading import read_sample
from foldwright.begin.recover.recovering import recover
from foldwright.measure.length import System

# Fives: whole millimetres that lie next to each other are taken for equal panels, and one of them misread.
ROWS = st.lists(st.integers(2, 24).map(lambda fives: 5 * fives), min_size=1, max_size=5)


def side(name: str, row: list[int], running: bool, whole: bool) -> TypedSide:
    numbers = [sum(row[: at + 1]) for at in range(len(row))] if running else row
    return TypedSide(name, tuple(map(str, numbers)), str(sum(row)) if whole and not running else "", running)


@given(ROWS, ROWS, st.booleans(), st.booleans(), st.booleans())
def test_fields_and_their_notes_come_to_the_same_readings(
    across: list[int], down: list[int], running: bool, other: bool, whole: bool
) -> None:
    sides = side("across", across, running, whole), side("down", down, other, whole)
    typed = TypedSample((TypedPiece("piece-0", "base", sides),), System.METRIC, "0.5", made_in="5 mm")
    sample, wrong = sample_typed(typed)
    assert sample is not None and not wrong
    noted = read_sample(notes_of(typed), "notes").sample
    assert noted is not None
    readings = [sorted(readings_of(one)) for one in (sample, noted)]
    assert readings[0] == readings[1]
    # The marks are half a millimetre apart, so each number may be off by a quarter.
    assert {bound for *_, bound in readings[0]} == {Fraction(1, 4)}
    rows = {"across": across, "down": down}
    for named, start, end, length, _ in readings[0]:
        assert length == sum(rows[named][start:end])
    assert sample.made_in == noted.made_in == MakerHabit(System.METRIC, Fraction(5))


def readings_of(sample: Sample) -> list[tuple[str, int, int, Fraction, Fraction]]:
    sides = (side for piece in sample.pieces for side in piece.sides)
    return [(side.side, one.start, one.end, one.length.mm, one.bound.mm) for side in sides for one in side.readings]


def typed(across: tuple[str, ...], whole: str = "", running: bool = False, read_to: str = "") -> TypedSample:
    sides = TypedSide("across", across, whole, running), TypedSide("down", ("40",))
    return TypedSample((TypedPiece("piece-0", "base", sides),), System.METRIC, read_to)


@pytest.mark.parametrize(
    ("sample", "field", "message"),
    [
        (typed(("20", "wide")), "piece-0-across-2", "recover.reading"),
        (typed(("20", "-3")), "piece-0-across-2", "recover.reading"),
        (typed(("20", "1 3 4")), "piece-0-across-2", "recover.reading"),
        (typed(("20", "4 of 66")), "piece-0-across-2", "recover.reading"),
        (typed(("20", "1.5"), read_to="2"), "piece-0-across-2", "recover.too-vague"),
        (typed(("20", "15"), running=True), "piece-0-across-2", "recover.not-rising"),
        (typed(("20",), read_to="nearly"), "read-to", "recover.read-to-odd"),
    ],
)
def test_what_cannot_be_read_is_told_at_its_field(sample: TypedSample, field: str, message: str) -> None:
    read, wrong = sample_typed(sample)
    assert read is None
    assert {name: one.message for name, one in wrong.items()} == {field: message}


def test_what_was_not_measured_is_told_at_its_panel_unless_it_follows() -> None:
    sample, _ = sample_typed(typed(("20", "", "30"), whole="100"))
    assert sample is not None
    found = recover(sample).recovered
    assert found is not None
    assert [length.mm for length in found.pieces[0].across] == [20, 50, 30]
    sample, _ = sample_typed(typed(("20", "", "30")))
    assert sample is not None
    (finding,) = recover(sample).findings
    assert (finding.code, field_found(finding)) == ("not-measured", "piece-0-across-2")


def test_a_panel_may_be_named_behind_its_number_in_fields_and_in_notes() -> None:
    numbers = ("20 mm left wall", "60 floor", "20 right wall")
    fields = typed(numbers, whole="100")
    sample, wrong = sample_typed(fields)
    assert sample is not None and not wrong
    noted = read_sample(notes_of(fields), "notes").sample
    assert noted is not None
    for one in (sample, noted):
        across = one.pieces[0].sides[0]
        assert across.names == ("left wall", "floor", "right wall")
        assert [reading.length.mm for reading in across.readings] == [20, 60, 20, 100]
