"""A shop drawing: the finished thing and what is needed above, steps as panels in rows, a title block lower right."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.render.paper.arranging import Arranged, Item, PlacedArea, Setting
from foldwright.render.paper.columns import balanced
from foldwright.render.paper.compositions.cells import Side, cell, words_alone
from foldwright.render.paper.compositions.heads import hero_size
from foldwright.render.paper.compositions.page import Frame, LaidPage, PageOffer, Placed, placed_foot
from foldwright.render.paper.compositions.panels import PanelRows
from foldwright.render.paper.measured import Heights

_LEAST_TITLE = 0.36
"""The part of the page's width that the title block takes at least."""
_HAIR = 1e-6


def shop_drawing(offer: PageOffer, frame: Frame, setting: Setting, heights: Heights, number: int) -> LaidPage | None:
    """See `page.Compose`."""
    panels = [cell(item, frame.column(number), setting, heights, Side.ABOVE) for item in _panel_items(offer)]
    above = _above(offer, frame, setting, heights, number)
    title = _title(offer.head, frame, setting, heights, number) if offer.head else None
    if above is None or (offer.head and title is None) or not _all(panels):
        return None
    hero, asides, top = above
    rows = PanelRows.of([one for one in panels if one], number, setting)
    foot = placed_foot(offer.foot, frame, heights, frame.width - title.words_width - frame.gutter if title else None)
    low = foot.arranged.height + setting.gap if foot else 0.0
    bottom = frame.height - low
    if title:
        block = title.height + setting.gap
        if _beside_last(rows, number, title, frame, top, bottom, block):
            bottom = min(bottom, frame.height - title.height + rows.heights[-1])
        else:
            bottom = min(bottom, frame.height - block)
    placed = rows.placed(frame, number, top, bottom, setting)
    over = max(0.0, top + rows.height - bottom)
    grounds = {"grid": PlacedArea(0.0, 0.0, frame.width, frame.height)}
    head = None
    if title:
        left, down = frame.width - title.words_width, frame.height - title.height
        grounds["title-block"] = PlacedArea(left, down, title.words_width, title.height)
        everywhere = Arranged(title.words_width, title.words_height, frame.height, hero, left, down)
        head = Placed(0.0, 0.0, frame.width, everywhere)
    return LaidPage(head, (*asides, *placed), foot, number, over, grounds=grounds)


def _panel_items(offer: PageOffer) -> tuple[Item, ...]:
    return (*offer.steps, *offer.closing)


def _all(arranged: Sequence[Arranged | None]) -> bool:
    return all(one is not None for one in arranged)


def _title(head: Item, frame: Frame, setting: Setting, heights: Heights, number: int) -> Arranged | None:
    """The title block, as wide as a panel or a good part of the page; wider where a word of it is."""
    least = max(frame.column(number), _LEAST_TITLE * frame.width, head.block.longest * setting.em)
    return words_alone(Item(head.block), min(least, frame.width), setting, heights)


def _beside_last(
    rows: PanelRows, number: int, title: Arranged, frame: Frame, top: float, bottom: float, block: float
) -> bool:
    """Whether the title block stands at the right of the last panels, under those of the row above them."""
    if not rows.rows or top + rows.height > bottom + _HAIR:
        return False
    last = len(rows.rows[-1])
    left = last * (frame.column(number) + frame.gutter)
    before = top + rows.height - rows.heights[-1] - rows.gap
    return last < number and title.words_width <= frame.width - left + _HAIR and before <= frame.height - block + _HAIR


def _above(
    offer: PageOffer, frame: Frame, setting: Setting, heights: Heights, number: int
) -> tuple[tuple[PlacedArea, ...], tuple[Placed, ...], float] | None:
    """The finished thing in the first column, what is read before the steps in the others; where the panels begin."""
    column, gap = frame.column(number), setting.gap
    hero: tuple[PlacedArea, ...] = ()
    top = 0.0
    if offer.head and offer.head.pictures:
        wide, high = hero_size(offer.head.pictures[0], frame, setting, column)
        hero, top = (PlacedArea((column - wide) / 2, 0.0, wide, high),), high
    # A strip has little to be read before it, and that in one column as wide as all that are left.
    side = frame.width - column - frame.gutter if offer.strip and number > 1 else column
    arranged = [cell(item, side, setting, heights, Side.BELOW) for item in offer.asides]
    if not _all(arranged):
        return None
    items = [one for one in arranged if one]
    first = 1 if hero and number > 1 else 0
    down = 0.0 if first or not hero else top + gap
    placed: list[Placed] = []
    columns = 1 if side > column else number - first
    lowest = top
    for place, count in enumerate(balanced([one.height for one in items], gap, columns), first):
        at = down
        for _ in range(count):
            one = items.pop(0)
            placed.append(Placed(place * (column + frame.gutter), at, side, one))
            at += one.height + gap
        lowest = max(lowest, at - gap)
    return hero, tuple(placed), lowest + gap if lowest else 0.0
