"""A thing in space with its sides named: the number of each on a line beside it, and the edges that are as long."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from html import escape
from math import hypot

from msgspec import Struct

from foldwright.geometry.scene import Point, Scene
from foldwright.render.drawing.layout import lay_out
from foldwright.render.drawing.svg import write_down

_WIDE, _HIGH, _LEAST = 100.0, 84.0, 5.0
"""The room for the thing itself, in the units of the drawing; what is very tall is no narrower."""
_OFF, _BEYOND, _AROUND, _SIDEWAYS = 5.0, 2.5, 15.0, 30.0
"""How far a line lies from its side, a number from its line, and the room for both above and below, left and right."""
_LETTERS = 6.0
_UPRIGHT = 0.5
"""A line that leans less has its number beside it, not above or below."""


class MeasuredSide(Struct, frozen=True):
    """One side: between which two points of the scene it is measured, the edges that are as long, and its number."""

    start: Point
    end: Point
    edges: tuple[tuple[Point, Point], ...] = ()
    label: str = ""


def draw_measured(scene: Scene, sides: Sequence[MeasuredSide], title: str, describes: str) -> str:
    """The scene as SVG. The group of each side has its number as `data-side`; a page's style lights it up."""
    width = max(_WIDE * min(1.0, _HIGH / _WIDE * scene.width / scene.height), _LEAST)
    layout = lay_out(scene, {}, width, _LETTERS, largest=100.0)
    thing = write_down(scene, layout)
    wide, high = layout.width + 2 * _SIDEWAYS, layout.height + 2 * _AROUND

    def placed(point: Point) -> Point:
        x, y = point
        return x * layout.scale + layout.left + _SIDEWAYS, y * layout.scale + layout.top + _AROUND

    groups = (_group(number, side, placed, (wide / 2, high / 2)) for number, side in enumerate(sides))
    return "".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="measured" viewBox="0 0 {wide:.2f} {high:.2f}" role="img">',
            f"<title>{escape(title, quote=False)}</title><desc>{escape(describes, quote=False)}</desc>",
            f'<g transform="translate({_SIDEWAYS} {_AROUND})">',
            thing[thing.index(">") + 1 : thing.rindex("</svg>")],
            "</g>",
            *groups,
            "</svg>",
        )
    )


def _group(number: int, side: MeasuredSide, placed: Callable[[Point], Point], middle: Point) -> str:
    start, end = placed(side.start), placed(side.end)
    out = outwards(start, end, middle)
    beside = [(x + out[0] * _OFF, y + out[1] * _OFF) for x, y in (start, end)]
    x, y = ((one + other) / 2 for one, other in zip(*beside, strict=True))
    upright = abs(out[0]) > _UPRIGHT
    anchor = "middle" if not upright else "start" if out[0] > 0 else "end"
    far = _BEYOND if upright else _BEYOND + _LETTERS / 2
    place = f'x="{x + out[0] * far:.2f}" y="{y + out[1] * far + 0.35 * _LETTERS:.2f}"'
    drawn = (
        *(_line("edge-lit", placed(one), placed(other)) for one, other in side.edges or ((side.start, side.end),)),
        *(_line("reach", one, other) for one, other in zip((start, end), beside, strict=True)),
        _line("measure", *beside),
        f'<text {place} text-anchor="{anchor}" font-size="{_LETTERS}">{escape(side.label, quote=False)}</text>',
    )
    return f'<g class="side" data-side="{number}">{"".join(drawn)}</g>'


def outwards(start: Point, end: Point, middle: Point) -> Point:
    """The way off a line that leads away from the middle of the picture."""
    (x1, y1), (x2, y2) = start, end
    long = hypot(x2 - x1, y2 - y1) or 1.0
    out = (y2 - y1) / long, (x1 - x2) / long
    away = out[0] * ((x1 + x2) / 2 - middle[0]) + out[1] * ((y1 + y2) / 2 - middle[1])
    return out if away >= 0 else (-out[0], -out[1])


def _line(name: str, one: Point, other: Point) -> str:
    return f'<path class="{name}" d="M{one[0]:.2f} {one[1]:.2f}L{other[0]:.2f} {other[1]:.2f}"/>'
