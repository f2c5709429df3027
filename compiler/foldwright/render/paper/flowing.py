"""Things one after another on pages: words in a column at the left, their pictures in a column at the right.

A picture may reach down beside the next things. It begins beside its own words: at their top, or at their middle at the
latest when the picture before it is in the way. Lengths are in millimetres.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from msgspec import Struct

_HAIR = 1e-6
_LATEST = 0.5
"""How far down its words a picture may begin, as a part of their height."""
_LOST = 0.1
"""What a page loses, about, when a thing higher than any page is broken."""


class FlowingThing(Struct, frozen=True):
    """How high a thing is, and how high its pictures are in their column. A `broad` one takes both columns.

    `alone` is how high it is where no picture reaches down beside it, so that it may be as wide as the page.
    """

    height: float
    beside: float = 0.0
    broad: bool = False
    alone: float | None = None


class Stand(Struct, frozen=True):
    """Where a thing stands: on which page (from 0), how far under the thing before it or the top of the page.

    Its pictures begin `lower` than its words do. One that is `broken` goes on over the next pages; one that is `alone`
    is as wide as the page.
    """

    page: int
    before: float
    lower: float = 0.0
    broken: bool = False
    alone: bool = False


class Flow(Struct, frozen=True):
    """All things placed, on how many pages, the height left of the last, and the most that is left of any other."""

    stands: tuple[Stand, ...]
    pages: int
    spare: float
    blank: float

    @property
    def broken(self) -> bool:
        return any(stand.broken for stand in self.stands)


def flow(things: Sequence[FlowingThing], gap: float, room: float) -> Flow:
    """Things in their order on pages of height `room`, each whole on its page unless it is higher than any.

    Under one that is broken nothing else stands on its last page, since nobody knows how much of it is left.
    """
    stands: list[Stand] = []
    page, words, pictures, blank = 0, 0.0, 0.0, 0.0
    for thing in things:
        top, beside = _tops(thing, words, pictures, gap)
        height, alone = _height(thing, top, pictures)
        if words and max(top + height, beside + thing.beside) > room + _HAIR:
            blank = max(blank, room - max(words, pictures))
            page, words, pictures = page + 1, 0.0, 0.0
            top = beside = 0.0
            height, alone = _height(thing, top, pictures)
        broken = height > room + _HAIR
        stands.append(Stand(page, top - words, beside - top, broken, alone))
        if broken:
            page += ceil(height / (room * (1 - _LOST))) - 1
            words = pictures = room
            continue
        words = top + height
        if thing.broad:
            pictures = words
        elif thing.beside:
            pictures = beside + thing.beside
    return Flow(tuple(stands), page + 1, max(0.0, room - max(words, pictures)), blank)


def _tops(thing: FlowingThing, words: float, pictures: float, gap: float) -> tuple[float, float]:
    """Where a thing begins and where its pictures do, below what stands on the page already."""
    under_words = words + gap if words else 0.0
    under_pictures = pictures + gap if pictures else 0.0
    if thing.broad:
        top = max(under_words, under_pictures)
        return top, top
    if not thing.beside:
        return under_words, under_words
    top = max(under_words, under_pictures - thing.height * _LATEST)
    return top, max(top, under_pictures)


def _height(thing: FlowingThing, top: float, pictures: float) -> tuple[float, bool]:
    """How high a thing is that begins at `top`, and whether it stands alone there."""
    if thing.alone is not None and pictures <= top + _HAIR:
        return thing.alone, True
    return thing.height, False
