"""What was understood of a piece, every length by identity."""

from __future__ import annotations

from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pieces import Flat
from foldwright.geometry.understood import BlankFact, fit_of, rows_of, work_on
from geometry.laid import inch, laid, the_blank
from geometry.test_mating import CARD
from geometry.test_rows import BOX


def said(flat: Flat, piece: str, code: str) -> list[BlankFact]:
    blank = the_blank(flat, piece)
    facts = (*work_on(blank, flat), *rows_of(blank, flat), *fit_of(blank, flat))
    return [one for one in facts if one.code == code]


def test_the_cuts_of_the_favour_box():
    """Four cuts, 3/4 in long, from the left and right edges, in line with the scores at 1 3/4 and 2 1/2 in."""
    flat = laid(BOX)
    (cuts,) = said(flat, "base", "flap-cuts")
    known = flat.lengths.by_id
    assert cuts.count == 4
    assert cuts.edges == ("left", "right")
    assert [known[name].mm for name in cuts.lengths] == [inch("3/4"), inch("3/4")]
    assert [known[name].mm for name in cuts.along] == [inch("1 3/4"), inch("2 1/2")]
    assert cuts.names == ("front", "back")
    (trim,) = said(flat, "base", "flaps-trimmed")
    assert [known[name].mm for name in trim.lengths] == [inch("1/16")]


def test_scores_from_the_top_and_from_the_left():
    flat = laid(BOX)
    down, across = said(flat, "base", "scores")
    assert (down.edges, down.count, across.edges) == (("top",), 2, ("left",))
    assert [flat.lengths.by_id[name].mm for name in across.lengths] == [inch("3/4"), inch("4 1/4")]


def test_borders_and_gaps():
    flat = laid(CARD)
    (border,) = said(flat, "outer mat", "border")
    assert (border.names, border.edges) == (("base",), ("across", "down"))
    assert {flat.lengths.by_id[name].mm for name in border.lengths} == {inch("1/8")}
    (gap,) = said(flat, "base", "into")
    assert gap.names == ("envelope", "base")
    assert [one.between_scores.mm for one in gap.gaps] == [inch("1/4"), inch("1/8")]


def test_a_gap_is_told_once_by_the_piece_that_goes_over():
    flat = laid(
        """\
  base:
    from: card
    size: 5 x 5 in
    across: 1 | 3 | 1
    down: 1 | 3 | 1
    fold: tray
    corners: cut away
  lid:
    from: card
    size: 4 1/2 x 4 3/4 in
    across: 3/4 | 3 | 3/4
    down: 3/4 | 3 1/4 | 3/4
    fold: lid
    corners: cut away
    fits over: base
"""
    )
    (gap,) = said(flat, "lid", "over")
    assert [one.between_scores.mm for one in gap.gaps] == [0, inch("1/4")]
    assert said(flat, "base", "over") == []


def test_a_hole_and_how_many_pieces():
    flat = laid(
        "  tag:\n    from: card\n    count: 3\n    size: 2 x 4 in\n"
        "    holes: round 3/16 in, centred, middle 3/8 in from the top\n"
    )
    (hole,) = said(flat, "tag", "hole")
    assert hole.opening is not None
    assert (hole.opening.shape, hole.opening.panel, hole.opening.edge, hole.edges) == ("round", "", "", ())
    assert [(one.edge, one.of) for one in hole.opening.offsets] == [("top", "middle")]
    assert hole.count == 1
    assert hole.along == (LengthId("tag", "hole", "top", 1, "middle"),)
    assert said(flat, "tag", "cut")[0].count == 3


def test_holes_alike_are_one_fact():
    flat = laid(
        "  strip:\n    from: card\n    size: 6 x 2 in\n    across: 2 | 2 | 2\n"
        "    holes:\n      - round 1/4 in, centred, on every panel\n"
        "      - round 1/8 in, middle 1/4 in from the left, mirrored\n"
    )
    every, pair = said(flat, "strip", "hole")
    assert every.opening is not None and pair.opening is not None
    assert (every.count, every.opening.shape, every.edges) == (3, "round", ())
    assert (pair.count, pair.opening.shape, pair.edges) == (1, "round", ("across",))
    assert [(one.edge, one.of) for one in pair.opening.offsets] == [("left", "middle")]


def test_a_room_inside_is_said_back_as_rows():
    flat = laid("  tray:\n    from: thick card\n    inside: 60 x 90 x 20 mm\n    fold: tray\n    corners: cut away\n")
    across, down = said(flat, "tray", "row")
    known = flat.lengths.by_id
    *panels, whole = [known[name].mm for name in across.lengths]
    assert sum(panels) == whole
    assert (across.edges, down.edges) == (("across",), ("down",))
    assert said(laid(BOX), "base", "row") == []
