"""Handouts of recipes made at random: in order, or not there with a reason."""

from __future__ import annotations

from random import Random

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from foldwright.document.in_class import class_document
from foldwright.document.words import plain
from foldwright.measure.length import System
from foldwright.render.paper.card import Misfit
from foldwright.render.paper.handout import NoClass, handout
from foldwright.render.paper.papers import PAPERS, Paper
from printed.order import reading_order
from workbench.long import LONG, tries
from workbench.printed_handouts import bare, complaints, lost_allergens
from workbench.printed_recipes import recipe_of

THEMES = ("harbour", "workbench", "almanac")
KINDS = ((False, 0), (True, 0), (False, 1), (False, 2), (True, 1), (True, 2))
"""In large print or not, and with so many pages at the most (0: as many as it takes)."""


@settings(
    max_examples=tries(3, 40),
    # A smaller seed makes no smaller recipe.
    phases=[Phase.explicit, Phase.generate],
)
@given(
    seed=st.integers(0, 2**32),
    paper=st.sampled_from(PAPERS),
    theme=st.sampled_from(THEMES),
    kind=st.sampled_from(KINDS),
)
def test_any_recipe_comes_out_in_order_or_with_a_reason(seed: int, paper: Paper, theme: str, kind: tuple[bool, int]):
    large_print, most = kind
    sheet, _, shown = recipe_of(Random(seed), most_steps=tries(12, 40)).compiled()
    systems = list(System)
    for system in systems if LONG else systems[seed % 2 :: 2]:
        found = handout(sheet, system, theme, shown, paper, large_print, most)
        own = class_document(sheet)
        if isinstance(found, NoClass):
            assert own is None
            continue
        if isinstance(found, Misfit):
            if most and found.too_long and not found.too_long.too_wide:
                assert found.too_long.over > 0 and found.too_long.longest
                continue
            # Long words made one of many in columns of few letters: only there may one be too wide.
            assert found.too_long and found.too_long.too_wide and len(found.too_long.wide_word) >= 15
            assert large_print or paper.small
            continue
        assert own is not None
        assert not most or found.pages <= most
        assert complaints(found, sheet, paper, large_print) == []
        assert lost_allergens(own.document, found.pdf) == []
        headings = [bare(text) for role, text in reading_order(found.pdf) if role == "H2"]
        for step in own.document.steps:
            words = bare(plain(step.heading, system))
            assert any(heading.startswith(words) for heading in headings)
