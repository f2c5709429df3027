"""A calm picture-book: the finished thing on a band across the head; of each step the picture left, the words right.

Beside the finished thing stand the title and as much of what is read before the steps as has room there. Where steps
have the page's whole width, the rest stands in a margin at their right.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf

from msgspec import Struct
from msgspec.structs import replace

from foldwright.render.paper.arranging import Arranged, Item, PlacedArea, Setting
from foldwright.render.paper.compositions.cells import GAP, Side, cell, words_alone
from foldwright.render.paper.compositions.flat_pieces import over_pieces
from foldwright.render.paper.compositions.flowing_columns import in_columns
from foldwright.render.paper.compositions.heads import hero_size
from foldwright.render.paper.compositions.page import Frame, LaidPage, PageOffer, Placed, placed_foot
from foldwright.render.paper.compositions.strip import Dress, strip
from foldwright.render.paper.measured import Heights

_STRIP = Dress("band", under_all=True)
_INSIDE = 1.0
"""Ems kept clear within the band."""
_WIDEST_HERO = 0.6
"""The part of the band's width that the finished thing takes beside the title, at most."""
_BESIDE_HERO = 2.0
"""Ems between the finished thing and the title."""
_UNDER_TITLE = 0.9
"""Ems between the title and a list under it."""
_UNDER_BAND, _OVER_FOOT = 1.3, 0.9
"""Ems between the band and what follows, and over the foot."""
_MOST_COLUMNS = 2
"""With more of them side by side no picture is wide, and none beside its words."""
_MARGIN = 0.27
"""The part of the page's width that its margin takes."""
_LEAST_MARGIN = 12.0
"""Ems it is wide at least; a page without so many to spare has none."""


class HeadBand(Struct, frozen=True):
    """The head of the page, and what stands on its band besides."""

    head: Placed
    lists: tuple[Placed, ...] = ()

    @property
    def area(self) -> PlacedArea:
        return PlacedArea(0.0, 0.0, self.head.width, self.head.arranged.height)


def picture_book(offer: PageOffer, frame: Frame, setting: Setting, heights: Heights, number: int) -> LaidPage | None:
    """See `page.Compose`."""
    if offer.strip:
        return strip(offer, frame, setting, heights, number, _STRIP)
    if number > _MOST_COLUMNS:
        return None
    band = _band(offer, frame, setting, heights) if offer.head else None
    if offer.head and band is None:
        return None
    foot = placed_foot(offer.foot, frame, heights)
    top = band.area.height + _UNDER_BAND * setting.em if band else 0.0
    bottom = foot.top - _OVER_FOOT * setting.em if foot else frame.height
    head, lists, grounds = (band.head, band.lists, {"band": band.area}) if band else (None, (), {})
    rest = replace(offer, asides=offer.asides[len(lists) :])
    if not offer.steps and (
        back := over_pieces(rest.asides, rest.closing, frame, setting, heights, number, top, bottom)
    ):
        return LaidPage(head, (*lists, *back.items), foot, number, back.over, back.hole, grounds)
    if number == 1 and (page := _with_margin(rest, frame, setting, heights, top, bottom)):
        return replace(page, head=head, items=(*lists, *page.items), foot=foot, grounds=grounds)
    column = frame.column(number)
    before, after = (_notes(some, column, setting, heights) for some in (rest.asides, rest.closing))
    steps = _steps(rest.steps, column, setting, heights)
    if before is None or steps is None or after is None:
        return None
    filled = in_columns([*before, *steps, *after], frame, setting, number, top, bottom)
    return LaidPage(head, (*lists, *filled.items), foot, number, filled.over, filled.hole, grounds)


def _notes(items: Sequence[Item], width: float, setting: Setting, heights: Heights) -> list[Arranged] | None:
    """What stands round the steps; None when one of it does not go into that width."""
    return _all([cell(item, width, setting, heights, Side.BELOW) for item in items])


def _steps(items: Sequence[Item], width: float, setting: Setting, heights: Heights) -> list[Arranged] | None:
    """Each step with its picture at the left, the words of all beginning at one line; None when one is too wide."""
    steps = _all([cell(item, width, setting, heights, Side.LEFT) for item in items])
    pictures = [spot.width for one in steps or () if one.words_left for spot in one.spots]
    left = max(pictures) + GAP * setting.em if pictures else 0.0
    room = (width - left) / setting.em
    if not steps or not left or any(item.block.longest > room for item in items):
        return steps
    return [
        _moved(one, left, width, heights.of(item.block, room, setting.leading) * setting.em)
        if one.words_left or not one.spots
        else one
        for item, one in zip(items, steps, strict=True)
    ]


def _moved(step: Arranged, left: float, width: float, high: float) -> Arranged:
    """Its words so far from the left, its pictures in the middle of the room before them."""
    more = (left - step.words_left) / 2
    spots = tuple(replace(spot, left=spot.left + more) for spot in step.spots)
    bottom = max((spot.top + spot.height for spot in spots), default=0.0)
    return Arranged(width - left, high, max(high, bottom), spots, left)


def _all(arranged: Sequence[Arranged | None]) -> list[Arranged] | None:
    found = [one for one in arranged if one]
    return found if len(found) == len(arranged) else None


def _band(offer: PageOffer, frame: Frame, setting: Setting, heights: Heights) -> HeadBand | None:
    """The finished thing at the left; at its right the title, and under it the lists that have room there."""
    title, padding = offer.head, _INSIDE * setting.em
    inner = frame.width - 2 * padding
    if title is None:
        return None
    if not title.pictures:
        words = words_alone(title, inner, setting, heights)
        return HeadBand(_on_band(frame, words, words.height + 2 * padding, padding, padding)) if words else None
    wide, high = hero_size(title.pictures[0], frame, setting, _WIDEST_HERO * inner)
    left = padding + wide + _BESIDE_HERO * setting.em
    room = frame.width - padding - left
    words = words_alone(Item(title.block), room, setting, heights)
    if words is None:
        return _title_over(title, frame, setting, heights)
    lists = list(_lists(offer.asides, room, high - words.height, setting, heights))
    tall = words.height + sum(_UNDER_TITLE * setting.em + one.height for one in lists)
    top = padding + max(0.0, high - tall) / 2
    spot = PlacedArea(padding, padding + max(0.0, tall - high) / 2, wide, high)
    head = _on_band(frame, words, max(high, tall) + 2 * padding, left, top, (spot,))
    placed: list[Placed] = []
    down = top + words.height
    for one in lists:
        down += _UNDER_TITLE * setting.em
        placed.append(Placed(left, down, room, one))
        down += one.height
    return HeadBand(head, tuple(placed))


def _lists(asides: Sequence[Item], width: float, room: float, setting: Setting, heights: Heights) -> Iterator[Arranged]:
    """As many of the first as go under one another into the room."""
    for item in asides:
        one = None if item.pictures else words_alone(item, width, setting, heights)
        room -= _UNDER_TITLE * setting.em + (one.height if one else inf)
        if one is None or room < 0:
            return
        yield one


def _title_over(title: Item, frame: Frame, setting: Setting, heights: Heights) -> HeadBand | None:
    """The finished thing in the middle under the title, whose words are too wide to stand beside it."""
    padding = _INSIDE * setting.em
    words = words_alone(Item(title.block), frame.width - 2 * padding, setting, heights)
    if words is None:
        return None
    wide, high = hero_size(title.pictures[0], frame, setting, words.words_width)
    top = padding + words.height + setting.gap
    spot = PlacedArea((frame.width - wide) / 2, top, wide, high)
    return HeadBand(_on_band(frame, words, top + high + padding, padding, padding, (spot,)))


def _on_band(
    frame: Frame, words: Arranged, height: float, left: float, top: float, spots: tuple[PlacedArea, ...] = ()
) -> Placed:
    return Placed(0.0, 0.0, frame.width, Arranged(words.words_width, words.words_height, height, spots, left, top))


def _with_margin(
    offer: PageOffer, frame: Frame, setting: Setting, heights: Heights, top: float, bottom: float
) -> LaidPage | None:
    """Steps one under another, and all else in the margin beside them; None where the page is too narrow for one."""
    margin = _MARGIN * frame.width
    besides = (*offer.asides, *offer.closing)
    if not besides or margin < _LEAST_MARGIN * setting.em:
        return None
    column = frame.width - margin - frame.gutter
    steps = _steps(offer.steps, column, setting, heights)
    notes = _notes(besides, margin, setting, heights)
    if steps is None or notes is None:
        return None
    page = in_columns(steps, Frame(column, frame.height), setting, 1, top, bottom)
    beside = in_columns(notes, Frame(margin, frame.height), setting, 1, top, bottom)
    at_right = [replace(one, left=column + frame.gutter) for one in beside.items]
    first = len(offer.asides)
    items = (*at_right[:first], *page.items, *at_right[first:])
    return LaidPage(None, items, None, 1, max(page.over, beside.over))
