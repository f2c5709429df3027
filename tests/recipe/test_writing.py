"""What is written of a recipe reads as the same recipe."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import read_recipe
from foldwright.recipe.writing import write_recipe
from recipe.test_slips_in_facts import CASES, Case
from recipe.without_places import without_places

ROOT = Path(__file__).parents[2]
DEMOS = sorted((ROOT / "recipes").glob("*/recipe.md"))


def read(text: str) -> Recipe:
    recipe = read_recipe(text, "r", "slug").recipe
    assert recipe is not None
    return recipe


def keeps(text: str) -> str:
    recipe = read(text)
    written = write_recipe(recipe)
    assert without_places(read(written)) == without_places(recipe)
    assert write_recipe(read(written)) == written
    return written


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.parent.name)
def test_a_demo_recipe_is_kept(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    written = keeps(text)
    assert not read_recipe(written, "r", "slug").findings
    assert len(max(written.split("\n"), key=len)) <= 160


@pytest.mark.parametrize("case", CASES)
def test_whatever_was_understood_is_kept(case: Case) -> None:
    keeps(case.text)
