"""Recipes compiled to sheets, for tests that look at what comes out. Not a test."""

from __future__ import annotations

from functools import cache, lru_cache
from pathlib import Path

from foldwright.document.model import Document
from foldwright.pipeline import Checked, check_recipe, compose_document
from foldwright.recipe.facts.studio import read_studio

RECIPES = Path(__file__).resolve().parents[2] / "recipes"
DEMOS = tuple(sorted(path.parent.name for path in RECIPES.glob("*/recipe.md")))


def demo(name: str) -> Document:
    """The sheet of a demo recipe."""
    return compiled_demo(name)[0]


@cache
def compiled_demo(name: str) -> tuple[Document, Checked]:
    """The sheet of a demo recipe, and what was known before it was composed."""
    return compiled((RECIPES / name / "recipe.md").read_text(encoding="utf-8"), name)


@lru_cache(maxsize=32)
def compiled(text: str, slug: str = "box") -> tuple[Document, Checked]:
    """The sheet of a recipe, and what was known before it was composed; kept for who asks for the same next."""
    studio, _ = read_studio((RECIPES / "studio.yaml").read_text(encoding="utf-8"), "studio.yaml")
    checked = check_recipe(text, "recipe.md", slug, studio)
    assert checked.understood is not None
    return compose_document(checked.understood, checked.findings, {"recipe.md": text}), checked


def small(facts: str = "", words: str = "", supplies: str = "  card: cardstock, sheet A4") -> Document:
    """A sheet of a small recipe: a tray of card, with more facts and steps of the caller's."""
    return compiled(
        f"""---
title: Small box
measured in: millimetres
makes: 1 box
supplies:
{supplies}
tools:
  - paper trimmer with scoring blade
  - small sharp scissors
  - bone folder
pieces:
  base:
    from: card
    size: 100 x 130 mm
    across: 20 left wall | 60 floor | 20 right wall
    down: 20 back | 90 floor | 20 front
    flaps: joined to left wall and right wall
    fold: tray
{facts}---

{words}
"""
    )[0]
