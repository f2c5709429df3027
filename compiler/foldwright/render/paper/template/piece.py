"""One piece as it is printed: its lines at true size, whole or the part of it that one tile shows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from html import escape
from math import cos, pi, radians, sin
from typing import Any

from msgspec import Struct

from foldwright.document.words import Runs
from foldwright.geometry.contours import Circle, Closed, Contours
from foldwright.geometry.scene import Caption, LineKind, Point, Tone
from foldwright.geometry.slanting import turned as rotated
from foldwright.render.drawing.pens import TONES, dash_scale, pen_of
from foldwright.render.paper.arranging import PlacedArea
from foldwright.render.paper.template.naming import PanelName, PlacedName, name_svg

_ROUND_STEPS = 180
"""Corners of the polygon that stands for a circle only a part of which is on a page: within 0.02 mm up to 130 mm."""
MARGIN = 0.4
"""Millimetres round a picture, so that its outline is not cut in half."""
_FAMILY = "Foldwright Sans"


class Design(Struct, frozen=True):
    """What is printed of one piece: its contours as printed, the names on its panels, what stands under it."""

    name: str
    contours: Contours
    captions: tuple[Caption, ...]
    under: Runs
    describes: str

    @property
    def width(self) -> float:
        return self.contours.width

    @property
    def height(self) -> float:
        return self.contours.height


class PieceLines(Struct, frozen=True):
    """Lines by kind, closed ones ending where they begin; circles; glue areas; names with where they are wanted. `rims`
    and `holes` are the outlines and openings once more, as closed lines.
    """

    lines: tuple[tuple[LineKind, tuple[Point, ...]], ...]
    circles: tuple[tuple[Point, float], ...]
    glue: tuple[tuple[Point, ...], ...]
    names: tuple[PanelName, ...]
    rims: tuple[tuple[Point, ...], ...] = ()
    holes: tuple[tuple[Point, ...], ...] = ()


def laid_out(design: Design, turned: bool, mirrored: bool, words: Mapping[str, str], slant: float = 0.0) -> PieceLines:
    """The design as it lies on the page: mirrored left to right for the back of the paper, then turned a quarter, or by
    `slant` degrees clockwise, so that its box begins at the origin.
    """
    left, top, _, _ = slanted_box(design, mirrored, slant) if slant else (0.0, 0.0, 0.0, 0.0)

    def put(point: Point) -> Point:
        x, y = (design.width - point[0], point[1]) if mirrored else point
        if slant:
            x, y = rotated((x, y), radians(slant))
            return x - left, y - top
        return (design.height - y, x) if turned else (x, y)

    contours = design.contours
    circles = [one for one in (*contours.outlines, *contours.openings) if isinstance(one, Circle)]
    rings = [one for one in (*contours.outlines, *contours.openings) if not isinstance(one, Circle)]
    lines = [(LineKind.CUT, tuple(map(put, _closed(ring)))) for ring in rings]
    lines += [(_seen(LineKind(run.kind), mirrored), tuple(map(put, run.points))) for run in contours.runs]
    names = []
    for caption in design.captions:
        text = words.get(caption.text, caption.text) if caption.role else caption.text
        x, y, wide, high = *caption.centre, caption.width / 2, caption.height / 2
        corners = (x - wide, y - high), (x + wide, y - high), (x + wide, y + high), (x - wide, y + high)
        names.append(PanelName(text, tuple(map(put, corners)), not caption.role))
    rims, holes = (
        tuple(tuple(map(put, rim_of(one))) for one in closed) for closed in (contours.outlines, contours.openings)
    )
    return PieceLines(
        tuple(lines),
        tuple((put(circle.centre), circle.radius) for circle in circles),
        tuple(tuple(map(put, area)) for area in contours.glue),
        tuple(names),
        rims,
        holes,
    )


def slanted_box(design: Design, mirrored: bool, slant: float) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a design that is turned about its top left corner, in millimetres."""
    spots = [rotated(point, radians(slant)) for point in hull_points(design, mirrored)]
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return min(xs), min(ys), max(xs), max(ys)


def hull_points(design: Design, mirrored: bool) -> tuple[Point, ...]:
    """The corners of its outline as seen from the good side, or from the back."""
    points = (point for one in design.contours.outlines for point in rim_of(one))
    return tuple((design.width - x, y) if mirrored else (x, y) for x, y in points)


def rim_of(one: Closed) -> tuple[Point, ...]:
    """A closed line as points; a circle has many corners."""
    if not isinstance(one, Circle):
        return tuple(_closed(one))[:-1]
    (x, y), turns = one.centre, (2 * pi * step / _ROUND_STEPS for step in range(_ROUND_STEPS))
    return tuple((x + one.radius * cos(turn), y + one.radius * sin(turn)) for turn in turns)


def _seen(kind: LineKind, from_behind: bool) -> LineKind:
    """What comes towards who looks at the good side goes away from who looks at the back."""
    turned = {LineKind.VALLEY: LineKind.MOUNTAIN, LineKind.MOUNTAIN: LineKind.VALLEY}
    return turned.get(kind, kind) if from_behind else kind


def _closed(one: Closed) -> Iterator[Point]:
    """A ring as points, its round ends as many short lines, the first point again at the end."""
    assert not isinstance(one, Circle)
    if not one.round_ends:
        yield from (*one.points, one.points[0])
        return
    a, b, c, d = one.points
    yield a
    yield from _half_round(b, c)
    yield from _half_round(d, a)


def _half_round(start: Point, end: Point) -> Iterator[Point]:
    """From one point to another in a half circle, clockwise as it is seen with y downwards."""
    x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    dx, dy = start[0] - x, start[1] - y
    steps = _ROUND_STEPS // 6
    for step in range(steps + 1):
        turn = pi * step / steps
        yield x + dx * cos(turn) - dy * sin(turn), y + dx * sin(turn) + dy * cos(turn)


def shape_svg(shape: PieceLines, names: Sequence[PlacedName], window: PlacedArea, title: str) -> str:
    """What a window shows of a shape, at true size, with a narrow margin that outlines may lie on.

    The window is in the design's own millimetres, after it was turned and mirrored.
    """
    shown = _within(shape, window)
    left, top = window.left - MARGIN, window.top - MARGIN
    wide, high = window.width + 2 * MARGIN, window.height + 2 * MARGIN
    dashes = dash_scale(shown.lines, 1.0)
    size = f'width="{wide:.3f}mm" height="{high:.3f}mm" viewBox="0 0 {wide:.3f} {high:.3f}"'
    opening = f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img" font-family="{_FAMILY}">'
    parts = [opening, f"<title>{escape(title, quote=False)}</title>"]

    def spots(points: Sequence[Point]) -> str:
        return "L".join(f"{x - left:.3f} {y - top:.3f}" for x, y in points)

    parts += [f'<path fill="{TONES[Tone.GLUE]}" d="M{spots(area)}Z"/>' for area in shown.glue]
    parts += [f'<path {pen_of(kind, dashes=dashes)} d="M{spots(points)}"/>' for kind, points in shown.lines]
    for (x, y), radius in shown.circles:
        parts.append(f'<circle {pen_of(LineKind.CUT)} cx="{x - left:.3f}" cy="{y - top:.3f}" r="{radius:.3f}"/>')
    for name in names:
        parts += name_svg(name, left, top)
    return "".join([*parts, "</svg>"])


def picture_size(window: PlacedArea) -> tuple[float, float]:
    """Width and height in millimetres of the drawing of a window, its margin round it."""
    return window.width + 2 * MARGIN, window.height + 2 * MARGIN


def _within(shape: PieceLines, window: PlacedArea) -> PieceLines:
    """Only what lies in the window; lines are cut exactly at its edge."""
    from shapely.geometry import LineString, Polygon, box
    from shapely.geometry import Point as Place

    right, bottom = window.left + window.width, window.top + window.height
    frame = box(window.left - 1e-6, window.top - 1e-6, right + 1e-6, bottom + 1e-6)
    lines: list[tuple[LineKind, tuple[Point, ...]]] = []
    for kind, points in shape.lines:
        drawn = LineString(points)
        if frame.covers(drawn):
            lines.append((kind, points))
        else:
            lines += [(kind, part) for part in _parts(drawn.intersection(frame))]
    circles = []
    for centre, radius in shape.circles:
        disc = Place(centre).buffer(radius, quad_segs=_ROUND_STEPS // 4)
        if frame.covers(disc):
            circles.append((centre, radius))
        else:
            lines += [(LineKind.CUT, part) for part in _parts(disc.exterior.intersection(frame))]
    glue = [part for area in shape.glue for part in _areas(Polygon(area).intersection(frame))]
    return PieceLines(tuple(lines), tuple(circles), tuple(glue), ())


def _parts(drawn: Any) -> Iterator[tuple[Point, ...]]:
    from shapely import get_parts, line_merge

    merged = line_merge(drawn) if drawn.geom_type == "MultiLineString" else drawn
    for part in get_parts(merged):
        if part.geom_type == "LineString" and part.length > 0:
            yield tuple((x, y) for x, y in part.coords)


def _areas(area: Any) -> Iterator[tuple[Point, ...]]:
    from shapely import get_parts

    for part in get_parts(area):
        if part.geom_type == "Polygon" and not part.is_empty:
            yield tuple((x, y) for x, y in part.exterior.coords[:-1])
