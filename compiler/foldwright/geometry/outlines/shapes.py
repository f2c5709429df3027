"""Outlines known by name: the corners of each, filling a box."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from math import cos, pi, sin

type Corners = Iterable[tuple[float, float]]

_STEPS = 96
"""Corners of a curve that goes all the way round."""


def spots_of(name: str, wide: float, high: float) -> list[tuple[float, float]]:
    """The corners of the shape of a name, clockwise, in a box of `wide` by `high`; none for a name that is none."""
    shape = SHAPES.get(name.casefold().strip())
    return list(shape(wide, high)) if shape else []


def _oval(wide: float, high: float) -> Corners:
    for step in range(_STEPS):
        angle = 2 * pi * step / _STEPS
        yield wide / 2 * (1 + cos(angle)), high / 2 * (1 + sin(angle))


def _arch(wide: float, high: float) -> Corners:
    rise = min(wide / 2, high)
    for step in range(_STEPS // 2 + 1):
        angle = pi - pi * step / (_STEPS // 2)
        yield wide / 2 * (1 + cos(angle)), rise * (1 - sin(angle))
    yield from ((wide, high), (0.0, high)) if high > rise else ()


def _house(wide: float, high: float) -> Corners:
    eaves = min(wide / 2, high / 2) * 0.75
    return (0.0, eaves), (wide / 2, 0.0), (wide, eaves), (wide, high), (0.0, high)


def _tag(wide: float, high: float) -> Corners:
    snip = min(wide, high) / 4
    return (0.0, snip), (snip, 0.0), (wide - snip, 0.0), (wide, snip), (wide, high), (0.0, high)


def _hexagon(wide: float, high: float) -> Corners:
    near, far = wide / 4, wide * 3 / 4
    return (near, 0.0), (far, 0.0), (wide, high / 2), (far, high), (near, high), (0.0, high / 2)


def _octagon(wide: float, high: float) -> Corners:
    part = 1 / (2 + 2**0.5)
    x, y = wide * part, high * part
    yield from ((x, 0.0), (wide - x, 0.0), (wide, y), (wide, high - y))
    yield from ((wide - x, high), (x, high), (0.0, high - y), (0.0, y))


def _heart(wide: float, high: float) -> Corners:
    """The curve x = 16 sin^3 t, y = 13 cos t - 5 cos 2t - 2 cos 3t - cos 4t (a common one, no source), in its box."""
    spots = []
    for step in range(2 * _STEPS):
        t = pi * step / _STEPS
        y = 13 * cos(t) - 5 * cos(2 * t) - 2 * cos(3 * t) - cos(4 * t)
        spots.append((16 * sin(t) ** 3, -y))
    left, right = min(x for x, _ in spots), max(x for x, _ in spots)
    top, bottom = min(y for _, y in spots), max(y for _, y in spots)
    for x, y in spots:
        yield wide * (x - left) / (right - left), high * (y - top) / (bottom - top)


SHAPES: dict[str, Callable[[float, float], Corners]] = {
    **dict.fromkeys(("circle", "round", "disc", "disk", "oval", "ellipse"), _oval),
    "arch": _arch,
    "house": _house,
    "tag": _tag,
    "hexagon": _hexagon,
    "octagon": _octagon,
    "heart": _heart,
}
