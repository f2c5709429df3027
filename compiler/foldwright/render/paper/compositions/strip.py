"""A strip: what is read before at the page's whole width, then the steps as small pictures in rows, a line to each."""

from __future__ import annotations

from msgspec import Struct

from foldwright.render.paper.arranging import Arranged, Item, Setting
from foldwright.render.paper.compositions.cells import Side, cell
from foldwright.render.paper.compositions.page import Frame, PageOffer, Placed
from foldwright.render.paper.compositions.panels import PanelRows
from foldwright.render.paper.measured import Heights

_BETWEEN = 0.5
"""The gap between lines that follow one another, as a part of that between blocks."""


class Strip(Struct, frozen=True):
    """Its items in the order of the offer's, and by how much they are too high."""

    items: tuple[Placed, ...]
    over: float


def strip(
    offer: PageOffer, frame: Frame, setting: Setting, heights: Heights, number: int, top: float, bottom: float
) -> Strip | None:
    """A strip of so many pictures side by side between `top` and `bottom`; None when something is too wide."""
    before = _lines(offer.asides, frame, setting, heights)
    after = _lines(offer.closing, frame, setting, heights)
    panels = [cell(item, frame.column(number), setting, heights, Side.ABOVE) for item in offer.steps]
    if before is None or after is None or not all(panels):
        return None
    gap = setting.gap * _BETWEEN
    placed: list[Placed] = []
    for one in before:
        placed.append(Placed(0.0, top, frame.width, one))
        top += one.height + gap
    below = sum(one.height + gap for one in after)
    rows = PanelRows.of([one for one in panels if one], number, setting)
    placed += rows.placed(frame, number, top, bottom - below, setting)
    down = bottom - below + gap
    for one in after:
        placed.append(Placed(0.0, down, frame.width, one))
        down += one.height + gap
    return Strip(tuple(placed), max(0.0, top + rows.height + below - bottom))


def _lines(items: tuple[Item, ...], frame: Frame, setting: Setting, heights: Heights) -> list[Arranged] | None:
    arranged = [cell(item, frame.width, setting, heights, Side.RIGHT) for item in items]
    found = [one for one in arranged if one]
    return found if len(found) == len(items) else None
