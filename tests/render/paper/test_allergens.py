"""Allergens read back: whole on every card and on every handout, or there is no card and a reason."""

from __future__ import annotations

import io
import re
from random import Random

import pdfplumber
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from foldwright.document.model import Document
from foldwright.measure.length import System
from foldwright.render.paper.card import Card, Proof
from foldwright.render.paper.handout import Handout, handout
from foldwright.render.paper.papers import A4, A6, FOUR_BY_SIX, LETTER, PAPERS, Paper
from workbench.compiled import DEMOS, demo, small
from workbench.long import every, tries
from workbench.printed_recipes import recipe_of

FED = [name for name in DEMOS if any(supply.contains for supply in demo(name).supplies)]
ALL_ALONG = (
    "  card: cardstock, sheet A4\n  praline: wrapped sweet, use 2, contains: milk, hazelnuts, soya\n  toffee: use 3"
)
WORDY = "".join(
    f"## Step {number}\n\n```step\ndo: fold base\ntime: 1 min\nshort: Fold it as shown.\n```\n\nFold it as is shown"
    f"{' on the picture and rub every fold down' * 3}.\n\n"
    for number in range(1, 7)
)


def bare(text: str) -> str:
    return re.sub(r"\W", "", text).casefold()


def said_on(pdf: bytes) -> str:
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        # In the order in which it is written: in columns, lines side by side are no sentence.
        return bare("".join(char["text"] for page in opened.pages for char in page.chars))


def wanted(document: Document) -> list[tuple[str, str]]:
    """Every word of every caution of what is eaten, in full and in brief."""
    return [
        (
            bare(caution.signal_word + caution.hazard + caution.consequence + caution.avoid),
            bare(caution.signal_word + caution.brief),
        )
        for caution in document.cautions
        if caution.code in ("allergen", "contents-unsaid")
    ]


def missing(document: Document, pdf: bytes) -> list[str]:
    said = said_on(pdf)
    return [full for full, brief in wanted(document) if full not in said and brief not in said]


def test_there_are_demo_recipes_with_food():
    assert FED
    assert all(wanted(demo(name)) for name in FED)


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", FED)
def test_the_demo_recipes_say_what_they_contain_on_every_paper(name: str, system: System):
    """Every other paper in one of the two systems, on both sides where there is little room; on a long run, all."""
    sheet = demo(name)
    proof = Proof(sheet, system, "harbour", {})
    for paper in every(PAPERS[list(System).index(system) :: 2], 2):
        for back in (False, True) if paper.small else (False,):
            card = proof.card(paper, back)
            if isinstance(card, Card):
                assert missing(sheet, card.pdf) == [], (paper.slug, back)
            else:
                assert paper.small
                assert card.too_long
    for paper in (LETTER,) if system is System.IMPERIAL else (A4, FOUR_BY_SIX):
        found = handout(sheet, system, "harbour", {}, paper)
        assert isinstance(found, Handout)
        assert missing(found.document, found.pdf) == [], paper.slug


def test_allergens_stay_whole_where_all_else_is_shortened():
    sheet = small(facts="", supplies=ALL_ALONG, words=WORDY)
    (allergen, unsaid) = wanted(sheet)
    assert all(bare(word) in words for words in allergen for word in ("milk", "hazelnuts", "soya", "praline"))
    assert all("toffee" in words for words in unsaid)
    proof = Proof(sheet, System.METRIC, "harbour", {})
    brief = 0
    for paper in PAPERS:
        for back in (False, True):
            card = proof.card(paper, back)
            if isinstance(card, Card):
                brief += not card.version.full_cautions
                assert missing(sheet, card.pdf) == [], (paper.slug, back)
            else:
                assert paper in (FOUR_BY_SIX, A6)
    assert brief


@settings(
    max_examples=tries(2, 40),
    phases=[Phase.explicit, Phase.generate],
)
@given(
    seed=st.integers(0, 2**32),
    paper=st.sampled_from(PAPERS),
    system=st.sampled_from(System),
    back=st.booleans(),
)
def test_so_they_do_in_any_recipe(seed: int, paper: Paper, system: System, back: bool):
    sheet, _, photos = recipe_of(Random(seed), most_steps=12).compiled()
    card = Proof(sheet, system, "harbour", photos).card(paper, back)
    if isinstance(card, Card):
        assert missing(sheet, card.pdf) == []
    found = handout(sheet, system, "harbour", photos, paper)
    if isinstance(found, Handout):
        assert missing(found.document, found.pdf) == []
