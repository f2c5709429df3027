"""Mats on faces, lids over trays, drawers in sleeves, cards in envelopes."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.finding import Strength
from foldwright.geometry.lengths import Clearance, Equal, LengthId, Sum, Within
from foldwright.geometry.together.lying import read_lying
from geometry.laid import STUDIO, assert_relations_hold, codes, inch, laid, mm, size_of, the_finding

CARD = """\
  base:
    from: card
    size: 8 1/2 x 5 1/2 in
    across: 4 1/4 back | 4 1/4 front
    fold: card
    slides in: envelope
  outer mat:
    from: card
    size: 1/8 in smaller on every side than base front
    goes on: outside of base front, centred
  inner mat:
    from: card
    size: 1/8 in smaller on every side than outer mat
    goes on: outside of outer mat, centred
"""


def test_mats_leave_an_even_border_of_what_they_lie_on():
    flat = laid(CARD)
    assert flat.findings == ()
    assert size_of(flat, "outer mat") == (inch(4), inch("5 1/4"))
    assert size_of(flat, "inner mat") == (inch("3 3/4"), inch(5))
    across, down = (LengthId("outer mat", "border", side, of="base") for side in ("across", "down"))
    assert flat.lengths.by_id[across].mm == inch("1/8")
    relations = flat.lengths.relations
    assert Equal(across, down) in relations
    mat = LengthId("outer mat", "across", "size")
    assert Sum(LengthId("base", "across", "panel", 2), (across, mat, across), held=True) in relations
    assert_relations_hold(flat)


def test_a_folded_a2_card_goes_into_its_envelope():
    """The A2 envelope, 4 3/8 x 5 3/4 in, takes a folded card of 4 1/4 x 5 1/2 in (US announcement sizes, trade)."""
    flat = laid(CARD)
    clearances = [relation for relation in flat.lengths.relations if isinstance(relation, Clearance)]
    assert clearances == [
        Clearance(LengthId("envelope", "across", "size"), LengthId("base", "down", "size")),
        Clearance(LengthId("envelope", "down", "size"), LengthId("base", "across", "panel", 1)),
    ]
    assert [gap.between_scores.value for gap in flat.gaps] == [Fraction(1, 4), Fraction(1, 8)]


def test_a_cover_larger_than_its_page_overhangs_evenly():
    flat = laid(
        "  strip:\n    from: card\n    size: 264 x 90 mm\n    across: 4 of 66\n    fold: accordion\n"
        "  cover:\n    from: card\n    size: 70 x 94 mm\n    goes on: outside of strip panels 1 and 4, centred\n"
    )
    assert flat.findings == ()
    assert mm(flat, "cover", "overhang", "across", of="strip") == 2
    assert_relations_hold(flat)


def test_a_relative_size_of_an_unknown_piece_names_the_nearest():
    flat = laid(CARD.replace("than base front", "than bsae front"))
    facts = the_finding(flat, "measured-from-what")
    assert (facts["piece"], facts["other"], facts["nearest"]) == ("outer mat", "bsae front", "base")
    assert "inner mat" not in [blank.piece for blank in flat.blanks]


def test_sizes_measured_in_a_circle_are_told_once_each():
    flat = laid(
        "  one:\n    from: card\n    size: 1/8 in smaller on every side than two\n"
        "  two:\n    from: card\n    size: 1/8 in smaller on every side than one\n"
    )
    assert codes(flat.findings) == ["measured-in-a-circle"]


def test_a_panel_nobody_has_is_told_with_the_nearest():
    flat = laid(CARD.replace("goes on: outside of base front", "goes on: outside of base frnt"))
    assert the_finding(flat, "no-such-panel")["nearest"] == "front"


@pytest.mark.parametrize(
    ("remark", "edges"),
    [
        ("centred", ()),
        ("lined up at the bottom", (("bottom", None),)),
        ("flush with the top edge", (("top", None),)),
        ("lined up 1/8 in from the bottom", (("bottom", inch("1/8")),)),
        ("5 mm from the left, 1/4 in from the top", (("left", Fraction(5)), ("top", inch("1/4")))),
    ],
)
def test_how_a_piece_lies(remark: str, edges: tuple[tuple[str, Fraction | None], ...]):
    found = read_lying(remark)
    assert tuple((edge, length.mm if length else None) for edge, length in found.edges) == edges


BOXES = """\
  base:
    from: card
    size: 5 1/2 x 5 1/2 in
    across: 1 1/4 | 3 | 1 1/4
    down: 1 1/4 | 3 | 1 1/4
    fold: tray
    flaps: joined to top and bottom
  lid:
    from: card
    size: {whole} x {whole} in
    across: 3/4 | {floor} floor | 3/4
    down: 3/4 | {floor} | 3/4
    fold: lid
    flaps: joined to top and bottom
    fits over: base
"""


def test_the_gap_of_a_lid_with_every_layer_counted():
    flat = laid(BOXES.format(whole="4 5/8", floor="3 1/8"), STUDIO)
    assert flat.findings == ()
    across, down = flat.gaps
    card = Fraction("0.32")
    # Lid inside: a thickness less, and a flap at either end (across only); base outside: a thickness more, for its own
    # flaps lie inside it.
    assert across.with_card is not None
    assert down.with_card is not None
    assert across.with_card.mm == inch("1/8") - 4 * card
    assert down.with_card.mm == inch("1/8") - 2 * card
    assert across.between_scores.mm == inch("1/8")


def test_a_gap_of_nothing_is_a_misfit_and_less_is_said_how_much():
    nothing = laid(BOXES.format(whole="4 1/2", floor="3"), STUDIO)
    assert [(finding.code, finding.strength) for finding in nothing.findings] == [("no-gap", Strength.MISFIT)] * 2
    assert not any(isinstance(relation, Clearance) for relation in nothing.lengths.relations)
    less = laid(BOXES.format(whole="4 7/16", floor="2 15/16"), STUDIO)
    assert dict(less.findings[0].facts)["short"].mm == inch("1/16")  # type: ignore[attr-defined]


def test_a_gap_the_card_fills_is_a_misfit_only_when_the_thickness_is_known():
    known = laid(BOXES.format(whole="4 33/64", floor="3 1/64"), STUDIO)
    assert {(finding.code, finding.strength) for finding in known.findings} == {
        ("gap-less-than-the-card", Strength.MISFIT)
    }
    guessed = laid(BOXES.format(whole="4 33/64", floor="3 1/64"))
    assert {(finding.code, finding.strength) for finding in guessed.findings} == {
        ("gap-less-than-the-card", Strength.THOUGHT)
    }


DRAWER = """\
  drawer:
    from: card
    size: 100 x 130 mm
    across: 20 left wall | 60 floor | 20 right wall
    down: 20 back | 90 floor | 20 front
    flaps: joined to left wall and right wall
    fold: tray
    slides in: sleeve
  sleeve:
    from: card
    size: 180 x 90 mm
    across: 62 top | 22 left side | 62 bottom | 22 right side | 12 glue flap
    fold: sleeve
"""


def test_a_drawer_goes_into_its_sleeve_in_width_and_height():
    flat = laid(DRAWER, STUDIO)
    assert flat.findings == ()
    assert [relation for relation in flat.lengths.relations if isinstance(relation, Clearance)] == [
        Clearance(LengthId("sleeve", "across", "panel", 1), LengthId("drawer", "across", "panel", 2)),
        Clearance(LengthId("sleeve", "across", "panel", 2), LengthId("drawer", "across", "panel", 1)),
    ]
    assert_relations_hold(flat)


@pytest.mark.parametrize("said", [("", "    slides in: drawer\n"), ("    slides in: sleeve\n", "")])
def test_a_sleeve_takes_the_drawer_on_whichever_it_is_said(said):
    text = DRAWER.replace("    slides in: sleeve\n", said[0]) + said[1]
    flat = laid(text, STUDIO)
    assert flat.findings == ()
    assert [(gap.outer.piece, gap.inner.piece) for gap in flat.gaps] == [("sleeve", "drawer")] * 2


@pytest.mark.parametrize("piece", ["base", "lid"])
def test_a_lid_goes_over_its_base_on_whichever_it_is_said(piece):
    text = BOXES.format(whole="4 5/8", floor="3 1/8").replace("    fits over: base\n", "")
    other = {"base": "lid", "lid": "base"}[piece]
    flat = laid(text.replace(f"  {piece}:\n", f"  {piece}:\n    fits over: {other}\n"), STUDIO)
    assert flat.findings == ()
    assert [(gap.outer.piece, gap.inner.piece) for gap in flat.gaps] == [("lid", "base")] * 2


def test_a_piece_stays_within_its_sheet_in_the_orientation_that_works():
    flat = laid("  long:\n    from: card\n    size: 10 1/2 x 3 in\n")
    limits = [relation for relation in flat.lengths.relations if isinstance(relation, Within)]
    across, down = (LengthId("long", side, "size") for side in ("across", "down"))
    assert limits == [
        Within(across, inch(11)),
        Within(down, inch("8 1/2")),
        Within(across, Fraction(297)),
        Within(down, Fraction(210)),
    ]


@pytest.mark.parametrize(("lying", "layers"), [("", 0), (", glued outside", 2), (", tucked inside", 0)])
def test_corner_flaps_are_counted_once_on_the_side_where_they_lie(lying: str, layers: int) -> None:
    """Of the base: outside they are in the lid's way, inside they are not. Its own flaps always lie inside the lid."""
    boxes = BOXES.format(whole="4 5/8", floor="3 1/8")
    across, down = laid(boxes.replace("top and bottom", f"top and bottom{lying}", 1), STUDIO).gaps
    card = Fraction("0.32")
    assert across.with_card is not None
    assert across.with_card.mm == inch("1/8") - (4 + layers) * card
    assert down.with_card is not None
    assert down.with_card.mm == inch("1/8") - 2 * card
