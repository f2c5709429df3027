"""A piece as SVG at true size: one user unit is one millimetre, a group for each kind of line."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape
from math import hypot

from foldwright.geometry.contours import Circle, Closed, Contours
from foldwright.geometry.scene import Point

_WIDTH = 0.25
"""Millimetres: a line a cutter's program follows whatever its width."""
_COLOURS = {
    "outline": "#000000",
    "openings": "#000000",
    "cut": "#000000",
    "score": "#1f5fbf",
    "valley": "#1f5fbf",
    "mountain": "#b3261e",
    "perforation": "#3d7a2a",
    "glue": "#8a8a8a",
}
"""By layer. Programs tell the layers apart by name; the colours are for people, and are stated nowhere else."""
LAYERS = tuple(_COLOURS)
_DASHES = {"score": "8 1.5", "valley": "3 1.5", "mountain": "5 1.5 0.5 1.5", "perforation": "0.5 1.5"}
"""Long dashes, dashes, dashes and dots, dots: as on every page."""


def piece_svg(contours: Contours, title: str, describes: str, layers: Mapping[str, str]) -> bytes:
    """The piece good side up, its top left corner at the origin. `layers` are the names people read."""
    wide, high = _number(contours.width), _number(contours.height)
    size = f'width="{wide}mm" height="{high}mm" viewBox="0 0 {wide} {high}"'
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>\n',
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} fill="none" stroke-width="{_WIDTH}">\n',
        f"<title>{escape(title, quote=False)}</title>\n<desc>{escape(describes, quote=False)}</desc>\n",
    ]
    drawn: dict[str, list[str]] = {layer: [] for layer in LAYERS}
    drawn["outline"] += map(_closed, contours.outlines)
    drawn["openings"] += map(_closed, contours.openings)
    for run in contours.runs:
        drawn[run.kind].append(f'<path d="{_path(run.points)}"/>')
    drawn["glue"] += [f'<path d="{_path(rim)}"/>' for rim in contours.glue_rims]
    parts += [_group(layer, shapes, layers[layer]) for layer, shapes in drawn.items() if shapes]
    return "".join([*parts, "</svg>\n"]).encode("utf-8")


def _group(layer: str, shapes: list[str], label: str) -> str:
    dashes = f' stroke-dasharray="{_DASHES[layer]}"' if layer in _DASHES else ""
    inner = "\n".join(shapes)
    name = escape(label, quote=False)
    return f'<g id="{layer}" stroke="{_COLOURS[layer]}"{dashes}>\n<title>{name}</title>\n{inner}\n</g>\n'


def _closed(one: Closed) -> str:
    if isinstance(one, Circle):
        x, y, r = (_number(number) for number in (*one.centre, one.radius))
        return f'<circle cx="{x}" cy="{y}" r="{r}"/>'
    if not one.round_ends:
        return f'<path d="{_path(one.points)}Z"/>'
    # Straight along the first side, half a circle, straight back along the third, half a circle.
    a, b, c, d = one.points
    r = _number(hypot(c[0] - b[0], c[1] - b[1]) / 2)
    return f'<path d="M{_spot(a)}L{_spot(b)}A{r} {r} 0 0 1 {_spot(c)}L{_spot(d)}A{r} {r} 0 0 1 {_spot(a)}Z"/>'


def _path(points: tuple[Point, ...]) -> str:
    return "M" + "L".join(map(_spot, points))


def _spot(point: Point) -> str:
    return f"{_number(point[0])} {_number(point[1])}"


def _number(number: float) -> str:
    """To a tenth of a micrometre, without needless noughts."""
    text = f"{number:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
