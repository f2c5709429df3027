"""A paper that cannot hold words and a picture of every step has a strip of pictures: read back from finished cards."""

from __future__ import annotations

from functools import cache

import pytest
from msgspec.structs import replace

from foldwright.document.model import Document
from foldwright.measure.length import System
from foldwright.render.paper.card import Card, Proof
from foldwright.render.paper.papers import A5, A6, FOUR_BY_SIX, HALF_LETTER, PAPERS, Paper
from printed.order import reading_order
from printed.pictured import pictured
from workbench.compiled import DEMOS, demo
from workbench.long import LONG
from workbench.papers_of_demos import IN_ONE_SYSTEM, well_made_card


def card_of(document: Document, paper: Paper) -> Card:
    made = Proof(document, System.METRIC, "workbench", {}).card(paper)
    assert isinstance(made, Card)
    return made


def read_out(made: Card) -> str:
    return " ".join(" ".join(text for role, text in reading_order(made.pdf) if role != "Figure").split())


def test_papers_held_in_a_hand_are_for_strips() -> None:
    assert {paper.slug for paper in PAPERS if paper.strips} == {"4x6", "a6", "half-letter", "a5"}


@pytest.mark.parametrize(
    ("name", "system", "theme"), IN_ONE_SYSTEM if LONG else [IN_ONE_SYSTEM[at] for at in (1, 2, 4)]
)
def test_no_step_lacks_its_picture_on_a_paper_for_strips(name: str, system: System, theme: str) -> None:
    made = well_made_card(name, system, theme, (A5, HALF_LETTER)[DEMOS.index(name) % 2])
    assert {one.step for one in pictured(made.pdf) if one.step} == {step.number for step in demo(name).steps}


def test_words_stay_where_they_have_room_beside_all_pictures() -> None:
    assert not well_made_card("twine-tag", System.IMPERIAL, "workbench", A5).version.strip
    assert well_made_card("drawer-box", System.METRIC, "workbench", A5).version.strip
    assert not well_made_card("drawer-box", System.METRIC, "workbench", A5, strips=False).version.strip


@cache
def without_picture_of_step_5() -> Proof:
    whole = demo("drawer-box")
    document = replace(whole, shown=tuple(shown for shown in whole.shown if shown.step != 5))
    return Proof(document, System.METRIC, "workbench", {})


@pytest.mark.parametrize("paper", [A6, FOUR_BY_SIX, A5], ids=lambda one: one.slug)
def test_a_step_without_a_picture_keeps_its_words(paper: Paper) -> None:
    made = without_picture_of_step_5().card(paper)
    assert isinstance(made, Card) and made.version.strip
    words = read_out(made)
    assert "slot" in words.split("Thread the ribbon")[1].split("Cut and score the sleeve")[0]
    assert "fence" not in words.split("Cut and score the sleeve")[1]


def test_where_these_words_have_no_room_either_it_has_its_heading_only() -> None:
    whole = demo("drawer-box")
    kept = tuple(shown for shown in whole.shown if shown.step not in (3, 5, 6))
    made = card_of(replace(whole, shown=kept), A6)
    assert made.version.bare
    words = read_out(made)
    assert "Thread the ribbon" in words and "slot" not in words.split("Thread the ribbon")[1]


def test_a_strip_that_lacks_a_picture_is_better_than_no_card() -> None:
    """So many warnings leave the shop drawing no room for all pictures: a step that lacks one has its heading."""
    whole = demo("birdhouse")
    more = tuple(replace(one, code=f"{one.code} again") for one in whole.cautions[:3])
    made = card_of(replace(whole, cautions=whole.cautions + more), A6)
    steps = {shown.step for shown in whole.shown if shown.step}
    assert made.version.bare and len({one.step for one in pictured(made.pdf) if one.step}) == len(steps) - 1
    assert all(str(step.number) in read_out(made) for step in whole.steps)


def test_without_a_finished_thing_no_flat_piece_takes_its_place() -> None:
    whole = demo("drawer-box")
    document = replace(whole, shown=tuple(shown for shown in whole.shown if shown.step or shown.piece))
    made = card_of(document, A6)
    assert made.version.strip
    assert all(one.step for one in pictured(made.pdf))
