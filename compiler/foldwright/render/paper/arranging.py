"""One thing of a card in a column: its words and its pictures, below them or beside them, and how much room that takes.

Lengths are in millimetres. How loosely a page is set is one number from 0 (as tight as reads well) to 1 (as loose as
looks well): it opens the lines, parts the blocks and enlarges the pictures, all together.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf
from typing import Protocol

from msgspec import Struct

from foldwright.render.paper.measured import Block, Heights

TIGHT_LEADING, LOOSE_LEADING = 1.26, 1.44
"""Line heights as parts of the type size, the range that reads well (common practice, no source)."""
_TIGHT_GAP, _LOOSE_GAP = 0.45, 1.7
"""Ems between two blocks."""
PICTURE_GAP = 0.5
"""Ems between words and picture, and between pictures."""
_BESIDE = 27.0
"""Ems from which a column is wide enough for a picture beside its words."""
_LEAST_WORDS = 15.0
"""Ems that are left for words beside a picture, at least."""
_WIDEST_BESIDE = 0.45
"""The part of a column that a picture beside its words may take."""
_HIGHEST = 0.42
"""The part of the page's height that one picture may take."""


class PictureShape(Protocol):
    """A picture as far as its room goes: widths from the least that is legible to the most that gains anything."""

    @property
    def least_mm(self) -> float: ...

    @property
    def most_mm(self) -> float: ...

    @property
    def told_mm(self) -> float:
        """From which width on it shows all its figures."""
        ...

    def height_at(self, width_mm: float) -> float:
        """Its height when it is `width_mm` wide."""
        ...


class Item(Struct, frozen=True):
    """Words and the pictures that belong to them."""

    block: Block
    pictures: tuple[PictureShape, ...] = ()


class PlacedArea(Struct, frozen=True):
    """Where something stands, from the top left corner of what holds it, and its size."""

    left: float
    top: float
    width: float
    height: float


class Arranged(Struct, frozen=True):
    """An item in a column: how wide and high its words are, its whole height, and where its pictures stand.

    The words stand so far from the left edge and the top of the item.
    """

    words_width: float
    words_height: float
    height: float
    spots: tuple[PlacedArea, ...] = ()
    words_left: float = 0.0
    words_top: float = 0.0


class Setting(Struct, frozen=True):
    """How a page is set: the em in millimetres, how loosely, how high the page is, how many ems a line may be long.

    `enlarged` is how far a card's pictures have grown, from 0 to 1.
    """

    em: float
    looseness: float
    page_height: float
    measure: float = inf
    enlarged: float = 0.0

    @property
    def leading(self) -> float:
        return TIGHT_LEADING + (LOOSE_LEADING - TIGHT_LEADING) * self.looseness

    @property
    def gap(self) -> float:
        return self.em * (_TIGHT_GAP + (_LOOSE_GAP - _TIGHT_GAP) * self.looseness)

    def words_in(self, width: float) -> float:
        """How wide words are set where there is so much room."""
        return min(width, self.measure * self.em)


def arrange(item: Item, width: float, setting: Setting, heights: Heights) -> Arranged | None:
    """The item in a column `width` wide; None when a word or a picture is wider than the column."""
    if item.block.longest * setting.em > width:
        return None
    if not item.pictures:
        words = setting.words_in(width)
        high = heights.of(item.block, words / setting.em, setting.leading) * setting.em
        return Arranged(words, high, high)
    if width >= _BESIDE * setting.em and (beside := arrange_beside(item, width, setting, heights)):
        return beside
    return _below(item, width, setting, heights)


def arrange_beside(
    item: Item, width: float, setting: Setting, heights: Heights, part: float = _WIDEST_BESIDE
) -> Arranged | None:
    """The pictures in a column of their own at the right, at most `part` of the width; None when that cannot be."""
    gap = PICTURE_GAP * 2 * setting.em
    least = max(picture.least_mm for picture in item.pictures)
    most = min(part * width, width - gap - max(_LEAST_WORDS, item.block.longest) * setting.em)
    if least > most:
        return None
    column = max(picture_width(picture, most, setting) for picture in item.pictures)
    words = setting.words_in(width - gap - column)
    spots = _stacked(item.pictures, most, (width - column, column), 0.0, setting)
    high = heights.of(item.block, words / setting.em, setting.leading) * setting.em
    return Arranged(words, high, max(high, spots[-1].top + spots[-1].height), spots)


def _stacked(
    pictures: Sequence[PictureShape], most: float, column: tuple[float, float], top: float, setting: Setting
) -> tuple[PlacedArea, ...]:
    """Pictures at most so wide under one another, in the middle of a column: its left edge and its width."""
    spots: list[PlacedArea] = []
    for picture in pictures:
        across = picture_width(picture, most, setting)
        spots.append(PlacedArea(column[0] + (column[1] - across) / 2, top, across, picture.height_at(across)))
        top += spots[-1].height + PICTURE_GAP * setting.em
    return tuple(spots)


def _below(item: Item, width: float, setting: Setting, heights: Heights) -> Arranged | None:
    """The pictures under the words, in a row when they fit side by side, else under one another.

    They stand in the middle of the words, or of the whole column where they need all of it.
    """
    widest = max(picture.least_mm for picture in item.pictures)
    if widest > width:
        return None
    indent = item.block.indent * setting.em
    indent = indent if widest <= width - indent else 0.0
    room = width - indent
    gap = PICTURE_GAP * setting.em
    words_width = setting.words_in(width)
    words = heights.of(item.block, words_width / setting.em, setting.leading) * setting.em
    top = words + gap
    count = len(item.pictures)
    share = (room - gap * 2 * (count - 1)) / count
    if count > 1 and all(picture.least_mm <= share for picture in item.pictures):
        wide = [picture_width(picture, share, setting) for picture in item.pictures]
        left = indent + (room - sum(wide) - gap * 2 * (count - 1)) / 2
        spots: list[PlacedArea] = []
        for picture, across in zip(item.pictures, wide, strict=True):
            spots.append(PlacedArea(left, top, across, picture.height_at(across)))
            left += across + gap * 2
        return Arranged(words_width, words, top + max(spot.height for spot in spots), tuple(spots))
    stacked = _stacked(item.pictures, room, (indent, room), top, setting)
    return Arranged(words_width, words, stacked[-1].top + stacked[-1].height, stacked)


def picture_width(picture: PictureShape, most: float, setting: Setting) -> float:
    """How wide a picture is drawn: the looser the page, the wider; whole millimetres, so that few widths are tried."""
    most = max(picture.least_mm, min(most, picture.most_mm))
    while most > picture.least_mm and picture.height_at(most) > _HIGHEST * setting.page_height:
        most = max(picture.least_mm, most - 5.0)
    width = picture.least_mm + (most - picture.least_mm) * setting.looseness
    return min(most, max(picture.least_mm, float(round(width))))
