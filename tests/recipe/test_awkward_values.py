"""Values as people type them, and what each must become: the table is tests/cases/awkward-values.toml."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from foldwright.recipe.model import Piece, Recipe, Supply
from foldwright.recipe.reading import read_recipe
from recipe.facts_shown import shown

TABLES: dict[str, dict[str, str | list[str]]] = tomllib.loads(
    (Path(__file__).parents[1] / "cases" / "awkward-values.toml").read_text(encoding="utf-8")
)
CASES = [
    pytest.param(word, typed, expected, id=f"{word}: {typed}")
    for word, table in TABLES.items()
    for typed, expected in table.items()
]
FIELDS = {"for": "audience", "from": "supply", "this way up": "upright", "hush": "hushed"}
SUPPLY_FIELDS = {"colour": "colours", "pack": "packs", "sheet": "sheets"}
OTHER_PIECES = """  lid:
    size: 3 x 1 in
    across: 1 side | 1 floor | 1 side
  lid floor cover:
    size: 1 x 1 in
  salt and pepper:
    size: 1 x 1 in
"""


def recipe_with(word: str, typed: str) -> str:
    if word.startswith("supply "):
        facts = f"title: x\nsupplies:\n  thing:\n    {word.removeprefix('supply ')}: {typed}\n"
    elif word in ("title", "video", "level", "hush", "measured in"):
        facts = ("" if word == "title" else "title: x\n") + f"{word}: {typed}\n"
    else:
        word = word.removesuffix(" relative")
        size = "" if word in ("size", "inside") else "    size: 5 x 4 in\n"
        supplies = "supplies:\n  envelope: envelope, use 1\n"
        facts = f"title: x\n{supplies}pieces:\n  piece:\n{size}    {word}: {typed}\n{OTHER_PIECES}"
    return f"---\n{facts}---\n\n## Step\n\nWords.\n"


def value_of(recipe: Recipe, word: str) -> object:
    if word.startswith("supply "):
        name = word.removeprefix("supply ")
        supply: Supply = recipe.supplies[0]
        return getattr(supply, SUPPLY_FIELDS.get(name, name))
    if word in ("title", "video", "level", "hush", "measured in"):
        return getattr(recipe, FIELDS.get(word, word.replace(" ", "_")))
    piece: Piece = recipe.pieces[0]
    if word.endswith(" relative"):
        return piece.relative
    return getattr(piece, FIELDS.get(word, word.replace(" ", "_")))


@pytest.mark.parametrize(("word", "typed", "expected"), CASES)
def test_a_value_becomes_what_was_meant(word: str, typed: str, expected: str | list[str]) -> None:
    text = recipe_with(word, typed)
    reading = read_recipe(text, "recipe.md", "x")
    assert reading.recipe is not None
    value = value_of(reading.recipe, word)
    if word == "title" and not typed.split("  #")[0].strip():
        value = None
    wanted, *codes = [expected] if isinstance(expected, str) else expected
    assert shown(value) == wanted
    assert [finding.code for finding in reading.findings] == codes


def test_there_are_at_least_sixty_awkward_values() -> None:
    assert len(CASES) >= 60
