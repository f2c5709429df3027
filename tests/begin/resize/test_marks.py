"""Holes and lines in another size, and outlines. Every number is reckoned by hand beside its check."""

from __future__ import annotations

from fractions import Fraction

import pytest

from begin.resize.made_up import Beside, entry_of, recipe, resized
from foldwright.begin.draft.blanks import STEPS
from foldwright.begin.resize.growth import Growth, Stretch, nearest
from foldwright.measure.length import Length, System, Unit

HOUSE = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 35 40"><path d="M0 12.5L17.5 0L35 12.5V40H0Z"/></svg>'


def entry(pieces: str, scale: str, supplies: str = "", **files: str) -> str:
    made = resized(recipe(pieces, supplies), scale, Beside(**files))
    assert not made.wrong, (made.checked.findings, made.broken)
    return entry_of(made)


def tag(*holes: str) -> str:
    return "  tag:\n    from: card\n    size: 60 x 120 mm\n    holes:\n" + "".join(
        f"      - {hole}\n" for hole in holes
    )


def test_a_punch_makes_the_hole_it_makes():
    made = entry(tag("round 5 mm, centred, middle 10 mm from the top"), "1.5")
    assert made == "tag:\n  size: 90 x 180 mm\n  holes: round 5 mm, centred, middle 15 mm from the top"


def test_a_round_hole_that_no_punch_makes_is_scaled():
    # 52 x 0.75 = 39 mm; its middle 60 x 0.75 = 45 mm down.
    made = entry(tag("round 52 mm, centred, middle 60 mm from the top"), "0.75")
    assert made == "tag:\n  size: 45 x 90 mm\n  holes: round 39 mm, centred, middle 45 mm from the top"


def test_a_window_is_as_large_a_part_as_it_was_and_its_pane_covers_it():
    pieces = tag("window 40 x 60 mm, centred")
    pieces += "  pane:\n    from: acetate\n    size: 50 x 70 mm\n    goes on: inside of tag, centred\n"
    made = entry(pieces, "1.5", "  acetate: acetate, sheet A4\n")
    assert made == "tag:\n  size: 90 x 180 mm\n  holes: window 60 x 90 mm, centred\npane:\n  size: 75 x 105 mm"


def test_a_slot_for_a_ribbon_stays_and_one_for_a_tab_is_as_long_a_part():
    ribbon = "  ribbon: ribbon, width 25 mm, use 300 mm\n"
    threaded = "slot 26 x 2 mm, centred, middle 100 mm from the top"
    assert "holes: slot 26 x 2 mm, centred, middle 50 mm from the top" in entry(tag(threaded), "0.5", ribbon)
    assert "holes: slot 13 x 2 mm, centred, middle 50 mm from the top" in entry(tag(threaded), "0.5")


def test_holes_on_a_panel_go_with_the_panel():
    # The glue flap stays 12 mm; 30 of the 60 mm of the front are 39 of 78.
    wrap = (
        "  wrap:\n    from: card\n    size: 182 x 80 mm\n    across: 12 glue flap | 60 front | 25 | 60 back | 25\n"
        "    holes: round 5 mm, on front, middle 30 mm from the left, middle 10 mm from the top\n    fold: sleeve\n"
    )
    assert "middle 39 mm from the left, middle 13 mm from the top" in entry(wrap, "1.3")


def test_what_is_repeated_stays_on_its_piece():
    # 40 holes, 5 mm apart, on 210 mm. At 0.7 they are 3.5 mm apart: rounded to 4 mm, the last would lie 20 mm too far.
    strip = (
        "  strip:\n    from: card\n    size: 210 x 60 mm\n"
        "    holes: round 3 mm, middle 7 mm from the left, middle 10 mm from the top, "
        "repeat 40 times every 5 mm across\n"
    )
    assert "repeat 40 times every 3.5 mm across" in entry(strip, "0.7")


def test_lines_keep_their_symmetry_and_stay_on_scores():
    # Half of 61 mm is rounded to 31; 20 and 41 mm are 20 from either edge, and 10 is half of that.
    card = (
        "  card:\n    from: card\n    size: 61 x 140 mm\n    down: 70 back | 70 front\n    fold: card\n    lines:\n"
        "      - cut from 20 across 50 down to 20 across 90 down\n"
        "      - cut from 41 across 50 down to 41 across 90 down\n"
        "      - mountain from 20 across 50 down to 41 across 50 down\n"
        "      - mountain from 20 across 90 down to 41 across 90 down\n"
    )
    made = entry(card, "0.5")
    assert "size: 31 x 70 mm" in made
    assert "cut from 10 across 25 down to 10 across 45 down" in made
    assert "cut from 21 across 25 down to 21 across 45 down" in made


def test_a_slot_for_a_card_is_said_as_it_was_where_another_hole_moves():
    pieces = tag("corner slots for photo, centred", "round 5 mm, centred, middle 10 mm from the top")
    pieces += "  photo:\n    from: card\n    size: 30 x 40 mm\n"
    assert "  - corner slots for photo, centred\n" in entry(pieces, "1.5")


# --- outlines ---------------------------------------------------------------------------------------------------------


def front(size: str, more: str = "") -> str:
    return f"  wall:\n    from: card\n    size: 70 x 40 mm\n  front:\n    from: card\n    size: {size}\n{more}"


ON_WALL = "    outline: house.svg\n    goes on: wall, lined up at the bottom\n"


def test_a_drawing_is_never_stretched():
    # 35 : 40 as 7 : 8. At 1.5 70 x 80 mm are 105 x 120: both are whole.
    assert entry(front("70 x 80 mm", ON_WALL), "1.5", house_svg=HOUSE).endswith("front:\n  size: 105 x 120 mm")
    # At 1.3 91 mm, as wide as the wall, and 91 x 8 / 7 = 104 mm.
    assert entry(front("70 x 80 mm", ON_WALL), "1.3", house_svg=HOUSE).endswith("front:\n  size: 91 x 104 mm")
    # At 0.9 63 mm and 72 mm; at 0.61 43 mm (42.7) and 49.14 mm, on no mark: only how wide it is is said.
    assert entry(front("70 x 80 mm", ON_WALL), "0.9", house_svg=HOUSE).endswith("front:\n  size: 63 x 72 mm")
    made = resized(recipe(front("70 x 80 mm", ON_WALL)), "0.61", Beside(house_svg=HOUSE))
    assert entry_of(made).endswith("front:\n  size: 43 mm")
    assert "as-drawn" in {note.code for note in made.notes}
    assert not made.wrong
    understood = made.checked.understood
    assert understood is not None
    blank = understood.flat.blank("front")
    assert blank is not None
    assert (blank.width, round(float(blank.height), 2)) == (43, 49.14)


def test_a_shape_known_by_name_keeps_its_proportions():
    # 45 x 1.3 = 58.5: 59 both ways, or it were no circle; 30 x 27 are 39 x 35.1.
    pieces = (
        "  dot:\n    from: card\n    size: 45 mm\n    outline: circle\n"
        "  heart:\n    from: card\n    size: 30 x 27 mm\n    outline: heart\n    goes on: dot, centred\n"
    )
    assert entry(pieces, "1.3") == "dot:\n  size: 59 x 59 mm\nheart:\n  size: 39 x 35 mm"


def test_a_house_by_name_follows_its_wall_in_its_own_shape():
    # It is as wide as the wall: 84 at 1.2; 80 x 1.2 = 96 high.
    more = "    outline: house\n    goes on: wall, lined up at the bottom\n"
    assert entry(front("70 x 80 mm", more), "1.2").endswith("front:\n  size: 84 x 96 mm")


# --- marks ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("mm", "step", "expected"),
    [("5/2", "1", "3"), ("7/2", "1", "4"), ("2/5", "1", "1"), ("1/8", "1/16", "1/8"), ("37/16", "1/8", "19/8")],
)
def test_nearest_marks(mm, step, expected):
    assert nearest(Fraction(mm), Fraction(step)) == Fraction(expected)


def test_places_go_with_their_panels():
    stretch = Stretch(((Fraction(12), Fraction(12)), (Fraction(60), Fraction(78)), (Fraction(30), Fraction(39))))
    assert (stretch.old, stretch.new) == (102, 129)
    # In the flap nothing moves; half of the 60 mm is half of the 78 mm; a score stays a score.
    assert [stretch.place(Fraction(mm)) for mm in (6, 12, 42, 72, 87, 102)] == [6, 12, 51, 90, Fraction(219, 2), 129]
    assert stretch.marked(Fraction(72), Fraction(4)) == 90
    assert stretch.marked(Fraction(42), Fraction(4)) == 52


def test_a_scale_of_one_moves_nothing():
    growth = Growth(Fraction(1), STEPS[System.IMPERIAL])
    odd = Length(Fraction(1, 7), Unit.INCH)
    assert growth.grown(odd) is odd


def test_what_would_not_fold_rounded_is_not_rounded():
    # Six squares of 40 mm in a cross. At 1.37 they are 54.8 mm: rounded place by place to 55, 110, 164 and 219 mm they
    # would be squares of 55, 55, 54 and 55 mm, and no cube.
    folds = [f"mountain 90 degrees from {x} across 40 down to {x} across 80 down" for x in (40, 80, 120)]
    folds += [f"mountain 90 degrees from 40 across {y} down to 80 across {y} down" for y in (40, 80)]
    cross = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 160 120">'
        '<path d="M40 0H80V40H160V80H80V120H40V80H0V40H40Z"/></svg>'
    )
    pieces = "  cube:\n    from: card\n    size: 160 x 120 mm\n    outline: cross.svg\n    lines:\n"
    made = entry(pieces + "".join(f"      - {fold}\n" for fold in folds), "1.37", cross_svg=cross)
    assert "size: 219.2 x 164.4 mm" in made
    assert "from 54.8 across 54.8 down to 54.8 across 109.6 down" in made
