"""Notes of every kind are understood or complained of; nothing a person may type raises."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.begin.recover.notes.reading import read_sample
from foldwright.begin.recover.recovering import recover
from foldwright.document.catalogue import catalogue
from foldwright.measure.length import Unit
from workbench.long import tries

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
        # A ruler with marks every sixteenth is off by half of that at most; what may be off is said outright.
        ("a across: 1 | 2 in; read to 1/8 in", [Fraction(1, 16)] * 2),
        ("a across: 1 (to 1/8 in) | 2 in", [Fraction(1, 16), Fraction(1, 32)]),
        ("a across: 1 ± 1/8 in | 2 in", [Fraction(1, 8), Fraction(1, 32)]),
        ("a across: 1 (within 1/8 in) | 2 in", [Fraction(1, 8), Fraction(1, 32)]),
        ("a across: 1 | 2 in; give or take 1/16", [Fraction(1, 16)] * 2),
        ("a across: 1 | 2 in, may be off by 1/16 in", [Fraction(1, 16)] * 2),
        ("a across: 1 | 2 in to the nearest 1/8 in", [Fraction(1, 16)] * 2),
        ("read to: 1/32 in\na across: 1 | 2 in", [Fraction(1, 64)] * 2),
        ("ruler: eighths\na across: 1 | 2 in", [Fraction(1, 16)] * 2),
        ("within: 1/64 in or 1 mm\na across: 1 | 2 in", [Fraction(1, 64)] * 2),
        ("read to the nearest 1/8 in\na across: 1 | 2 in", [Fraction(1, 16)] * 2),
    ],
)
def test_how_well_it_could_be_read(line, bounds):
    read = read_sample(f"{line}\na down: 4 in", "notes")
    assert read.sample is not None, read.findings
    assert [one.bound.mm for one in read.sample.pieces[0].sides[0].readings] == [bound * INCH for bound in bounds]


ROWS = [
    ("4 of 66 mm", "66 66 66 66"),
    ("four of 66 mm", "66 66 66 66"),
    ("4 equal panels of 66 mm | 12 mm", "66 66 66 66 12"),
    ("4 of 66 | 12 mm glue flap", "66 66 66 66 12"),
    ("12 + 4 of 66 mm", "12 66 66 66 66"),
    ("20 - 60 - 20 mm", "20 60 20"),
    ("20-60-20 mm", "20 60 20"),
    ("20 – 60 – 20 mm", "20 60 20"),
    ("20–60–20 mm", "20 60 20"),
    ("20 — 60 — 20 mm", "20 60 20"),
    ("20 -- 60 -- 20 mm", "20 60 20"),
    ("20 mm - 60 mm", "20 60"),
    ("20 end - 60 floor - 20 end mm", "20 60 20"),
    ("20 mm left – 60 mm floor – 20 mm right", "20 60 20"),
    ("20\tmm  |  60\u00a0mm |\u200920 mm", "20 60 20"),
    ("20  \n  mm | 60\n    mm", "20 60"),
]
INCH_ROWS = [
    ("5/8 - 2 7/8 - 5/8", "5/8 23/8 5/8"),
    ("5/8 – 2 7/8 – 5/8 in", "5/8 23/8 5/8"),
    ("5/8–2 7/8–5/8", "5/8 23/8 5/8"),
    ("5/8-2-7/8-5/8", "5/8 23/8 5/8"),
    ("5/8-2⅞-5/8", "5/8 23/8 5/8"),
    ("5/8 | 2  7/8 | 5/8 in", "5/8 23/8 5/8"),
    ("1-1/2 - 3/4 - 1-1/2 in", "3/2 3/4 3/2"),
    ("1 - 3/4 - 1 in", "1 3/4 1"),
    ("3 of 5/8 in", "5/8 5/8 5/8"),
    ("2 of 1–1/2 | 3", "3/2 3/2 3"),
]


@pytest.mark.parametrize(("row", "panels"), [*ROWS, *INCH_ROWS])
def test_a_row_is_told_apart_into_its_panels(row, panels):
    unit = INCH if (row, panels) in INCH_ROWS else Fraction(1)
    read = read_sample(f"a across: {row}\na down: 4 in", "notes")
    assert read.sample is not None, read.findings
    lengths = [one.length.mm / unit for one in read.sample.pieces[0].sides[0].readings]
    assert lengths == [Fraction(panel) for panel in panels.split()]


@pytest.mark.parametrize(
    ("row", "code"),
    [
        ("1 - 1/2 in", "reading-dash-unclear"),
        ("3-4 in", "reading-dash-unclear"),
        ("4 x 66 mm", "reading-times-or-size"),
        ("4 × 66 mm | 20 mm", "reading-times-or-size"),
        ("66 mm x 4", "reading-times-or-size"),
        ("5/8 flap 2 7/8 floor 5/8", "reading-named-oddly"),
        ("5/8 of 2 7/8", "odd-number-of-panels"),
        ("0 of 66 mm", "odd-number-of-panels"),
        ("900 of 66 mm", "odd-number-of-panels"),
        ("66 mm to floor", "reading-named-oddly"),
        ("66 mm x", "reading-named-oddly"),
        ("66 mm of", "reading-named-oddly"),
        ("66 mm - floor", "reading-named-oddly"),
        ("5/8 → 2 7/8 → 3 1/2", "reading-arrows-unclear"),
        ("5/8 -> 2 7/8 => 3 1/2", "reading-arrows-unclear"),
        ("5/8 --> 3 1/2 in", "reading-arrows-unclear"),
    ],
)
def test_what_may_mean_two_things_is_asked_about(row, code):
    read = read_sample(f"a across: {row}\na down: 4 in", "notes")
    assert read.sample is None
    assert [finding.code for finding in read.findings] == [code]


def test_arrows_are_plain_where_it_is_said_how_it_was_measured():
    assert spans("a across, from the left: 1 → 3 → 4 in") == [(0, 1), (0, 2), (0, 3)]
    assert spans("a across, panel by panel: 1 -> 2 -> 1 in") == [(0, 1), (1, 2), (2, 3)]


def test_panels_may_be_numbered_in_words():
    read = read_sample("a across: 1 strip 1 | 1 strip 2 | 2 in left (short) end\na down: 4 in", "notes")
    assert read.sample is not None, read.findings
    assert read.sample.pieces[0].sides[0].names == ("strip 1", "strip 2", "left (short) end")


def test_a_piece_may_have_its_lines_beneath_it():
    read = read_sample("lid:\n  across: 1 | 2 | 1 in\n  down, from the top: 1, 3, 4 in\n  fold: lid\n", "notes")
    assert read.sample is not None, read.findings
    (piece,) = read.sample.pieces
    assert (piece.name, piece.facts) == ("lid", (("fold", "lid"),))
    assert [side.count for side in piece.sides] == [3, 3]


WORDS = (
    '1 5/8 2 7/8 44 62,5 62,22,62 20/60/20 ⅝ 1-1/2 .5 5/8/2 mm in cm " in. | , ; : + - → / ( ) = ? _ . x of 4 four '
    "three "
    "half inch inches an the base lid floor left wide high length across down from right top each every edge end both "
    "sides scores fold at whole overall and then about over scant or between to read within ± again square size panel "
    "panels is it running 0 #1 twice all round strip".split()
)
NOTES = st.lists(
    st.one_of(
        st.text(max_size=40),
        st.builds(
            "{} {}{}: {}".format,
            st.sampled_from(["base", "lid", "", "the box"]),
            st.sampled_from(["across", "down", "size", "fold", "flaps", "across, floor"]),
            st.sampled_from(["", ", from the left", ", from the top", ", whole", ", panel 2", ", from"]),
            st.lists(
                st.sampled_from(
                    "1 5/8 3,1/2 4.5 44 mm in | , ; whole: x floor ± (1/32 and to of - – -> → 0 -1 1/0".split()
                ),
                max_size=9,
            ).map(" ".join),
        ),
        st.lists(st.sampled_from(WORDS), min_size=1, max_size=14).map(" ".join),
        st.lists(st.sampled_from(WORDS), min_size=1, max_size=9).map(lambda words: "base across: " + " ".join(words)),
    ),
    max_size=7,
).map("\n".join)


@settings(max_examples=tries(133, 400))
@given(NOTES)
def test_whatever_is_noted_gets_an_answer_or_a_message_with_a_place(text):
    read = read_sample(text, "notes")
    found = read.findings
    if read.sample is not None:
        found += recover(read.sample).findings
        for note in read.sample.assumed:
            assert catalogue().say(f"command.recover.assumed.{note.code}", **dict(note.facts))
    else:
        assert found
    for finding in found:
        for part in ("says", "remedy"):
            assert catalogue().say(f"{finding.code}.{part}", **dict(finding.facts))
        assert finding.place is not None
        assert 0 <= finding.place.start <= finding.place.end <= len(text)
