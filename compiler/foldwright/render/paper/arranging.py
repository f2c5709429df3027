"""A thing of a card in its place: its words and its pictures, where they stand, and how much room that takes.

Lengths are in millimetres. How loosely a page is set is one number from 0 (as tight as reads well) to 1 (as loose as
looks well): it opens the lines and parts the blocks, both together.
"""

from __future__ import annotations

from math import inf
from typing import Protocol

from msgspec import Struct

from foldwright.render.paper.measured import Block

TIGHT_LEADING, LOOSE_LEADING = 1.26, 1.44
"""Line heights as parts of the type size, the range that reads well (common practice, no source)."""
_TIGHT_GAP, _LOOSE_GAP = 0.45, 1.7
"""Ems between two blocks."""


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

    `enlarged` is how far a card's pictures have grown, from 0 to 1; on a `crowded` page those of steps may be smaller
    than looks well, so that none is left out.
    """

    em: float
    looseness: float
    page_height: float
    measure: float = inf
    enlarged: float = 0.0
    crowded: bool = False

    @property
    def leading(self) -> float:
        return TIGHT_LEADING + (LOOSE_LEADING - TIGHT_LEADING) * self.looseness

    @property
    def gap(self) -> float:
        return self.em * (_TIGHT_GAP + (_LOOSE_GAP - _TIGHT_GAP) * self.looseness)

    def words_in(self, width: float) -> float:
        """How wide words are set where there is so much room."""
        return min(width, self.measure * self.em)
