"""A household book: title and frontispiece in the middle of the head, the lists at its sides, then steps in columns."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.render.paper.arranging import Arranged, Item, PlacedArea, Setting
from foldwright.render.paper.compositions.cells import Side, cell, words_alone
from foldwright.render.paper.compositions.flat_pieces import over_pieces
from foldwright.render.paper.compositions.flowing_columns import FilledColumns, in_columns
from foldwright.render.paper.compositions.heads import LEAST_HERO, hero_size
from foldwright.render.paper.compositions.page import Frame, LaidPage, PageOffer, Placed, placed_foot
from foldwright.render.paper.compositions.strip import Dress, strip
from foldwright.render.paper.measured import Heights

_RULE = 0.7
"""Ems between the frontispiece and the double rule round it."""
_SIDE_GAP = 1.4
"""Ems between the frontispiece and a list at its side."""
_LEAST_LIST = 13.5
"""Ems a list at the side of the frontispiece is wide at least."""
_AS_HIGH = 0.96
"""The part of the height that it should have for which the finished thing makes room for lists."""
_HIGHER = 1.2
"""So much higher than the frontispiece the lists at a side may be."""
_MOST_COLUMNS = 2
"""A book has no more: in three, a picture had no room beside its words."""
_STRIP = Dress("frontispiece", under_all=False)
_UNDER_TITLE, _UNDER_HEAD, _OVER_FOOT = 0.7, 0.8, 0.9
"""Ems under the title, under the head, over the foot."""


def household_book(offer: PageOffer, frame: Frame, setting: Setting, heights: Heights, number: int) -> LaidPage | None:
    """See `page.Compose`."""
    if offer.strip:
        return strip(offer, frame, setting, heights, number, _STRIP)
    if number > _MOST_COLUMNS:
        return None
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
    filled = None
    if not offer.steps:
        asides = offer.asides[len(at_sides) :]
        filled = over_pieces(asides, offer.closing, frame, setting, heights, number, top, bottom)
    filled = filled or _in_columns(offer, len(at_sides), frame, setting, heights, number, top, bottom)
    if filled is None:
        return None
    return LaidPage(head, (*at_sides, *filled.items), foot, number, filled.over, filled.hole, grounds)


def _in_columns(
    offer: PageOffer,
    placed: int,
    frame: Frame,
    setting: Setting,
    heights: Heights,
    number: int,
    top: float,
    bottom: float,
) -> FilledColumns | None:
    """All that is not `placed` yet."""
    items: list[Arranged] = []
    for item in offer.items[placed:]:
        arrange = _step if item in offer.steps else _list
        if not (arranged := arrange(item, frame.column(number), setting, heights)):
            return None
        items.append(arranged)
    return in_columns(items, frame, setting, number, top, bottom)


def _step(item: Item, width: float, setting: Setting, heights: Heights) -> Arranged | None:
    """Its plate at the right of its words; several in a row under them, where that is lower."""
    beside = cell(item, width, setting, heights, Side.RIGHT)
    under = cell(item, width, setting, heights, Side.BELOW) if len(item.pictures) > 1 else None
    return under if beside and under and under.height < beside.height else beside


def _list(item: Item, width: float, setting: Setting, heights: Heights) -> Arranged | None:
    return cell(item, width, setting, heights, Side.BELOW)


def _frontispiece(head: Item, frame: Frame, setting: Setting, under: float) -> tuple[PlacedArea, PlacedArea]:
    """The plate under the title, and the finished thing in it: in the middle where lists have room at both sides of a
    fifth of the paper's height, at the left where they have it at one side of what it would have alone."""
    edge, picture = _RULE * setting.em, head.pictures[0]
    lists = (_LEAST_LIST + _SIDE_GAP) * setting.em
    middle, at_left, alone = (
        hero_size(picture, frame, setting, frame.width - count * lists - 2 * edge) for count in (2, 1, 0)
    )
    (wide, high), part = alone, 0.5
    if middle[1] >= _AS_HIGH * LEAST_HERO * (frame.page_height or frame.height):
        wide, high = middle
    elif at_left[1] >= _AS_HIGH * alone[1]:
        (wide, high), part = at_left, 0.0
    top = under + _UNDER_TITLE * setting.em
    left = (frame.width - wide - 2 * edge) * part
    plate = PlacedArea(left, top, wide + 2 * edge, high + 2 * edge)
    return plate, PlacedArea(left + edge, top + edge, wide, high)


def _lists(
    asides: Sequence[Item], plate: PlacedArea, frame: Frame, setting: Setting, heights: Heights
) -> tuple[Placed, ...]:
    """What is to be read first, at the sides of the plate, where it has room there: the first at the left, if there is
    room, all that follows under one another at the right."""
    gap = _SIDE_GAP * setting.em
    width = frame.width - plate.left - plate.width - gap
    if width < _LEAST_LIST * setting.em:
        return ()
    placed: list[Placed] = []
    down = plate.top
    for item in asides:
        arranged = None if item.pictures else words_alone(item, width, setting, heights)
        if arranged is None or down + arranged.height > plate.top + _HIGHER * plate.height:
            break
        at_left = plate.left > 0 and not placed
        placed.append(Placed(0.0 if at_left else frame.width - width, down, width, arranged))
        down = plate.top if at_left else down + arranged.height + setting.gap
    return tuple(placed)
