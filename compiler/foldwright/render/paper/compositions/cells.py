"""One step in its place: its pictures at one side of its words or above them, as large as the setting has them.

A picture takes at least two fifths of its column, unless it would be too high for the page then.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from math import floor

from foldwright.render.paper.arranging import Arranged, Item, PictureShape, PlacedArea, Setting
from foldwright.render.paper.measured import Heights


class Side(Enum):
    """Where the pictures of a step stand, from its words."""

    LEFT = "left"
    RIGHT = "right"
    ABOVE = "above"


LEAST_PART = 0.4
"""The part of its column that a picture takes at least."""
_MOST_BESIDE = 0.56
"""The part of a column that pictures beside words take at most."""
GAP = 0.9
"""Ems between words and pictures, and between pictures."""
_LEAST_WORDS = 13.0
"""Ems left for words beside a picture, at least: some four words."""
_HIGH, _HIGHEST = 0.125, 0.33
"""The part of the text area's height that one picture may take: where pictures are small, and where they are large."""
_STEP = 2.0
"""Widths are whole steps of so many millimetres, so that few are tried."""


def cell(item: Item, width: float, setting: Setting, heights: Heights, side: Side) -> Arranged | None:
    """The item in a place `width` wide; None when a word or a picture is wider than that."""
    if item.block.longest * setting.em > width:
        return None
    if not item.pictures:
        return words_alone(item, width, setting, heights)
    beside = None if side is Side.ABOVE else _beside(item, width, setting, heights, side is Side.LEFT)
    return beside or _above(item, width, setting, heights)


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
    wanted = width * (LEAST_PART + (_MOST_BESIDE - LEAST_PART) * setting.enlarged)
    column = max(least, LEAST_PART * width, min(wanted, width - gap - narrowest))
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
        top += spots[-1].height + GAP * setting.em
    return tuple(spots)


def _above(item: Item, width: float, setting: Setting, heights: Heights) -> Arranged | None:
    """The pictures above the words, side by side where there is room; None when one is wider than the place."""
    if max(picture.least_mm for picture in item.pictures) > width:
        return None
    gap, count = GAP * setting.em, len(item.pictures)
    share = (width - gap * (count - 1)) / count
    if count > 1 and any(picture.least_mm > share for picture in item.pictures):
        spots = _stack(item.pictures, 0.0, width, setting)
    else:
        part = LEAST_PART + (1 - LEAST_PART) * setting.enlarged
        wide = [width_of_picture(picture, max(picture.least_mm, share * part), setting) for picture in item.pictures]
        left = (width - sum(wide) - gap * (count - 1)) / 2
        high = [picture.height_at(across) for picture, across in zip(item.pictures, wide, strict=True)]
        row: list[PlacedArea] = []
        for across, tall in zip(wide, high, strict=True):
            # Pictures of a row stand on one line.
            row.append(PlacedArea(left, max(high) - tall, across, tall))
            left += across + gap
        spots = tuple(row)
    top = max(spot.top + spot.height for spot in spots) + gap * 0.5
    words = heights.of(item.block, width / setting.em, setting.leading) * setting.em
    return Arranged(width, words, top + words, spots, 0.0, top)


def width_of_picture(picture: PictureShape, room: float, setting: Setting) -> float:
    """How wide a picture is drawn in a room: all of it, unless that is more than it gains by or too high."""
    highest = (_HIGH + (_HIGHEST - _HIGH) * setting.enlarged) * setting.page_height
    return widest_within(picture, min(room, max(picture.least_mm, picture.most_mm)), highest)


def widest_within(picture: PictureShape, room: float, highest: float) -> float:
    """The widest a picture is in a room and no higher than so much, unless it cannot be read any smaller."""
    width = max(picture.least_mm, floor(room / _STEP) * _STEP)
    while width > picture.least_mm and (high := picture.height_at(width)) > highest:
        # Figures keep their size, so that a picture may shrink by more than its height tells.
        width = max(picture.least_mm, min(width - _STEP, floor(width * highest / high / _STEP) * _STEP))
    return min(width, room) if width <= room else picture.least_mm
