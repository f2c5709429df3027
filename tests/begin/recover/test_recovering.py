"""Known blanks are found again from readings of them; what cannot be known is said."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest
from msgspec.structs import replace

from begin.recover.samples import INCHES, MILLIMETRES, blank, read_once, rows_of
from foldwright.begin.recover.reading import read_sample
from foldwright.begin.recover.recovering import Recovery, recover
from foldwright.measure.length import Length, System, Unit
from workbench.long import tries

INCH = Unit.INCH.mm
RUNS = tries(150, 500)


def share_found(mark: Fraction, most: int, bound: Length, rounded_to: Fraction | None = None) -> float:
    random = Random(20261126)
    found = 0
    for _ in range(RUNS):
        rows = blank(random, mark, most)
        found += rows_of(recover(read_once(random, rows, bound, rounded_to))) == rows
    return found / RUNS


@pytest.mark.parametrize("rounded_to", [None, INCH / 64, INCH / 32])
def test_eighths_read_once_to_a_thirty_second_are_found_exactly(rounded_to):
    assert share_found(INCH / 8, 48, INCHES, rounded_to) >= 0.99


def test_whole_and_half_centimetres_are_found_exactly():
    assert share_found(Fraction(5), 30, MILLIMETRES) >= 0.99


def test_sixteenths_and_whole_millimetres_are_found_mostly():
    """The README states these rates: 93 and 94 in 100."""
    assert share_found(INCH / 16, 96, INCHES) >= 0.93
    assert share_found(Fraction(1), 150, MILLIMETRES) >= 0.94


def test_every_panel_of_an_answer_keeps_every_reading():
    random = Random(5)
    for _ in range(100):
        answer = recover(read_once(random, blank(random, INCH / 16, 60), INCHES))
        assert answer.recovered is not None
        assert all(abs(off.by.mm) <= off.reading.bound.mm for off in answer.recovered.offs)


def answer_to(text: str) -> Recovery:
    read = read_sample(text, "sample")
    assert read.sample is not None, read.findings
    return recover(read.sample)


def inches(*numbers: str) -> tuple[Fraction, ...]:
    return tuple(Fraction(number) * INCH for number in numbers)


def test_the_makers_system_is_inferred_from_readings_in_the_other():
    answer = answer_to("measured in: inches\nbox across: 13/16 | 2 3/8 | 13/16\nbox down: 25/32 | 3 9/16 | 13/16")
    assert answer.recovered is not None
    assert answer.recovered.system is System.METRIC
    assert rows_of(answer) == ((20, 60, 20), (20, 90, 20))


def test_both_systems_and_every_way_of_measuring_in_one_sample():
    answer = answer_to(
        "base across, from the left: 5/8, 3 1/2 in, 4 1/8; whole: 104.9 mm\n"
        "base down: 1 3/4 | 3/4 | 1 25/32 in; read to 1/16 in\n"
        "base down, from the bottom: 44 mm, 63.9 mm\n"
        "base down, panel 2: 3/4 in\n"
    )
    assert rows_of(answer) == (inches("5/8", "23/8", "5/8"), inches("7/4", "3/4", "7/4"))


def test_scores_alone_from_both_edges_give_the_whole():
    answer = answer_to("a across, from the left: 5/8, 3 1/2 in\na across, from the right: 5/8, 3 1/2 in\na down: 4 in")
    assert rows_of(answer)[0] == inches("5/8", "23/8", "5/8")


def test_a_slip_that_nothing_agrees_with_is_left_out_and_named():
    answer = answer_to(
        "a across, from the left: 5/8, 3 1/2, 4 1/8 in\na across: 5/8 | 2 5/8 | 5/8 in; whole: 4 1/8 in\na down: 4 in"
    )
    assert rows_of(answer)[0] == inches("5/8", "23/8", "5/8")
    (finding,) = answer.findings
    assert finding.code == "reading-cannot-belong"
    assert dict(finding.facts)["said"] == Length.of(Fraction(21, 8), Unit.INCH)


def test_readings_that_contradict_each_other_are_named_with_what_comes_nearest():
    answer = answer_to("a across: 5/8 | 2 5/8 | 5/8 in; whole: 4 1/8 in\na down: 4 in")
    assert answer.recovered is None
    assert [finding.code for finding in answer.findings] == ["readings-contradict"]
    # The sum is a quarter of an inch short, over four readings: a sixteenth each.
    assert answer.read_to == Length.of(Fraction(1, 16), Unit.INCH)
    assert answer.nearest is not None


def test_too_few_readings_say_which_panel_is_open():
    read = read_sample("a across, from the left: 1 in, 2 in, 5 in; whole: 9 in\na down: 4 in\n", "sample")
    assert read.sample is not None
    side = read.sample.pieces[0].sides[0]
    assert side.count == 4
    fewer = replace(side, readings=tuple(one for one in side.readings if one.end != 2))
    piece = replace(read.sample.pieces[0], sides=(fewer, read.sample.pieces[0].sides[1]))
    (finding,) = recover(replace(read.sample, pieces=(piece,))).findings
    assert finding.code == "not-measured"
    assert dict(finding.facts)["panel"] == "2"


def test_one_panel_alone_is_not_enough():
    read = read_sample("a across, panel 2: 3 in\na across: 4 in\na down: 4 in", "sample")
    assert read.sample is None
    assert [finding.code for finding in read.findings] == ["how-many-panels"]


def test_a_doubt_says_where_one_more_measurement_settles_it():
    answer = answer_to("a across: 3 3/32 | 2 in\na down: 4 in")
    assert answer.recovered is not None
    doubt = answer.recovered.doubt
    assert doubt is not None
    # Half-way between an eighth and a sixteenth: two points lie between them.
    assert (doubt.side.side, doubt.start, doubt.end) == ("across", 0, 1)
    assert {doubt.this.value, doubt.other.value} == {Fraction(25, 8), Fraction(49, 16)}
    assert doubt.more == 2
