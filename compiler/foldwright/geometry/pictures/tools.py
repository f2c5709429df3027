"""Tools at work, flat in the picture: the tip at a place, the handle up to the right, where a hand would hold it."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, sin

from foldwright.geometry.scene import Face, LineKind, Point, Stroke, Tone

_LEANS = 58.0
"""Degrees a tool leans back from the paper."""

type Part = tuple[Tone, tuple[Point, ...]]


def _both(*upper: Point) -> tuple[Point, ...]:
    """A shape that is the same on both sides of its shaft, from its upper side."""
    return (*upper, *((x, -y) for x, y in reversed(upper)))


_LOOSE = ((0.9, 0.0), (0.98, -0.1), (0.93, -0.24), (0.78, -0.32), (0.6, -0.3))
_THREAD = (*_LOOSE, *((x + 0.012, y - 0.012) for x, y in reversed(_LOOSE)))

TOOLS: dict[str, tuple[Part, ...]] = {
    "pencil": (
        (Tone.TWINE, _both((0.03, 0.012), (0.13, 0.045))),
        (Tone.THING, _both((0.13, 0.045), (0.92, 0.045))),
        (Tone.RIBBON, _both((0.92, 0.045), (1.0, 0.045))),
        (Tone.TOOL, _both((0.0, 0.0), (0.04, 0.016))),
    ),
    "brush": (
        (Tone.FOOD, _both((0.0, 0.0), (0.1, 0.04), (0.22, 0.05))),
        (Tone.TOOL, _both((0.22, 0.045), (0.34, 0.04))),
        (Tone.THING, _both((0.34, 0.04), (0.5, 0.05), (1.0, 0.018))),
    ),
    "needle": (
        (Tone.TWINE, _THREAD),
        (Tone.TOOL, _both((0.0, 0.0), (0.3, 0.016), (0.94, 0.02), (1.0, 0.008))),
        (Tone.BOUGHT, _both((0.86, 0.006), (0.94, 0.006))),
    ),
    "awl": (
        (Tone.TOOL, _both((0.0, 0.0), (0.1, 0.01), (0.42, 0.016))),
        (Tone.TWINE, _both((0.42, 0.04), (0.5, 0.065), (0.85, 0.075), (0.97, 0.05), (1.0, 0.02))),
    ),
    "stylus": ((Tone.TOOL, _both((0.0, 0.02), (0.25, 0.025))), (Tone.TWINE, _both((0.25, 0.05), (1.0, 0.05)))),
    "folder": ((Tone.BOUGHT, _both((0.0, 0.0), (0.05, 0.05), (0.2, 0.08), (0.85, 0.07), (0.97, 0.05), (1.0, 0.02))),),
    "pad": ((Tone.RIBBON, _both((0.0, 0.24), (0.1, 0.24))), (Tone.TOOL, _both((0.1, 0.28), (0.3, 0.28)))),
    "sandpaper": ((Tone.FOOD, _both((0.0, 0.28), (0.05, 0.28))), (Tone.TWINE, _both((0.05, 0.26), (0.34, 0.26)))),
    "stamp": (
        (Tone.RIBBON, _both((0.0, 0.26), (0.05, 0.26))),
        (Tone.TWINE, _both((0.05, 0.28), (0.24, 0.28))),
        (Tone.TWINE, _both((0.24, 0.09), (0.5, 0.07), (0.66, 0.12), (0.76, 0.1), (0.8, 0.04))),
    ),
    "bottle": (
        (Tone.FOOD, _both((0.0, 0.012), (0.2, 0.05))),
        (Tone.TOOL, _both((0.2, 0.08), (0.27, 0.08))),
        (Tone.BOUGHT, _both((0.27, 0.08), (0.38, 0.15), (0.95, 0.15), (1.0, 0.12))),
    ),
    "glue stick": (
        (Tone.FOOD, _both((0.0, 0.1), (0.1, 0.1))),
        (Tone.BOUGHT, _both((0.1, 0.12), (0.22, 0.12), (0.22, 0.15), (0.85, 0.15))),
        (Tone.TOOL, _both((0.85, 0.15), (1.0, 0.15))),
    ),
    "gun": (
        (Tone.TOOL, _both((0.0, 0.02), (0.14, 0.04))),
        (
            Tone.THING,
            (
                (0.14, 0.09),
                (0.95, 0.1),
                (1.0, 0.0),
                (0.84, -0.1),
                (0.78, -0.5),
                (0.56, -0.5),
                (0.6, -0.1),
                (0.14, -0.07),
            ),
        ),
    ),
    "heat gun": (
        (Tone.TOOL, _both((0.22, 0.08), (0.5, 0.1))),
        (
            Tone.THING,
            (
                (0.5, 0.14),
                (1.0, 0.14),
                (1.0, -0.12),
                (0.9, -0.14),
                (0.86, -0.55),
                (0.66, -0.55),
                (0.7, -0.14),
                (0.5, -0.12),
            ),
        ),
    ),
    "iron": (
        (Tone.TOOL, _both((0.0, 0.0), (0.05, 0.016), (0.45, 0.02))),
        (Tone.THING, _both((0.45, 0.06), (1.0, 0.05))),
    ),
    "can": (
        (Tone.TOOL, _both((0.3, 0.04), (0.38, 0.05))),
        (Tone.THING, _both((0.38, 0.1), (0.46, 0.16), (1.0, 0.16))),
    ),
    "stapler": (
        (Tone.TOOL, ((0.0, -0.02), (0.9, -0.16), (0.95, -0.1), (0.05, 0.04))),
        (Tone.THING, ((0.0, 0.06), (0.1, 0.2), (0.9, 0.26), (1.0, 0.12), (0.95, -0.06), (0.08, 0.02))),
    ),
    "punch": (
        (Tone.TOOL, _both((0.0, 0.05), (0.2, 0.05))),
        (Tone.THING, _both((0.2, 0.1), (0.4, 0.1), (0.44, 0.17), (0.62, 0.17))),
    ),
    "tape": ((Tone.TAPE, _both((-0.4, 0.07), (0.45, 0.07))), (Tone.BOUGHT, _both((0.45, 0.07), (0.5, 0.07)))),
    "hand": (
        (
            Tone.BOUGHT,
            (
                (0.0, -0.14),
                (0.03, 0.1),
                (0.3, 0.17),
                (0.62, 0.15),
                (1.0, 0.1),
                (1.0, -0.12),
                (0.5, -0.16),
                (0.42, -0.3),
                (0.3, -0.34),
                (0.27, -0.26),
                (0.33, -0.16),
            ),
        ),
    ),
}
"""Each part in lengths of the tool, x from the tip along the shaft, y to one side; the last lies on top. Our own."""
_STANDS = {"stamp": 90.0, "punch": 90.0, "pad": 90.0, "sandpaper": 90.0, "tape": 20.0, "stapler": 14.0, "hand": 40.0}
"""How some stand instead."""


def tool_faces(name: str, tip: Point, long: float, left_handed: bool, lifted: float = 0.0) -> tuple[Face, ...]:
    """A tool with its tip at a place of the picture, or lifted off it."""
    lean = _STANDS.get(name, _LEANS)
    c, s = cos(radians(lean)), sin(radians(lean))
    side = -1.0 if left_handed else 1.0

    def put(point: Point) -> Point:
        x, y = point[0] * long, point[1] * long
        return tip[0] + side * (x * c + y * s), tip[1] - x * s + y * c - lifted

    return tuple(_part(tone, tuple(map(put, ring))) for tone, ring in TOOLS[name])


def _part(tone: Tone, ring: Sequence[Point]) -> Face:
    return Face(tuple(ring), tone, edges=(Stroke(LineKind.CUT, tuple(ring), True),), shade=1)
