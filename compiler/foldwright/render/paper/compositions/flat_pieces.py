"""A back: what is needed and what is to be minded in columns, under them the flat pieces over the whole width."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import batched

from msgspec.structs import replace

from foldwright.render.paper.arranging import Arranged, Item, Setting
from foldwright.render.paper.compositions.cells import Side, cell
from foldwright.render.paper.compositions.flowing_columns import FilledColumns, in_columns
from foldwright.render.paper.compositions.page import Frame, Placed
from foldwright.render.paper.measured import Heights

_GROWING = (2.0, 1.5, 1.0, 0.8, 0.6, 0.4, 0.2)
"""How far the pieces have grown: the first for which the page has room is taken."""
_TOGETHER = 2
"""How many blocks of pieces stand side by side."""
_OVER = 1.2
"""Ems between the words and the pieces at least."""

type _Rows = list[tuple[Arranged, ...]]


def over_pieces(
    asides: Sequence[Item],
    closing: Sequence[Item],
    frame: Frame,
    setting: Setting,
    heights: Heights,
    number: int,
    top: float,
    bottom: float,
) -> FilledColumns | None:
    """All in the order of `asides` and `closing`; None where there are no pieces, or where they have no room."""
    words = [item for item in asides if not item.pictures]
    pieces = asides[len(words) :]
    arranged = [cell(item, frame.column(number), setting, heights, Side.BELOW) for item in (*words, *closing)]
    columns = [one for one in arranged if one]
    if not pieces or not all(item.pictures for item in pieces) or len(columns) < len(arranged):
        return None
    high = in_columns(columns, frame, setting, number, top, top).over
    filled = in_columns(columns, frame, setting, number, top, top + high)
    top += high + _OVER * setting.em if high else 0.0
    rows: _Rows = []
    tall = 0.0
    for enlarged in (*(one for one in _GROWING if one > setting.enlarged), setting.enlarged):
        if not (rows := _rows(pieces, frame, replace(setting, enlarged=enlarged), heights)):
            return None
        tall = sum(max(one.height for one in row) + setting.gap for row in rows) - setting.gap
        if top + tall <= bottom:
            break
    if top + tall > bottom:
        return None
    shelf = _placed(rows, frame, setting, bottom - tall)
    items = (*filled.items[: len(words)], *shelf, *filled.items[len(words) :])
    return FilledColumns(items, 0.0, filled.hole * high / (high + tall))


def _rows(pieces: Sequence[Item], frame: Frame, setting: Setting, heights: Heights) -> _Rows:
    """Blocks of pieces side by side, or else under one another; none where even so one has no room."""
    for together in (_TOGETHER, 1):
        rows = [_row(some, frame, setting, heights) for some in batched(pieces, together)]
        if all(rows):
            return rows
    return []


def _row(together: Sequence[Item], frame: Frame, setting: Setting, heights: Heights) -> tuple[Arranged, ...]:
    """Each as wide as it has pictures."""
    arranged = [cell(item, _room(item, together, frame), setting, heights, Side.BELOW) for item in together]
    row = tuple(one for one in arranged if one)
    return row if len(row) == len(together) else ()


def _room(item: Item, together: Sequence[Item], frame: Frame) -> float:
    share = len(item.pictures) / sum(len(one.pictures) for one in together)
    return (frame.width - frame.gutter * (len(together) - 1)) * share


def _placed(rows: _Rows, frame: Frame, setting: Setting, top: float) -> list[Placed]:
    """The pieces of a row stand on one line."""
    placed: list[Placed] = []
    for row in rows:
        tall = max(one.height for one in row)
        left = 0.0
        for one in row:
            placed.append(Placed(left, top + tall - one.height, one.words_width, one))
            left += one.words_width + frame.gutter
        top += tall + setting.gap
    return placed
