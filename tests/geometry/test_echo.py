"""What was understood is said back, every length by identity."""

from __future__ import annotations

from foldwright.geometry.echo import Echo, echo
from foldwright.geometry.flat import Flat
from foldwright.geometry.lengths import LengthId
from geometry.laid import inch, laid, the_blank
from geometry.test_mating import CARD
from geometry.test_rows import BOX


def said(flat: Flat, piece: str, code: str) -> list[Echo]:
    return [one for one in echo(the_blank(flat, piece), flat) if one.code == code]


def test_the_cuts_of_the_favour_box():
    """Four cuts, 3/4 in long, from the left and right edges, in line with the scores at 1 3/4 and 2 1/2 in."""
    flat = laid(BOX)
    (cuts,) = said(flat, "base", "flap-cuts")
    known = flat.lengths.by_id
    assert cuts.count == 4
    assert cuts.edges == ("left", "right")
    assert [known[name].mm for name in cuts.lengths] == [inch("3/4")]
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
    assert [one.names for one in said(flat, "base", "gap")] == [("envelope", "base")] * 2


def test_a_hole_and_how_many_pieces():
    flat = laid(
        "  tag:\n    from: card\n    count: 3\n    size: 2 x 4 in\n"
        "    holes: round 3/16 in, centred, middle 3/8 in from the top\n"
    )
    (hole,) = said(flat, "tag", "hole")
    assert (hole.names, hole.edges) == (("round", ""), ("top",))
    assert hole.along == (LengthId("tag", "hole 1", "middle from top"),)
    assert said(flat, "tag", "cut")[0].count == 3
