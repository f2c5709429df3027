"""What a page is to hold, and a page put together: where every block stands. Lengths are in millimetres."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from msgspec import Struct

from foldwright.measure.length import System
from foldwright.render.paper.arranging import TIGHT_LEADING, Arranged, Item, PlacedArea, Setting
from foldwright.render.paper.measured import Heights
from foldwright.render.paper.papers import Paper
from foldwright.render.units import MM_PER_POINT

SQUARES = {System.IMPERIAL: 6.35, System.METRIC: 5.0}
"""Squared paper has a quarter of an inch, or five millimetres; lines of a small paper lie on its quarters."""
FOOT_PT = 8.0
"""The foot is set in the smallest size throughout."""
_BESIDE_CODE = 3.0
"""Millimetres between the words of the foot and the code of the address."""


class Frame(Struct, frozen=True):
    """The text area of a page, the space between columns, how high the paper is, how wide a square of squared paper."""

    width: float
    height: float
    gutter: float = 0.0
    page_height: float = 0.0
    square: float = 5.0

    @classmethod
    def of(cls, paper: Paper, gutter: float = 0.0) -> Frame:
        """All of a paper within its margins."""
        wide, high, margin = paper.page
        return cls(
            wide - 2 * margin, high - 2 * margin, gutter, high, SQUARES[paper.system] / (4 if paper.small else 1)
        )

    def column(self, number: int) -> float:
        """How wide a column is of so many."""
        return (self.width - self.gutter * (number - 1)) / number


class PageOffer(Struct, frozen=True):
    """What is to stand on one page. A side may lack its head, its steps or its foot.

    The first picture of the head is the finished thing. `asides` are read before the steps, `closing` after them. Of a
    `strip` the steps are pictures with a line each. `enough` is the share of the page that pictures have to take for it
    to be good enough.
    """

    head: Item | None
    asides: tuple[Item, ...]
    steps: tuple[Item, ...]
    closing: tuple[Item, ...]
    foot: Item | None
    enough: float = 0.0
    strip: bool = False

    @property
    def items(self) -> tuple[Item, ...]:
        return (*self.asides, *self.steps, *self.closing)

    @property
    def pictures(self) -> int:
        return sum(len(item.pictures) for item in (*self.items, *([self.head] if self.head else [])))


class Placed(Struct, frozen=True):
    """An item on the page: its corner from that of the text area, its column's width, and how it is arranged in it."""

    left: float
    top: float
    width: float
    arranged: Arranged


class LaidPage(Struct, frozen=True):
    """A page put together; `items` in the order of the offer's, `grounds` what lies under them, by name.

    `columns` is how many items stand side by side. `over` is by how much it is too high for its frame; 0 if it fits.
    `hole` is how far above the lowest column the highest ends, as a part of its height; 1 when a column stays empty.
    """

    head: Placed | None
    items: tuple[Placed, ...]
    foot: Placed | None
    columns: int
    over: float
    hole: float = 0.0
    grounds: Mapping[str, PlacedArea] = {}

    @property
    def pictured(self) -> float:
        """The area that pictures take, in square millimetres."""
        placed = (*self.items, *([self.head] if self.head else []))
        return sum(spot.width * spot.height for one in placed for spot in one.arranged.spots)


class Compose(Protocol):
    """A way to put a page together with `number` columns or panels side by side.

    None when something is wider than its place.
    """

    def __call__(
        self, offer: PageOffer, frame: Frame, setting: Setting, heights: Heights, number: int
    ) -> LaidPage | None: ...


def foot_in(foot: Item, width: float, heights: Heights, size_pt: float = FOOT_PT) -> Arranged:
    """The foot so wide: its words, and at their right the code of the address; over them where both are too wide."""
    em = size_pt * MM_PER_POINT
    side = foot.pictures[0].least_mm if foot.pictures else 0.0
    beside = width - side - _BESIDE_CODE
    room = beside if side and beside >= foot.block.longest * em else width
    words = heights.of(foot.block, room / em, TIGHT_LEADING) * em
    high = max(words, side) if room < width else words + side
    spots = (PlacedArea(width - side, 0.0, side, side),) if side else ()
    return Arranged(room, words, high, spots, words_top=high - words)


def placed_foot(foot: Item | None, frame: Frame, heights: Heights) -> Placed | None:
    """The foot at the page's foot."""
    if foot is None:
        return None
    arranged = foot_in(foot, frame.width, heights)
    return Placed(0.0, frame.height - arranged.height, frame.width, arranged)
