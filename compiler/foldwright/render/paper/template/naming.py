"""Names on the panels of a template: where each can be read, clear of every cut, fold and hole.

A name is set at eleven points, lying or upright, as near to the middle of its panel as it goes; smaller only where the
panel has no room, and where it has none at all, outside of the piece with a lead.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from math import ceil, sqrt
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from foldwright.geometry.scene import Point
from foldwright.render.drawing.label import width_of
from foldwright.render.drawing.pens import FINE, FINE_INK
from foldwright.render.paper.arranging import PlacedArea
from foldwright.render.units import MM_PER_POINT

if TYPE_CHECKING:
    from foldwright.render.paper.template.piece import PieceLines

SIZES = tuple(points * MM_PER_POINT for points in (11.0, 10.0, 9.0, 8.0))
"""Millimetres of eleven points and of what is tried where there is no room for them."""
_CLEAR = 1.0
"""Millimetres between letters and lines."""
_MOST_TRIED = 1500
_STEP = 1.0
_LOOSER = 1.06
"""Letters may be set a little wider than they are measured."""
_HIGH = 1.15
"""Height of a line of letters, with what hangs below it, as a part of the type size."""
BAND = SIZES[0] * _HIGH + 2 * _CLEAR
"""Millimetres above a piece, for names that find no room on it."""


class PanelName(Struct, frozen=True):
    """A name wanted within a closed line; `needed` when it may not be left out."""

    text: str
    region: tuple[Point, ...]
    needed: bool


class PlacedName(Struct, frozen=True):
    """A name: the middle of its letters, its size in millimetres, whether it stands upright; a lead to its panel."""

    text: str
    middle: Point
    size: float
    upright: bool = False
    lead: tuple[Point, Point] | None = None


def named(shape: PieceLines, window: PlacedArea) -> tuple[PlacedName, ...]:
    """The names that are seen in a window on a shape; those that find no room and are not needed are left out."""
    from shapely.geometry import box

    frame = box(window.left, window.top, window.left + window.width, window.top + window.height)
    paper, lines = _paper(shape), lines_on(shape)
    taken: list[Any] = []
    found: list[PlacedName] = []
    outside: list[PanelName] = []
    for name in shape.names:
        zone = _polygon(name.region).intersection(paper).intersection(frame).difference(lines)
        placed = _inside(name.text, _without(zone, taken), _middle(name.region))
        if placed is not None:
            found.append(placed)
            taken.append(room_of(placed))
        elif name.needed and frame.contains(_polygon(name.region).representative_point()):
            outside.append(name)
    free = frame.difference(paper.buffer(_CLEAR))
    for name in outside:
        placed = _beside(name, _without(free, taken))
        if placed is not None:
            found.append(placed)
            taken.append(room_of(placed))
    return tuple(found)


def wants_band(shape: PieceLines, width: float, height: float) -> bool:
    """Whether a name that is needed finds room neither on a whole piece nor in the corners of its box."""
    needed = sum(name.needed for name in shape.names)
    kept = {name.text for name in shape.names if name.needed}
    seen = [one for one in named(shape, PlacedArea(0.0, 0.0, width, height)) if one.text in kept]
    return len(seen) < needed


def name_svg(name: PlacedName, left: float, top: float) -> Iterator[str]:
    """A name as it is drawn, moved by the corner of its window."""
    look = f'fill="{FINE_INK}" font-size="{name.size:.2f}" text-anchor="middle"'
    x, y = name.middle[0] - left, name.middle[1] - top
    words = escape(name.text, quote=False)
    if name.lead:
        (x1, y1), (x2, y2) = name.lead
        ends = f"M{x1 - left:.2f} {y1 - top:.2f}L{x2 - left:.2f} {y2 - top:.2f}"
        yield f'<path fill="none" stroke="{FINE_INK}" stroke-width="{FINE}" d="{ends}"/>'
        yield f'<circle fill="{FINE_INK}" cx="{x2 - left:.2f}" cy="{y2 - top:.2f}" r="0.5"/>'
    if name.upright:
        yield f'<text {look} transform="translate({x + name.size / 3:.2f} {y:.2f}) rotate(-90)">{words}</text>'
    else:
        yield f'<text {look} x="{x:.2f}" y="{y + name.size / 3:.2f}">{words}</text>'


def _paper(shape: PieceLines) -> Any:
    from shapely import union_all

    paper = union_all([_polygon(rim) for rim in shape.rims])
    return paper.difference(union_all([_polygon(hole) for hole in shape.holes])) if shape.holes else paper


def lines_on(shape: PieceLines) -> Any:
    """All that letters keep clear of."""
    from shapely import union_all
    from shapely.geometry import LineString

    drawn = [LineString(points) for _, points in shape.lines]
    drawn += [LineString((*hole, hole[0])) for hole in (*shape.holes, *shape.rims)]
    return union_all(drawn).buffer(_CLEAR, quad_segs=2)


def _polygon(ring: Sequence[Point]) -> Any:
    from shapely.geometry import Polygon

    return Polygon(ring).buffer(0)


def _without(zone: Any, taken: Sequence[Any]) -> Any:
    for one in taken:
        zone = zone.difference(one)
    return zone


def _middle(ring: Sequence[Point]) -> Point:
    return sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)


def _room(text: str, size: float) -> tuple[float, float]:
    return width_of(text) * size * _LOOSER, size * _HIGH


def room_of(name: PlacedName) -> Any:
    """The box round a name, with a little room."""
    wide, high = _room(name.text, name.size)
    wide, high = (high, wide) if name.upright else (wide, high)
    return _box(name.middle, wide + _CLEAR, high + _CLEAR)


def _inside(text: str, zone: Any, middle: Point) -> PlacedName | None:
    """As large as it goes, lying rather than upright, nearest to the middle."""
    for size in SIZES:
        wide, high = _room(text, size)
        for upright, (across, down) in ((False, (wide, high)), (True, (high, wide))):
            if upright and wide < high:
                continue
            spot = nearest_room(zone, across, down, middle)
            if spot is not None:
                return PlacedName(text, spot, size, upright)
    return None


def _beside(name: PanelName, free: Any) -> PlacedName | None:
    wide, high = _room(name.text, SIZES[0])
    end = _middle(name.region)
    spot = nearest_room(free, wide, high, end)
    if spot is None:
        return None
    x = min(max(end[0], spot[0] - wide / 2), spot[0] + wide / 2)
    y = spot[1] + high / 2 if end[1] > spot[1] else spot[1] - high / 2
    return PlacedName(name.text, spot, SIZES[0], lead=((x, y), end))


def nearest_room(zone: Any, wide: float, high: float, middle: Point) -> Point | None:
    """Where a box of `wide` by `high` millimetres lies wholly in a zone, its middle as near as may be to a place."""
    from shapely import box, contains, prepare

    if zone.is_empty:
        return None
    left, top, right, bottom = zone.bounds
    if right - left < wide or bottom - top < high:
        return None
    low, far = (left + wide / 2, top + high / 2), (right - wide / 2, bottom - high / 2)
    start = min(max(middle[0], low[0]), far[0]), min(max(middle[1], low[1]), far[1])
    prepare(zone)
    if contains(zone, _box(start, wide, high)):
        return start
    spots = sorted(_spots(start, low, far), key=lambda spot: _apart(spot, middle))
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    boxes = box(
        [x - wide / 2 for x in xs], [y - high / 2 for y in ys], [x + wide / 2 for x in xs], [y + high / 2 for y in ys]
    )
    within = contains(zone, boxes)
    return spots[int(within.argmax())] if within.any() else None


def _box(middle: Point, wide: float, high: float) -> Any:
    from shapely import box

    return box(middle[0] - wide / 2, middle[1] - high / 2, middle[0] + wide / 2, middle[1] + high / 2)


def _spots(start: Point, low: Point, far: Point) -> Iterator[Point]:
    """Places to try between two corners: an even grid through the one that is wished for."""
    step = max(_STEP, sqrt((far[0] - low[0] + 1) * (far[1] - low[1] + 1) / _MOST_TRIED))
    for row in range(-ceil((start[1] - low[1]) / step), ceil((far[1] - start[1]) / step) + 1):
        for column in range(-ceil((start[0] - low[0]) / step), ceil((far[0] - start[0]) / step) + 1):
            yield start[0] + column * step, start[1] + row * step


def _apart(one: Point, other: Point) -> float:
    """A little further to the side counts for less than up or down: names in a row stay in a row."""
    return abs(one[0] - other[0]) * 0.9 + abs(one[1] - other[1])
