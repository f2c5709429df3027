"""What a page is to hold, and a page put together: where every block stands. Lengths are in millimetres."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from msgspec import Struct

from foldwright.measure.length import System
from foldwright.render.paper.arranging import Arranged, Item, PlacedArea, Setting
from foldwright.render.paper.measured import Block, Heights
from foldwright.render.paper.papers import Paper
from foldwright.render.units import MM_PER_POINT

SQUARES = {System.IMPERIAL: 6.35, System.METRIC: 5.0}
"""Squared paper has a quarter of an inch, or five millimetres; lines of a small paper lie on its quarters."""
FOOT_PT = 8.0
"""The foot is set in the smallest size throughout."""


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
    foot: Block | None
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


def placed_foot(foot: Block | None, frame: Frame, heights: Heights, width: float | None = None) -> Placed | None:
    """The foot at the page's foot, at the left."""
    if foot is None:
        return None
    em, wide = FOOT_PT * MM_PER_POINT, width or frame.width
    high = heights.of(foot, wide / em, Setting(em, 0.0, frame.height).leading) * em
    return Placed(0.0, frame.height - high, wide, Arranged(wide, high, high))
