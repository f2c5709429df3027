"""Squared paper: a page's squares, the columns that end on them, and rows of panels whose lines all lie on them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import accumulate
from math import ceil, floor

from msgspec import Struct

from foldwright.render.paper.arranging import Item, PictureShape, PlacedArea, Setting
from foldwright.render.paper.compositions.cells import GAP, widest_within, width_of_picture
from foldwright.render.paper.compositions.page import Frame
from foldwright.render.paper.measured import Heights

_HAIR = 1e-6
_PAD = 0.55
"""Ems kept clear round the words of a panel."""
_NUMBER = 1.9
"""Ems for the number of a panel without pictures, at the left of its words."""
CLEAR = 0.8
"""Millimetres kept clear round its pictures, at least."""
_SIDE = 0.66
"""Ems kept clear at both sides of pictures over their words, where there is room: no less than between them and these,
so that none is nearer to the number of the next panel."""
_UNDER_WORDS = 1.5
"""Millimetres between a flat piece and the heading over it, besides what is clear round that, at most."""
_LARGE_PAGE = 220.0
"""The height in millimetres from which a page's pictures are to be seen from a step away."""
_STEP = 2.0
"""Widths of pictures are tried in steps of so many millimetres."""
_MOST_BESIDE = 0.5
"""The part of a panel that pictures beside its words take at most."""
_LEAST_WORDS = 10.5
"""Ems left for words beside a picture, with what is clear round them."""
_HIGHEST_BOX = 0.33
"""The part of the text area's height that a row's pictures take at most."""


class _LeastParts(Struct, frozen=True):
    """The part of its panel's width that a picture takes at least, with the margins of its drawing: over its words
    alone, there together with another, or beside them."""

    alone: float
    together: float
    beside: float

    @classmethod
    def of(cls, setting: Setting) -> _LeastParts:
        """On a large page, or on one that is held in a hand."""
        return cls(0.5, 0.32, 0.42) if setting.page_height >= _LARGE_PAGE else cls(0.44, 0.24, 0.4)


class Squares(Struct, frozen=True):
    """The squares of a text area: how many across and down, their side, and where the first one begins."""

    across: int
    down: int
    side: float
    left: float
    top: float

    @classmethod
    def of(cls, frame: Frame) -> Squares:
        across, down = floor(frame.width / frame.square + _HAIR), floor(frame.height / frame.square + _HAIR)
        left, top = (frame.width - across * frame.square) / 2, (frame.height - down * frame.square) / 2
        return cls(across, down, frame.square, left, top)

    def count(self, length: float) -> int:
        """In how many squares a length has room."""
        return ceil(length / self.side - _HAIR)

    def edges(self, number: int) -> tuple[int, ...]:
        """Where so many columns begin and end."""
        return tuple(round(self.across * place / number) for place in range(number + 1))

    def area(self, left: int, top: int, right: int, bottom: int) -> PlacedArea:
        """Between lines of the squares, counted from the text area's corner."""
        at = self.left + left * self.side, self.top + top * self.side
        return PlacedArea(*at, (right - left) * self.side, (bottom - top) * self.side)


class StepPanel(Struct, frozen=True):
    """An item in a panel: the lines at its left and right, how high its words are with what is clear round them, how
    high its pictures are at least and at most."""

    item: Item
    left: int
    right: int
    words: float
    least: float
    most: float
    column: float = 0.0
    """How wide the pictures' column is at the left of the words; 0 where they stand above them."""
    stacked: bool = False
    """Whether several pictures stand under one another."""


def pad(setting: Setting) -> float:
    """What is kept clear round words, in millimetres."""
    return _PAD * setting.em


def words_height(item: Item, width: float, setting: Setting, heights: Heights) -> float | None:
    """How high words are in a place so wide, with what is clear round them; None when one of them is wider."""
    room = width - 2 * pad(setting)
    if item.block.longest * setting.em > room + _HAIR:
        return None
    return heights.of(item.block, room / setting.em, setting.leading) * setting.em + 2 * pad(setting)


def panel(
    item: Item, left: int, right: int, squares: Squares, setting: Setting, heights: Heights, beside: bool = False
) -> StepPanel | None:
    """With its pictures above the words or `beside` them; None where a word or a picture is too wide."""
    width = (right - left) * squares.side
    if not item.pictures:
        words = words_height(item, width - number_room(item, setting), setting, heights)
        return None if words is None else StepPanel(item, left, right, words, 0.0, 0.0)
    if beside and not headed(item):
        return _beside(item, left, right, width, setting, heights)
    words, share = words_height(item, width, setting, heights), _share(item, width, setting)
    stacked = any(picture.least_mm > share for picture in item.pictures)
    share = width - 2 * _side(item, width, setting) if stacked else share
    if words is None or any(picture.least_mm > share for picture in item.pictures):
        return None
    parts = _LeastParts.of(setting)
    part = min(share, width * (parts.together if len(item.pictures) > 1 and not stacked else parts.alone))
    part, longer = part + (share - part) * setting.enlarged, part
    together = sum if stacked else max
    wide = [_wide(one, max(one.least_mm, part), longer, setting) for one in item.pictures]
    least = together(_boxes(item, wide, share, setting))
    widest = [max(one.least_mm, min(share, one.most_mm)) for one in item.pictures]
    most = min(together(_boxes(item, widest, share, setting)), _HIGHEST_BOX * setting.page_height)
    most = max(least, most)
    return StepPanel(item, left, right, words, least, most, stacked=stacked)


def _beside(item: Item, left: int, right: int, width: float, setting: Setting, heights: Heights) -> StepPanel | None:
    """The pictures in a column of their own, under one another."""
    least = _LeastParts.of(setting).beside
    column = width * (least + (_MOST_BESIDE - least) * setting.enlarged) + 2 * CLEAR
    column = max(column, *(one.least_mm + 2 * CLEAR for one in item.pictures))
    words = words_height(item, width - column, setting, heights)
    if words is None or width - column < _LEAST_WORDS * setting.em:
        return None
    wide = [_wide(one, column - 2 * CLEAR, width * least / len(item.pictures), setting) for one in item.pictures]
    high = sum(_boxes(item, wide, column - 2 * CLEAR, setting))
    return StepPanel(item, left, right, words, high, high, column, stacked=True)


def _wide(picture: PictureShape, room: float, longer: float, setting: Setting) -> float:
    """How wide a picture is in a room: all of it, unless that is more than it gains by or too high. It is never too
    high with a `longer` side of so much."""
    most = min(room, max(picture.least_mm, picture.most_mm))
    found = width_of_picture(picture, room, setting)
    return most if most - found < _STEP else max(found, _widest(picture, most, longer))


def _widest(picture: PictureShape, room: float, highest: float) -> float:
    """The widest a picture is in a room and no higher than so much. Without the figures for which it was too high it
    is lower, and may be wider again."""
    width = widest_within(picture, room, highest)
    while width + _STEP < min(room, picture.told_mm) and picture.height_at(width + _STEP) <= highest:
        width += _STEP
    return width


def _boxes(item: Item, wide: Sequence[float], room: float, setting: Setting) -> list[float]:
    """How high a box each picture needs that is so wide, or as narrow as it may be, in a room: the first one stands
    at the right of the panel's number, or under it."""

    def box(picture: PictureShape, width: float, corner: float) -> float:
        return picture.height_at(width) + 2 * CLEAR + (corner if width > room - corner + _HAIR else 0.0)

    corners = (_corner(item, setting), *(0.0 for _ in item.pictures[1:]))
    return [
        max(box(one, width, corner), box(one, one.least_mm, corner))
        for one, width, corner in zip(item.pictures, wide, corners, strict=True)
    ]


def _share(item: Item, width: float, setting: Setting) -> float:
    """The width that each picture of a panel has where they stand side by side."""
    count = len(item.pictures)
    return (width - 2 * _side(item, width, setting) - GAP * setting.em * (count - 1)) / count


def _side(item: Item, width: float, setting: Setting) -> float:
    """What is clear at both sides of pictures over their words; less where one has no room else."""
    widest = max(picture.least_mm for picture in item.pictures)
    return max(CLEAR, min(_SIDE * setting.em, (width - widest) / 2))


def spots_in(one: StepPanel, box: PlacedArea, setting: Setting) -> tuple[PlacedArea, ...]:
    """A panel's pictures, as large as go into a box, in the middle of it: side by side, or in a column."""
    count = len(one.item.pictures)
    side = CLEAR if one.column else _side(one.item, box.width, setting)
    if one.stacked:
        wide = (one.column or box.width) - 2 * side
        needs = [picture.height_at(max(picture.least_mm, min(wide, picture.most_mm))) for picture in one.item.pictures]
        least = _boxes(one.item, [picture.least_mm for picture in one.item.pictures], wide, setting)
        spare = box.height - sum(least)
        highs = [low + spare * need / sum(needs) for low, need in zip(least, needs, strict=True)]
        tops = accumulate(highs, initial=box.top)
        boxes = [PlacedArea(box.left + side, top, wide, high) for top, high in zip(tops, highs, strict=False)]
    else:
        share = _share(one.item, box.width, setting)
        step = share + GAP * setting.em
        boxes = [PlacedArea(box.left + side + place * step, box.top, share, box.height) for place in range(count)]
    first, *more = one.item.pictures
    if headed(one.item):
        return tuple(map(under_words, one.item.pictures, boxes))
    put = in_the_middle if one.column else near_words
    return clear_of(first, boxes[0], _corner(one.item, setting), put), *map(put, more, boxes[1:])


def clear_of(
    picture: PictureShape, box: PlacedArea, corner: float, put: Callable[[PictureShape, PlacedArea], PlacedArea]
) -> PlacedArea:
    """A picture as large as goes into a box without lying under a square at its upper left corner."""
    right = PlacedArea(box.left + corner, box.top, box.width - corner, box.height)
    below = PlacedArea(box.left, box.top + corner, box.width, box.height - corner)
    least = [room for room in (box, right, below) if room.width >= picture.least_mm - _HAIR]
    spots = [put(picture, room) for room in least]
    free = [one for one in spots if one.left >= box.left + corner or one.top >= box.top + corner]
    return max(free or spots, key=lambda one: (one.top + one.height <= box.top + box.height + _HAIR, one.width))


def in_the_middle(picture: PictureShape, box: PlacedArea) -> PlacedArea:
    """A picture as large as goes into a box."""
    room = min(box.width, max(picture.least_mm, picture.most_mm))
    highest = box.height - 2 * CLEAR
    wide = room if picture.height_at(room) <= highest else _widest(picture, room, highest)
    high = picture.height_at(wide)
    return PlacedArea(box.left + (box.width - wide) / 2, box.top + (box.height - high) / 2, wide, high)


def near_words(picture: PictureShape, box: PlacedArea) -> PlacedArea:
    """The same at the words beneath: nearer to them than to those of the row above."""
    spot = in_the_middle(picture, box)
    return PlacedArea(spot.left, box.top + max(0.0, box.height - spot.height), spot.width, spot.height)


def under_words(picture: PictureShape, box: PlacedArea) -> PlacedArea:
    """The same near the words over it."""
    spot = in_the_middle(picture, box)
    return PlacedArea(
        spot.left, box.top + min(max(0.0, box.height - spot.height) / 4, _UNDER_WORDS), spot.width, spot.height
    )


def headed(item: Item) -> bool:
    """Flat pieces have their heading over them; a step's picture has its heading beneath."""
    return item.block.name.startswith("pieces")


def _corner(item: Item, setting: Setting) -> float:
    """How wide and high the corner is that the number takes."""
    return 0.0 if headed(item) else _NUMBER * setting.em


def number_room(item: Item, setting: Setting) -> float:
    """What the number takes of the words' width where it stands at their left and not over a picture."""
    return _NUMBER * setting.em if item.block.name.startswith("step-") and not item.pictures else 0.0


class PanelRow(Struct, frozen=True):
    """A row of the drawing: how many squares it is high at least and at most, how high its words are beneath pictures.

    `width` is that of its widest panel: a row whose pictures are low for it grows first. 0 is for a row without any.
    """

    least: int
    most: int
    words: float
    width: float


def row_of(panels: Sequence[StepPanel], squares: Squares, besides: float = 0.0) -> PanelRow:
    """A row for panels, and for what else stands in it and is so high."""
    above = [one for one in panels if one.item.pictures and not one.column]
    words = max((one.words for one in above), default=0.0)
    alone = max((max(one.words, one.least) for one in panels if one not in above), default=0.0)
    least = squares.count(max(besides, alone, words + max((one.least for one in above), default=0.0)))
    most = squares.count(words + max((one.most for one in above), default=0.0))
    width = max(((one.right - one.left) * squares.side for one in panels if one.item.pictures), default=0.0)
    return PanelRow(least, max(least, most), words, width)


def grown(rows: Sequence[PanelRow], squares: Squares, spare: int) -> list[int]:
    """How many squares each row has when so many are to spare: the one whose pictures are lowest for their width first.

    Beyond what they gain by they grow all alike, so that the page is full.
    """
    high = [row.least for row in rows]

    def shown(place: int) -> float:
        return (high[place] * squares.side - rows[place].words) / rows[place].width

    for _ in range(spare):
        pictured = [place for place, row in enumerate(rows) if row.width]
        able = [place for place in pictured if high[place] < rows[place].most] or pictured
        grows = min(able, key=shown) if able else min(range(len(rows)), key=lambda place: high[place])
        high[grows] += 1
    return high
