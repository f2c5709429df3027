"""Paper turned in over a board: how large it is, and whether its mitred corners leave the board bare."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, sqrt

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from foldwright.geometry.folding.folded import fold
from foldwright.geometry.folding.pieces import Folding, fold_pieces
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.geometry.understood import fit_of, work_on
from foldwright.recipe.reading import read_recipe
from geometry.laid import the_blank
from workbench.long import tries

SOME = settings(max_examples=tries(25, 150))
HEAD = """\
---
title: A cover
makes: 1 cover
measured in: millimetres
supplies:
  board: chipboard, thickness {thick} mm, sheet A3
  cloth: fabric, sheet A3
pieces:
  cover:
    from: board
    size: {wide} x {high} mm
  cloth:
    from: cloth
{facts}
---

## Cover
do: glue cloth to cover{do}

{words}
"""


def lay(facts: str, wide: int = 80, high: int = 110, thick: str = "2", do: str = "", words: str = "Glue.") -> Flat:
    return both(facts, wide, high, thick, do, words)[0]


def both(
    facts: str, wide: int = 80, high: int = 110, thick: str = "2", do: str = "", words: str = "Glue."
) -> tuple[Flat, Folding]:
    lines = "\n".join("    " + line for line in facts.splitlines())
    text = HEAD.format(facts=lines, wide=wide, high=high, thick=thick, do=do, words=words)
    recipe = read_recipe(text, "recipe.md", "test", None).recipe
    assert recipe is not None
    flat = lay_flat(recipe)
    return flat, fold_pieces(recipe, flat)


@SOME
@given(st.integers(50, 180), st.integers(50, 240), st.integers(8, 25), st.sampled_from(["1", "2", "2.5", "3"]))
def test_the_corners_are_covered_and_no_more_is_left_than_that_takes(
    wide: int, high: int, turn: int, thick: str
) -> None:
    """Twice the board's thickness stays at every corner, at a right angle to the cut (bookbinding, from memory)."""
    from shapely import union_all
    from shapely.geometry import Point, Polygon

    board = float(thick)
    assume(ceil(turn + board) - board <= min(wide, high) / 2)
    flat, folding = both(f"fold: turned in, {turn} mm\ncovers: cover", wide, high, thick)
    assert (*flat.findings, *folding.findings) == ()
    blank = the_blank(flat, "cloth")
    beyond = ceil(turn + board)
    assert (blank.width, blank.height) == (wide + 2 * beyond, high + 2 * beyond)
    x1 = float(min(x for x, y in blank.outline if y == 0))
    assert x1 == float(min(y for x, y in blank.outline if x == 0))
    # The distance of the board's corner from the line x + y = x1.
    assert (2 * beyond - x1) / sqrt(2) == pytest.approx(max(2 * board, 2), abs=1e-6)
    folded = fold(folding.nets["cloth"])
    assert folded.opened == ()
    flaps = [folded.corners(number) for number, _ in folded.panels if number != folded.net.root]
    assert all(abs(z) < 1e-6 for corners in flaps for _, _, z in corners)
    covered = union_all([Polygon([(x, y) for x, y, _ in corners]) for corners in flaps])
    place = Polygon(folded.net.panels[folded.net.root].outline)
    assert place.buffer(1e-6).contains(covered)
    left, top, right, bottom = place.bounds
    for off in (0.5, beyond / 2, beyond - max(2 * board, 2)):
        for x, y in ((left + off, top + off), (right - off, top + off), (left + off, bottom - off)):
            assert covered.buffer(1e-6).contains(Point(x, y))


def test_the_numbers_to_cut_and_to_lay_the_board_by() -> None:
    flat = lay("fold: turned in, 15 mm\ncovers: cover")
    blank = the_blank(flat, "cloth")
    assert (blank.width, blank.height) == (114, 144)
    facts = {fact.code: fact for fact in work_on(blank, flat)}
    assert set(facts) == {"cut", "corner-off", "board"}
    assert [flat.lengths.by_id[name].mm for name in facts["board"].lengths] == [17, 17]
    (told,) = fit_of(blank, flat)
    assert told.code == "turn-in" and [flat.lengths.by_id[name].mm for name in told.lengths] == [17, 17]


def test_a_cloth_with_a_size_of_its_own_is_turned_in_by_what_is_over() -> None:
    flat = lay("size: 112 x 146 mm\nfold: turned in\ncovers: cover")
    assert flat.findings == ()
    face = the_blank(flat, "cloth").faces[0]
    assert (face.left, face.top, face.wide, face.high) == (16, 18, 80, 110)


@pytest.mark.parametrize(
    ("do", "words", "turned"),
    [
        (", fold cloth", "Glue.", True),
        ("", "Glue it, and turn in the edges all round.", True),
        ("", "Fold the edges of the cloth over the board.", True),
        ("", "Glue it, centred.", False),
    ],
)
def test_what_a_step_turns_in_does_not_stick_out(do: str, words: str, turned: bool) -> None:
    flat = lay("size: 110 x 140 mm\ngoes on: outside of cover, centred", do=do, words=words)
    assert flat.findings == ()
    (told,) = fit_of(the_blank(flat, "cloth"), flat)
    assert told.code == ("turn-in" if turned else "overhang")
    assert LengthId("cloth", told.code, "across", of="cover") in flat.lengths.by_id


@pytest.mark.parametrize(
    ("facts", "code"),
    [
        ("fold: turned in", "covers-what"),
        ("fold: turned in, 60 mm\ncovers: cover", "turn-in-too-wide"),
        ("size: 82 x 112 mm\nfold: turned in\ncovers: cover", "turn-in-too-narrow"),
    ],
)
def test_what_cannot_be_turned_in_is_told(facts: str, code: str) -> None:
    flat = lay(facts)
    assert code in [one.code for one in flat.findings]
    assert all(one.form != "turned in" or not one.drawn for one in flat.blanks)


def test_inches_are_taken_up_to_sixteenths() -> None:
    """3/4 in and a board of 2 mm, which is 0.0787 in: 7/8 in all round."""
    flat = lay("fold: turned in, 3/4 in\ncovers: cover")
    assert the_blank(flat, "cloth").width == 80 + 2 * ceil(Fraction("19.05") + 2)
    inches = lay("fold: turned in, 3/4 in\nfinished: 3 1/4 x 4 1/4 in\ncovers: cover")
    assert the_blank(inches, "cloth").faces[0].left == Fraction("19.05")
