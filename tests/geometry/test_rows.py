"""Rows of panels: exact sums, what is left for `rest`, and what is said when they do not add up."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.finding import Strength
from foldwright.geometry.lengths import Equal, LengthId, Sum
from foldwright.measure.length import Length, Unit
from geometry.laid import assert_relations_hold, codes, inch, laid, mm, size_of, the_blank, the_finding, written
from workbench.long import tries

BOX = """\
  base:
    from: card
    size: 5 x 4 1/4 in
    across: 3/4 left end | 3 1/2 floor | 3/4 right end
    down: 1 3/4 front | 3/4 floor | 1 3/4 back
    flaps: joined to front and back, trimmed 1/16 in
"""


def test_panels_and_scores_of_the_favour_box():
    flat = laid(BOX)
    assert flat.findings == ()
    assert size_of(flat, "base") == (inch(5), inch("4 1/4"))
    assert mm(flat, "base", "down", "score", 1) == inch("1 3/4")
    assert mm(flat, "base", "down", "score", 2) == inch("2 1/2")
    assert mm(flat, "base", "down", "score back", 1) == inch("2 1/2")
    assert mm(flat, "base", "across", "score back", 2) == inch("3/4")
    assert_relations_hold(flat)


def test_lengths_stand_in_order_of_mention():
    names = [name for name in laid(BOX).lengths.by_id if name.piece == "base" and "score" not in name.place]
    assert [(name.side, name.place, name.number) for name in names] == [
        ("across", "size", 0),
        ("down", "size", 0),
        ("across", "panel", 1),
        ("across", "panel", 2),
        ("across", "panel", 3),
        ("down", "panel", 1),
        ("down", "panel", 2),
        ("down", "panel", 3),
        ("flap", "trim", 0),
        ("flap", "length", 0),
    ]


def test_a_trade_fact_of_one_blank():
    """A 4 1/8 x 3 5/8 in blank, scored 5/8 in from each short end and 1 1/2 in from each long side, makes a box
    2 7/8 x 5/8 x 1 1/2 in (common practice, no source)."""
    flat = laid("""\
  box:
    from: card
    size: 4 1/8 x 3 5/8 in
    across: 5/8 | rest | 5/8
    down: 1 1/2 | rest | 1 1/2
    fold: tray
    flaps: joined to top and bottom
""")
    assert codes(flat.findings) == ["flap-as-long-as-end"]
    assert mm(flat, "box", "across", "panel", 2) == inch("2 7/8")
    assert mm(flat, "box", "down", "panel", 2) == inch("5/8")
    assert mm(flat, "box", "down", "panel", 1) == inch("1 1/2")
    assert mm(flat, "box", "across", "score", 1) == inch("5/8")
    assert mm(flat, "box", "down", "score back", 2) == inch("1 1/2")


def test_rest_takes_what_is_left_and_two_rests_share_it():
    flat = laid("  strip:\n    from: card\n    size: 10 x 2 in\n    across: rest | 3 | rest\n")
    assert mm(flat, "strip", "across", "panel", 1) == inch("3 1/2")
    assert mm(flat, "strip", "across", "panel", 3) == inch("3 1/2")
    assert_relations_hold(flat)


def test_six_equal_panels_stay_equal():
    flat = laid("  strip:\n    from: card\n    size: 9 x 2 in\n    across: 6 of 1 1/2\n")
    first = LengthId("strip", "across", "panel", 1)
    equals = {
        relation.other for relation in flat.lengths.relations if isinstance(relation, Equal) and relation.one == first
    }
    assert equals == {LengthId("strip", "across", "panel", number) for number in range(2, 7)}


def test_missing_millimetres_are_told_with_the_sum():
    flat = laid("  tray:\n    from: card\n    size: 100 x 50 mm\n    across: 20 | 60 | 18\n")
    facts = the_finding(flat, "panels-fall-short")
    assert facts["sum_text"] == "20 + 60 + 18"
    assert facts["sum"] == Length(Fraction(98), Unit.MILLIMETRE)
    assert facts["size"] == Length(Fraction(100), Unit.MILLIMETRE)
    assert facts["difference"] == Length(Fraction(2), Unit.MILLIMETRE)
    assert flat.findings[0].strength is Strength.MISFIT
    blank = the_blank(flat, "tray")
    assert blank.doubtful == {"across"}
    assert all(strip.doubtful for strip in blank.across)
    assert not any(isinstance(relation, Sum) and relation.total.place == "size" for relation in flat.lengths.relations)


def test_too_much_is_told_in_the_authors_fractions():
    flat = laid("  tray:\n    from: card\n    size: 5 x 4 in\n    across: 3/4 | 3 1/2 | 7/8\n")
    facts = the_finding(flat, "panels-run-over")
    assert facts["sum_text"] == "3/4 + 3 1/2 + 7/8"
    assert facts["difference"] == Length.of(Fraction(1, 8), Unit.INCH)


def test_a_swapped_size_that_fits_is_said_and_believed():
    flat = laid(BOX.replace("5 x 4 1/4 in", "4 1/4 x 5 in"))
    facts = the_finding(flat, "size-the-other-way-round")
    assert (facts["side"], facts["swapped"]) == ("across", "5 x 4 1/4 in")
    assert size_of(flat, "base") == (inch(5), inch("4 1/4"))
    assert the_blank(flat, "base").doubtful == frozenset()
    assert_relations_hold(flat)


def test_nothing_left_for_rest():
    flat = laid("  strip:\n    from: card\n    size: 3 x 2 in\n    across: 2 | rest | 1 1/2\n")
    assert the_finding(flat, "nothing-left-for-rest")["sum_text"] == "2 + 1 1/2"
    assert the_blank(flat, "strip").doubtful == {"across"}


def test_one_slip_hides_nothing_else():
    flat = laid(BOX.replace("3 1/2 floor", "3 1/4 floor") + "  label:\n    from: card\n    size: 2 x 3 in\n")
    assert codes(flat.findings) == ["panels-fall-short"]
    assert [blank.piece for blank in flat.blanks] == ["base", "label"]
    assert len(the_blank(flat, "base").flap_cuts) == 4
    assert_relations_hold(flat)


def test_a_piece_without_any_size_is_a_fault_and_the_others_go_on():
    flat = laid("  odd:\n    from: card\n  label:\n    from: card\n    size: 2 x 3 in\n")
    assert codes(flat.findings) == ["no-size"]
    assert [blank.piece for blank in flat.blanks] == ["label"]


def test_a_size_that_cannot_be_read_is_not_also_said_to_be_missing():
    unread = "  odd:\n    from: card\n    {}: 5 x 4 9/8 in\n"
    for word in ("size", "inside"):
        assert codes(laid(unread.format(word)).findings) == []
    assert codes(laid("  odd:\n    from: card\n    size: 5 x 4 9/8 in\n    across: 1 | 3 | 1\n").findings) == []


@settings(max_examples=tries(20, 60))
@given(st.lists(st.integers(1, 64), min_size=1, max_size=8), st.integers(1, 100))
def test_random_rows_add_up_exactly(sixteenths: list[int], down: int):
    lengths = [Length.of(Fraction(number, 16), Unit.INCH) for number in (sum(sixteenths), *sixteenths)]
    size, *row = map(written, lengths)
    flat = laid(f"  strip:\n    from: card\n    size: {size} x {down} in\n    across: {' | '.join(row)}\n")
    assert [code for code in codes(flat.findings) if code.startswith("panels")] == []
    assert the_blank(flat, "strip").across[-1].end == Fraction(sum(sixteenths), 16) * Unit.INCH.mm
    assert_relations_hold(flat)
