"""What a knife follows and what a scorer presses, each once: a piece's outline, its openings, its cuts and folds."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from msgspec import Struct

from foldwright.geometry.flat.blank import Blank, Opening
from foldwright.geometry.flat.lines import lines_of, outline_of, waste_of
from foldwright.geometry.flat.points import box_between, floats
from foldwright.geometry.pictures.plan import glue_areas
from foldwright.geometry.scene import Point

_SHORTEST = 1e-6
"""Millimetres: what is left of a line where it runs along the outline is no line."""


class Circle(Struct, frozen=True):
    """A round hole, in millimetres from the top left corner of the blank."""

    centre: Point
    radius: float


class Ring(Struct, frozen=True):
    """A closed line. `round_ends` when its second and fourth sides (of four) are half circles, as of a slot."""

    points: tuple[Point, ...]
    round_ends: bool = False


type Closed = Circle | Ring


class OpenLine(Struct, frozen=True):
    """An open line: its kind (`cut`, `score`, `valley`, `mountain`, `perforation`) and its points."""

    kind: str
    points: tuple[Point, ...]


class Contours(Struct, frozen=True):
    """Millimetres, x to the right, y down, good side up. `outlines` is one line but for a piece that falls apart."""

    width: float
    height: float
    outlines: tuple[Closed, ...]
    openings: tuple[Closed, ...]
    runs: tuple[OpenLine, ...]
    glue: tuple[tuple[Point, ...], ...] = ()


def contours_of(blank: Blank) -> Contours:
    """Corners that go and what is trimmed off flaps lie outside the outline; nothing is drawn along it again."""
    from shapely.geometry import Polygon

    whole = outline_of(blank)
    shape = Polygon(whole)
    for waste in waste_of(blank):
        shape = shape.difference(Polygon(waste))
    wide, high = float(blank.width), float(blank.height)
    if blank.round:
        outlines: tuple[Closed, ...] = (Circle((wide / 2, high / 2), wide / 2),)
    elif shape.equals(Polygon(whole)):
        outlines = (Ring(whole),)
    else:
        outlines = tuple(_rings(shape))
    inner = (Ring(floats(ring)) for ring in blank.inner)
    openings = (*map(_opening, blank.openings), *inner)
    return Contours(wide, high, outlines, openings, tuple(_runs(blank, shape)), tuple(glue_areas(blank)))


def _rings(shape: Any) -> Iterator[Ring]:
    from shapely import get_parts

    for part in get_parts(shape):
        for ring in (part.exterior, *part.interiors):
            yield Ring(tuple((x, y) for x, y in ring.simplify(0).coords[:-1]))


def _opening(opening: Opening) -> Closed:
    left, top = float(opening.left), float(opening.top)
    wide, high = float(opening.width), float(opening.height)
    if opening.shape == "window":
        return Ring(box_between(left, top, left + wide, top + high))
    if opening.width == opening.height:
        return Circle((left + wide / 2, top + high / 2), wide / 2)
    r = min(wide, high) / 2
    if wide > high:
        corners = ((left + r, top), (left + wide - r, top), (left + wide - r, top + high), (left + r, top + high))
    else:
        corners = ((left + wide, top + r), (left + wide, top + high - r), (left, top + high - r), (left, top + r))
    return Ring(corners, round_ends=True)


def _runs(blank: Blank, shape: Any) -> Iterator[OpenLine]:
    """The part of every line that lies inside the outline; what runs along it is cut already."""
    from shapely import get_parts
    from shapely.geometry import LineString

    for line in lines_of(blank):
        if line.curved:
            yield OpenLine(line.kind, line.points)
            continue
        inside = LineString(line.points).intersection(shape).difference(shape.boundary.buffer(_SHORTEST))
        for part in get_parts(inside):
            if part.length > _SHORTEST * 10:
                # The ends were drawn back from the outline by a millionth of a millimetre: put them where they belong.
                start, end = part.coords[0], part.coords[-1]
                yield OpenLine(line.kind, (_back(start, line.points), _back(end, line.points)))


def _back(point: Point, ends: tuple[Point, ...]) -> Point:
    """The line's own end where the point is next to it, else the point to a tenth of a millionth of a millimetre."""
    for end in (ends[0], ends[-1]):
        if abs(point[0] - end[0]) + abs(point[1] - end[1]) < 1e-5:
            return end
    return round(point[0], 5), round(point[1], 5)
