"""What lies on the table, as a handout tells it: a box with a heading and groups of things, side by side or stacked."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from foldwright.render.paper.arranging import PlacedArea, Setting
from foldwright.render.paper.columns import balanced
from foldwright.render.paper.measured import Block, Heights

_PADDING = 0.75
"""Ems between the edge of the box and what is in it."""
_HEADING_GAP, _GROUP_GAP, _LINE_GAP, _GUTTER = 0.35, 0.6, 0.25, 1.6
"""Ems under the heading, between groups under one another (lists and lines), and between groups side by side."""
_NARROWEST = 12.0
"""Ems a group may be narrow: some four words."""


class TableBox(Struct, frozen=True):
    """The box: its heading and its groups by name, from its top left corner, in millimetres."""

    width: float
    height: float
    heading: PlacedArea
    groups: Mapping[str, PlacedArea]


def lay_table(
    heading: Block, groups: Mapping[str, Block], width: float, setting: Setting, heights: Heights, run_in: bool
) -> TableBox | None:
    """The box `width` wide; None when a word is wider than it. One column when it is higher than the page otherwise.

    Groups whose things are `run_in`, one after another on a line, stand under one another.
    """
    inner = width - 2 * _PADDING * setting.em
    most = 1 if run_in else int((inner + _GUTTER * setting.em) / ((_NARROWEST + _GUTTER) * setting.em))
    for columns in range(min(len(groups), max(most, 1)), 0, -1):
        table = _in_columns(heading, groups, width, columns, setting, heights, _LINE_GAP if run_in else _GROUP_GAP)
        if table and (columns == 1 or table.height <= setting.page_height):
            return table
    return None


def _in_columns(
    heading: Block,
    groups: Mapping[str, Block],
    width: float,
    columns: int,
    setting: Setting,
    heights: Heights,
    group_gap: float,
) -> TableBox | None:
    em, padding = setting.em, _PADDING * setting.em
    inner = width - 2 * padding
    column = (inner - _GUTTER * em * (columns - 1)) / columns
    if heading.longest * em > inner or any(block.longest * em > column for block in groups.values()):
        return None
    high = heights.of(heading, inner / em, setting.leading) * em
    top = padding + high + _HEADING_GAP * em
    sizes = [heights.of(block, column / em, setting.leading) * em for block in groups.values()]
    places: list[PlacedArea] = []
    for number, count in enumerate(balanced(sizes, group_gap * em, columns)):
        down = top
        for high_group in sizes[len(places) : len(places) + count]:
            places.append(PlacedArea(padding + number * (_GUTTER * em + column), down, column, high_group))
            down += high_group + group_gap * em
    return TableBox(
        width,
        max(place.top + place.height for place in places) + padding,
        PlacedArea(padding, padding, inner, high),
        dict(zip(groups, places, strict=True)),
    )
