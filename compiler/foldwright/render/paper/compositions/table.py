"""Which module puts together the pages of which composition."""

from __future__ import annotations

from collections.abc import Mapping

from foldwright.render.paper.compositions.household_book import household_book
from foldwright.render.paper.compositions.page import Compose
from foldwright.render.paper.compositions.picture_book import picture_book
from foldwright.render.paper.compositions.shop_drawing import shop_drawing
from foldwright.render.themes import Composition

COMPOSE: Mapping[Composition, Compose] = {
    Composition.PICTURE_BOOK: picture_book,
    Composition.SHOP_DRAWING: shop_drawing,
    Composition.HOUSEHOLD_BOOK: household_book,
}
