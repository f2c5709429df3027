"""Small recipes for the tests of planning, written as authors write them."""

from __future__ import annotations

from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import read_recipe


def recipe_of(text: str) -> Recipe:
    recipe = read_recipe(text, "recipe.md", "recipe").recipe
    assert recipe is not None
    return recipe


def laid(supply: str, piece: str, unit: str = "millimetres") -> tuple[Recipe, Flat]:
    """A recipe with one supply, `card`, and one piece, `base`, of these facts (facts of the piece parted by `;`)."""
    facts = "\n".join(f"    {fact.strip()}" for fact in piece.split(";"))
    recipe = recipe_of(
        f"---\ntitle: T\nmeasured in: {unit}\nsupplies:\n  card: cardstock, {supply}\n"
        f"pieces:\n  base:\n    from: card\n{facts}\n---\n\n## Cut\n\n```step\ndo: cut base\n```\n\nCut it.\n"
    )
    return recipe, lay_flat(recipe)


def steps(*blocks: str) -> Recipe:
    """A recipe of nothing but steps; each block is a heading, then its facts, one a line."""
    words = "\n".join(
        "## {}\n\n```step\n{}\n```\n\nWords.\n".format(*(block.split("\n", 1) if "\n" in block else (block, "")))
        for block in blocks
    )
    pieces = "supplies:\n  card: cardstock, sheet A4\npieces:\n  base:\n    from: card\n    size: 50 x 50 mm\n"
    return recipe_of(
        f"---\ntitle: T\n{pieces}  front:\n    from: card\n    count: 2\n    size: 5 x 5 mm\n---\n\n{words}"
    )
