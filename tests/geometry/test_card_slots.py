"""Slots that hold a card: where they lie beside the card, reckoned anew from the card's own four corners."""

from __future__ import annotations

from fractions import Fraction
from math import dist, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.folding.subdividing import net_of
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.geometry.together.contents import pack_contents
from foldwright.geometry.understood import work_on
from foldwright.recipe.reading import read_recipe
from geometry.laid import the_blank
from workbench.long import tries

SOME = settings(max_examples=tries(25, 150))
HEAD = """\
---
title: A holder
makes: 1 holder
measured in: millimetres
supplies:
  card: cardstock, thickness 0.3 mm, sheet A4
  gift card: gift card, use 1, size 85.6 x 53.98 x 0.76 mm
  nothing: charm, use 1
pieces:
  print:
    from: card
    size: 60 x 40 mm
  holder:
    from: card
{facts}
---

Words.
"""
ID_1 = (Fraction("85.6"), Fraction("53.98"))
"""ISO/IEC 7810: a bank card, in millimetres."""


def lay(facts: str) -> Flat:
    lines = "\n".join("    " + line for line in facts.splitlines())
    recipe = read_recipe(HEAD.format(facts=lines), "recipe.md", "test", None).recipe
    assert recipe is not None
    flat = lay_flat(recipe)
    contents = pack_contents(recipe, {blank.piece: blank for blank in flat.blanks}, flat.cards)
    return structs.replace(flat, findings=(*flat.findings, *contents.findings))


def cuts_of(blank: Blank) -> list[list[tuple[float, float]]]:
    return [[(float(x), float(y)) for x, y in line.points] for line in blank.drawn]


def one_panel(blank: Blank) -> bool:
    """Nothing falls out: however it is cut, the blank stays in one."""
    net = net_of(blank, {})
    return len(net.panels) == 1 and not net.loose


@SOME
@given(st.integers(40, 160), st.integers(40, 160))
def test_a_corner_goes_through_its_slit(wide: int, high: int) -> None:
    """Every slit crosses both edges of the card at its own corner, and comes 2 mm out beside each of them."""
    blank = the_blank(lay(f"size: 200 x 190 mm\nholes: corner slots for {wide} x {high} mm, centred"), "holder")
    left, top = (200 - wide) / 2, (190 - high) / 2
    corners = [(left, top), (left + wide, top), (left + wide, top + high), (left, top + high)]
    off = min(15, min(wide, high) / 3)
    for (start, end), corner in zip(cuts_of(blank), corners, strict=True):
        # The line cuts a triangle with two equal sides off the corner, whose height is a side over root 2.
        (x1, y1), (x2, y2) = start, end
        area = abs((x2 - x1) * (corner[1] - y1) - (y2 - y1) * (corner[0] - x1))
        assert area / dist(start, end) == pytest.approx(off / sqrt(2), abs=1e-6)
        assert dist(start, end) == pytest.approx((off + 4) * sqrt(2), abs=1e-6)
        assert dist(start, corner) == pytest.approx(dist(end, corner), abs=1e-6)
    assert one_panel(blank)


@SOME
@given(st.integers(40, 160), st.integers(40, 160))
def test_a_tab_lies_over_the_edge_of_the_card_and_stays_joined(wide: int, high: int) -> None:
    """The straight side, which is not cut, lies outside the card; the round one comes in over it."""
    blank = the_blank(lay(f"size: 200 x 190 mm\nholes: half-moon slots for {wide} x {high} mm, centred"), "holder")
    box = ((200 - wide) / 2, (200 + wide) / 2), ((190 - high) / 2, (190 + high) / 2)
    axis = 1 if wide >= high else 0
    low, top = box[axis]
    cuts = cuts_of(blank)
    assert len(cuts) == 4
    for number, (start, middle, end) in enumerate(cuts):
        clear = low - start[axis] if number < 2 else start[axis] - top
        assert clear == pytest.approx(1) and start[axis] == end[axis]
        assert low < middle[axis] < top
        ends = sorted((start[1 - axis], end[1 - axis]))
        assert box[1 - axis][0] < ends[0] < ends[1] < box[1 - axis][1]
        assert abs(middle[axis] - start[axis]) == pytest.approx(dist(start, end) / 2)
    assert one_panel(blank)


@pytest.mark.parametrize(
    "said",
    ["corner slots for gift card", "Photo corners for the gift card", "corner slits for 85.6 x 53.98 mm card"],
)
def test_slots_are_for_a_card_by_its_name_or_size(said: str) -> None:
    flat = lay(f"size: 110 x 150 mm\ndown: 75 back | 75 front\nfold: card\nholes: {said}, centred on front")
    assert flat.findings == ()
    (slots,) = the_blank(flat, "holder").slots
    assert (slots.wide, slots.high) == ID_1
    assert (slots.left + slots.wide / 2, slots.top + slots.high / 2) == (55, Fraction(225, 2))
    assert slots.shape == "corner slots" and len(slots.lines) == 4
    facts = [fact.code for fact in work_on(the_blank(flat, "holder"), flat)]
    assert facts.count("slit") == 4 and "drawn" not in facts and "to-outline" not in facts


def test_slots_may_be_for_another_piece_and_stand_beside_a_hole() -> None:
    flat = lay("size: 110 x 90 mm\nholes: round 5 mm, centred, middle 8 mm from the top; half moons for print, centred")
    assert flat.findings == ()
    blank = the_blank(flat, "holder")
    assert [one.shape for one in blank.openings] == ["round"]
    assert [(one.wide, one.high, one.name) for one in blank.slots] == [(60, 40, "print")]


@pytest.mark.parametrize(
    ("facts", "code"),
    [
        ("size: 110 x 90 mm\nholes: corner slots for ticket, centred", "slots-for-what"),
        ("size: 110 x 90 mm\nholes: corner slots for nothing, centred", "slots-for-what"),
        ("size: 80 x 90 mm\nholes: corner slots for gift card, centred", "slots-off-the-panel"),
        ("size: 110 x 90 mm\ndown: 45 | 45\nfold: card\nholes: corner slots for gift card", "slots-off-the-panel"),
        ("size: 110 x 90 mm\nholes: corner slots for 60 x 40 mm, centred\nholds: gift card", "slots-for-another"),
        ("size: 110 x 90 mm\nholes: corner slots for 54 x 88 mm, centred", "slots-off-the-panel"),
        ("size: 110 x 110 mm\nholes: corner slots for 54 x 85 mm, centred\nholds: gift card", ""),
        ("size: 110 x 90 mm\nholes: half-moon slots for gift card, centred\nholds: gift card", ""),
    ],
)
def test_slots_that_hold_nothing_are_told(facts: str, code: str) -> None:
    assert {one.code for one in lay(facts).findings} - {"hole-without-place"} == ({code} if code else set())


def test_slots_printed_in_inches_still_let_the_card_in() -> None:
    """Places that are rounded to a step leave the tabs outside the card: they stand off by more than half a step."""
    from foldwright.figures.closing import close
    from foldwright.measure.length import System

    flat = lay("size: 110 x 150 mm\nholes: half-moon slots for gift card, centred")
    for system in System:
        printed = close(flat.lengths, system).printed
        ys = sorted({one.mm for own, one in printed.items() if own.side == "line" and own.place == "down"})
        assert ys[-1] - ys[0] >= ID_1[1]


def test_of_a_card_the_corners_and_what_lies_under_a_half_moon_are_not_seen() -> None:
    """Reckoned by hand: four corner triangles with legs of 10 mm are 200 mm2; a half-moon of radius 5 whose
    straight side lies half a millimetre outside hides a segment of its disc; a slit beside the card hides nothing."""
    from math import acos, cos, pi, sin

    from shapely.geometry import Polygon

    from foldwright.geometry.pictures.tucking import seen_of

    card = ((0.0, 0.0), (80.0, 0.0), (80.0, 50.0), (0.0, 50.0))
    slits = [((-2.0, 12.0), (12.0, -2.0)), ((68.0, -2.0), (82.0, 12.0))]
    slits += [((68.0, 52.0), (82.0, 38.0)), ((-2.0, 38.0), (12.0, 52.0))]
    (outline,) = seen_of(card, slits)
    assert Polygon(outline).area == pytest.approx(80 * 50 - 200)
    moon = tuple((40 + 5 * cos(pi * step / 200), 5 * sin(pi * step / 200) - 0.5) for step in range(201))
    (outline,) = seen_of(card, [moon])
    segment = 25 * acos(0.5 / 5) - 0.5 * sqrt(25 - 0.25)
    assert 80 * 50 - Polygon(outline).area == pytest.approx(segment, rel=1e-3)
    inside = tuple((x, y + 20) for x, y in moon)
    outline, gap = seen_of(card, [inside])
    assert len(outline) == 4 and Polygon(gap).area == pytest.approx(pi * 25 / 2, rel=1e-3)
    assert Polygon(seen_of(card, [((-5.0, 10.0), (-5.0, 30.0))])[0]).area == pytest.approx(80 * 50)
