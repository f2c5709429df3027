"""Corner flaps stay joined to two walls; the cuts run in line with the folds of those walls."""

from __future__ import annotations

from fractions import Fraction

from foldwright.finding import Strength
from foldwright.geometry.pictures.plan import flat_scene
from foldwright.geometry.scene import LineKind
from geometry.laid import codes, inch, laid, mm, the_blank, the_finding

BOX = """\
  base:
    from: card
    size: 5 x 4 1/4 in
    across: 3/4 left end | 3 1/2 floor | 3/4 right end
    down: 1 3/4 front | 3/4 floor | 1 3/4 back
    fold: tray
"""


def cuts_of(text: str, piece: str = "base") -> set[tuple[Fraction, ...]]:
    blank = the_blank(laid(text), piece)
    return {(*cut.start, *cut.end) for cut in blank.flap_cuts}


def test_flaps_on_front_and_back_are_cut_from_the_short_edges():
    """Four cuts, 3/4 in long, from the left and right edges, in line with the scores at 1 3/4 and 2 1/2 in."""
    zero, right = Fraction(0), inch(5)
    first, second = inch("1 3/4"), inch("2 1/2")
    assert cuts_of(BOX + "    flaps: joined to front and back\n") == {
        (zero, first, inch("3/4"), first),
        (zero, second, inch("3/4"), second),
        (right, first, inch("4 1/4"), first),
        (right, second, inch("4 1/4"), second),
    }


def test_flaps_on_the_ends_are_cut_from_the_long_edges():
    cuts = cuts_of(BOX + "    flaps: joined to left end and right end\n")
    assert {(cut[0], cut[1], cut[3]) for cut in cuts} == {
        (x, edge, score)
        for x in (inch("3/4"), inch("4 1/4"))
        for edge, score in ((Fraction(0), inch("1 3/4")), (inch("4 1/4"), inch("2 1/2")))
    }


def test_panels_answer_to_their_place():
    named = cuts_of(BOX + "    flaps: joined to front and back\n")
    assert cuts_of(BOX + "    flaps: joined to top and bottom\n") == named
    assert cuts_of(BOX + "    flaps: joined to ends\n".replace("ends", "end")) != named


def test_the_score_stops_where_the_cut_runs():
    scene = flat_scene(the_blank(laid(BOX + "    flaps: joined to front and back\n"), "base"))
    scores = {stroke.points for stroke in scene.strokes if stroke.kind is LineKind.SCORE}
    y, x1, x2 = float(inch("1 3/4")), float(inch("3/4")), float(inch("4 1/4"))
    assert ((x1, y), (x2, y)) in scores
    assert ((x1, 0.0), (x1, float(inch("4 1/4")))) in scores


def test_a_tray_with_corners_is_asked_for_its_flaps():
    flat = laid(BOX)
    facts = the_finding(flat, "flaps-missing")
    assert (facts["one"], facts["other"]) == (("front", "back"), ("left end", "right end"))
    assert the_blank(flat, "base").flap_cuts == ()


def test_corners_cut_away_need_no_flaps():
    flat = laid(BOX + "    corners: cut away\n")
    assert flat.findings == ()
    blank = the_blank(flat, "base")
    assert blank.corners_removed
    assert blank.flap_cuts == ()


def test_a_flap_as_long_as_the_end_is_wide_wants_relief():
    flat = laid(BOX + "    flaps: joined to front and back\n")
    finding = flat.findings[0]
    assert (finding.code, finding.strength) == ("flap-as-long-as-end", Strength.THOUGHT)
    trimmed = laid(BOX + "    flaps: joined to front and back, trimmed 1/16 in\n")
    assert trimmed.findings == ()
    assert mm(trimmed, "base", "flap", "length") == inch("11/16")


def test_names_that_are_no_walls_or_two_neighbours_are_told():
    assert codes(laid(BOX + "    flaps: joined to frnt and back\n").findings) == ["flaps-joined-to-what"]
    assert codes(laid(BOX + "    flaps: joined to floor\n").findings) == ["flaps-joined-to-floor"]
    facts = the_finding(laid(BOX + "    flaps: joined to front and left end\n"), "flaps-joined-both-ways")
    assert facts["one"] == ("front", "back")
