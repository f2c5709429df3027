"""Which pages the browser tests look at. Not a test."""

from __future__ import annotations

from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
THEMES = ("almanac", "harbour", "workbench")
RECIPES = tuple(sorted(path.parent.name for path in (TOP / "recipes").glob("*/recipe.md")))
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
