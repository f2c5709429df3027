"""A back with flat pieces: they stand under all words, over the page's whole width, on one line."""

from __future__ import annotations

import pytest

from foldwright.render.paper.arranging import Item, Setting
from foldwright.render.paper.compositions.household_book import household_book
from foldwright.render.paper.compositions.page import Compose, Frame, PageOffer
from foldwright.render.paper.compositions.picture_book import picture_book
from foldwright.render.paper.measured import Block, Heights
from foldwright.render.paper.papers import LETTER
from foldwright.render.units import MM_PER_POINT
from render.paper.blocks import Rectangle, monospaced

HAIR, LARGE = 1e-6, 0.75
HERO = Rectangle(18.0, 200.0, 0.8)


def said(name: str, words: int, *pictures: Rectangle) -> Item:
    return Item(Block(name, (monospaced(" ".join(["words"] * words)),), 0.0), pictures)


@pytest.mark.parametrize("compose", [picture_book, household_book])
@pytest.mark.parametrize("ratios", [(1.6,), (1.6, 1.2), (0.5, 1.2, 1.0)])
def test_pieces_stand_on_one_line_under_all_words(compose: Compose, ratios: tuple[float, ...]) -> None:
    shapes = tuple(Rectangle(20.0, 80.0, ratio) for ratio in ratios)
    blocks = [said("pieces", 3, *shapes[:2]), *(said("pieces-1", 3, one) for one in shapes[2:])]
    words = [said("supplies", 60), said("tools", 40), said("cautions", 120)]
    frame = Frame.of(LETTER, 7.0)
    setting = Setting(9.5 * MM_PER_POINT, 0.3, frame.height)
    offer = PageOffer(said("head", 3, HERO), (*words, *blocks), (), (said("section-0", 30),), None)
    page = compose(offer, frame, setting, Heights(), 2)
    assert page and not page.over
    *said_first, last = (one for one in page.items if not one.arranged.spots)
    pieces = [one for one in page.items if one.arranged.spots]
    assert len(said_first) == len(words) and len(pieces) == len(blocks)
    lowest = max(one.top + one.arranged.height for one in (*said_first, last))
    assert all(one.top >= lowest - HAIR for one in pieces)
    assert all(one.top + one.arranged.height == pytest.approx(frame.height) for one in pieces)
    # They are large: most of what is any use, or of the room they have.
    room = frame.width / len(shapes) - 2 * frame.gutter
    wide = [spot.width for one in pieces for spot in one.arranged.spots]
    assert all(across >= LARGE * min(room, shape.most_mm) for across, shape in zip(wide, shapes, strict=True))
