"""Holes and lines of the long form: where they stand, and what is said when they leave the piece."""

from __future__ import annotations

from fractions import Fraction
from math import hypot

import pytest

from foldwright.geometry.lengths import LengthId, Sum
from foldwright.geometry.pictures.plan import flat_scene
from geometry.laid import assert_relations_hold, codes, inch, laid, mm, the_blank, the_finding

FRONT = "  front:\n    from: card\n    size: 3 1/2 x 4 in\n    holes: {holes}\n"


def test_a_round_hole_measured_to_its_middle():
    flat = laid(FRONT.format(holes="round 1 in, centred, middle 1 1/2 in from the top"))
    opening = the_blank(flat, "front").openings[0]
    assert (opening.left, opening.top) == (inch("1 1/4"), inch(1))
    assert mm(flat, "front", "hole", "across", 1) == inch(1)
    assert mm(flat, "front", "hole", "top", 1, "middle") == inch("1 1/2")
    assert flat.findings == ()


def test_a_hole_measured_to_its_edge():
    flat = laid(FRONT.format(holes="round 1 in, centred, edge 1 1/2 in from the bottom"))
    assert the_blank(flat, "front").openings[0].top == inch("1 1/2")


def test_a_slot_centred_on_a_panel_of_a_tray():
    flat = laid(
        "  drawer:\n    from: card\n    size: 100 x 130 mm\n    across: 20 | 60 | 20\n"
        "    down: 20 back | 90 | 20 front\n"
        "    fold: tray\n    corners: cut away\n    holes: slot 8 x 2 mm, centred on front\n"
    )
    opening = the_blank(flat, "drawer").openings[0]
    assert (opening.left, opening.top, opening.width, opening.height) == (46, 119, 8, 2)


def test_a_hole_off_the_piece_and_one_across_a_score():
    off = laid(FRONT.format(holes="round 1 in, centred, middle 1/4 in from the top"))
    assert codes(off.findings) == ["hole-off-the-piece"]
    assert the_blank(off, "front").openings[0].doubtful
    across = laid(
        "  card:\n    from: card\n    size: 8 x 4 in\n    across: 4 | 4\n"
        "    holes: round 1 in, centred, middle 2 in from the top\n"
    )
    assert the_finding(across, "hole-across-a-score")["score"].mm == inch(4)  # type: ignore[attr-defined]


def test_a_hole_in_a_corner_that_is_cut_away_is_off_the_piece():
    lid = (
        "  lid:\n    from: card\n    size: 5 x 5 in\n    across: 1 | 3 | 1\n    down: 1 | 3 | 1\n    fold: lid\n"
        "    corners: cut away\n    holes: round 1/4 in, middle 1/2 in from the left, middle {down} in from the top\n"
    )
    assert codes(laid(lid.format(down="1/2")).findings) == ["hole-off-the-piece"]
    assert codes(laid(lid.format(down="2")).findings) == []


def test_lines_are_equal_to_the_score_they_lie_on():
    flat = laid(
        "  card:\n    from: card\n    size: 8 x 6 in\n    across: 4 | 4\n"
        "    lines: |\n      cut from 4 across 2 down to 6 across 2 down\n"
    )
    point, score = LengthId("card", "line", "across", 1, "point 1"), LengthId("card", "across", "score", 1)
    assert Sum(point, (score,)) in flat.lengths.relations
    assert_relations_hold(flat)


def test_an_arc_passes_through_its_third_point():
    flat = laid(
        "  card:\n    from: card\n    size: 100 x 100 mm\n"
        "    lines: cut from 20 across 50 down to 80 across 50 down through 50 across 20 down\n"
    )
    drawn = the_blank(flat, "card").drawn[0]
    assert drawn.arc
    stroke = next(stroke for stroke in flat_scene(the_blank(flat, "card")).strokes if len(stroke.points) > 4)
    # Half a circle round (50, 50) of radius 30, upwards.
    assert all(abs(hypot(x - 50, y - 50) - 30) < 1e-9 for x, y in stroke.points)
    assert min(y for _, y in stroke.points) < 20.3


def test_named_places_and_lines_off_the_piece():
    flat = laid(
        "  card:\n    from: card\n    size: 6 x 6 in\n"
        "    lines: |\n      valley from middle of the top edge to bottom left corner\n"
        "      cut from 1 across 1 down to 7 across 1 down\n"
    )
    assert codes(flat.findings) == ["line-off-the-piece"]
    first = the_blank(flat, "card").drawn[0]
    assert first.points == ((inch(3), Fraction(0)), (Fraction(0), inch(6)))
    assert not first.doubtful


def test_a_mirrored_hole_has_a_twin_left_to_right():
    flat = laid(FRONT.format(holes="round 1/2 in, middle 3/4 in from the left, middle 1 in from the top, mirrored"))
    one, twin = the_blank(flat, "front").openings
    # 3 1/2 in wide: 3/4 in from the left becomes 3/4 in from the right, as far down as before.
    assert one.left == inch("1/2")
    assert twin.left == inch("3 1/2") - inch("3/4") - inch("1/4")
    assert (twin.top, twin.width, twin.sizes) == (one.top, one.width, one.sizes)
    assert (one.mirror, twin.mirror, twin.offsets) == ("", "across", ())
    assert flat.findings == ()


def test_a_hole_whose_place_says_only_how_far_down_is_mirrored_top_to_bottom():
    flat = laid(FRONT.format(holes="slot 1 x 1/4 in, centred, edge 1/2 in from the top, mirrored"))
    one, twin = the_blank(flat, "front").openings
    assert (one.top, twin.top) == (inch("1/2"), inch(4) - inch("1/2") - inch("1/4"))
    assert (twin.left, twin.mirror) == (one.left, "down")


def test_a_hole_in_the_middle_is_its_own_mirror_image_and_that_is_told():
    flat = laid(
        "  tray:\n    from: card\n    size: 60 x 60 mm\n    across: 10 | 40 | 10\n    down: 10 | 40 | 10\n"
        "    fold: tray\n    corners: cut away\n"
        "    holes: round 4 mm, middle 30 mm from the left, middle 5 mm from the top, mirrored\n"
    )
    assert codes(flat.findings) == ["hole-mirrors-itself"]
    assert len(the_blank(flat, "tray").openings) == 1


def test_a_hole_on_every_panel_is_mirrored_only_where_there_is_none_yet():
    flat = laid(
        "  strip:\n    from: card\n    size: 90 x 20 mm\n    across: 30 | 30 | 30\n"
        "    holes: round 4 mm, middle 10 mm from the left, on every panel, mirrored\n"
    )
    assert sorted(opening.left for opening in the_blank(flat, "strip").openings) == [8, 18, 38, 48, 68, 78]


FORM = "  body:\n    from: card\n    fold: {fold}\n    finished: {finished}\n    {said}\n"
ON_EVERY_PANEL = ("holes: window 10 x 12 mm, centred, on every panel", "lines: cut from 2 x 2 to 2 x 9, on every panel")


def test_every_panel_of_a_cube_is_each_of_its_six_squares():
    flat = laid(FORM.format(fold="cube", finished="40 mm", said=ON_EVERY_PANEL[0]))
    # Four squares side by side, one above and one below the third: worked out by hand.
    middles = {(x + 5, y + 6) for x, y in ((opening.left, opening.top) for opening in the_blank(flat, "body").openings)}
    assert middles == {(20, 60), (60, 60), (100, 60), (140, 60), (100, 20), (100, 100)}
    assert flat.findings == ()


def test_every_panel_of_a_prism_is_each_of_its_sides():
    flat = laid(FORM.format(fold="prism, 6 sides", finished="40 x 80 mm", said=ON_EVERY_PANEL[0]))
    openings = the_blank(flat, "body").openings
    assert sorted(opening.left for opening in openings) == [15, 55, 95, 135, 175, 215]
    assert len({opening.top for opening in openings}) == 1


@pytest.mark.parametrize("said", ON_EVERY_PANEL)
@pytest.mark.parametrize(
    ("fold", "finished", "panels"),
    [
        ("hexagonal box", "75 x 60 mm", ("floor",)),
        ("tuck box", "40 x 40 x 90 mm", ("front", "back", "left", "right", "lid")),
    ],
)
def test_every_panel_of_a_form_whose_panels_differ_is_asked_about(said, fold, finished, panels):
    flat = laid(FORM.format(fold=fold, finished=finished, said=said))
    assert the_finding(flat, "every-panel-unclear")["known"] == panels
    blank = the_blank(flat, "body")
    assert not blank.openings
    assert all(line.number == 0 for line in blank.drawn)
