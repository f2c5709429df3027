"""The rows of a handout: each step with its own pictures, in the way the look puts a page together.

A cell is a block with its words and pictures; a row is one cell, or several side by side. Whatever the composition, a
picture stands in the cell of its own step. Lengths are in millimetres; pictures are in boxes a little wider than high.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.render.paper.arranging import PlacedArea, Setting
from foldwright.render.paper.measured import Block, Heights
from foldwright.render.paper.pictures import Captioned
from foldwright.render.paper.prints import PrintedPhoto

_BOX = 0.72
"""The height of a picture's box as a part of its width, at most."""
_GAP, GUTTER = 0.6, 1.6
"""Ems between a picture and what is under it, and between pictures and words, or two panels, side by side."""
INSET = 0.8
"""Ems between the edge of a panel or a band and what is in it."""
LEAST_WORDS = 17.0
"""Ems a column of words beside a picture, or in a panel, is wide at least."""
_LEAST_OF_THREE = 14.0
"""The same in one of three panels side by side."""
_LEAD = 0.62
"""The part of a panel's width that the first of its pictures takes."""
HERO = 0.2
"""The part of the paper's height that the picture of the finished thing takes, if its shape lets it."""
_HERO_WIDEST = 0.62
"""The part of the page's width that it may take beside the title."""
_NEARLY = 0.8
"""The part of its height with which a picture long and low stands beside the title."""
_TRIES, _HAIR = 4, 1e-6


class PictureSpot(Struct, frozen=True):
    """Where a picture stands with its caption, and how wide it is itself, in the middle of that."""

    area: PlacedArea
    wide: float

    @property
    def bottom(self) -> float:
        return self.area.top + self.area.height

    def moved(self, right: float, down: float) -> PictureSpot:
        return replace(self, area=replace(self.area, left=self.area.left + right, top=self.area.top + down))


class Cell(Struct, frozen=True):
    """A block in a row: its left edge and width, its words and its pictures, both from its own corner.

    `field` is where the pictures of a `panel` stand.
    """

    name: str
    left: float
    width: float
    height: float
    words: PlacedArea
    spots: tuple[PictureSpot, ...] = ()
    panel: bool = False
    field: PlacedArea | None = None

    def inset(self, by: float) -> Cell:
        """The same in a frame that is so much larger on every side."""
        return replace(
            self,
            width=self.width + 2 * by,
            height=self.height + 2 * by,
            words=replace(self.words, left=self.words.left + by, top=self.words.top + by),
            spots=tuple(spot.moved(by, by) for spot in self.spots),
        )


class ClassRow(Struct, frozen=True):
    """Cells side by side, as high as the highest."""

    cells: tuple[Cell, ...]

    @property
    def height(self) -> float:
        return max(cell.height for cell in self.cells)


class RowRoom(Struct, frozen=True):
    """What rows are set in: the page's width, how it is set, the part of the width that a picture may take.

    `paper` is the height of the whole paper; `hero` the part of it for the picture of the finished thing.
    """

    width: float
    setting: Setting
    share: float
    paper: float
    hero: float = HERO

    @property
    def em(self) -> float:
        return self.setting.em

    @property
    def column(self) -> float:
        return self.share * self.width

    def narrower(self, width: float) -> RowRoom:
        return replace(self, width=width)


class Matched(Struct, frozen=True):
    """A block with the pictures that belong to it."""

    block: Block
    pictures: tuple[Captioned, ...] = ()

    @property
    def least(self) -> float:
        return max((picture.least_mm for picture in self.pictures), default=0.0)


def words_cell(one: Matched, room: RowRoom, heights: Heights, broad: bool = False) -> Cell | None:
    """Words alone, `broad` if their lines may be as long as the page is wide. None when a word is wider."""
    width = room.width if broad else room.setting.words_in(room.width)
    high = _high(one.block, width, room, heights)
    return Cell(one.block.name, 0.0, room.width, high.height, high) if high else None


def beside_cell(one: Matched, room: RowRoom, heights: Heights, at_right: bool = False) -> Cell | None:
    """The first picture in a column of its own, the words beside it, other pictures in a line under the words."""
    if not one.pictures:
        return None
    gutter = GUTTER * room.em
    column = max(room.column, one.pictures[0].least_mm)
    across = room.width - column - gutter
    words = _high(one.block, room.setting.words_in(across), room, heights)
    others = Matched(one.block, one.pictures[1:])
    if words is None or across < LEAST_WORDS * room.em or others.least > across:
        return None
    first = _boxed(one.pictures[0], column, column * _BOX)
    indent = min(one.block.indent * room.em, max(0.0, across - others.least))
    strip = _strip(others.pictures, indent, words.height + _GAP * room.em, across - indent, room)
    right, left = (0.0, across + gutter) if at_right else (column + gutter, 0.0)
    spots = (first.moved(left, 0.0), *(spot.moved(right, 0.0) for spot in strip))
    high = max(words.height, *(spot.bottom for spot in spots))
    return Cell(one.block.name, 0.0, room.width, high, replace(words, left=right), spots)


def under_cell(one: Matched, room: RowRoom, heights: Heights) -> Cell | None:
    """The words with their pictures in lines under them, as many in each as there is room for."""
    alone = words_cell(one, room, heights)
    if alone is None or not one.pictures:
        return alone
    indent = min(one.block.indent * room.em, max(0.0, room.width - one.least))
    strip = _strip(one.pictures, indent, alone.height + _GAP * room.em, room.width - indent, room)
    return replace(alone, height=max(spot.bottom for spot in strip), spots=strip)


def centred_cell(one: Matched, room: RowRoom, heights: Heights) -> Cell | None:
    """A column of words in the middle of the page, their pictures in the middle under them."""
    alone = words_cell(one, room, heights)
    if alone is None:
        return None
    words = replace(alone.words, left=(room.width - alone.words.width) / 2)
    strip = _strip(one.pictures, 0.0, alone.height + _GAP * room.em, room.width, room, centred=True)
    return replace(alone, words=words, height=max((spot.bottom for spot in strip), default=alone.height), spots=strip)


def panels(ones: Sequence[Matched], room: RowRoom, heights: Heights, across: int = 2) -> ClassRow | None:
    """Panels side by side: the picture above, the words beneath; None where one is too narrow for what is in it."""
    gutter, inset = GUTTER * room.em / 2, INSET * room.em
    width = (room.width - gutter * (across - 1)) / across
    inner = room.narrower(width - 2 * inset)
    least = LEAST_WORDS if across < 3 else _LEAST_OF_THREE
    if inner.width < least * room.em or any(one.least > inner.width for one in ones):
        return None
    strips = [_panel_strip(one.pictures, room, inner) for one in ones]
    field = max((spot.bottom for strip in strips for spot in strip), default=0.0)
    cells: list[Cell] = []
    for number, (one, strip) in enumerate(zip(ones, strips, strict=True)):
        words = _high(one.block, inner.width, room, heights)
        if words is None:
            return None
        down = field + _GAP * room.em if strip else 0.0
        lower = (field - max((spot.bottom for spot in strip), default=0.0)) / 2
        spots = tuple(spot.moved(0.0, lower) for spot in strip)
        placed = Cell(one.block.name, 0.0, inner.width, down + words.height, replace(words, top=down), spots)
        area = PlacedArea(inset, inset, inner.width, field) if strip else None
        cells.append(replace(placed.inset(inset), left=number * (width + gutter), panel=True, field=area))
    return ClassRow(tuple(cells))


def wide_panel(one: Matched, room: RowRoom, heights: Heights) -> ClassRow | None:
    """A panel as wide as two: the picture where that of the left one is, the words beside it."""
    gutter, inset = GUTTER * room.em / 2, INSET * room.em
    half = room.narrower((room.width - gutter) / 2 - 2 * inset)
    if half.width < LEAST_WORDS * room.em or one.least > half.width:
        return None
    strip = _panel_strip(one.pictures, room, half)
    field = max((spot.bottom for spot in strip), default=0.0)
    whole = room.narrower(room.width - 2 * inset)
    left = whole.width - half.width if strip else 0.0
    words = _high(one.block, half.width if strip else room.setting.words_in(whole.width), room, heights)
    if words is None:
        return None
    cell = Cell(one.block.name, 0.0, whole.width, max(field, words.height), replace(words, left=left), strip)
    area = PlacedArea(inset, inset, half.width, field) if strip else None
    return ClassRow((replace(cell.inset(inset), panel=True, field=area),))


def _panel_strip(pictures: Sequence[Captioned], room: RowRoom, inner: RowRoom) -> tuple[PictureSpot, ...]:
    """The first picture large and the others at its right, where they all can be read so; or all side by side."""
    high, gap = room.column * _BOX, GUTTER * room.em
    beside = _strip(pictures, 0.0, 0.0, inner.width, room, True, high)
    wide = (inner.width - gap) * _LEAD
    rest = inner.width - gap - wide
    if len(pictures) < 2 or pictures[0].least_mm > wide or any(one.least_mm > rest for one in pictures[1:]):
        return beside
    led, top = [_boxed(pictures[0], wide, high)], 0.0
    for one in pictures[1:]:
        spot = _boxed(one, rest, high / (len(pictures) - 1) - gap)
        led.append(spot.moved(wide + gap, top))
        top += spot.area.height + _GAP * room.em
    lower = max(spot.bottom for spot in beside)
    return tuple(led) if max(spot.bottom for spot in led) <= max(lower, high + gap) else beside


def head_beside(one: Matched, room: RowRoom, heights: Heights, at_right: bool, inset: float) -> Cell | None:
    """The title beside the picture of the finished thing; a picture long and low stands under the title.

    None when a word of the title is wider than the page.
    """
    inner = room.narrower(room.width - 2 * inset * room.em)
    if not one.pictures:
        cell = words_cell(one, inner, heights, broad=True)
        return cell and cell.inset(inset * room.em)
    hero = one.pictures[0]
    wide = _hero_width(hero, room, inner.width)
    most = max(hero.least_mm, inner.width * _HERO_WIDEST)
    if hero.picture.height_at(most) >= _NEARLY * room.hero * room.paper:
        wide = min(wide, most)
    column = max(wide, min(room.column, inner.width * _HERO_WIDEST))
    gutter = GUTTER * room.em
    across = inner.width - column - gutter
    words = _high(one.block, across, room, heights)
    if words is None or column > inner.width * _HERO_WIDEST:
        under = head_under(one, inner, heights)
        return under and under.inset(inset * room.em)
    high = hero.height_at(wide)
    spot_left, words_left = (across + gutter + column - wide, 0.0) if at_right else (0.0, column + gutter)
    tall = max(words.height, high)
    # In the middle beside the picture.
    placed = replace(words, left=words_left, top=max(0.0, (tall - words.height) / 2))
    spot = PictureSpot(PlacedArea(spot_left, (tall - high) / 2, wide, high), wide)
    return Cell(one.block.name, 0.0, inner.width, tall, placed, (spot,)).inset(inset * room.em)


def with_fields(head: Cell, fields: Cell, room: RowRoom) -> ClassRow | None:
    """A title with the lines for name and date under it, beside the picture; None where it does not stand beside it."""
    if not head.spots:
        return None
    spot, gap = head.spots[0], GUTTER * room.em
    left = max(spot.area.left, head.words.left)
    beside = left >= min(spot.area.left + spot.wide, head.words.left + head.words.width)
    if not beside or head.words.height + gap + fields.height > spot.area.height:
        return None
    # The title in the middle of what is left above the lines, which end level with the picture.
    free = spot.area.height - fields.height - gap - head.words.height
    placed = replace(head, words=replace(head.words, top=spot.area.top + free / 2))
    top = spot.bottom - fields.height
    words = PlacedArea(0.0, top, head.words.width, fields.height)
    return ClassRow((placed, replace(fields, left=head.words.left, width=head.words.width, words=words)))


def head_under(one: Matched, room: RowRoom, heights: Heights) -> Cell | None:
    """The title, and under it in the middle the picture of the finished thing. None when a word is too wide."""
    words = words_cell(one, room, heights, broad=True)
    if words is None or not one.pictures:
        return words
    hero = one.pictures[0]
    wide = _hero_width(hero, room, room.width)
    top = words.height + GUTTER / 2 * room.em
    spot = PictureSpot(PlacedArea((room.width - wide) / 2, top, wide, hero.height_at(wide)), wide)
    return replace(words, height=spot.bottom, spots=(spot,))


def _hero_width(hero: Captioned, room: RowRoom, most: float) -> float:
    """As wide as it has to be to be as high as it should, if there is so much room."""
    if isinstance(hero.picture, PrintedPhoto):
        # Larger than is fine, but not so large that it looks torn.
        most = max(hero.least_mm, min(most, 2 * hero.most_mm))
    least = max(hero.least_mm, min(most, 30.0))
    wide = least
    while wide < most and hero.picture.height_at(wide) < room.hero * room.paper:
        wide = min(most, wide + 2.0)
    return wide


def _strip(
    pictures: Sequence[Captioned],
    left: float,
    top: float,
    width: float,
    room: RowRoom,
    centred: bool = False,
    high: float | None = None,
) -> tuple[PictureSpot, ...]:
    """Pictures side by side in lines, as many in each as there is room for, at most as high as a box is."""
    gap = GUTTER * room.em
    most = min(width, room.column)
    if len(pictures) > 1:
        share = (width - gap * (len(pictures) - 1)) / len(pictures)
        most = max(max(one.least_mm for one in pictures), min(most, share))
    elif high is not None:
        most = width
    across = max(1, int((width + gap + _HAIR) / (most + gap)))
    spots: list[PictureSpot] = []
    for at in range(0, len(pictures), across):
        line = [_boxed(one, most, high or most * _BOX) for one in pictures[at : at + across]]
        used = most * len(line) + gap * (len(line) - 1)
        start = left + ((width - used) / 2 if centred else 0.0)
        spots += [spot.moved(start + (most + gap) * number, top) for number, spot in enumerate(line)]
        top += max(spot.area.height for spot in line) + _GAP * room.em
    return tuple(spots)


def _boxed(picture: Captioned, width: float, high: float) -> PictureSpot:
    """A picture in a box, its caption under it; never narrower than it can be read."""
    wide = float(int(width))
    if isinstance(picture.picture, PrintedPhoto):
        wide = min(wide, picture.most_mm)
    wide = max(wide, picture.least_mm)
    for _ in range(_TRIES):
        tall = picture.picture.height_at(wide)
        if tall <= high or wide <= picture.least_mm:
            break
        wide = max(picture.least_mm, float(int(wide * high / tall)))
    width = max(wide, width)
    return PictureSpot(PlacedArea(0.0, 0.0, width, picture.height_in(wide, width)), wide)


def _high(block: Block, width: float, room: RowRoom, heights: Heights) -> PlacedArea | None:
    """Words in a column so wide; None when one of them is wider."""
    if width <= 0 or block.longest * room.em > width:
        return None
    return PlacedArea(0.0, 0.0, width, heights.of(block, width / room.em, room.setting.leading) * room.em)
