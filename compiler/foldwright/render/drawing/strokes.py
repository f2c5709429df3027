"""Lines and arrows of a scene as SVG paths, in millimetres of the picture."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot

from msgspec.structs import replace

from foldwright.geometry.scene import Arrow, LineKind, Point, Scene, Stress, Stroke
from foldwright.render.drawing.layout import DrawingLayout
from foldwright.render.drawing.pens import CUT, EDGE, INK, dash_scale, pen_of

_HEAD = 5.5
"""How long an arrow's head is, in widths of its line."""
_ON_TOP = (LineKind.CUT, LineKind.EDGE)


def dashes_of(scene: Scene, scale: float) -> float:
    """One size of dashes for all lines of a picture, so that those of a kind look alike."""
    return dash_scale(((one.kind, one.points) for one in scene.strokes if one.emphasis is not Stress.FAINT), scale)


def worked(strokes: Sequence[Stroke]) -> Sequence[Stroke]:
    """Where a step is about some of the lines, all other cuts have been made: they are edges."""
    if not any(stroke.emphasis is Stress.STRONG for stroke in strokes):
        return strokes
    edge = (LineKind.CUT, Stress.PLAIN)
    return [replace(one, kind=LineKind.EDGE) if (one.kind, one.emphasis) == edge else one for one in strokes]


def kind_of_line(stroke: Stroke, there: bool) -> LineKind:
    """What is cut is an edge once it is `there`."""
    return LineKind.EDGE if there and stroke.kind is LineKind.CUT else stroke.kind


def stroke_paths(
    strokes: Sequence[Stroke], layout: DrawingLayout, dashes: float, ink: str = "", there: bool = False
) -> Iterator[str]:
    """Lines of one kind as one path each, cut edges last so that they lie on top. `ink` is that of edges on paper;
    what is cut is an edge once it is `there`."""
    lines: dict[tuple[LineKind, Stress], list[str]] = {}
    shapes: list[str] = []
    for stroke in strokes:
        kind = kind_of_line(stroke, there)
        if stroke.closed and stroke.corner:
            look = pen_of(kind, stroke.emphasis, dashes, ink)
            shapes.append(shape_path(stroke.points, stroke.corner, look, layout))
        else:
            path = way_of(stroke.points, layout, stroke.closed)
            lines.setdefault((kind, stroke.emphasis), []).append(path)
    cuts_last = sorted(lines.items(), key=lambda one: (one[0][0] in _ON_TOP, one[0][0].value, one[0][1].value))
    for (kind, emphasis), paths in cuts_last:
        way = "".join(paths)
        if kind is LineKind.GUIDE:
            yield f'<path class="halo" fill="none" stroke="#ffffff" stroke-width="{CUT}" d="{way}"/>'
        yield f'<path {pen_of(kind, emphasis, dashes, ink)} d="{way}"/>'
    yield from shapes


def arrow_paths(arrows: Sequence[Arrow], layout: DrawingLayout) -> Iterator[str]:
    """Each arrow as a line and a full head, both with an edge of the page's colour round them: they stand clear of what
    they cross, in the dark as well."""
    for arrow in arrows:
        spots = [(layout.left + x * layout.scale, layout.top + y * layout.scale) for x, y in arrow.path]
        (x1, y1), (x2, y2) = spots[-2], spots[-1]
        long = hypot(x2 - x1, y2 - y1)
        if not long:
            continue
        along_x, along_y = (x2 - x1) / long, (y2 - y1) / long
        head, half = _HEAD * EDGE, _HEAD * EDGE * 0.38
        base_x, base_y = x2 - along_x * head, y2 - along_y * head
        way = "L".join(f"{x:.2f} {y:.2f}" for x, y in (*spots[:-1], (base_x, base_y)))
        tip = f"M{x2:.2f} {y2:.2f}L{base_x - along_y * half:.2f} {base_y + along_x * half:.2f}"
        tip += f"L{base_x + along_y * half:.2f} {base_y - along_x * half:.2f}Z"
        dashes = f' stroke-dasharray="{EDGE * 8:.2f} {EDGE * 6:.2f}"' if arrow.behind else ""
        round_it = f'stroke="#ffffff" stroke-width="{EDGE * 3:.2f}" stroke-linejoin="round"'
        yield f'<path class="halo" fill="none" {round_it} d="M{way}{tip}"/>'
        yield f'<path class="line arrow" fill="none" stroke="{INK}" stroke-width="{EDGE}"{dashes} d="M{way}"/>'
        yield f'<path class="head" fill="{INK}" d="{tip}"/>'


def shape_path(points: Sequence[Point], corner: float, look: str, layout: DrawingLayout) -> str:
    """A closed outline; the corners of a rectangle are rounded by `corner` millimetres of the scene."""
    if not corner:
        return f'<path {look} d="{way_of(points, layout, closed=True)}"/>'
    (x1, y1), (x2, y2) = points[0], points[2]
    scale = layout.scale
    return (
        f'<rect {look} x="{layout.left + x1 * scale:.2f}" y="{layout.top + y1 * scale:.2f}" '
        f'width="{(x2 - x1) * scale:.2f}" height="{(y2 - y1) * scale:.2f}" rx="{corner * scale:.2f}"/>'
    )


def way_of(points: Sequence[Point], layout: DrawingLayout, closed: bool) -> str:
    """A polyline of the scene as path data."""
    left, top, scale = layout.left, layout.top, layout.scale
    spots = [f"{left + x * scale:.2f} {top + y * scale:.2f}" for x, y in points]
    return f"M{'L'.join(spots)}{'Z' if closed else ''}"
