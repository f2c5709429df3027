"""The demo recipes and the drafts tell the truth about the paper: which way it folds, how many pages there are."""

from __future__ import annotations

import re

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.document.words import plain, plain_passage
from foldwright.geometry.contours import Ring, contours_of
from foldwright.geometry.folding.forms import bends_of
from foldwright.measure.length import System
from workbench.compiled import DEMOS, RECIPES, compiled, demo

WALLS = ("tray", "lid", "sleeve")
TOWARDS = re.compile(r"towards you|(?<!first )\bfold(?:ed)? up\b|fold all four scores up", re.IGNORECASE)


def texts_of_folding(name: str) -> list[str]:
    """What is said in the steps that fold a piece with walls, in every wording."""
    sheet, checked = compiled((RECIPES / name / "recipe.md").read_text(encoding="utf-8"), name)
    assert checked.understood is not None
    walled = set()
    for piece in checked.understood.recipe.pieces:
        blank = next(blank for blank in checked.understood.flat.blanks if blank.piece == piece.name.value)
        if piece.fold and piece.fold.value.form in WALLS:
            bends = bends_of(blank, piece.fold.value)
            # A mountain, seen from the good side, which lies up.
            assert bends is not None and all(angle < 0 for angle in bends.angles.values())
            walled.add(piece.name.value)
    return [
        plain_passage(wording, System.METRIC)
        for step in sheet.steps
        if any(done.act == "fold" and done.piece in walled for done in step.done)
        for wording in step.wordings
    ]


@pytest.mark.parametrize("name", ["birdhouse", "drawer-box", "keepsake-box"])
def test_walls_are_folded_away_from_the_good_side(name):
    texts = texts_of_folding(name)
    assert texts
    assert not [text for text in texts if TOWARDS.search(text)]
    assert any("away from" in text for text in texts)


def test_drafts_and_new_recipes_fold_walls_away_too():
    """The words of the steps that begin a recipe, among them every form that has walls."""
    words = catalogue()
    steps = {key: "".join(words.parts(key)) for key in words.names() if key.startswith("draft.text.")}
    assert not [text for text in steps.values() if TOWARDS.search(text)]
    for form in ("make-tray", "make-corner", "make-sleeve"):
        assert "away from you" in steps[f"draft.text.{form}"]


def test_the_concertina_has_the_pages_it_says():
    """Every panel has two sides; each cover takes one."""
    sheet = demo("concertina")
    strip, cover = sheet.pieces
    pages = 2 * len(strip.panels_across) - cover.count
    assert (len(strip.panels_across), pages) == (4, 6)
    said = plain_passage(sheet.intro, System.METRIC)
    assert "six are left for pages" in said
    assert plain(sheet.head.summary, System.METRIC).startswith("Six small pages")


def test_the_tag_has_its_corners_off_and_takes_the_time_it_says():
    sheet, checked = compiled((RECIPES / "twine-tag" / "recipe.md").read_text(encoding="utf-8"), "twine-tag")
    assert checked.understood is not None
    tag = next(blank for blank in checked.understood.flat.blanks if blank.piece == "tag")
    (outline,) = contours_of(tag).outlines
    assert isinstance(outline, Ring)
    # 2 x 4 in, half an inch off either top corner, in millimetres.
    corners = {(0, 12.7), (12.7, 0), (38.1, 0), (50.8, 12.7), (50.8, 101.6), (0, 101.6)}
    assert {(round(x, 3), round(y, 3)) for x, y in outline.points} == corners
    assert sheet.totals.hands_on.seconds == 5 * 60
    assert "five minutes" in plain(sheet.head.summary, System.METRIC)


@pytest.mark.parametrize("name", DEMOS)
def test_no_demo_recipe_leaves_a_thought(name):
    assert demo(name).findings == ()
