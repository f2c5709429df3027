"""Recipes from text to printed figures: what people cut by either page, reckoned by hand beside each."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from random import Random

import pytest

from foldwright.figures.model import Figures
from foldwright.finding import Strength
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import System, Unit
from foldwright.pipeline import Checked, check_recipe

IMPERIAL, METRIC = System.IMPERIAL, System.METRIC


def checked(pieces: str, facts: str = "", words: str = "", supplies: str = "") -> Checked:
    head = f"title: Box\nmakes: 1 box\n{facts}supplies:\n  card: cardstock, sheet A3\n{supplies}"
    return check_recipe(f"---\n{head}pieces:\n{pieces}---\n{words}", "recipe.md", "box")


def figures(pieces: str, facts: str = "", words: str = "") -> dict[System, Figures]:
    understood = checked(pieces, facts, words).understood
    assert understood is not None
    return dict(understood.figures)


def row(printed: Figures, piece: str, side: str) -> list[str]:
    """The panels of a row as they print."""
    named = [(name, one) for name, one in printed.printed.items() if (name.piece, name.side) == (piece, side)]
    return [one.plain for name, one in named if name.place.startswith("panel")]


def places(printed: Figures, piece: str, side: str) -> list[Fraction]:
    """The different places of the points of drawn lines, and the end of the piece, as they print."""
    points = {
        one.mm
        for name, one in printed.printed.items()
        if name.piece == piece and name.side.startswith("line") and name.place.endswith(side)
    }
    return sorted(points | {Fraction(0), printed[LengthId(piece, side, "size")].mm})


# --- panels first -----------------------------------------------------------------------------------------------------

DRAWER = """\
  drawer:
    from: card
    size: 100 x 120 mm
    across: 20 left | 60 floor | 20 right
    down: 20 back | 80 floor | 20 front
    flaps: joined to back and front
    fold: tray
"""


def test_a_drawer_keeps_its_floor() -> None:
    # 20 mm is 12.6 sixteenths, 60 mm 37.8, 80 mm 50.4; the blank is what they come to, 64 and 76 sixteenths.
    printed = figures(DRAWER)[IMPERIAL]
    assert row(printed, "drawer", "across") == ["13/16 in", "2 3/8 in", "13/16 in"]
    assert row(printed, "drawer", "down") == ["13/16 in", "3 1/8 in", "13/16 in"]
    assert printed[LengthId("drawer", "across", "size")].plain == "4 in"
    assert printed[LengthId("drawer", "down", "size")].plain == "4 3/4 in"
    assert printed[LengthId("drawer", "across", "score", 2)].plain == "3 3/16 in"


def test_equal_thirds_take_whole_millimetres() -> None:
    printed = figures("  strip:\n    from: card\n    size: 9 3/8 x 2 in\n    across: 3 of 3 1/8\n")[METRIC]
    assert row(printed, "strip", "across") == ["79 mm"] * 3
    assert printed[LengthId("strip", "across", "size")].plain == "237 mm"
    assert printed.notes == ()


def test_a_rest_beside_inches_is_left_over_not_written() -> None:
    # 100 mm stands as written: 25.5 + 49 + 25.5, for 25.4 | 49.2 | 25.4 mm.
    printed = figures("  strip:\n    from: card\n    size: 100 x 50 mm\n    across: 1 in | rest | 1 in\n")[METRIC]
    assert row(printed, "strip", "across") == ["25.5 mm", "49 mm", "25.5 mm"]
    assert printed[LengthId("strip", "across", "size")].plain == "100 mm"


# --- what meets -------------------------------------------------------------------------------------------------------

BELT = """\
  belt:
    from: card
    size: {size} x {high} mm
    lines:
{lines}
    fold: -90, -90, -90
"""


def belt(wide: int, high: int) -> str:
    """Four walls as a belt, its scores drawn as lines; as wide as each other."""
    scores = (f"      - score from {at * wide} across 0 down to {at * wide} across {high} down" for at in range(1, 4))
    return BELT.format(size=4 * wide, high=high, lines="\n".join(scores))


def faces(printed: Figures) -> set[Fraction]:
    along = places(printed, "belt", "across")
    return {there - here for here, there in pairwise(along)}


def test_the_faces_of_a_drawn_cube_are_equal() -> None:
    # 40 mm is 25.2 sixteenths: each face is 1 9/16 in, so the scores are at 1 9/16, 3 1/8 and 4 11/16 in.
    printed = figures(belt(40, 40))[IMPERIAL]
    assert [place / Unit.INCH.mm for place in places(printed, "belt", "across")] == [
        0,
        Fraction(25, 16),
        Fraction(25, 8),
        Fraction(75, 16),
        Fraction(25, 4),
    ]
    assert printed[LengthId("belt", "down", "size")].plain == "1 9/16 in"


@pytest.mark.parametrize("seed", range(30))
def test_the_walls_of_any_drawn_belt_are_equal(seed: int) -> None:
    random = Random(seed)
    printed = figures(belt(random.randint(11, 70), random.randint(10, 200)))[IMPERIAL]
    assert len(faces(printed)) == 1


def test_scores_in_the_words_are_those_of_the_drawing() -> None:
    words = "\n## Cut\n\n```step\ndo: cut and score belt\n```\n\nScore the belt at 40, 80 and 120 mm.\n"
    understood = checked(belt(40, 40), words=words).understood
    assert understood is not None
    (bound,) = understood.binding.ids.values()
    assert [understood.figures[IMPERIAL][name].plain for name in bound] == ["1 9/16 in", "3 1/8 in", "4 11/16 in"]


@pytest.mark.parametrize("seed", range(30))
def test_walls_that_meet_at_a_corner_are_equally_high(seed: int) -> None:
    """A tray by its angles, no form named: only folding knows which walls meet."""
    random = Random(seed)
    high, wide, long = random.randint(8, 60), random.randint(20, 90), random.randint(20, 90)
    pieces = (
        f"  box:\n    from: card\n    size: {wide + 2 * high} x {long + 2 * high} mm\n"
        f"    across: {high} | {wide} | {high}\n    down: {high} | {long} | {high}\n"
        f"    corners: cut away\n    fold: -90, -90, -90, -90\n"
    )
    printed = figures(pieces)[IMPERIAL]
    across, down = row(printed, "box", "across"), row(printed, "box", "down")
    assert len({across[0], across[2], down[0], down[2]}) == 1


def test_what_only_folding_joins_is_one_group() -> None:
    """The walls across are held to thirty-seconds by a mat; so the walls down, which meet them, follow."""
    understood = checked(
        "  box:\n    from: card\n    size: 80 x 80 mm\n    across: 20 | 40 | 20\n    down: 20 | 40 | 20\n"
        "    corners: cut away\n    fold: -90, -90, -90, -90\n"
    ).understood
    assert understood is not None
    meeting = understood.folding.relations
    one, other = LengthId("box", "across", "panel", 1), LengthId("box", "down", "panel", 1)
    assert any({relation.one, relation.other} == {one, other} for relation in meeting)  # type: ignore[union-attr]


# --- room that was asked for ------------------------------------------------------------------------------------------

INSIDE = """\
  box:
    from: card
    inside: 36 x 58 x 15 mm
    fold: tray
    flaps: joined to front and back
    holds: bar
"""
BAR = "  bar: wrapped sweet, use 1, size 36 x 58 x 15 mm, contains nuts\n"


def test_room_that_was_asked_for_is_never_printed_smaller() -> None:
    # Walls of 15 + 0.165, a floor of 36 + 0.33 + 0.66 by 58 + 0.33 mm; up to the next half, or thirty-second.
    found = checked(INSIDE, "card thickness: 0.33 mm\n", supplies=BAR)
    assert found.understood is not None
    metric, imperial = (found.understood.figures[system] for system in (METRIC, IMPERIAL))
    assert row(metric, "box", "across") == ["15.5 mm", "37 mm", "15.5 mm"]
    assert row(metric, "box", "down") == ["15.5 mm", "58.5 mm", "15.5 mm"]
    # 0.597 in is 9.55 sixteenths, 1.456 in 46.6 thirty-seconds, 2.296 in 73.5 of them.
    assert row(imperial, "box", "across") == ["5/8 in", "1 15/32 in", "5/8 in"]
    assert row(imperial, "box", "down") == ["5/8 in", "2 5/16 in", "5/8 in"]
    assert not [one for one in found.findings if one.code.startswith("does-not-go-in")]


def test_what_goes_in_only_by_the_other_page_is_told() -> None:
    # A floor of 60 mm is 2 3/8 in, 60.3 mm, but one of 62 mm is 2 7/16 in, 61.9 mm: a bar of 62 mm lacks a tenth.
    tray = DRAWER.replace("size: 100 x 120", "size: 102 x 120").replace("60 floor", "62 floor") + "    holds: bar\n"
    bar = "  bar: wrapped sweet, use 1, size 62 x 79 x 10 mm, contains nuts\n"
    found = checked(tray, supplies=bar)
    (told,) = [one for one in found.findings if one.code.startswith("does-not-go-in")]
    # In an open tray it stands on end, above the walls: that is only a thought.
    assert (told.code, told.strength) == ("does-not-go-in-as-printed", Strength.THOUGHT)
    assert dict(told.facts)["system"] == "imperial"
    assert not [one for one in checked(tray, "numbers: exact\n", supplies=bar).findings if "go-in" in one.code]


# --- fits -------------------------------------------------------------------------------------------------------------


def test_words_that_speak_of_room_say_what_is_left() -> None:
    pieces = (
        "  base:\n    from: card\n    size: 5 x 5 in\n    across: 1 | 3 | 1\n    down: 1 | 3 | 1\n"
        "    flaps: joined to top and bottom\n    fold: tray\n"
        "  lid:\n    from: card\n    size: 5 1/8 x 5 1/8 in\n    across: 1 | 3 1/8 | 1\n    down: 1 | 3 1/8 | 1\n"
        "    flaps: joined to top and bottom\n    fold: lid\n    fits over: base\n"
    )
    words = "\n## Fold\n\n```step\ndo: fold lid\n```\n\nThe lid has 1/16 in room on each side, 1/8 in in all.\n"
    understood = checked(pieces, words=words).understood
    assert understood is not None
    # 3 1/8 over 3 in prints as 79 over 76 mm.
    bound = [understood.figures[METRIC][name].plain for names in understood.binding.ids.values() for name in names]
    assert bound[0] == "1.5 mm"


# --- forms that are worked out ------------------------------------------------------------------------------------


@pytest.mark.parametrize(("wide", "fits"), [("79.2", True), ("79.6", False)])
def test_what_a_carton_holds_goes_into_the_one_that_is_cut_by_either_page(wide: str, fits: bool) -> None:
    # 80 mm is 3.1496 in, which prints as 3 1/8 in: 79.375 mm.
    carton = "  carton:\n    from: card\n    fold: gable-top\n    finished: 80 x 60 x 90 mm\n    holds: soap\n"
    one = checked(carton, supplies=f"  soap: soap, use 1, size {wide} x 50 x 80 mm\n")
    assert one.understood is not None
    made = LengthId("carton", "made", "across")
    assert one.understood.figures[IMPERIAL][made].mm == Fraction(25, 8) * Unit.INCH.mm
    told = [finding for finding in one.findings if finding.strength is Strength.MISFIT]
    assert (not told) is fits
