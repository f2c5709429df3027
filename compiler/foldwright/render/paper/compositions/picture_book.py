"""A calm picture-book: the finished thing on a band across the head; of each step the picture left, the words right."""

from __future__ import annotations

from foldwright.render.paper.arranging import Arranged, PlacedArea, Setting
from foldwright.render.paper.compositions.cells import Side, cell
from foldwright.render.paper.compositions.flowing_columns import in_columns
from foldwright.render.paper.compositions.heads import head_beside
from foldwright.render.paper.compositions.page import Frame, LaidPage, PageOffer, Placed, placed_foot
from foldwright.render.paper.compositions.strip import Dress, strip
from foldwright.render.paper.measured import Heights

_BAND = 1.0
"""Ems kept clear within the band."""
_STRIP = Dress("band", under_all=True)
_UNDER_BAND, _OVER_FOOT = 1.1, 0.9
"""Ems between the band and what follows, and over the foot."""


def picture_book(offer: PageOffer, frame: Frame, setting: Setting, heights: Heights, number: int) -> LaidPage | None:
    """See `page.Compose`."""
    if offer.strip:
        return strip(offer, frame, setting, heights, number, _STRIP)
    em = setting.em
    head = head_beside(offer.head, frame, setting, heights, _BAND * em) if offer.head else None
    if offer.head and head is None:
        return None
    foot = placed_foot(offer.foot, frame, heights)
    top = head.height + _UNDER_BAND * em if head else 0.0
    bottom = foot.top - _OVER_FOOT * em if foot else frame.height
    grounds = {"band": PlacedArea(0.0, 0.0, frame.width, head.height)} if head else {}
    placed_head = Placed(0.0, 0.0, frame.width, head) if head else None
    items: list[Arranged] = []
    for item in offer.items:
        if not (arranged := cell(item, frame.column(number), setting, heights, Side.LEFT)):
            return None
        items.append(arranged)
    filled = in_columns(items, frame, setting, number, top, bottom)
    return LaidPage(placed_head, filled.items, foot, number, filled.over, filled.hole, grounds)
