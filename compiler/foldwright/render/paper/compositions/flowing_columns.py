"""Items one after another in columns that end level."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from foldwright.render.paper.arranging import Arranged, Setting
from foldwright.render.paper.columns import balanced, filled
from foldwright.render.paper.compositions.page import Frame, Placed

_STRETCH = 2.6
"""Ems by which the gaps in a column may grow so that columns end level."""
_LEAST_GAP = 0.7
"""Ems between two items at least, unless the page is crowded: clearly more than between words and their picture."""


class FilledColumns(Struct, frozen=True):
    """Items in columns; `over` and `hole` as of a page (see `page.LaidPage`)."""

    items: tuple[Placed, ...]
    over: float
    hole: float


def in_columns(
    items: Sequence[Arranged], frame: Frame, setting: Setting, number: int, top: float, bottom: float
) -> FilledColumns:
    """Items in their order between `top` and `bottom`; the gaps of a column grow so that all end level there."""
    width = frame.column(number)
    gap = setting.gap if setting.crowded else max(setting.gap, _LEAST_GAP * setting.em)
    heights = [one.height for one in items]
    counts = balanced(heights, gap, number)
    used = filled(heights, gap, counts)
    placed: list[Placed] = []
    left_over = list(items)
    for place, count in enumerate(counts):
        column = [left_over.pop(0) for _ in range(count)]
        spare = max(0.0, bottom - top - used[place])
        more = min(spare / (count - 1), _STRETCH * setting.em) if count > 1 else 0.0
        down = top
        for one in column:
            placed.append(Placed(place * (width + frame.gutter), down, width, one))
            down += one.height + gap + more
    hole = 1 - min(used) / max(used) if used and len(used) == number else float(bool(used))
    return FilledColumns(tuple(placed), max(0.0, max(used, default=0.0) - (bottom - top)), hole)
