"""What is left of a page: where a bank card's outline and the legend stand, so that they need no page of their own."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Any

from msgspec import Struct

from foldwright.geometry.scene import Point
from foldwright.render.drawing.label import width_of
from foldwright.render.paper.arranging import PlacedArea
from foldwright.render.paper.template.naming import PlacedName, nearest_room, room_of
from foldwright.render.paper.template.piece import PieceLines
from foldwright.render.units import MM_PER_POINT

CAPTION_MM = 11 * MM_PER_POINT
"""What stands under pieces and in the legend, as the style sheet sets it."""
_LINE_MM = CAPTION_MM * 1.25
_CLEAR = 3.0
"""Millimetres round a piece that a scissors' hand needs (a reasoned guess, no source)."""
_NARROWEST = 42.0
"""Millimetres a line of words under a piece has at least."""
_SAMPLE_MM, _APART_MM = 14.0, 5.0
_LOOSER = 1.08


class LegendShape(Struct, frozen=True):
    """A legend as a column or as a row, and its size in millimetres."""

    row: bool
    width: float
    height: float


def legend_shapes(heading: str, names: Sequence[str]) -> tuple[LegendShape, ...]:
    """The ways in which a legend may be set, the better first."""
    long = [width_of(name) * CAPTION_MM * _LOOSER for name in names]
    head = width_of(heading) * CAPTION_MM * _LOOSER * 1.1
    column = LegendShape(False, _SAMPLE_MM + max([*long, head]) + 2, (len(names) + 1) * _LINE_MM + 2)
    wide = head + sum(_SAMPLE_MM + one + _APART_MM for one in long) + 4
    return column, LegendShape(True, wide, _LINE_MM + 2)


def caption_size(text: str, wide: float) -> tuple[float, float]:
    """Width and height of the words under a piece that is so wide."""
    long = width_of(text) * CAPTION_MM * _LOOSER
    room = max(wide, min(long, _NARROWEST))
    # A line is not filled to its end: its last word goes on the next.
    lines = 1 if long <= room else ceil(long * 1.15 / room)
    return room, lines * _LINE_MM + 1.0


def taken_by(shape: PieceLines, window: PlacedArea, names: Sequence[PlacedName], left: float, top: float) -> Any:
    """What a piece takes of a page if the corner of its window lies at (left, top)."""
    from shapely import affinity, box, union_all
    from shapely.geometry import Polygon

    frame = box(window.left, window.top, window.left + window.width, window.top + window.height)
    parts = [Polygon(rim).buffer(0).intersection(frame) for rim in shape.rims]
    parts += [room_of(name) for name in names if name.lead]
    return affinity.translate(union_all(parts).buffer(_CLEAR), left - window.left, top - window.top)


def free_on(shape: PieceLines, names: Sequence[PlacedName], left: float, top: float, clear: Any) -> Any:
    """What a whole piece leaves free within its own outline, clear of its lines and names; for want of other room."""
    from shapely import affinity, union_all
    from shapely.geometry import Polygon

    paper = union_all([Polygon(rim).buffer(0) for rim in shape.rims])
    rest = paper.difference(clear.buffer(_CLEAR)).difference(union_all([room_of(name) for name in names]))
    return affinity.translate(rest, left, top)


def spare_room(zone: Any, wide: float, high: float) -> Point | None:
    """The left and top of a place for a box in a zone, as far to the right and bottom as it goes."""
    if zone.is_empty:
        return None
    right, bottom = zone.bounds[2:]
    middle = nearest_room(zone, wide, high, (right - wide / 2, bottom - high / 2))
    return (middle[0] - wide / 2, middle[1] - high / 2) if middle else None
