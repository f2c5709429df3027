"""What cannot be made is told, with the nearest scale that can; and other contents. Numbers are reckoned by hand."""

from __future__ import annotations

import pytest

from begin.resize.made_up import Beside, entry_of, recipe, resized, understood
from foldwright.begin.options import SizeOptions
from foldwright.begin.resize.sizing import read_scale, resize, size_name_wrong, what_works, with_size
from foldwright.finding import Wrong
from foldwright.outputs.texts import texts_of


def works(text: str, scale: str, **asked: str) -> tuple[str, str]:
    """What is said of the nearest scale that works, and which that is."""
    texts = texts_of("made-up", text)
    written = understood(texts, Beside())
    note = what_works(texts, Beside(), "new", written, SizeOptions(scale=scale, **asked))
    return (note.code, str(dict(note.facts).get("scale", ""))) if note else ("", "")


HUGE_SHEET = "sheet 2000 x 2000 mm"


def drawer_box(sheet: str) -> str:
    pieces = (
        "  drawer:\n    from: card\n    across: 20 mm | 60 mm | 20 mm\n    down: 20 mm | 90 mm | 20 mm\n"
        "    flaps: joined to left and right, trimmed 1 mm\n    fold: tray\n    slides in: sleeve\n"
        "  sleeve:\n    from: card\n    size: 180 x 90 mm\n    across: 62 | 22 | 62 | 22 | 12 glue flap\n"
        "    fold: sleeve\n"
    )
    return recipe(pieces).replace(HUGE_SHEET, f"sheet {sheet}")


def test_the_largest_scale_that_comes_out_of_the_sheet():
    # At 1.72 the sleeve is 2 x (103 + 2) + 2 x (34 + 2) + 12 = 294 mm (103.2 and 34.4 rounded), at 1.73 2 x (104 + 2)
    # + 2 x (35 + 2) + 12 = 298 mm (103.8 and 34.6): more than the 297 mm of A4.
    text = drawer_box("A4")
    assert not resized(text, "1.72").wrong
    assert resized(text, "1.73").wrong
    assert works(text, "2") == ("scale-largest", "1.72")
    # A step of 5 mm: at 1.74 100 + 105 + ... : 104.4 and 34.8 are 105 and 35, 2 x 107 + 2 x 37 + 12 = 300 mm; at 1.70
    # 102 is rounded to 100 and 34 to 35, 2 x 102 + 2 x 37 + 12 = 290 mm. 102.5 (1.7083) is where it is rounded up.
    assert works(text, "2", numbers="5 mm") == ("scale-largest", "1.7")


def test_the_smallest_scale_with_panels_that_can_be_folded():
    # Walls of 40 mm, steps of 1 mm: below 5 mm nobody folds them. 40 x 0.12 = 4.8, rounded 5; 40 x 0.11 = 4.4: 4 mm.
    tray = "  base:\n    from: card\n    across: 40 mm | 200 mm | 40 mm\n    down: 40 mm | 200 mm | 40 mm\n"
    text = recipe(tray + "    flaps: joined to left and right, trimmed 1 mm\n    fold: tray\n")
    made = resized(text, "0.1")
    assert [note.code for note in made.broken] == ["panel-too-narrow"]
    assert dict(made.broken[0].facts)["long"][0].mm == 4
    assert works(text, "0.1") == ("scale-smallest", "0.12")


def test_where_no_scale_works_that_is_said():
    # The floor is 42 mm, of which the card (0.3 mm) and a flap on either wall (0.6 mm) take 0.9 mm.
    tray = (
        "  base:\n    from: card\n    across: 30 mm | 42 mm | 30 mm\n    down: 30 mm | 42 mm | 30 mm\n"
        "    flaps: joined to left and right, trimmed 9 mm\n    fold: tray\n    holds: sweet\n"
    )
    text = recipe(tray, "  sweet: sweet, size 40 x 40 x 25 mm, use 1\n")
    # 42 x 0.97 = 40.74, rounded 41, and 40.1 mm are left for 40; 42 x 0.96 = 40.32, rounded 40. In steps of 10 mm it is
    # 40 mm at any scale below 1.
    assert works(text, "0.5") == ("scale-smallest", "0.97")
    assert works(text, "0.5", numbers="10 mm") == ("none-smaller", "")


def house(low: int, front: int) -> str:
    """A tray with walls of these heights, and a house front of 70 x 80 mm on the higher one."""
    return recipe(
        f"  base:\n    from: card\n    across: {low} mm left | 70 mm floor | {low} mm right\n"
        f"    down: {front} mm front | 40 mm floor | {front} mm back\n"
        "    flaps: joined to front and back, trimmed 20 mm\n    fold: tray\n"
        "  house front:\n    from: card\n    size: 70 x 80 mm\n    outline: house\n"
        "    goes on: outside of base front, lined up at the bottom\n"
    )


def test_of_ways_to_lie_one_is_taken_in_which_nothing_is_lost():
    made = resized(house(40, 40), holds="1 candle of 25 x 25 x 100 mm")
    assert not made.wrong
    # It lies along the front: 100 + 1 + 0.3 mm, and a flap of 0.3 mm at either end, taken up to 102 mm; the front is as
    # wide, and 102 x 8 / 7 = 116.6 mm high.
    assert "house front:\n  size: 102 x 117 mm" in entry_of(made)


def test_an_overhang_that_is_lost_is_told():
    # A cube of 50 mm wants walls of 50.15 mm, taken up to 51; the front, twice as high as the ends, is 102 mm. The
    # house is as wide as the floor, about 53 mm, and 8 / 7 of that high: it no longer stands over the front.
    made = resized(house(30, 60), holds="1 cube of 50 x 50 x 50 mm")
    assert ("no-longer-sticks-out", {"piece": "house front", "under": "base"}) in [
        (note.code, dict(note.facts)) for note in made.broken
    ]
    assert made.wrong


# --- calls ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("said", ["0", "-1", "nan", "inf", "1000", "big", "", "1e2", "0.05", "10.1", "x", "%"])
def test_an_odd_scale_is_refused(said):
    assert read_scale(said) == Wrong.of("design.scale-odd", said=said)


@pytest.mark.parametrize(
    ("said", "scale"),
    [("1.5", 1.5), ("3/4", 0.75), ("1.5x", 1.5), ("150 %", 1.5), ("1 1/2", 1.5), ("2", 2), ("0.1", 0.1)],
)
def test_a_scale_as_people_write_it(said, scale):
    assert read_scale(said) == pytest.approx(scale, abs=1e-12)


TAG = recipe("  tag:\n    from: card\n    size: 40 x 80 mm\n")


@pytest.mark.parametrize(
    ("name", "wrong"),
    [("large", False), ("5 x 7 in", False), ("a: b", True), ("#1", True), ("as written", True), ("a\nb", True)],
)
def test_names_that_would_not_be_read_are_refused(name, wrong):
    texts = texts_of("made-up", TAG)
    assert size_name_wrong(texts, Beside(), name, understood(texts, Beside())) is wrong


def test_a_size_goes_below_those_there_are():
    there = TAG.replace(
        "---\n\n## Make", "sizes:  # two of them\n  small:\n    tag:\n      size: 20 x 40 mm\n---\n\n## Make"
    )
    longer = with_size(there, ("large:", "  tag:", "    size: 80 x 160 mm"))
    assert longer.count("sizes:") == 1
    assert longer.index("small:") < longer.index("large:") < longer.index("## Make")
    assert understood(texts_of("made-up", longer), Beside()).recipe.other_sizes == ("small", "large")


def test_steps_in_other_units_are_refused():
    texts = texts_of("made-up", TAG)
    asked = SizeOptions(scale="2", numbers="1/8 in")
    found = resize(understood(texts, Beside()), asked)
    assert isinstance(found, Wrong)
    assert found.message == "design.numbers-in-other-units"


# --- other contents ---------------------------------------------------------------------------------------------------

BAG = "  bag:\n    from: card\n    fold: gift bag\n    finished: 90 x 50 x 140 mm\n"


def test_a_form_that_is_worked_out_gets_as_much_larger_as_its_room():
    # A bag takes 3 thicknesses of 0.3 mm across and 4 of its depth and height, in whole millimetres taken up. Two books
    # of 100 x 30 x 150 mm: side by side 100 x 60 x 150 mm, and 1 mm to spare each way.
    made = resized(recipe(BAG), holds="2 books of 100 x 30 x 150 mm")
    # 101 + 0.9, 61 + 1.2, 151 + 1.2.
    assert entry_of(made) == "bag:\n  finished: 102 x 63 x 153 mm"
    assert not made.wrong


def test_round_things_are_said_to_be_round():
    tray = (
        "  base:\n    from: card\n    across: 25 mm | 80 mm | 25 mm\n    down: 25 mm | 60 mm | 25 mm\n"
        "    flaps: joined to left and right, trimmed 1 mm\n    fold: tray\n    holds: sweet\n"
    )
    text = recipe(tray, "  sweet: sweet, size 30 x 20 x 20 mm, use 2\n")
    made = resized(text, holds="4 candles of 20 mm round x 70 mm")
    assert "sweet:\n  size: round 20 x 70 mm\n  use: 4" in entry_of(made)
    assert not made.wrong
    assert "still-called" in {note.code for note in made.notes}
    checked = made.checked.understood
    assert checked is not None
    assert [one.things for one in checked.flat.held] == [(("sweet", 4),)]


def test_what_lies_in_the_box_as_well_still_has_room():
    # Two sweets of 30 x 20 x 20 mm and a card of 60 x 40 x 1 mm; four sweets now.
    tray = (
        "  base:\n    from: card\n    across: 25 mm | 80 mm | 25 mm\n    down: 25 mm | 60 mm | 25 mm\n"
        "    flaps: joined to left and right, trimmed 1 mm\n    fold: tray\n    holds: sweet, letter\n"
    )
    supplies = "  sweet: sweet, size 30 x 20 x 20 mm, use 2\n  letter: letter, size 60 x 40 x 1 mm, use 1\n"
    made = resized(recipe(tray, supplies), holds="4 sweets of 30 x 20 x 20 mm")
    assert not made.wrong
    checked = made.checked.understood
    assert checked is not None
    assert [sorted(one.things) for one in checked.flat.held] == [[("letter", 1), ("sweet", 4)]]
