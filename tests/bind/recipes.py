"""Recipes for the tests of binding: those of ordinary-steps.md, and any of them with other words."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from foldwright.bind.words import Binding, bind_words
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import read_recipe

CASES = Path(__file__).parent.parent / "cases"
TITLE = re.compile(r"^title: (.*)$", re.MULTILINE)


@cache
def ordinary() -> dict[str, str]:
    """The recipes of ordinary-steps.md by title."""
    texts = (CASES / "ordinary-steps.md").read_text(encoding="utf-8").split("\n===\n")
    return {TITLE.findall(text)[0]: text.lstrip() for text in texts}


def with_words(title: str, words: str, do: str = "", section: str = "Do it") -> str:
    """One of those recipes with a single step (or section) of other words."""
    front = ordinary()[title].split("\n---\n")[0]
    block = f"```step\ndo: {do}\ntime: 1 min\n```\n\n" if do else ""
    return f"{front}\n---\n\n## {section}\n\n{block}{words}\n"


def read(text: str) -> tuple[Recipe, Flat]:
    recipe = read_recipe(text, "recipe.md", "recipe").recipe
    assert recipe is not None
    return recipe, lay_flat(recipe)


def bound(text: str, strict: bool = False) -> Binding:
    recipe, flat = read(text)
    return bind_words(recipe, flat, strict)


def ids_said(text: str) -> list[tuple[str, str]]:
    """What each length of the words was tied to, in text order: (number as said, `piece side place number of`)."""
    binding = bound(text)
    found = []
    for explained in binding.explained:
        for length, own in zip(explained.lengths, binding.ids[explained.place], strict=True):
            parts = (own.piece, own.side, own.place, str(own.number or ""), own.of)
            found.append((str(length.value), "free" if own.piece == "words" else " ".join(filter(None, parts))))
    return found
