"""Pictures lead a card: how large they are on paper, and how small its type, measured on the finished PDF.

The shares are the house's own: the finished thing a fifth of the card's height, pictures of steps two fifths of their
column, by the boxes the file gives them; that these are filled is measured by their ink.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from statistics import median

import pytest

from foldwright.measure.length import System
from foldwright.render.paper.papers import A4, A6, FOUR_BY_SIX, LETTER, Paper
from printed.pictured import Pictured, pictured
from printed.reading import read
from printed.sizes import least_by_use, least_in_steps
from workbench.compiled import DEMOS
from workbench.long import LONG, every
from workbench.papers_of_demos import LOOKED_AT, well_made_card

HERO, STEP, LEAST_STEP = 0.2, 0.4, 0.25
FRAME = 0.006
"""Of the height that the finished thing takes, so much of the page's may be its frame."""
COLUMN_SLACK = 0.01
"""A column is measured by its ink, which may hang over."""
INK = 0.85
"""Of its room a drawing fills at least so much along its longer side; the rest is margin for its labels."""
BODY_PT, DRAWING_PT, FOOT_PT = 9.5, 7.0, 8.0
ROUNDING = 0.01
CASES = [one for one in LOOKED_AT if one[1] is System.METRIC]
"""In a usual run three recipes, one in each look."""


def hero_share(shown: Sequence[Pictured], high: float) -> float:
    """What the largest picture that belongs to no step has of the page's height, if it is ink along one side."""
    hero = max((one for one in shown if not one.step), key=lambda one: one.room[1])
    assert max(hero.high / hero.room[1], (hero.box.x1 - hero.box.x0) / hero.room[0]) >= INK
    return hero.room[1] / high


def paper_for(name: str) -> Paper:
    return LETTER if DEMOS.index(name) % 2 else A4


@pytest.mark.parametrize(("name", "system", "theme"), CASES)
def test_the_finished_thing_and_its_steps_are_large_and_words_are_read(name: str, system: System, theme: str) -> None:
    data = well_made_card(name, system, theme, paper_for(name)).pdf
    shown = pictured(data)
    assert hero_share(shown, read(data)[0].height) >= HERO - FRAME
    assert all(one.share >= INK * max(one.room) / one.column for one in shown if one.step)
    shares: dict[int, float] = defaultdict(float)
    for one in shown:
        if one.step:
            shares[one.step] += one.room[0] / one.column
    # What is tall, and plates drawn at one scale, may take less.
    assert median(shares.values()) >= STEP - COLUMN_SLACK, shares
    assert min(shares.values()) >= LEAST_STEP, shares
    sizes = {use: one.size for use, one in least_by_use(data).items()}
    assert least_in_steps(data)["body"].size >= BODY_PT - ROUNDING
    assert min(size for use, size in sizes.items() if use != "drawing") >= FOOT_PT - ROUNDING
    assert sizes.get("drawing", DRAWING_PT) >= DRAWING_PT - ROUNDING


@pytest.mark.parametrize(
    ("theme", "paper"),
    every(
        [
            ("harbour", A6),
            ("harbour", FOUR_BY_SIX),
            ("almanac", FOUR_BY_SIX),
            ("workbench", A6),
            ("workbench", FOUR_BY_SIX),
        ],
        2,
    ),
    ids=lambda one: getattr(one, "slug", one),
)
def test_a_small_card_has_pictures_of_steps(theme: str, paper: Paper) -> None:
    """The birdhouse has eight steps, more than a postcard holds in words. In almanac's larger heads A6 is too small."""
    assert sum(one.step > 0 for one in pictured(well_made_card("birdhouse", System.METRIC, theme, paper).pdf)) >= 6


@pytest.mark.parametrize(("name", "system", "theme"), every(CASES, 2))
def test_a_card_with_a_back_has_pictures_on_both_sides(name: str, system: System, theme: str) -> None:
    data = well_made_card(name, system, theme, A4, back=True).pdf
    assert {one.page for one in pictured(data)} == {1, 2}
    assert hero_share(pictured(data), read(data)[1].height) >= HERO - FRAME


@pytest.mark.parametrize("name", DEMOS if LONG else ("drawer-box",))
def test_a_panel_of_a_shop_drawing_gives_its_picture_two_fifths(name: str) -> None:
    """By its longer side and with its margins; of two pictures side by side each has less."""
    shown = [one for one in pictured(well_made_card(name, System.METRIC, "workbench", LETTER).pdf) if one.step]
    for step in {one.step for one in shown}:
        own = [max(one.room) / one.column for one in shown if one.step == step]
        assert sum(own) >= STEP - COLUMN_SLACK, (step, own)
