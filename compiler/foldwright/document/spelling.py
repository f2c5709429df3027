"""Whose English a page is written in, for the words that are ours; an author's stay as they are."""

from __future__ import annotations

from foldwright.measure.length import System
from foldwright.measure.paper import paper_meant
from foldwright.recipe.model import Studio

AMERICAN, BRITISH = "en-US", "en-GB"
"""Language tags (BCP 47)."""
_BY_NAME = {"American": AMERICAN, "British": BRITISH}


def language_of(studio: Studio, system: System) -> str:
    """The language of a page that opens in `system`: as the studio asks, or as its readers will expect.

    Inches are for American readers, but not where all papers are cut in millimetres.
    """
    if studio.spelling and studio.spelling.value in _BY_NAME:
        return _BY_NAME[studio.spelling.value]
    at_hand = [size for size in (paper_meant(paper.value) for paper in studio.papers) if size]
    inches = not at_hand or any(across.unit.system is System.IMPERIAL for across, _ in at_hand)
    return AMERICAN if system is System.IMPERIAL and inches else BRITISH
