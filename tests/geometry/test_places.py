"""Places with names, and lines and holes that are repeated: where they are, and what is said when they cannot be."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from shapely.geometry import Point as Place
from shapely.geometry import Polygon

from foldwright.document.catalogue import catalogue
from foldwright.figures.as_printed import as_printed
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.plan import flat_scene
from foldwright.pipeline import check_recipe
from geometry.laid import assert_relations_hold, codes, laid, the_finding

HOUSE = "  tag:\n    from: card\n    size: 60 x 80 mm\n    outline: house\n"
CARD = "  card:\n    from: card\n    size: 100 x 80 mm\n    across: 30 back | 40 front | 30 side\n"
# A house fills its box: eaves at three quarters of half the smaller side, the ridge in the middle of the top.
EAVES = Fraction(45, 2)


def ends(facts: str) -> list[tuple[tuple[Fraction, ...], ...]]:
    flat = laid(facts)
    assert codes(flat.findings) == [], flat.findings
    return [tuple(map(tuple, line.points)) for line in flat.blanks[0].drawn]


@pytest.mark.parametrize(
    ("place", "spot"),
    [
        ("outline corner 1", (0, EAVES)),
        ("outline corner 2", (30, 0)),
        ("the outline corner 3", (60, EAVES)),
        ("corner 4 of the outline", (60, 80)),
        ("outline corner 5", (0, 80)),
        ("middle of outline edge 3", (60, (EAVES + 80) / 2)),
        ("start of outline edge 3", (60, EAVES)),
        ("12 mm right of outline corner 1", (12, EAVES)),
        ("12 mm right of and 5 mm below outline corner 1", (12, EAVES + 5)),
        ("12 mm right of outline corner 1, 5 mm above it", (12, EAVES - 5)),
        ("5 below the middle of the top edge", (30, 5)),
    ],
)
def test_a_line_may_begin_at_any_place_of_the_outline(place: str, spot: tuple[object, ...]) -> None:
    (line,) = (
        ends(HOUSE + f"    lines: score from {place} to outline corner 5\n")
        if "corner 5" not in place
        else ends(HOUSE + f"    lines: score from {place} to outline corner 1\n")
    )
    assert line[0] == spot


@pytest.mark.parametrize(
    ("place", "spot"),
    [
        ("top left corner of front", (30, 0)),
        ("the bottom right corner of the front", (70, 80)),
        ("middle of the top edge of front", (50, 0)),
        ("the middle of the front’s left edge", (30, 40)),
        ("middle of the front's right edge", (70, 40)),
        ("middle of the side’s edge", (100, 40)),
        ("middle of front", (50, 40)),
        ("10 mm left of the middle of the top edge of front", (40, 0)),
    ],
)
def test_a_line_may_begin_at_any_place_of_a_panel(place: str, spot: tuple[object, ...]) -> None:
    (line,) = ends(CARD + f"    lines: cut from {place} to 50 across 60 down\n")
    assert line[0] == spot


def test_a_line_may_go_on_from_another() -> None:
    drawn = ends(
        CARD + "    lines:\n      - cut from 40 across 20 down to 60 across 20 down\n"
        "      - cut from the end of line 1 to 10 mm below the start of line 1\n"
        "      - cut from middle of line 2 to middle of line 1\n"
    )
    assert drawn[1:] == [((60, 20), (40, 30)), ((50, 25), (50, 20))]


def test_the_middle_of_a_curved_edge_or_line_is_half_way_along_it() -> None:
    """Half of a half circle is its top: radius 20 round (50, 50)."""
    drawn = ends(
        CARD + "    lines:\n      - cut from 30 across 50 down through 50 across 30 down to 70 across 50 down\n"
        "      - cut from middle of line 1 to middle\n"
    )
    assert [float(at) for at in drawn[1][0]] == pytest.approx([50, 30], abs=0.01)


@pytest.mark.parametrize(
    ("facts", "code", "told"),
    [
        (HOUSE + "    lines: score from outline corner 6 to middle\n", "no-such-corner", "5"),
        (HOUSE + "    holes: round 4 mm, at outline corner 9\n", "no-such-corner", "5"),
        (CARD + "    lines: score from end of line 1 to middle\n", "no-such-line", "0"),
        (CARD + "    lines: score from top left corner of roof to middle\n", "no-such-panel-place", "front"),
        (CARD + "    lines: score from middle of the front’s edge to middle\n", "no-such-panel-place", "front"),
        (CARD + "    lines: score from the corner shop to middle\n", "no-such-place", "top left corner"),
    ],
)
def test_a_place_that_is_not_there_is_told_with_those_that_are(facts: str, code: str, told: str) -> None:
    found = dict(the_finding(laid(facts), code))
    words = " ".join(catalogue().say(f"{code}.{part}", **found) for part in ("says", "understood"))
    assert told in words and "{" not in words


def test_a_hole_at_a_place_has_its_middle_there() -> None:
    flat = laid(HOUSE + "    holes: round 4 mm, 12 mm right of outline corner 1, 10 mm below\n")
    (hole,) = flat.blanks[0].openings
    assert (hole.left, hole.top) == (10, EAVES + 8)
    assert flat.lengths.by_id[LengthId("tag", "hole", "right", 1, "outline corner 1")].mm == 12
    assert flat.lengths.by_id[LengthId("tag", "hole", "below", 1, "outline corner 1")].mm == 10
    flat = laid(
        CARD
        + "    lines: cut from 40 across 20 down to 60 across 20 down\n    holes: round 4 mm, at the end of line 1\n"
    )
    assert (flat.blanks[0].openings[0].left, flat.blanks[0].openings[0].top) == (58, 18)


def test_corners_are_counted_clockwise_whichever_way_the_file_draws_them() -> None:
    for d in ("M0 0H40V30H0Z", "M0 0V30H40V0Z", "M40 30V0H0V30Z"):
        data = f'<svg width="40mm" height="30mm" viewBox="0 0 40 30"><path d="{d}"/></svg>'.encode()
        text = RECIPE.format(lines="score from outline corner 1 to outline corner 3")
        found = check_recipe(text, "r.md", "r", read=lambda name, most, data=data: data)
        assert found.understood is not None
        blank = found.understood.flat.blanks[0]
        assert blank.drawn[0].points == ((0, 0), (40, 30))
        assert blank.corners == ((0, 0), (40, 0), (40, 30), (0, 30))


RECIPE = """---
title: Tag
makes: 1 tag
supplies:
  card: cardstock, sheet A4
pieces:
  tag:
    from: card
    outline: tag.svg
    lines: {lines}
---

## Cut

do: cut tag

Cut it.
"""


def test_a_line_is_repeated_so_many_times_in_all() -> None:
    drawn = ends(
        CARD + "    lines: score from 30 across 10 down to 70 across 10 down, repeat 5 times every 15 mm down\n"
    )
    assert [line[0] for line in drawn] == [(30, 10), (30, 25), (30, 40), (30, 55), (30, 70)]


def test_a_hole_is_repeated_so_many_times_in_all_and_then_mirrored() -> None:
    hole = "round 4 mm, middle 10 mm from the left, middle 10 mm from the top, repeated 3 times, 12 mm apart across"
    flat = laid(CARD + f"    holes: {hole}, mirrored\n")
    lefts = sorted(one.left for one in flat.blanks[0].openings)
    assert lefts == [8, 20, 32, 64, 76, 88]
    assert flat.lengths.by_id[LengthId("card", "hole apart", "across", 1)].mm == 12


def test_notches_are_repeated_along_their_edge() -> None:
    card = "  card:\n    from: card\n    size: 100 x 80 mm\n"
    notch = "half round notch 10 mm, top edge, middle 20 mm from the left, repeat 4 times every 20 mm "
    flat = laid(card + f"    holes: {notch}across\n")
    assert [one.left for one in flat.blanks[0].notches] == [15, 35, 55, 75]
    assert codes(laid(card + f"    holes: {notch}down\n").findings) == ["notch-not-in-the-edge"]


@pytest.mark.parametrize(
    ("facts", "code", "fits"),
    [
        ("lines: score from 0 across 10 down to 100 across 10 down, repeat 9 times every 10 mm down",
         "lines-repeated-off-the-piece", 8),
        ("holes: round 4 mm, middle 10 mm from the left, centred, repeat 9 times every 20 mm across",
         "holes-repeated-off-the-piece", 5),
    ],
)  # fmt: skip
def test_a_repeat_that_leaves_the_piece_is_told_with_how_many_stay(facts: str, code: str, fits: int) -> None:
    flat = laid(f"  card:\n    from: card\n    size: 100 x 80 mm\n    {facts}\n")
    assert dict(the_finding(flat, code))["fits"] == fits


def test_copies_stand_where_the_printed_spacing_puts_them() -> None:
    """Closing: every copy is the first one's place and so many printed spacings, in both unit systems."""
    text = RECIPE.replace("    outline: tag.svg\n", "    size: 100 x 80 mm\n    holes: {holes}\n").format(
        holes="round 4 mm, middle 10 mm from the left, centred, repeat 5 times every 17 mm across",
        lines="score from 5 across 3 down to 95 across 3 down, repeat 6 times every 13 mm down",
    )
    found = check_recipe(text, "r.md", "r")
    assert found.understood is not None
    flat = found.understood.flat
    assert_relations_hold(flat)
    for figures in found.understood.figures.values():
        blank = as_printed(flat.blanks[0], figures, flat.lengths.by_id)
        middles = [one.left + one.width / 2 for one in blank.openings]
        apart = figures.printed[LengthId("tag", "hole apart", "across", 1)].mm
        assert [b - a for a, b in pairwise(middles)] == [apart] * 4
        downs = [line.points[0][1] for line in blank.drawn]
        apart = figures.printed[LengthId("tag", "line apart", "down", 1)].mm
        assert [b - a for a, b in pairwise(downs)] == [apart] * 5


def test_the_flat_drawing_shows_the_numbers_of_corners_as_soon_as_one_is_used() -> None:
    def numbers(facts: str) -> list[str]:
        scene = flat_scene(laid(facts).blanks[0])
        return [caption.text for caption in scene.captions if caption.text.isdigit()]

    assert numbers(HOUSE + "    lines: score from outline corner 1 to middle\n") == ["1", "2", "3", "4", "5"]
    assert numbers(HOUSE + "    holes: round 4 mm, at middle of outline edge 2, 9 mm below\n") == [
        "1",
        "2",
        "3",
        "4",
        "5",
    ]
    assert numbers(HOUSE + "    lines: score from top left corner to middle\n") == []


def test_the_number_of_a_corner_stands_on_the_paper() -> None:
    """Of a cross, whose inner corners point into the paper: shapely says whether a place is on it."""
    d = "M20 0H40V20H60V40H40V60H20V40H0V20H20Z"
    data = f'<svg width="60mm" height="60mm" viewBox="0 0 60 60"><path d="{d}"/></svg>'.encode()
    text = RECIPE.format(lines="score from outline corner 1 to outline corner 7")
    found = check_recipe(text, "r.md", "r", read=lambda name, most: data)
    assert found.understood is not None
    blank = found.understood.flat.blanks[0]
    paper = Polygon([(float(x), float(y)) for x, y in blank.outline])
    spots = [caption.centre for caption in flat_scene(blank).captions if caption.text.isdigit()]
    assert len(spots) == 12 and all(paper.buffer(-1).contains(Place(spot)) for spot in spots)
