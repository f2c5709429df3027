"""A strip: title and what is to be minded beside the finished thing, then the steps as small pictures in rows."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from foldwright.render.paper.arranging import Arranged, Item, PlacedArea, Setting
from foldwright.render.paper.compositions.cells import Side, cell, words_alone
from foldwright.render.paper.compositions.heads import hero_size
from foldwright.render.paper.compositions.page import Frame, LaidPage, PageOffer, Placed, placed_foot
from foldwright.render.paper.compositions.panels import PanelRows
from foldwright.render.paper.measured import Heights

_BETWEEN = 0.5
"""The gap between things that follow one another in the head, as a part of that between blocks."""
_INSET, _BESIDE = 0.5, 0.9
"""Ems kept clear round the head or the finished thing, and ems between that and the title."""
_WIDEST = 0.56
"""The part of the width that the finished thing takes at most."""

_NUMBERS = 0.4
"""Ems that numbers of steps reach over their headings, at most."""


class Dress(Struct, frozen=True):
    """What lies under the head of a strip: a ground of this name, under all of it or under the finished thing alone."""

    ground: str
    under_all: bool


def strip(
    offer: PageOffer, frame: Frame, setting: Setting, heights: Heights, number: int, dress: Dress
) -> LaidPage | None:
    """A strip of so many pictures side by side; None when something is too wide. See `page.Compose`."""
    head = _head(offer, frame, setting, heights, dress)
    # Over a heading as wide as the page a picture would stand far from its words.
    side = Side.ABOVE if number > 1 else Side.LEFT
    panels = [cell(item, frame.column(number), setting, heights, side) for item in (*offer.steps, *offer.closing)]
    if head is None or not all(panels):
        return None
    foot = placed_foot(offer.foot, frame, heights)
    rows = PanelRows.of([one for one in panels if one], number, setting)
    # Numbers are larger than the words they stand beside, and reach over them where no picture is above.
    top = head.high + setting.gap if head.high else _NUMBERS * setting.em
    bottom = foot.top - setting.gap if foot else frame.height
    placed = rows.placed(frame, number, top, bottom, setting)
    over = max(0.0, top + rows.height - bottom)
    return LaidPage(head.head, (*head.asides, *placed), foot, number, over, grounds=head.grounds)


class _StripHead(Struct, frozen=True):
    """The head of a strip with what is read before the steps, and how high that is together."""

    head: Placed | None
    asides: tuple[Placed, ...]
    high: float
    grounds: dict[str, PlacedArea]


def _head(offer: PageOffer, frame: Frame, setting: Setting, heights: Heights, dress: Dress) -> _StripHead | None:
    """The finished thing at the left, the title at its right; what is to be minded under that, or under both."""
    inset, gap = _INSET * setting.em, setting.gap * _BETWEEN
    spots: tuple[PlacedArea, ...] = ()
    left, tall = inset, 0.0
    if offer.head and offer.head.pictures:
        # The title keeps as much room as its longest word needs.
        left_over = frame.width - 3 * inset - (_BESIDE + offer.head.block.longest) * setting.em
        wide, tall = hero_size(offer.head.pictures[0], frame, setting, min(_WIDEST * frame.width, left_over))
        spots = (PlacedArea(inset, inset, wide, tall),)
        left = 2 * inset + wide + _BESIDE * setting.em
    room = frame.width - left - inset
    title = words_alone(Item(offer.head.block), room, setting, heights) if offer.head else None
    beside = _beside(offer.asides, room, tall - (title.height + gap if title else 0.0), setting, heights)
    below = _lines(offer.asides[len(beside) :], frame, setting, heights)
    if below is None or (offer.head and title is None):
        return None
    words = sum(one.height + gap for one in ([title] if title else []) + beside) - gap
    high = max(tall, words) + 2 * inset if offer.head or beside else 0.0
    down = inset + max(0.0, tall - words) / 2
    head, grounds = None, dict[str, PlacedArea]()
    if title:
        arranged = Arranged(title.words_width, title.height, high, spots, left, down)
        head = Placed(0.0, 0.0, frame.width, arranged)
        under = frame.width if dress.under_all or not spots else spots[0].width + 2 * inset
        grounds[dress.ground] = PlacedArea(0.0, 0.0, under, tall + 2 * inset if spots and not dress.under_all else high)
        down += title.height + gap
    placed: list[Placed] = []
    for one in beside:
        placed.append(Placed(left, down, room, one))
        down += one.height + gap
    down = high + gap if high else 0.0
    for one in below:
        placed.append(Placed(0.0, down, frame.width, one))
        down += one.height + gap
    return _StripHead(head, tuple(placed), down - gap if below else high, grounds)


def _beside(asides: Sequence[Item], room: float, high: float, setting: Setting, heights: Heights) -> list[Arranged]:
    """As many of the first as have room beside the finished thing."""
    found: list[Arranged] = []
    for item in asides:
        one = None if item.pictures else words_alone(item, room, setting, heights)
        if one is None or one.height > high:
            break
        found.append(one)
        high -= one.height + setting.gap * _BETWEEN
    return found


def _lines(items: Sequence[Item], frame: Frame, setting: Setting, heights: Heights) -> list[Arranged] | None:
    arranged = [cell(item, frame.width, setting, heights, Side.BELOW) for item in items]
    found = [one for one in arranged if one]
    return found if len(found) == len(items) else None
