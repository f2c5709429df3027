"""A shop drawing: squared paper, the finished thing and what is needed in the first row, steps as numbered panels, the
title block in the corner at the lower right. All lines lie on the squares, and of a row all pictures have one height.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import accumulate, chain, pairwise
from math import ceil, floor

from msgspec import Struct

from foldwright.render.paper.arranging import Arranged, Item, PlacedArea, Setting
from foldwright.render.paper.columns import balanced
from foldwright.render.paper.compositions.cells import widest_within
from foldwright.render.paper.compositions.heads import LARGEST_HERO, LEAST_HERO
from foldwright.render.paper.compositions.page import Frame, LaidPage, PageOffer, Placed, foot_in
from foldwright.render.paper.compositions.squares import (
    CLEAR,
    PanelRow,
    Squares,
    StepPanel,
    grown,
    headed,
    in_the_middle,
    number_room,
    pad,
    panel,
    row_of,
    spots_in,
    words_height,
)
from foldwright.render.paper.measured import Heights

_TITLE_PART = 0.55
"""The part of the width that the title takes where it has a row to itself; the foot has the rest."""
_WIDEST_HERO = 0.6
"""The part of the width that the finished thing takes beside what is read before the steps, at most."""
_NARROWEST_NOTE = 13.0
"""Ems a column beside it is wide at least, if there are several."""
_SMALL_PICTURES, _MOST_BESIDE = 0.4, 2
"""Pictures that have grown no more than this, in no more columns, may stand beside words: else lines are short."""
_LINE = 0.25
"""Millimetres; the middle of a line lies on the squares'."""


def shop_drawing(offer: PageOffer, frame: Frame, setting: Setting, heights: Heights, number: int) -> LaidPage | None:
    """See `page.Compose`."""
    drawing = _Drawing(offer, frame, setting, heights, number)

    def best(beside: bool) -> LaidPage | None:
        pages = [page for columns in drawing.title_columns if (page := drawing.page(beside, columns))]
        return min(pages, key=lambda page: (page.over, -page.pictured), default=None)

    above = best(beside=False)
    if setting.enlarged > _SMALL_PICTURES or number > _MOST_BESIDE or (above and not above.over):
        return above
    # Where words under their pictures have no room, they may have it at their right.
    return min(filter(None, (above, best(beside=True))), key=lambda page: page.over, default=None)


class _Note(Struct, frozen=True):
    """Words without pictures in the first row: where they stand in it, and the lines at both sides of their column."""

    item: Item
    place: PlacedArea
    lines: tuple[int, int]


class _FirstRow(Struct, frozen=True):
    """What stands beside the finished thing and what under it, there so many squares high."""

    beside: tuple[_Note, ...]
    under: tuple[_Note, ...]
    low: int
    row: PanelRow


class _Title(Struct, frozen=True):
    """The title block: the line at its left, its height, that of the foot under the title or beside it.

    It may stand `beside` the last panels.
    """

    left: int
    height: float
    foot: float
    beside: bool


class _Drawing:
    """A page that is put together. Lengths are in millimetres, lines and heights of rows in squares."""

    def __init__(self, offer: PageOffer, frame: Frame, setting: Setting, heights: Heights, number: int) -> None:
        self.offer, self.frame, self.setting, self.heights, self.number = offer, frame, setting, heights, number
        self.squares = Squares.of(frame)
        self.edges = self.squares.edges(number)
        self.hero = offer.head.pictures[0] if offer.head and offer.head.pictures else None

    @property
    def title_columns(self) -> Sequence[int]:
        """How many of the last row's columns the title block may take; 0 is for a row of its own."""
        free = -len(self._drawn) % self.number
        return (*range(1, free + 1), 0) if self.offer.head else (0,)

    def page(self, beside: bool, columns: int) -> LaidPage | None:
        """Pictures above the words or beside them; None when something is wider than its place."""
        first, title = self._first, self._title(columns) or self._title(0)
        panels = self._panels(beside, title.left if title and title.beside else self.edges[-1])
        if first is None or panels is None or title is None:
            return None
        under = [title.height if title.beside and row is panels[-1] else 0.0 for row in panels]
        rows = [first.row, *(row_of(row, self.squares, high) for row, high in zip(panels, under, strict=True))]
        last = 0 if title.beside else self.squares.count(title.height)
        spare = self.squares.down - last - sum(row.least for row in rows)
        tops = [0, *accumulate(grown(rows, self.squares, max(0, spare)))]
        return self._laid(first, panels, rows, title, tops, max(0.0, -spare * self.squares.side))

    @cached_property
    def _hero(self) -> tuple[int, int]:
        """How many squares the finished thing has across and down, at least; none where there is none."""
        if not self.hero:
            return 0, 0
        high = LEAST_HERO * (self.frame.page_height or self.frame.height)
        least = self.squares.count(max(high, self.hero.height_at(self.hero.least_mm)) + 2 * CLEAR)
        if self.number == 1 or not self._read_before:
            return self.edges[-1], least
        room = min(_WIDEST_HERO * self.frame.width, max(self.hero.least_mm, self.hero.most_mm))
        wide = widest_within(self.hero, room, least * self.squares.side)
        wide = max(self.hero.least_mm, wide * min(1.0, high / self.hero.height_at(wide)))
        return max(self.edges[1], self.squares.count(wide + 2 * CLEAR)), least

    @property
    def _read_before(self) -> list[Item]:
        """What is read before the steps and has no pictures."""
        return [item for item in self.offer.asides if not item.pictures]

    @cached_property
    def _first(self) -> _FirstRow | None:
        """The finished thing and at its side what is read before the steps, or some of it, and the rest under both."""
        items, (across, _) = self._read_before, self._hero
        whole = self.edges[-1]
        ways = [
            self._first_row(beside, (under or []))
            for split in range(len(items) + 1)
            for beside in self._columns(items[:split], across % whole, whole)
            for under in self._columns(items[split:], 0, whole)
            if not (across == whole and split)
        ]
        return min(ways, key=lambda way: way.row.least, default=None)

    def _columns(self, items: list[Item], left: int, right: int) -> Iterator[list[_Note]]:
        """Items in columns between two lines, in every number of columns that is wide enough; none when one is not."""
        if not items:
            yield []
        room = right - left
        most = floor(room * self.squares.side / (_NARROWEST_NOTE * self.setting.em))
        for number in range(1, max(1, min(len(items), most)) + 1 if items else 1):
            edges = [left + round(room * place / number) for place in range(number + 1)]
            width = min(self._width(one, other) for one, other in pairwise(edges))
            high = [words_height(item, width, self.setting, self.heights) for item in items]
            known = [one for one in high if one is not None]
            if len(known) < len(items):
                continue
            notes: list[_Note] = []
            for column, count in enumerate(balanced(known, 0.0, number)):
                at = 0.0
                for _ in range(count):
                    area = PlacedArea(edges[column] * self.squares.side, at, width, known[len(notes)])
                    notes.append(_Note(items[len(notes)], area, (edges[column], edges[column + 1])))
                    at += area.height
            yield notes

    def _first_row(self, beside: list[_Note], under: list[_Note]) -> _FirstRow:
        across, least = self._hero
        side = self.squares.count(_lowest(beside))
        low = self.squares.count(_lowest(under))
        high = max(least, side)
        most = self.squares.count(LARGEST_HERO * (self.frame.page_height or self.frame.height))
        width = self._width(0, across) if across else 0.0
        row = PanelRow(high + low, max(high, most) + low, low * self.squares.side, width)
        return _FirstRow(tuple(beside), tuple(under), low, row)

    @property
    def _drawn(self) -> list[Item]:
        """What has a panel: flat pieces, steps, and what follows them."""
        return [*(item for item in self.offer.asides if item.pictures), *self.offer.steps, *self.offer.closing]

    def _panels(self, beside: bool, end: int) -> list[list[StepPanel]] | None:
        """In rows. The last panel takes what the title block beside it leaves, up to the line `end`."""
        items, rows = self._drawn, list[list[StepPanel]]()
        for place, item in enumerate(items):
            column = place % self.number
            right = end if place == len(items) - 1 else self.edges[column + 1]
            if not (one := panel(item, self.edges[column], right, self.squares, self.setting, self.heights, beside)):
                return None
            if column == 0:
                rows.append([])
            rows[-1].append(one)
        return rows

    def _title(self, columns: int) -> _Title | None:
        """In so many columns beside the last panels; with none, in a row of its own, the foot at its left."""
        head, whole = self.offer.head, self.edges[-1]
        if not head:
            foot = self._foot_height(self._width(0, whole))
            return _Title(whole, foot, foot, beside=False)
        if columns:
            left = self.edges[-1 - columns]
            high = words_height(Item(head.block), self._width(left, whole), self.setting, self.heights)
            foot = self._foot_height(self._width(left, whole))
            return None if high is None else _Title(left, high + foot, foot, beside=True)
        least = ceil((head.block.longest * self.setting.em + 2 * pad(self.setting)) / self.squares.side)
        beside = whole - max(least, round(_TITLE_PART * whole))
        ways = [way for left in {0, max(0, beside if self.offer.foot else 0)} if (way := self._alone(head, left))]
        return min(ways, key=lambda way: (self.squares.count(way.height), -way.left), default=None)

    def _alone(self, head: Item, left: int) -> _Title | None:
        """The title from a line on, the foot at its left; under it where that is the first line."""
        whole = self.edges[-1]
        high = words_height(Item(head.block), self._width(left, whole), self.setting, self.heights)
        foot = self._foot_height(self._width(0, left or whole))
        return None if high is None else _Title(left, max(high, foot) if left else high + foot, foot, beside=False)

    def _foot_height(self, width: float) -> float:
        if not self.offer.foot:
            return 0.0
        clear = pad(self.setting)
        return foot_in(self.offer.foot, width - 2 * clear, self.heights).height + clear

    def _width(self, left: int, right: int) -> float:
        return (right - left) * self.squares.side

    def _laid(
        self,
        first: _FirstRow,
        panels: Sequence[Sequence[StepPanel]],
        rows: Sequence[PanelRow],
        title: _Title,
        tops: Sequence[int],
        over: float,
    ) -> LaidPage:
        grounds = dict[str, PlacedArea]()
        across, _ = self._hero
        middle = tops[1] - first.low
        hero = self.squares.area(0, 0, across, middle)
        if across:
            grounds["squared hero"] = hero
            grounds["panel hero-panel"] = _lined(hero)
        for notes, top, bottom in ((first.beside, 0, middle), (first.under, middle, tops[1])):
            for left, right in dict.fromkeys(note.lines for note in notes):
                grounds[f"panel note-{top}-{left}"] = _lined(self.squares.area(left, top, right, bottom))
        in_panels: list[Placed] = []
        for row, kind, top, bottom in zip(panels, rows[1:], tops[1:-1], tops[2:], strict=True):
            for one in row:
                box = (bottom - top) * self.squares.side - (0.0 if one.column else kind.words)
                number = len(in_panels) + 1
                area = self.squares.area(one.left, top, one.right, bottom)
                if one.item.pictures:
                    top_of_box = area.top + (one.words if headed(one.item) else 0.0)
                    grounds[f"squared box-{number}"] = PlacedArea(area.left, top_of_box, one.column or area.width, box)
                grounds[f"panel panel-{number}"] = _lined(area)
                in_panels.append(self._in_panel(one, area, box))
        rest = iter(in_panels)
        noted = iter([self._words(note.place, 0.0) for note in first.beside])
        noted = chain(noted, [self._words(note.place, middle * self.squares.side) for note in first.under])
        asides = [next(rest) if item.pictures else next(noted) for item in self.offer.asides]
        top = self.squares.down - self.squares.count(title.height)
        block = self.squares.area(title.left, top, self.edges[-1], self.squares.down)
        if title.beside and tops[-2] < top:
            grounds["squared rest"] = self.squares.area(title.left, tops[-2], self.edges[-1], top)
        head = self._head(hero, block) if self.offer.head else None
        foot = self._foot(block, title) if self.offer.foot else None
        if self.offer.head:
            grounds["title-block"] = _lined(block)
        grounds["sheet"] = _lined(self.squares.area(0, 0, self.squares.across, self.squares.down))
        return LaidPage(head, (*asides, *rest), foot, self.number, over, grounds=grounds)

    def _words(self, place: PlacedArea, down: float) -> Placed:
        clear = pad(self.setting)
        width, high = place.width - 2 * clear, place.height - 2 * clear
        left, top = self.squares.left + place.left, self.squares.top + place.top + down
        return Placed(left, top, place.width, Arranged(width, high, place.height, (), clear, clear))

    def _in_panel(self, one: StepPanel, area: PlacedArea, box: float) -> Placed:
        clear, number = pad(self.setting), number_room(one.item, self.setting)
        top = one.words if headed(one.item) else 0.0
        spots = spots_in(one, PlacedArea(0.0, top, area.width, box), self.setting) if one.item.pictures else ()
        left = clear + number + one.column
        down = (box if spots and not one.column and not headed(one.item) else 0.0) + clear
        width, high = area.width - left - clear, one.words - 2 * clear
        words = Arranged(width, high, area.height, spots, left, down)
        return Placed(area.left, area.top, area.width, words)

    def _head(self, first: PlacedArea, block: PlacedArea) -> Placed:
        """The title in its block; the finished thing in the first row."""
        clear = pad(self.setting)
        spots = (in_the_middle(self.hero, first),) if self.hero else ()
        width = block.width - 2 * clear
        assert self.offer.head
        words = self.heights.of(self.offer.head.block, width / self.setting.em, self.setting.leading) * self.setting.em
        arranged = Arranged(width, words, self.frame.height, spots, block.left + clear, block.top + clear)
        return Placed(0.0, 0.0, self.frame.width, arranged)

    def _foot(self, block: PlacedArea, title: _Title) -> Placed:
        """Under the title, or at the left of its block."""
        clear = pad(self.setting)
        at_left = title.left > 0 and not title.beside
        left = self.squares.left if at_left else block.left
        right = block.left if at_left and self.offer.head else self.squares.left + self._width(0, self.edges[-1])
        assert self.offer.foot
        arranged = foot_in(self.offer.foot, right - left - 2 * clear, self.heights)
        bottom = self.squares.top + self._width(0, self.squares.down)
        return Placed(left + clear, bottom - clear - arranged.height, right - left - 2 * clear, arranged)


def _lowest(notes: Sequence[_Note]) -> float:
    return max((note.place.top + note.place.height for note in notes), default=0.0)


def _lined(area: PlacedArea) -> PlacedArea:
    """With the half of its line that lies outside."""
    half = _LINE / 2
    return PlacedArea(area.left - half, area.top - half, area.width + _LINE, area.height + _LINE)
