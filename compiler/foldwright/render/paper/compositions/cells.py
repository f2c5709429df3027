"""One step in its place: its pictures at one side of its words, above or below, as large as the setting has them.

The ink of a picture takes two fifths of its column, unless the page is crowded or it would be too high for it then.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from math import floor

from msgspec.structs import replace

from foldwright.render.paper.arranging import Arranged, Item, PictureShape, PlacedArea, Setting
from foldwright.render.paper.measured import Heights


class Side(Enum):
    """Where the pictures stand, from the words they belong to. What has no room at the left stands above, what has none
    at the right below: all over a page words and pictures are met in one order."""

    LEFT = "left"
    RIGHT = "right"
    ABOVE = "above"
    BELOW = "below"


LEAST_PART, _PART = 0.4, 0.45
"""The part of its column that a picture takes at least with the margin for its labels: on a crowded page, on others."""
_CLOSE_PAIR, _PAIR = 0.6, 0.8
"""The same of several side by side, together."""
_MOST_BESIDE = 0.56
"""The part of a column that pictures beside words take at most."""
GAP = 0.9
"""Ems between words and pictures, and between pictures side by side."""
_CLOSE, _UNDER_WORDS = 0.6, 0.4
"""The part of the gap between steps that pictures of one step are apart, under one another, so that they belong
together; and that words are from pictures under or over them."""
_LEAST_WORDS = 12.0
"""Ems left for words beside a picture, at least: some four words."""
_LOW, _HIGH, _HIGHEST = 0.125, 0.16, 0.33
"""The part of the text area's height that one picture may take: on a crowded page, where pictures are small, and where
they have grown."""
_STEP = 1.0
"""Widths are whole steps of so many millimetres, so that few are tried."""


def cell(item: Item, width: float, setting: Setting, heights: Heights, side: Side) -> Arranged | None:
    """The item in a place `width` wide; None when a word or a picture is wider than that."""
    if item.block.longest * setting.em > width:
        return None
    if not item.pictures:
        return words_alone(item, width, setting, heights)
    if side in (Side.LEFT, Side.RIGHT) and (beside := _beside(item, width, setting, heights, side is Side.LEFT)):
        return beside
    return _stacked(item, width, setting, heights, side in (Side.BELOW, Side.RIGHT))


def words_alone(item: Item, width: float, setting: Setting, heights: Heights) -> Arranged | None:
    """The words of an item as wide as its place; None when one is wider."""
    if item.block.longest * setting.em > width:
        return None
    high = heights.of(item.block, width / setting.em, setting.leading) * setting.em
    return Arranged(width, high, high)


def _beside(item: Item, width: float, setting: Setting, heights: Heights, at_left: bool) -> Arranged | None:
    """None where words or pictures would have too little room."""
    em, gap = setting.em, GAP * setting.em
    least = max(picture.least_mm for picture in item.pictures)
    narrowest = max(_LEAST_WORDS, item.block.longest) * em
    wanted = width * _part(1, _MOST_BESIDE, setting)
    most = min(_MOST_BESIDE * width, width - gap - narrowest)
    column = max(least, LEAST_PART * width, min(wanted, most), *_told(item.pictures, most))
    words = width - gap - column
    if column > _MOST_BESIDE * width or words < narrowest:
        return None
    left = 0.0 if at_left else width - column
    spots = _stack(item.pictures, left, column, setting)
    high = heights.of(item.block, words / em, setting.leading) * em
    bottom = spots[-1].top + spots[-1].height
    return Arranged(words, high, max(high, bottom), spots, column + gap if at_left else 0.0)


def _stack(pictures: Sequence[PictureShape], left: float, column: float, setting: Setting) -> tuple[PlacedArea, ...]:
    """Pictures under one another in the middle of a column."""
    spots: list[PlacedArea] = []
    top = 0.0
    for picture in pictures:
        across = width_of_picture(picture, column, setting)
        spots.append(PlacedArea(left + (column - across) / 2, top, across, picture.height_at(across)))
        top += spots[-1].height + min(GAP * setting.em, _CLOSE * setting.gap)
    return tuple(spots)


def _stacked(item: Item, width: float, setting: Setting, heights: Heights, words_first: bool) -> Arranged | None:
    """The pictures above the words or below, side by side where there is room; None when one is too wide."""
    if max(picture.least_mm for picture in item.pictures) > width:
        return None
    gap, count = GAP * setting.em, len(item.pictures)
    share = (width - gap * (count - 1)) / count
    if count > 1 and any(picture.least_mm > share for picture in item.pictures):
        spots = _stack(item.pictures, 0.0, width, setting)
    else:
        part = _part(count, 1.0, setting)
        rooms = [max(picture.least_mm, share * part, *_told((picture,), share)) for picture in item.pictures]
        wide = [width_of_picture(*one, setting) for one in zip(item.pictures, rooms, strict=True)]
        left = (width - sum(wide) - gap * (count - 1)) / 2
        tall = [picture.height_at(across) for picture, across in zip(item.pictures, wide, strict=True)]
        row: list[PlacedArea] = []
        for across, down in zip(wide, tall, strict=True):
            # Pictures of a row stand on one line.
            row.append(PlacedArea(left, max(tall) - down, across, down))
            left += across + gap
        spots = tuple(row)
    high = max(spot.top + spot.height for spot in spots)
    words = heights.of(item.block, width / setting.em, setting.leading) * setting.em
    apart = min(0.3 * gap, _UNDER_WORDS * setting.gap) if words else 0.0
    if words_first:
        lower = tuple(replace(spot, top=spot.top + words + apart) for spot in spots)
        return Arranged(width, words, words + apart + high, lower)
    return Arranged(width, words, high + apart + words, spots, 0.0, high + apart)


def _part(count: int, most: float, setting: Setting) -> float:
    """The part of their room that so many pictures side by side take, from the least up to `most`."""
    close, open_ = (_CLOSE_PAIR, _PAIR) if count > 1 else (LEAST_PART, _PART)
    least = close if setting.crowded else open_
    return least + (most - least) * min(1.0, setting.enlarged)


def _told(pictures: Sequence[PictureShape], most: float) -> list[float]:
    """The widths from which pictures show their figures, those that there is room for."""
    return [picture.told_mm for picture in pictures if picture.told_mm <= most]


def width_of_picture(picture: PictureShape, room: float, setting: Setting) -> float:
    """How wide a picture is drawn in a room: all of it, unless that is more than it gains by or too high."""
    least = _LOW if setting.crowded else _HIGH
    highest = (least + (_HIGHEST - least) * setting.enlarged) * setting.page_height
    return widest_within(picture, min(room, max(picture.least_mm, picture.most_mm)), highest)


def widest_within(picture: PictureShape, room: float, highest: float) -> float:
    """The widest a picture is in a room and no higher than so much, unless it cannot be read any smaller."""
    width = max(picture.least_mm, floor(room / _STEP) * _STEP)
    while width > picture.least_mm and (high := picture.height_at(width)) > highest:
        # Figures keep their size, so that a picture may shrink by more than its height tells.
        width = max(picture.least_mm, min(width - _STEP, floor(width * highest / high / _STEP) * _STEP))
    return min(width, room) if width <= room else picture.least_mm
