"""Rows one under another on pages, each whole on its page unless it is higher than any. Lengths are in millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from math import ceil

from msgspec import Struct

_HAIR = 1e-6
_LOST = 0.1
"""What a page loses, about, when a row higher than any page is broken."""
_STRETCH = 2.5
"""How many gaps a gap may grow by, so that a page ends level with its foot."""


class Stand(Struct, frozen=True):
    """Where a row stands: on which page (from 0), how far under the row before it or the top of the page.

    One that is `broken` goes on over the next pages.
    """

    page: int
    before: float
    broken: bool = False


class Flow(Struct, frozen=True):
    """All rows placed, on how many pages, the height left of the last, and the most that is left of any other."""

    stands: tuple[Stand, ...]
    pages: int
    spare: float
    blank: float

    @property
    def broken(self) -> bool:
        return any(stand.broken for stand in self.stands)


def flow(heights: Sequence[float], gap: float, room: float) -> Flow:
    """Rows in their order on pages of height `room`, those of every page but the last set apart to fill it.

    Under one that is broken nothing else stands on its last page, since nobody knows how much of it is left.
    """
    stands: list[Stand] = []
    left: dict[int, float] = {}
    page, used = 0, 0.0
    for height in heights:
        top = used + gap if used else 0.0
        if used and top + height > room + _HAIR:
            page, used, top = page + 1, 0.0, 0.0
        broken = height > room + _HAIR
        stands.append(Stand(page, top - used, broken))
        if broken:
            page += ceil(height / (room * (1 - _LOST))) - 1
            used = room
        else:
            used = top + height
        left[page] = room - used
    blank = max((over for number, over in left.items() if number != page), default=0.0)
    return Flow(tuple(_spread(stands, left, page, gap)), page + 1, max(0.0, left[page]), blank)


def _spread(stands: Sequence[Stand], left: dict[int, float], last: int, gap: float) -> list[Stand]:
    """The rows of each page but the last with what is left of it between them."""
    spread: list[Stand] = []
    for page, of_page in groupby(stands, key=lambda stand: stand.page):
        first, *others = of_page
        more = min(left.get(page, 0.0) / len(others), gap * _STRETCH) if others and page != last else 0.0
        spread += [first, *(Stand(page, one.before + more, one.broken) for one in others)]
    return spread
