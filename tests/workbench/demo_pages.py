"""Which pages the browser tests look at. Not a test."""

from __future__ import annotations

from itertools import product
from pathlib import Path

from workbench.long import LONG

TOP = Path(__file__).resolve().parents[2]
THEMES = ("almanac", "harbour", "workbench")
RECIPES = tuple(sorted(path.parent.name for path in (TOP / "recipes").glob("*/recipe.md")))
PAIRS = tuple(
    (theme, recipe)
    for theme, recipe in product(THEMES, RECIPES)
    if LONG or recipe == "birdhouse" or theme == THEMES[RECIPES.index(recipe) % len(THEMES)]
)
"""A theme and a recipe to look at in it: one recipe in every theme and the others in one each; all on a long run."""
IN_EVERY_LOOK = ("birdhouse", "keepsake-box", "layered-card")
"""What single tests look at in every theme."""
DRAFT = "a-draft"
"""The birdhouse with two slips put in."""
CHROMIUM_FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
"""Enough to keep a headless Chromium that runs as root, away from any network, quiet."""
