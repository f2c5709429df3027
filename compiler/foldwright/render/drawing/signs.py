"""Signs beside a drawing: turn it over, turn it round. They are common in diagrams of paper folding."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, pi, sin

from foldwright.geometry.scene import Point, Scene, Sign
from foldwright.render.drawing.layout import DrawingLayout
from foldwright.render.drawing.pens import EDGE, INK

_SIZE = 9.0
"""Millimetres a sign is wide and high."""
_HEAD = 4.0
"""Line widths an arrowhead is long."""
_STEPS = 24
_AHEAD, _LOOP = 0.14, 0.26
"""How far the arrow runs on for each radian, and how wide its loop is, as parts of the sign."""


def draw_signs(scene: Scene, layout: DrawingLayout) -> Iterator[str]:
    """The signs of a scene, each in the corner where it hides least of the picture."""
    # Most scenes have none; looking for the emptiest corner takes longer than the rest of the drawing.
    corners = _corners(scene, layout) if scene.signs else []
    for sign, (x, y) in zip(scene.signs, corners, strict=False):
        paths = _over() if sign is Sign.TURN_OVER else _round()
        for path in paths:
            yield from _arrow([(x + px * _SIZE, y + py * _SIZE) for px, py in path], EDGE)


def _corners(scene: Scene, layout: DrawingLayout) -> list[Point]:
    """The top left corner of a sign in every corner of the drawing, the emptiest first."""
    right, foot = max(layout.width - _SIZE, 0.0), max(layout.height - _SIZE, 0.0)
    places = [(0.0, 0.0), (right, 0.0), (0.0, foot), (right, foot)]
    outlines = [
        [(layout.left + x * layout.scale, layout.top + y * layout.scale) for x, y in face.outline]
        for face in scene.faces
        if face.outline
    ]
    ways = [
        (layout.left + x * layout.scale, layout.top + y * layout.scale) for one in scene.arrows for x, y in one.path
    ]
    return sorted(places, key=lambda place: _covered(place, outlines, ways))


def _covered(place: Point, outlines: Sequence[Sequence[Point]], ways: Sequence[Point]) -> int:
    """How many of the places of a sign lie on paper, and how many of those of arrows lie in it."""
    spots = [(place[0] + _SIZE * x / 4, place[1] + _SIZE * y / 4) for x in range(5) for y in range(5)]
    crossed = sum(0 <= x - place[0] <= _SIZE and 0 <= y - place[1] <= _SIZE for x, y in ways)
    return crossed + sum(any(_holds(outline, spot) for outline in outlines) for spot in spots)


def _holds(ring: Sequence[Point], spot: Point) -> bool:
    inside, (x, y) = False, spot
    for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (y1 > y) != (y2 > y) and x < x1 + (x2 - x1) * (y - y1) / (y2 - y1):
            inside = not inside
    return inside


def _over() -> tuple[list[Point], ...]:
    """An arrow that goes to the right and makes one loop on its way: a stretch of a trochoid."""
    turns = [pi * (2 * step / _STEPS - 1) for step in range(_STEPS + 1)]
    return ([(0.5 + _AHEAD * turn - _LOOP * sin(turn), 0.55 - _LOOP * cos(turn)) for turn in turns],)


def _round() -> tuple[list[Point], ...]:
    """Two arrows that follow each other round."""

    def arc(first: float) -> list[Point]:
        angles = [first + pi * 0.8 * step / _STEPS for step in range(_STEPS + 1)]
        return [(0.5 + 0.38 * cos(angle), 0.5 + 0.38 * sin(angle)) for angle in angles]

    return arc(0.0), arc(pi)


def _arrow(path: Sequence[Point], wide: float) -> Iterator[str]:
    (x1, y1), (x2, y2) = path[-2], path[-1]
    long = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    along_x, along_y = (x2 - x1) / long, (y2 - y1) / long
    head, half = _HEAD * wide, _HEAD * wide * 0.5
    base_x, base_y = x2 - along_x * head, y2 - along_y * head
    way = "L".join(f"{x:.2f} {y:.2f}" for x, y in path[:-1])
    tip = f"M{x2:.2f} {y2:.2f}L{base_x - along_y * half:.2f} {base_y + along_x * half:.2f}"
    tip += f"L{base_x + along_y * half:.2f} {base_y - along_x * half:.2f}Z"
    yield f'<path class="line sign" fill="none" stroke="{INK}" stroke-width="{wide:.2f}" d="M{way}"/>'
    yield f'<path class="head" fill="{INK}" d="{tip}"/>'
