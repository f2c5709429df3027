"""What a knife follows and what a scorer presses, each once: a piece's outline, its openings, its cuts and folds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from msgspec import Struct

from foldwright.geometry.flat.blank import Blank, Opening
from foldwright.geometry.flat.lines import Line, lines_of, opening_outline, outline_of, waste_of
from foldwright.geometry.flat.points import box_between, floats
from foldwright.geometry.pictures.plan import glue_areas
from foldwright.geometry.scene import Point

_NEAR = 1e-6
"""Millimetres: lines no farther apart than this run along one another."""
_SHORTEST = 1e-4
"""Millimetres: what is shorter is no part of a line but a crossing, or a rounding error."""


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
    """Millimetres, x to the right, y down, good side up. `outlines` is one line but for a piece that falls apart.

    `glue` are the areas, closed; `glue_rims` what is left of their rims where nothing else is drawn along them.
    """

    width: float
    height: float
    outlines: tuple[Closed, ...]
    openings: tuple[Closed, ...]
    runs: tuple[OpenLine, ...]
    glue: tuple[tuple[Point, ...], ...] = ()
    glue_rims: tuple[tuple[Point, ...], ...] = ()


def contours_of(blank: Blank) -> Contours:
    """Corners that go and what is trimmed off flaps lie outside the outline. No two lines run along one another: a cut
    stands before a fold, and of two folds the one that was said last.
    """
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
    inner = tuple(map(floats, blank.inner))
    openings = (*map(_opening, blank.openings), *map(Ring, inner))
    paper = shape
    for ring in (*map(opening_outline, blank.openings), *inner):
        paper = paper.difference(Polygon(ring))
    drawn = _LinesOnce(paper)
    runs = tuple(drawn.runs(lines_of(blank)))
    glue = tuple(_clipped(glue_areas(blank), paper))
    return Contours(wide, high, outlines, openings, runs, glue, tuple(drawn.rims(glue)))


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


def _clipped(areas: Iterable[tuple[Point, ...]], paper: Any) -> Iterator[tuple[Point, ...]]:
    """Areas of glue as far as there is paper; where they overlap they are one."""
    from shapely import get_parts, union_all
    from shapely.geometry import Polygon

    shapes = [Polygon(area).buffer(0) for area in areas if len(area) > 2]
    for part in get_parts(union_all(shapes).intersection(paper)) if shapes else ():
        if part.geom_type == "Polygon" and part.area > _SHORTEST:
            yield tuple((x, y) for x, y in part.exterior.simplify(0).coords[:-1])


class _LinesOnce:
    """Lines on the paper as they are drawn one after another, each only where none runs yet."""

    def __init__(self, paper: Any) -> None:
        self.paper = paper
        self.taken: list[Any] = [paper.boundary]

    def runs(self, lines: Sequence[Line]) -> Iterator[OpenLine]:
        """The part of every line that lies on the paper, in the order they were said."""
        found: dict[int, tuple[OpenLine, ...]] = {}
        for number in sorted(range(len(lines)), key=lambda at: (lines[at].folds, -at)):
            found[number] = tuple(self._run(lines[number]))
        for number in range(len(lines)):
            yield from found[number]

    def _run(self, line: Line) -> Iterator[OpenLine]:
        from shapely.geometry import LineString

        whole = LineString(line.points)
        for points in self._free(whole):
            # Where it was cut to the paper its ends are off by a rounding error: put them where they belong.
            ends = _back(points[0], line.points), _back(points[-1], line.points)
            yield OpenLine(line.kind, (ends[0], *points[1:-1], ends[1]))
        self.taken.append(whole)

    def rims(self, areas: Iterable[tuple[Point, ...]]) -> Iterator[tuple[Point, ...]]:
        """What is still to be drawn round areas."""
        from shapely.geometry import LinearRing

        for area in areas:
            ring = LinearRing(area)
            for points in self._free(ring):
                yield tuple(_back(point, area) for point in points)
            self.taken.append(ring)

    def _free(self, line: Any) -> Iterator[tuple[Point, ...]]:
        """The parts of a line that lie on the paper and along nothing that is drawn already."""
        from shapely import get_parts, line_merge

        rest = line.intersection(self.paper)
        for other in self.taken:
            if rest.intersects(other):
                along = rest.intersection(other.buffer(_NEAR))
                over = [part for part in get_parts(along) if part.length > _SHORTEST]
                for part in over:
                    rest = rest.difference(part.buffer(_NEAR))
        merged = line_merge(rest) if rest.geom_type == "MultiLineString" else rest
        for part in get_parts(merged):
            if part.geom_type in ("LineString", "LinearRing") and part.length > _SHORTEST:
                yield tuple((x, y) for x, y in part.coords)


def _back(point: Point, corners: tuple[Point, ...]) -> Point:
    """The line's own corner where the point is next to it, else the point to a hundred-thousandth of a millimetre."""
    for end in corners:
        if abs(point[0] - end[0]) + abs(point[1] - end[1]) < 1e-5:
            return end
    return round(point[0], 5), round(point[1], 5)
