"""Notes of every kind are understood or complained of; nothing a person may type raises."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.measure.length import Unit
from foldwright.recover.reading import read_sample
from foldwright.recover.recovering import recover
from foldwright.sheet.catalogue import catalogue

INCH = Unit.INCH.mm


def spans(line: str, side: int = 0) -> list[tuple[int, int]]:
    read = read_sample(f"{line}\na down: 4 in", "notes")
    assert read.sample is not None, read.findings
    return [(one.start, one.end) for one in read.sample.pieces[0].sides[side].readings]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("a across: 1 | 2 | 1 in", [(0, 1), (1, 2), (2, 3)]),
        ("a across: 1, 2, 1 in", [(0, 1), (1, 2), (2, 3)]),
        ("a across, panel by panel: 1, 2 and 1 in", [(0, 1), (1, 2), (2, 3)]),
        ("a across, from the left: 1, 3, 4 in; whole: 4 in", [(0, 1), (0, 2), (0, 3), (0, 3)]),
        ("a across, from the left: 1, 3 in; whole: 4 in", [(0, 1), (0, 2), (0, 3)]),
        ("a across from the right edge: 1, 3, 4 in", [(2, 3), (1, 3), (0, 3)]),
        ("a across: 4 in", [(0, 1)]),
        ("a across: 1 | 2 | 1 in\na across, whole: 4 in", [(0, 1), (1, 2), (2, 3), (0, 3)]),
        ("a across: 1 left | 2 floor | 1 right in\na across, floor: 2 in", [(0, 1), (1, 2), (2, 3), (1, 2)]),
        ("a across, again: 1 | 2 in\na across: 1 | 2 in", [(0, 1), (1, 2), (0, 1), (1, 2)]),
        ("a size: 4 x 4 in", [(0, 1)]),
        ("a across: 1 + 2 + 1 = 4 in", [(0, 1), (1, 2), (2, 3), (0, 3)]),
        ("a across: 1, 2, 1, whole 4 in", [(0, 1), (1, 2), (2, 3), (0, 3)]),
        ("a across: 1, 2, 1 in, read to 1/16 in", [(0, 1), (1, 2), (2, 3)]),
        ("a, across, from the left: 1, 3, 4 in", [(0, 1), (0, 2), (0, 3)]),
        ("a across from left: 1, 3, 4 in", [(0, 1), (0, 2), (0, 3)]),
        ("a across: 1 left | 2 floor | 1 right in\na floor across: 2 in", [(0, 1), (1, 2), (2, 3), (1, 2)]),
        ("a across: 1 | 2 | 1 in\na across whole: 4 in", [(0, 1), (1, 2), (2, 3), (0, 3)]),
    ],
)
def test_between_which_lines_each_number_lies(line, expected):
    assert spans(line) == expected


@pytest.mark.parametrize(
    ("line", "bounds"),
    [
        ("a across: 1 | 2 in", [Fraction(1, 32)] * 2),
        ("a across: 1 | 2 in; read to 1/16 in", [Fraction(1, 16)] * 2),
        ("a across: 1 (to 1/16 in) | 2 in", [Fraction(1, 16), Fraction(1, 32)]),
        ("a across: 1 ± 1/8 in | 2 in", [Fraction(1, 8), Fraction(1, 32)]),
        ("read to: 1/64 in\na across: 1 | 2 in", [Fraction(1, 64)] * 2),
    ],
)
def test_how_well_it_could_be_read(line, bounds):
    read = read_sample(f"{line}\na down: 4 in", "notes")
    assert read.sample is not None, read.findings
    assert [one.bound.mm for one in read.sample.pieces[0].sides[0].readings] == [bound * INCH for bound in bounds]


def test_a_piece_may_have_its_lines_beneath_it():
    read = read_sample("lid:\n  across: 1 | 2 | 1 in\n  down, from the top: 1, 3, 4 in\n  fold: lid\n", "notes")
    assert read.sample is not None, read.findings
    (piece,) = read.sample.pieces
    assert (piece.name, piece.facts) == ("lid", (("fold", "lid"),))
    assert [side.count for side in piece.sides] == [3, 3]


NOTES = st.lists(
    st.one_of(
        st.text(max_size=40),
        st.builds(
            "{} {}{}: {}".format,
            st.sampled_from(["base", "lid", "", "the box"]),
            st.sampled_from(["across", "down", "size", "fold", "flaps", "across, floor"]),
            st.sampled_from(["", ", from the left", ", from the top", ", whole", ", panel 2", ", from"]),
            st.lists(
                st.sampled_from("1 5/8 3,1/2 4.5 44 mm in | , ; whole: x floor ± (1/32 and to 0 -1 1/0".split()),
                max_size=9,
            ).map(" ".join),
        ),
    ),
    max_size=7,
).map("\n".join)


@settings(max_examples=400, deadline=None)
@given(NOTES)
def test_whatever_is_noted_gets_an_answer_or_a_message_with_a_place(text):
    read = read_sample(text, "notes")
    found = read.findings
    if read.sample is not None:
        found += recover(read.sample).findings
    else:
        assert found
    for finding in found:
        assert catalogue().say(f"{finding.code}.says", **dict(finding.facts))
        assert finding.place is not None
        assert 0 <= finding.place.start <= finding.place.end <= len(text)
