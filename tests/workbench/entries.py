"""Entries of recipes as a library has them, and sources of outputs, compiled in memory. Not a test."""

from __future__ import annotations

from functools import cache

from foldwright.measure.length import System
from foldwright.outputs.entry import Entry, entry_of
from foldwright.outputs.model import BuildWish, OutputSource
from workbench.compiled import DEMOS, RECIPES, compiled


def source_of(text: str, slug: str = "box") -> OutputSource:
    """All an output is made from, of a recipe as it is written."""
    document, checked = compiled(text, slug)
    assert checked.understood is not None
    spelled = dict.fromkeys(System, document)
    wish = BuildWish(("tutorial",), tuple(System), in_library=True)
    return OutputSource(document, spelled, checked.understood, {}, "harbour", wish, {"recipe.md": text})


def entry(text: str, slug: str = "box") -> Entry:
    """The entry of a recipe."""
    return entry_of(source_of(text, slug))


@cache
def demo_entries() -> tuple[Entry, ...]:
    """Those of the demo recipes, by the names of their folders."""
    return tuple(entry((RECIPES / name / "recipe.md").read_text(encoding="utf-8"), name) for name in DEMOS)
