"""Pieces that no step cuts or folds."""

from __future__ import annotations

import pytest

from foldwright.finding import Strength
from foldwright.recipe.coherence import check_names
from foldwright.recipe.reading import read_recipe

RECIPE = """---
title: Tray with a mat
measured in: millimetres
supplies:
  card: cardstock, sheet A4
pieces:
  tray:
    from: card
    size: 100 x 130 mm
    across: 20 left | 60 floor | 20 right
    down: 20 back | 90 floor | 20 front
    corners: cut away
    fold: tray
  mat:
    from: card
    size: 56 x 86 mm
---

## Begin

do: {begin}

{words}

## Put it together

do: {put}

{more}
"""


@pytest.mark.parametrize(
    ("begin", "words", "put", "more", "told"),
    [
        ("cut and score tray, cut mat", "Cut.", "fold tray, glue mat to tray", "Glue.", []),
        ("cut and score tray", "Cut.", "fold tray, glue mat to tray", "Glue.", ["piece-never-cut mat"]),
        ("cut and score tray, cut mat", "Cut.", "glue mat to tray", "Glue it.", ["piece-never-folded tray"]),
        # Who says it in the words has said it.
        ("cut and score tray", "Cut a mat as well.", "glue mat to tray", "Fold up the walls.", []),
        ("cut and score tray", "Cut all the pieces.", "glue mat to tray", "Crease the tray and glue it.", []),
        # Another sentence that cuts something else, from every edge of it.
        (
            "cut and score tray",
            "Cut the card and score it 20 mm in from every edge.",
            "fold tray, glue mat to tray",
            "Glue.",
            ["piece-never-cut mat"],
        ),
        # A piece that nobody speaks of at all is told so, and nothing else.
        ("cut and score tray", "Cut.", "fold tray", "Done.", ["piece-unmentioned mat"]),
        # Without a word about acts nothing can be missing.
        ("", "Take the tray and the mat.", "", "Admire them.", []),
    ],
)
def test_work_that_no_step_does(begin: str, words: str, put: str, more: str, told: list[str]) -> None:
    text = RECIPE.format(begin=begin, words=words, put=put, more=more).replace("do: \n", "")
    recipe = read_recipe(text, "r.md", "r").recipe
    assert recipe is not None
    found = [one for one in check_names(recipe) if one.code.startswith("piece-")]
    assert [f"{one.code} {dict(one.facts)['name']}" for one in found] == told
    assert all(one.strength is Strength.THOUGHT for one in found)
