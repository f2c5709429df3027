"""A blank that is worked out is spoken of by the numbers its page prints: those an author reads, and types."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import Length, System, Unit
from foldwright.pipeline import check_recipe

RECIPE = """---
title: Box
measured in: {unit}
supplies:
  card: cardstock, thickness {thick}, sheet {sheet}
pieces:
  base:
    from: card
    inside: {inside}
    flaps: joined to left and right
    fold: tray
---

## Cut

do: cut and score base
time: 3 min

{words}

## Fold

do: slit base, fold base
time: 3 min

Fold.
"""
MM = {"unit": "mm", "thick": "0.32 mm", "sheet": "A4", "inside": "90 x 60 x 25 mm"}
INCH = {"unit": "inches", "thick": "12 pt", "sheet": "letter", "inside": "3 1/2 x 2 1/2 x 1 in"}


@pytest.mark.parametrize(
    ("facts", "words", "printed"),
    [
        # By hand: walls 25.16 and floors 90.32 and 60.96 mm go up to the next half millimetre, so the room is kept.
        (MM, "Cut it to {} and score 25.5 mm from every edge.", ("141.5", "112")),
        # Walls 1.006, floors 3.512 and 2.536 in go up to the next 1/32 in: 1 1/32, 3 17/32, 2 9/16.
        (INCH, "Cut it to {} and score 1 1/32 in from every edge.", ("5 19/32", "4 5/8")),
    ],
    ids=["mm", "inches"],
)
def test_the_printed_numbers_are_the_right_ones(facts: dict[str, str], words: str, printed: tuple[str, str]) -> None:
    unit = "mm" if facts is MM else "in"
    right = words.format(f"{printed[0]} x {printed[1]} {unit}")
    checked = check_recipe(RECIPE.format(**facts, words=right), "recipe.md", "box")
    assert [one.code for one in checked.findings if one.code.startswith("words-")] == []
    understood = checked.understood
    assert understood is not None
    bound = {name.place for names in understood.binding.ids.values() for name in names}
    assert {"size", "score"} <= bound
    figures = understood.figures[System.METRIC if facts is MM else System.IMPERIAL]
    assert tuple(figures[LengthId("base", side, "size")].number for side in ("across", "down")) == printed


def test_a_slip_is_told_with_the_printed_number() -> None:
    text = RECIPE.format(**MM, words="Cut it to 142 x 112 mm.")
    (slip,) = [one for one in check_recipe(text, "recipe.md", "box").findings if one.code == "words-size-differs"]
    assert dict(slip.facts)["length"] == Length.of(Fraction(283, 2), Unit.MILLIMETRE)
