"""Blanks worked out from the room inside, with the card's thickness."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.finding import Place, Strength
from foldwright.geometry.flat.inside import rooms, sleeve_rows, tray_rows
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import Length, Unit
from geometry.laid import STUDIO, assert_relations_hold, codes, inch, laid, mm, size_of, the_blank, the_finding
from workbench.long import tries

NOWHERE = Place("recipe.md", 0, 0)
TRAY = "  tray:\n    from: {card}\n    inside: 60 x 90 x 20 mm\n    fold: tray\n    {corners}\n"


@pytest.mark.parametrize(
    ("across", "down", "deep", "blank"),
    [
        # A tray L x W x H from one sheet is cut (L + 2H) x (W + 2H). 2 x 2 x 1 ft from 12 sq ft: OpenStax Calculus 3,
        # section 4.8; square corners of 2 in from 12 x 12 in: standard textbook problem.
        (8, 8, 2, (12, 12)),
        (2, 2, 1, (4, 4)),
        (20, 14, 5, (30, 24)),
    ],
)
def test_textbook_trays_without_thickness(across: int, down: int, deep: int, blank: tuple[int, int]):
    inside = [Length.of(number, Unit.INCH) for number in (across, down, deep)]
    rows = tray_rows(inside, Length.of(0, Unit.INCH), "down", NOWHERE)
    sizes = [sum((panel.length.value for panel in row.panels), Fraction(0)) for row in rows]
    assert tuple(sizes) == blank


def test_the_sum_behind_a_tray_without_flaps():
    flat = laid(TRAY.format(card="thick card", corners="corners: cut away"))
    # Floor: the inside and half a thickness at either fold; wall: the depth and half the floor's thickness.
    assert mm(flat, "tray", "across", "panel", 2) == Fraction("60.5")
    assert mm(flat, "tray", "across", "panel", 1) == Fraction("20.25")
    assert size_of(flat, "tray") == (Fraction("101"), Fraction("131"))
    shown = {f"{one.length.side} {one.length.place} {one.length.number}": one for one in flat.workings}
    assert [(term.code, term.mm) for term in shown["across panel 2"].terms] == [
        ("inside", 60),
        ("folds", Fraction(1, 2)),
    ]
    assert all(sum(term.mm for term in working.terms) == working.total.mm for working in flat.workings)
    assert_relations_hold(flat)


def test_flap_layers_are_counted_where_the_flaps_lie():
    flat = laid(TRAY.format(card="thick card", corners="flaps: joined to front and back"))
    # 20 mm flaps reach not to the middle of a 90 mm end: one layer at each end, across only.
    assert mm(flat, "tray", "across", "panel", 2) == Fraction("61.5")
    assert mm(flat, "tray", "down", "panel", 2) == Fraction("90.5")


def test_who_says_how_thick_the_card_is():
    corners = "corners: cut away"
    studio = laid(TRAY.format(card="unknown card", corners=corners), STUDIO)
    assert mm(studio, "tray", "across", "panel", 2) == Fraction("60.32")
    guessed = laid(TRAY.format(card="card", corners=corners))
    # 100 lb cover is 270.4 g/m2 (printed guides: 270); with a bulk of 1.3 cm3/g about 0.35 mm.
    assert mm(guessed, "tray", "across", "panel", 2) == Fraction("60.35")
    assert [(finding.code, finding.strength) for finding in guessed.findings] == [
        ("thickness-estimated", Strength.THOUGHT)
    ]
    unknown = laid(TRAY.format(card="unknown card", corners=corners))
    assert codes(unknown.findings) == ["how-thick"]
    assert mm(unknown, "tray", "across", "panel", 2) == 60


def test_what_was_worked_out_may_be_rounded_and_what_was_written_may_not():
    flat = laid(
        TRAY.format(card="thick card", corners="corners: cut away") + "  label:\n    from: card\n    size: 2 x 3 in\n"
    )
    assert LengthId("tray", "across", "size") in flat.lengths.worked_out
    assert {name.piece for name in flat.lengths.worked_out} == {"tray"}


def test_a_lid_measured_from_the_outside_of_its_base():
    flat = laid(
        """\
  base:
    from: thick card
    size: 5 1/2 x 5 1/2 in
    across: 1 1/4 | 3 | 1 1/4
    down: 1 1/4 | 3 | 1 1/4
    fold: tray
    corners: cut away
  lid:
    from: thick card
    inside: 1/16 in bigger on every side than base outside, 3/4 in deep
    fold: lid
    corners: cut away
    fits over: base
"""
    )
    half = Fraction("0.5")
    # Base outside 3 in and a thickness; 1/16 in more on every side is 1/8 in all; the lid's own folds take a thickness.
    assert mm(flat, "lid", "across", "panel", 2) == inch(3) + half + inch("1/8") + half
    gap = flat.gaps[0]
    assert gap.with_card is not None
    assert gap.with_card.mm == inch("1/8")
    assert_relations_hold(flat)


lengths = st.integers(10, 400).map(lambda halves: Length(Fraction(halves, 2), Unit.MILLIMETRE))
thicknesses = st.integers(0, 60).map(lambda hundredths: Length(Fraction(hundredths, 100), Unit.MILLIMETRE))


@settings(max_examples=tries(20, 60))
@given(
    lengths, lengths, lengths, thicknesses, st.sampled_from(("corners: cut away", "flaps: joined to front and back"))
)
def test_the_room_asked_for_is_the_room_there_is(
    across: Length, down: Length, deep: Length, thickness: Length, corners: str
):
    wanted = [across.mm, down.mm, deep.mm]
    text = " x ".join(str(float(length)) for length in wanted)
    card = f"thickness: {float(thickness.mm) or 0.01} mm"
    flat = laid(f"  tray:\n    from: card\n    inside: {text} mm\n    fold: tray\n    {corners}\n    {card}\n")
    thick = thickness.mm or Fraction(1, 100)
    found = {room.side: room for room in rooms(the_blank(flat, "tray"), thick)}
    assert [found["across"].inside, found["down"].inside, found["deep"].inside] == wanted
    assert all(room.outside > room.inside for room in found.values())
    assert_relations_hold(flat)


def test_a_sleeve_from_its_inside():
    inside = [Length.of(number, Unit.MILLIMETRE) for number in (60, 20, 90)]
    row = sleeve_rows(inside, Length(Fraction("0.5"), Unit.MILLIMETRE), None, NOWHERE)
    assert [panel.length.mm for panel in row.panels if panel.length] == [
        Fraction("60.5"),
        Fraction("21"),
        Fraction("60.5"),
        Fraction("21"),
        12,
    ]
    flat = laid("  sleeve:\n    from: thick card\n    inside: 60 x 20 x 90 mm\n    fold: sleeve\n")
    assert size_of(flat, "sleeve")[1] == 90
    room = {one.side: one.inside for one in rooms(the_blank(flat, "sleeve"), Fraction("0.5"))}
    assert room == {"wide": 60, "high": 20}


def test_an_inside_that_cannot_be_worked_out_is_told():
    facts = the_finding(
        laid("  box:\n    from: card\n    inside: 2 x 3 x 1 in\n    fold: accordion\n"), "inside-of-what-form"
    )
    assert facts["form"] == "accordion"
    assert "inside-wants-three" in codes(
        laid("  box:\n    from: card\n    inside: 2 x 3 in\n    fold: tray\n").findings
    )


@pytest.mark.parametrize(
    ("card", "more", "studio", "source"),
    [
        ("thick card", "    thickness: 0.4 mm\n", STUDIO, "piece"),
        ("thick card", "", STUDIO, "supply"),
        ("card", "", STUDIO, "studio"),
        ("card", "", "", "weight"),
    ],
)
def test_the_word_on_a_card_has_an_author(card: str, more: str, studio: str, source: str):
    flat = laid(f"  label:\n    from: {card}\n    size: 2 x 3 in\n{more}", studio)
    thickness = flat.cards["label"]
    assert thickness is not None
    assert (thickness.source, thickness.estimated) == (source, source == "weight")


def test_nobody_says_how_thick_the_card_is():
    assert laid("  label:\n    from: unknown card\n    size: 2 x 3 in\n").cards == {"label": None}
