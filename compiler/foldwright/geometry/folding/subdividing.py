"""From lines on a blank to panels and creases: a planar subdivision, by shapely."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import chain, pairwise
from typing import TYPE_CHECKING, Any

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, Stance
from foldwright.geometry.flat.lines import (
    Line,
    LineSource,
    bends_in,
    lines_of,
    opening_outline,
    outline_of,
    waste_of,
)
from foldwright.geometry.flat.points import floats
from foldwright.geometry.folding.net import Crease, Net, Panel
from foldwright.geometry.folding.snapping import apart, foot_on, snapped
from foldwright.geometry.scene import Point

if TYPE_CHECKING:
    from shapely import Geometry

_SLIVER = 1e-6
"""Square millimetres: what is smaller is no panel but a rounding error."""
_ON = 1e-6
"""Millimetres: a piece of line whose middle is nearer to a line than this is a part of it."""
_BESIDE = 2 * _ON
"""Beyond that of the box round a line nothing is a part of it, whatever is rounded."""
_DIGITS = 7
"""Places are compared to ten-millionths of a millimetre while faces are matched along their edges."""

type Angles = Mapping[LineSource, float]


class _NodeEdge(Struct):
    """A piece of line between two neighbouring nodes, and the faces beside it."""

    start: Point
    end: Point
    line: Line | None
    faces: list[int]


def net_of(blank: Blank, angles: Angles, root_name: str = "") -> Net:
    """The panels and creases of a blank. `angles` gives every score's finished angle; one without stays flat."""
    from shapely import intersection
    from shapely.geometry import LineString, Polygon

    # A curved fold bends the paper on both sides of it: it parts no flat panels, but for the facets a form has.
    lines: Sequence[Line] = [line for line in lines_of(blank) if not (line.folds and line.curved)]
    edge = outline_of(blank)
    ring, lines = snapped((*edge, edge[0]), lines)
    bends = list(bends_in(blank))
    # The good side may be meant to be inside: all of it is bent the other way.
    sign = -1.0 if any(bend.angle * angles.get(line.source, 0.0) < 0 for line, bend in bends) else 1.0
    ways = {line.source: tuple(sign * angle for angle in bend.way) for line, bend in bends}
    outline = Polygon(ring)
    for waste in waste_of(blank):
        outline = outline.difference(Polygon(waste))
    # A window may reach over several facets and part each of them.
    for opening in blank.openings if blank.bends else ():
        outline = outline.difference(Polygon(opening_outline(opening)))
    # Bends cross the outline where they end: cut off there, they would miss it by a rounding error.
    strokes = intersection([LineString(line.points) for line in lines], outline)
    faces, dangles = _faces(outline, [*strokes, *(LineString(line.points) for line, _ in bends)])
    edges = _edges(faces, [*lines, *(line for line, _ in bends)])
    panels = [_panel(face, blank) for face in faces]
    creases = _creases(edges, angles, ways)
    root = _root(panels, faces, blank, root_name)
    return Net(
        blank.piece,
        tuple(_with_slits(panels, faces, dangles, lines)),
        tuple(creases),
        root,
        float(max(blank.width, blank.height)),
        tuple(_dangling(dangles, lines)),
        _loose(len(panels), creases, root),
        Stance(blank.stance.turn, sign * blank.stance.lean) if blank.stance else None,
        blank.pressed,
    )


def _faces(outline: Geometry, strokes: Sequence[Geometry]) -> tuple[list[Any], list[Any]]:
    """The faces the lines leave of the outline, from top to bottom and left to right, and the ends of lines that stop
    inside one."""
    from shapely import get_parts, polygonize_full, prepare, union_all

    noded = union_all([outline.boundary, *strokes])
    polygons, bridges, dangles, _ = polygonize_full(get_parts(noded))
    prepare(outline)
    large = (face for face in get_parts(polygons) if face.area > _SLIVER)
    found = [face for face in large if outline.covers(face.representative_point())]
    found.sort(key=lambda face: (round(face.centroid.y, 3), round(face.centroid.x, 3)))
    return found, [*get_parts(dangles), *get_parts(bridges)]


def _edges(faces: Sequence[Any], lines: Sequence[Line]) -> list[_NodeEdge]:
    found: dict[tuple[Point, Point], _NodeEdge] = {}
    for number, face in enumerate(faces):
        for ring in (face.exterior, *face.interiors):
            for start, end in pairwise(ring.coords):
                one, other = _rounded(start), _rounded(end)
                key = (one, other) if one < other else (other, one)
                found.setdefault(key, _NodeEdge(start, end, None, [])).faces.append(number)
    shared = [edge for edge in found.values() if len(edge.faces) == 2 and edge.faces[0] != edge.faces[1]]
    for edge in shared:
        edge.line = _line_under(edge.start, edge.end, lines, -1)
    return shared


def _rounded(point: Sequence[float]) -> Point:
    return round(point[0], _DIGITS), round(point[1], _DIGITS)


def _line_under(start: Point, end: Point, lines: Sequence[Line], at: int) -> Line | None:
    """The line a piece is a part of: a cut, which parts what a fold joins, else the fold `at` that place of them."""
    middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    under = [line for line in lines if _lies_on(middle, line)]
    return next((line for line in under if not line.folds), under[at] if under else None)


def _lies_on(point: Point, line: Line) -> bool:
    x, y = point
    for (ax, ay), (bx, by) in pairwise(line.points):
        # Most segments are nowhere near: whether it lies in the box round one is asked first.
        if (
            min(ax, bx) - _BESIDE <= x <= max(ax, bx) + _BESIDE
            and min(ay, by) - _BESIDE <= y <= max(ay, by) + _BESIDE
            and apart(point, foot_on(point, ((ax, ay), (bx, by)))) < _ON
        ):
            return True
    return False


def _creases(edges: Iterable[_NodeEdge], angles: Angles, ways: Mapping[LineSource, tuple[float, ...]]) -> list[Crease]:
    """One crease for each two panels and score between them, from end to end."""
    joined: dict[tuple[int, int, LineSource], list[Point]] = {}
    for edge in edges:
        if edge.line is not None and edge.line.folds:
            one, other = sorted(edge.faces)
            joined.setdefault((one, other, edge.line.source), []).extend((edge.start, edge.end))
    return [
        Crease(one, other, min(points), max(points), angles.get(source, 0.0), source, ways.get(source, ()))
        for (one, other, source), points in joined.items()
    ]


def _panel(face: Any, blank: Blank) -> Panel:
    """A face with what is open in it, named by the strips it lies in."""
    from shapely import union_all
    from shapely.geometry import Polygon
    from shapely.geometry.polygon import orient

    middle = face.representative_point()
    column, row = (_strip_at(strips, at) for strips, at in ((blank.across, middle.x), (blank.down, middle.y)))
    openings = [Polygon(opening) for opening in (*map(opening_outline, blank.openings), *map(floats, blank.inner))]
    # All at once, which is quicker; one by one where together they would cut the panel in two.
    together = union_all(openings)
    whole = face.difference(together).geom_type == "Polygon"
    for opening in (together,) if whole else openings:
        left = face.difference(opening)
        if left.geom_type == "Polygon" and not left.is_empty:
            face = left
    # shapely's positive orientation is counter-clockwise with y up, so clockwise with y down.
    face = orient(face, 1.0)
    rings = [_corners(ring.coords[:-1]) for ring in (face.exterior, *face.interiors)]
    name, glued = _own_name(blank, face) if blank.faces or blank.labels else _name(blank, column, row)
    areas = (Polygon(floats(line.points)) for line in blank.drawn if blank.bends and line.kind == "glue area")
    if any(area.contains(middle) for area in areas):
        name, glued = GLUE_FLAP, True
    return Panel(name, rings[0], tuple(rings[1:]), glued, column, row)


def _corners(points: Sequence[Sequence[float]]) -> tuple[Point, ...]:
    """A ring without the points that lie on a straight line between their neighbours."""
    kept = []
    for before, here, after in zip((points[-1], *points[:-1]), points, (*points[1:], points[0]), strict=True):
        ax, ay, bx, by = here[0] - before[0], here[1] - before[1], after[0] - here[0], after[1] - here[1]
        if abs(ax * by - ay * bx) > _SLIVER * (abs(ax) + abs(ay)) * (abs(bx) + abs(by)):
            kept.append((here[0], here[1]))
    return tuple(kept)


def _strip_at(strips: Sequence[Any], at: float) -> int | None:
    return next((number for number, strip in enumerate(strips) if float(strip.start) <= at <= float(strip.end)), None)


def _own_name(blank: Blank, face: Any) -> tuple[str, bool]:
    """The name of a panel of a form that is no row, and whether it is a glue flap."""
    from shapely.geometry import Point as Place

    middle = face.representative_point()
    labels = (name for name, at in blank.labels if face.contains(Place(*floats((at,))[0])))
    faces = (one.name for one in blank.faces if one.left <= middle.x <= one.right and one.top <= middle.y <= one.bottom)
    name = next(chain(labels, faces), "")
    return name, name == GLUE_FLAP


def _name(blank: Blank, column: int | None, row: int | None) -> tuple[str, bool]:
    """A panel's name, and whether it is a glue flap. Corner flaps are called `flap`."""
    if column is None or row is None:
        return "", False
    one, other = blank.across[column], blank.down[row]
    glued = GLUE_FLAP in (one.role, other.role)
    names = [strip.name or strip.role for strip in (one, other)]
    if blank.boxed:
        if column != 1 and row != 1:
            return "flap", glued
        return (names[1] if column == 1 and row != 1 else one.name or other.name or names[0]), glued
    if len(blank.across) == 1:
        return (names[1] or str(row + 1) if len(blank.down) > 1 else ""), glued
    if len(blank.down) == 1:
        return names[0] or str(column + 1), glued
    return " ".join(name for name in names if name), glued


def _root(panels: Sequence[Panel], faces: Sequence[Any], blank: Blank, name: str) -> int:
    """The panel that stays: the one asked for, the middle of a box, the one a form names, else the largest."""
    for number, panel in enumerate(panels):
        if name and panel.name == name:
            return number
    for number, panel in enumerate(panels):
        if blank.boxed and (panel.column, panel.row) == (1, 1):
            return number
    if blank.stays is not None:
        from shapely.geometry import Point as Place

        place = Place(*floats((blank.stays,)))
        return min(range(len(panels)), key=lambda number: faces[number].distance(place))
    return max(range(len(panels)), key=lambda number: (round(faces[number].area, 3), -number)) if panels else 0


def _loose(count: int, creases: Sequence[Crease], root: int) -> tuple[int, ...]:
    reached, waiting = {root}, [root]
    while waiting:
        panel = waiting.pop()
        for crease in creases:
            if panel in (crease.one, crease.other) and crease.across(panel) not in reached:
                reached.add(crease.across(panel))
                waiting.append(crease.across(panel))
    return tuple(number for number in range(count) if number not in reached)


# --- lines that end in a panel ----------------------------------------------------------------------------------------


def _stopping(dangles: Sequence[Any], lines: Sequence[Line]) -> Iterable[tuple[Line, Any]]:
    for dangle in dangles:
        if line := _line_under(dangle.coords[0], dangle.coords[1], lines, 0):
            yield line, dangle


def _dangling(dangles: Sequence[Any], lines: Sequence[Line]) -> Iterable[Line]:
    return dict.fromkeys(line for line, _ in _stopping(dangles, lines) if line.folds)


def _with_slits(
    panels: Sequence[Panel], faces: Sequence[Any], dangles: Sequence[Any], lines: Sequence[Line]
) -> Iterable[Panel]:
    slits: dict[int, list[tuple[Point, ...]]] = {}
    for line, dangle in _stopping(dangles, lines):
        number = next((number for number, face in enumerate(faces) if face.covers(dangle)), None)
        if number is not None and not line.folds:
            slits.setdefault(number, []).append(tuple((x, y) for x, y in dangle.coords))
    for number, panel in enumerate(panels):
        yield replace(panel, slits=tuple(slits[number])) if number in slits else panel
