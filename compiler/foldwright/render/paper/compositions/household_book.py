"""A household book: title and frontispiece in the middle of the head, the lists at its sides, then steps in columns."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.render.paper.arranging import Arranged, Item, PlacedArea, Setting
from foldwright.render.paper.compositions.cells import Side, cell, words_alone
from foldwright.render.paper.compositions.flowing_columns import in_columns
from foldwright.render.paper.compositions.heads import hero_size
from foldwright.render.paper.compositions.page import Frame, LaidPage, PageOffer, Placed, placed_foot
from foldwright.render.paper.compositions.strip import Dress, strip
from foldwright.render.paper.measured import Heights

_RULE = 0.9
"""Ems between the frontispiece and the double rule round it."""
_SIDE_GAP = 1.4
"""Ems between the frontispiece and a list at its side."""
_LEAST_LIST = 15.0
"""Ems a list at the side of the frontispiece is wide at least."""
_HIGHER = 1.35
"""So much higher than the frontispiece a list at its side may be."""
_STRIP = Dress("frontispiece", under_all=False)
_UNDER_TITLE, _UNDER_HEAD, _OVER_FOOT = 1.0, 1.0, 0.9
"""Ems under the title, under the head, over the foot."""


def household_book(offer: PageOffer, frame: Frame, setting: Setting, heights: Heights, number: int) -> LaidPage | None:
    """See `page.Compose`."""
    if offer.strip:
        return strip(offer, frame, setting, heights, number, _STRIP)
    head, at_sides = None, tuple[Placed, ...]()
    top = 0.0
    grounds: dict[str, PlacedArea] = {}
    if offer.head:
        title = words_alone(Item(offer.head.block), frame.width, setting, heights)
        if title is None:
            return None
        spots: tuple[PlacedArea, ...] = ()
        top = title.height
        if offer.head.pictures:
            plate, spot = _frontispiece(offer.head, frame, setting, title.height)
            at_sides = _lists(offer.asides, plate, frame, setting, heights)
            spots, grounds = (spot,), {"frontispiece": plate}
            top = max(plate.top + plate.height, *(one.top + one.arranged.height for one in at_sides), 0.0)
        head = Placed(0.0, 0.0, frame.width, Arranged(title.words_width, title.words_height, top, spots))
        top += _UNDER_HEAD * setting.em
    foot = placed_foot(offer.foot, frame, heights)
    bottom = foot.top - _OVER_FOOT * setting.em if foot else frame.height
    items: list[Arranged] = []
    for item in offer.items[len(at_sides) :]:
        side = Side.RIGHT if item in offer.steps else Side.BELOW
        if not (arranged := cell(item, frame.column(number), setting, heights, side)):
            return None
        items.append(arranged)
    filled = in_columns(items, frame, setting, number, top, bottom)
    return LaidPage(head, (*at_sides, *filled.items), foot, number, filled.over, filled.hole, grounds)


def _frontispiece(head: Item, frame: Frame, setting: Setting, under: float) -> tuple[PlacedArea, PlacedArea]:
    """The plate in the middle under the title, and the finished thing in it."""
    edge = _RULE * setting.em
    wide, high = hero_size(head.pictures[0], frame, setting, frame.width - 2 * edge)
    top = under + _UNDER_TITLE * setting.em
    left = (frame.width - wide) / 2
    plate = PlacedArea(left - edge, top, wide + 2 * edge, high + 2 * edge)
    return plate, PlacedArea(left, top + edge, wide, high)


def _lists(
    asides: Sequence[Item], plate: PlacedArea, frame: Frame, setting: Setting, heights: Heights
) -> tuple[Placed, ...]:
    """The first two things to be read, at the sides of the plate, where they have room there."""
    gap = _SIDE_GAP * setting.em
    width = plate.left - gap
    if width < _LEAST_LIST * setting.em:
        return ()
    placed: list[Placed] = []
    for item, left in zip(asides, (0.0, frame.width - width), strict=False):
        arranged = None if item.pictures else words_alone(item, width, setting, heights)
        if arranged is None or arranged.height > _HIGHER * plate.height:
            break
        placed.append(Placed(left, plate.top, width, arranged))
    return tuple(placed)
