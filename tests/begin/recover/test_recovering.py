"""Known blanks are found again from readings of them; what cannot be known is said."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from begin.recover.samples import INCH, rows_of
from foldwright.begin.recover.notes.reading import read_sample
from foldwright.begin.recover.recovering import Recovery, recover
from foldwright.measure.length import Length, System, Unit


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
    answer = answer_to("a across: 20 | 31 mm\na down: 40 mm")
    assert answer.recovered is not None
    doubt = answer.recovered.doubt
    assert doubt is not None
    # Where all others are tens: a maker of tens and a hand that slipped by a millimetre, or a maker of millimetres.
    assert (doubt.side.side, doubt.start, doubt.end) == ("across", 1, 2)
    assert {doubt.this.value, doubt.other.value} == {30, 31}
    assert doubt.chance < answer.recovered.chance < 1 - doubt.chance


def test_where_nothing_comes_close_there_is_no_doubt():
    answer = answer_to("a across: 1 | 2 | 1 in; whole: 4 in\na down: 1 | 3 | 1 in").recovered
    assert answer is not None
    assert answer.doubt is None
    assert answer.chance > 0.99
    assert answer.elsewhere < 0.01


def test_what_a_ruler_is_off_by_is_told_and_what_folds_take():
    """Every number is half a millimetre too long; then every fold takes a quarter of one."""
    off = answer_to(
        "read to: 0.25 mm\na across: 20.5 | 60.5 | 20.5 mm; whole: 100.5\n"
        "a across, from the left: 20.5, 80.5, 100.5 mm\n"
        "a down: 20.5 | 90.5 | 20.5 mm; whole: 130.5"
    )
    assert rows_of(off) == ((20, 60, 20), (20, 90, 20))
    assert off.recovered is not None
    assert 0.3 <= off.recovered.zero <= 0.7
    assert not off.recovered.fold
    folded = answer_to(
        "read to: 0.25 mm\na across: 20 | 30 | 20 | 30 | 12 mm\n"
        "a across, from the left: 20, 49.75, 69.5, 99.25, 111 mm\n"
        "a down: 90 mm"
    )
    assert rows_of(folded)[0] == (20, 30, 20, 30, 12)
    assert folded.recovered is not None
    assert 0.15 <= folded.recovered.fold <= 0.35
    assert not folded.recovered.zero


def test_only_the_side_in_conflict_gives_way():
    """What is read across cannot all be true; a sixteenth that was read down is not rounded away for that."""
    answer = answer_to("a across: 5/8 | 2 5/8 | 5/8 in; whole: 4 1/8 in\na down: 1 | 3 1/16 | 1 in; whole: 5 1/16 in")
    assert answer.nearest is not None
    assert answer.nearest.pieces[0].down == tuple(Length.of(Fraction(one), Unit.INCH) for one in ("1", "49/16", "1"))


def test_more_numbers_than_can_be_weighed_are_refused():
    lines = "\n".join("a across: " + " | ".join(["12 mm"] * 60) for _ in range(5))
    (finding,) = answer_to(f"{lines}\na down: 40 mm").findings
    assert finding.code == "too-many-readings"
    assert dict(finding.facts) == {"count": 301, "most": 300}
