"""The three pictures: how large each is, and where picture and words stand in it."""

from __future__ import annotations

from msgspec import Struct

from foldwright.document.share_text import PREVIEW
from foldwright.render.themes import Composition

MARGIN = 60
"""Pixels at every edge that no letter comes into: what shows a picture may cut a little off it (a reasoned guess)."""


class Area(Struct, frozen=True):
    """A rectangle, in pixels."""

    left: float
    top: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.left + self.width

    @property
    def bottom(self) -> float:
        return self.top + self.height

    def inset(self, by: float) -> Area:
        return Area(self.left + by, self.top + by, self.width - 2 * by, self.height - 2 * by)


class Format(Struct, frozen=True):
    """One picture. `shown` is where the finished thing stands, or in a `strip` the steps; `words` is for the words.

    `titles` are the sizes of its title, in which it has no more than `lines`; `size` is that of the other words.
    """

    file: str
    width: int
    height: int
    shown: Area
    words: Area
    titles: tuple[float, ...]
    lines: int
    size: float
    strip: bool = False


_TITLES = (88.0, 80.0, 72.0, 64.0, 58.0, 52.0, 46.0, 40.0, 35.0, 30.0, 26.0, 23.0, 20.0)


def formats(composition: Composition) -> tuple[Format, ...]:
    """All three, as a composition has them: a shop drawing has its title block at the foot, others the words on top."""
    low = composition is Composition.SHOP_DRAWING
    steps, head = Area(MARGIN, 300, 960, 720), Area(MARGIN, MARGIN, 960, 210)
    if low:
        steps, head = Area(MARGIN, MARGIN, 960, 720), Area(MARGIN, 810, 960, 210)
    return (
        Format(PREVIEW, 1200, 630, Area(0, 0, 620, 630), Area(670, MARGIN, 470, 510), _TITLES[2:], 8, 28.0),
        Format(
            "share-1000x1500.jpg", 1000, 1500, Area(0, 0, 1000, 960), Area(MARGIN, 1010, 880, 430), _TITLES, 8, 36.0
        ),
        Format("share-1080x1080.jpg", 1080, 1080, steps, head, _TITLES[3:], 4, 28.0, strip=True),
    )
