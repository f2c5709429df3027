"""Allergens read back: whole on every card and on every handout, or there is no card and a reason.

They are looked for on papers of recipes made at random as well (`test_card`, `test_any_handout`).
"""

from __future__ import annotations

import pytest

from foldwright.measure.length import System
from foldwright.render.paper.card import Card, Proof
from foldwright.render.paper.papers import A6, FOUR_BY_SIX, PAPERS
from workbench.compiled import RECIPES, demo, small
from workbench.long import every, tries
from workbench.papers_of_demos import LOOKED_AT, PAPER_OF, card, handout
from workbench.printed_handouts import allergens_of, bare, lost_allergens

FED = [one for one in LOOKED_AT if "contains" in (RECIPES / one[0] / "recipe.md").read_text(encoding="utf-8")]
ALL_ALONG = (
    "  card: cardstock, sheet A4\n  praline: wrapped sweet, use 2, contains: milk, hazelnuts, soya\n  toffee: use 3"
)
WORDY = "".join(
    f"## Step {number}\n\n```step\ndo: fold base\ntime: 1 min\nshort: Fold it as shown.\n```\n\nFold it as is shown"
    f"{' on the picture and rub every fold down' * 3}.\n\n"
    for number in range(1, 7)
)


def test_there_are_demo_recipes_with_food():
    assert FED
    assert all(allergens_of(demo(name)) for name, _, _ in FED)


@pytest.mark.parametrize(("name", "system", "theme"), FED)
def test_the_demo_recipes_say_what_they_contain_on_every_paper(name: str, system: System, theme: str):
    """On both sides where there is little room."""
    sheet = demo(name)
    for paper in every(PAPERS, 2):
        for back in (False, True) if paper.small else (False,):
            made = card(name, system, theme, paper, back=back)
            if isinstance(made, Card):
                assert lost_allergens(sheet, made.pdf) == [], (paper.slug, back)
            else:
                assert paper.small
                assert made.too_long
    for paper in (PAPER_OF[system], FOUR_BY_SIX)[: tries(1, 2)]:
        found = handout(name, system, theme, paper)
        assert lost_allergens(found.document, found.pdf) == [], paper.slug


def test_allergens_stay_whole_where_all_else_is_shortened():
    sheet = small(facts="", supplies=ALL_ALONG, words=WORDY)
    (allergen, unsaid) = allergens_of(sheet)
    assert all(bare(word) in words for words in allergen for word in ("milk", "hazelnuts", "soya", "praline"))
    assert all("toffee" in words for words in unsaid)
    proof = Proof(sheet, System.METRIC, "harbour", {})
    brief = 0
    for paper in every(PAPERS, 2):
        for back in (False, True):
            made = proof.card(paper, back)
            if isinstance(made, Card):
                brief += not made.version.full_cautions
                assert lost_allergens(sheet, made.pdf) == [], (paper.slug, back)
            else:
                assert paper in (FOUR_BY_SIX, A6)
    assert brief
