"""The case of a book box: as wide and high as the tray in it asks for, reckoned from the tray's own inside."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.figures.closing import close
from foldwright.geometry.folding.folded import fold
from foldwright.geometry.folding.pieces import Folding, fold_pieces
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.measure.length import System
from foldwright.recipe.reading import read_recipe
from geometry.laid import the_blank
from workbench.long import tries

SOME = settings(max_examples=tries(25, 150))
HEAD = """\
---
title: A book box
makes: 1 box
measured in: millimetres
supplies:
  card: cardstock, thickness {card} mm, sheet A3
  board: cardstock, thickness {board} mm, sheet A3
pieces:
  tray:
    from: card
    inside: {inside} mm
    corners: cut away
    fold: tray
    glued: tray floor to inside of cover back, tray left to inside of cover spine
  cover:
    from: board
    fold: case
{facts}
---

Words.
"""


def both(inside: str, facts: str = "goes round: tray", card: str = "0.5", board: str = "1") -> tuple[Flat, Folding]:
    lines = "\n".join("    " + line for line in facts.splitlines())
    text = HEAD.format(inside=inside, facts=lines, card=card, board=board)
    recipe = read_recipe(text, "recipe.md", "test", None).recipe
    assert recipe is not None
    flat = lay_flat(recipe)
    return flat, fold_pieces(recipe, flat)


def _half_up(mm: float) -> Fraction:
    """To the next half a millimetre."""
    return Fraction(ceil(round(mm * 2, 6)), 2)


@SOME
@given(
    st.integers(40, 150),
    st.integers(40, 150),
    st.integers(10, 38),
    st.sampled_from(["0.3", "0.5"]),
    st.sampled_from(["0.5", "1", "2"]),
)
def test_a_case_closes_round_its_tray(wide: int, down: int, deep: int, card: str, board: str) -> None:
    """The tray outside: its inside and two walls, or a floor. The boards stand over by 3 mm at three edges."""
    flat, folding = both(f"{wide} x {down} x {deep}", card=card, board=board)
    assert (*flat.findings, *folding.findings) == ()
    blank, thin, thick = the_blank(flat, "cover"), float(card), float(board)
    front, spine, back = blank.across
    assert spine.long == _half_up(deep + thin + thick)
    assert front.long == back.long == _half_up(wide + 2 * thin + thick / 2 + 3)
    assert blank.height == _half_up(down + 2 * thin + 6)
    folded = fold(folding.nets["cover"])
    heights = {round(spot[2], 6) for number, _ in folded.panels for spot in folded.corners(number)}
    assert len(heights) == 2 and max(heights) - min(heights) == pytest.approx(float(spine.long))
    for system in System:
        printed = close(flat.lengths, system).printed
        assert printed[spine.length].mm > printed[the_blank(flat, "tray").across[0].length].mm


@pytest.mark.parametrize(
    ("facts", "panels"),
    [
        ("size: 212 x 136 mm\nacross: 93 front | 26 spine | 93 back\ngoes round: tray", []),
        ("size: 206 x 136 mm\nacross: 93 front | 20 spine | 93 back\ngoes round: tray", ["spine"]),
        ("size: 199 x 136 mm\nacross: 93 front | 26 spine | 80 back\ngoes round: tray", ["back"]),
        ("size: 212 x 120 mm\nacross: 93 front | 26 spine | 93 back\ngoes round: tray", ["down"]),
    ],
)
def test_a_case_that_is_too_small_is_told_with_what_it_needs(facts: str, panels: list[str]) -> None:
    """A tray of 90 x 130 x 25 mm inside is 91 x 131 x 25.5 mm outside; the spine needs 1 mm more for its own board."""
    flat, _ = both("90 x 130 x 25", facts)
    told = [dict(one.facts) for one in flat.findings if one.code == "case-too-small"]
    assert [one["panel"] for one in told] == panels


def test_a_case_goes_round_a_box_alone() -> None:
    flat, _ = both("90 x 130 x 25", "goes round: cover")
    assert "measured-in-a-circle" in {one.code for one in flat.findings}
    text = HEAD.format(
        inside="90 x 130 x 25",
        facts="    goes round: slip\n  slip:\n    from: card\n    size: 40 x 60 mm",
        card=1,
        board=1,
    )
    recipe = read_recipe(text, "recipe.md", "test", None).recipe
    assert recipe is not None and "case-round-what" in {one.code for one in lay_flat(recipe).findings}
