"""Walls side by side and a glue flap, with flaps above and below: how the blank of a carton or prism is put together.

A flap is said in its own measures: along its hinge from the left end of its wall, and out from it. Below the walls the
same flap lies mirrored.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import accumulate

from msgspec import Struct

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, BlankFace, Drawn, ExactPoint
from foldwright.geometry.flat.forms.making import GLUE, GLUE_AREA, SQUARE, TAPER, Asked, blank_of, fold

_ZERO = Fraction(0)
_INSET = Fraction(1, 8)
"""Of a glue flap's width: how far glue keeps clear of its edges, so that none comes out (common practice)."""


class Flap(Struct, frozen=True):
    """What hangs on the end of a wall: its edge from the left end of the hinge to the right one, folds on it with their
    angles, areas for glue, and places on its panels with their names."""

    edge: tuple[ExactPoint, ...]
    bend: Fraction = SQUARE
    folds: tuple[tuple[ExactPoint, ExactPoint, Fraction], ...] = ()
    glue: tuple[tuple[ExactPoint, ...], ...] = ()
    labels: tuple[tuple[str, ExactPoint], ...] = ()


class Wall(Struct, frozen=True):
    """How wide it is, how far it bends towards the next (the last towards the first), its name and its flaps."""

    wide: Fraction
    bend: Fraction
    name: str
    above: Flap | None = None
    below: Flap | None = None


def flipped(flap: Flap, wide: Fraction) -> Flap:
    """The flap turned about: what was on the left of a wall so wide is on its right."""

    def turn(points: Sequence[ExactPoint]) -> tuple[ExactPoint, ...]:
        return tuple((wide - u, v) for u, v in reversed(points))

    folds = tuple(((wide - u2, v2), (wide - u1, v1), angle) for (u1, v1), (u2, v2), angle in flap.folds)
    labels = tuple((name, turn((at,))[0]) for name, at in flap.labels)
    return Flap(turn(flap.edge), flap.bend, folds, tuple(map(turn, flap.glue)), labels)


def blank_of_walls(
    asked: Asked, walls: Sequence[Wall], high: Fraction, faces: Sequence[BlankFace], top: Fraction
) -> Blank:
    """The blank of walls from left to right and a glue flap behind the first. They begin `top` below the upper edge;
    `faces` are its upright rectangles, the one that lies still first."""
    xs = list(accumulate((wall.wide for wall in walls), initial=_ZERO))
    foot, end = top + high, xs[-1]
    glue = min(GLUE[asked.system], walls[0].wide / 2)
    taper = min(glue, high) * TAPER
    size = end + glue, foot + max((_reach(wall.below) for wall in walls), default=_ZERO)
    upper = [(x + u, top - v) for x, wall in zip(xs, walls, strict=False) for u, v in _edge(wall.above, wall.wide)]
    lower = [(x + u, foot + v) for x, wall in zip(xs, walls, strict=False) for u, v in _edge(wall.below, wall.wide)]
    ring = [*upper, (end + glue, top + taper), (end + glue, foot - taper), *reversed(lower)]
    drawn = [*_drawn(walls, xs, top, foot), _glue_area(end, glue, top, foot, taper)]
    labels = tuple(_labels(walls, xs, top, foot, glue))
    outline, places = tuple(_each_once(ring)), tuple(_set_out(walls, xs, top, foot))
    return blank_of(asked, size, outline, tuple(drawn), tuple(faces), labels=labels, set_out=places)


def _set_out(walls: Sequence[Wall], xs: Sequence[Fraction], top: Fraction, foot: Fraction) -> Iterator[ExactPoint]:
    """What is set out with a ruler: the corners of the walls and the folds of flaps, those along a wall by how far out
    they lie. Flaps are cut as the template has them."""
    yield from ((x, y) for x in xs for y in (top, foot))
    for left, wall in zip(xs, walls, strict=False):
        for flap, hinge, out in ((wall.above, top, -1), (wall.below, foot, 1)):
            for (u1, v1), (u2, v2), _ in flap.folds if flap else ():
                yield from ((left + (u if v1 != v2 else 0), hinge + out * v) for u, v in ((u1, v1), (u2, v2)))


def reach_above(walls: Sequence[Wall]) -> Fraction:
    """How far the flaps above the walls stand out at most."""
    return max((_reach(wall.above) for wall in walls), default=_ZERO)


def _reach(flap: Flap | None) -> Fraction:
    return max(v for _, v in flap.edge) if flap else _ZERO


def _edge(flap: Flap | None, wide: Fraction) -> tuple[ExactPoint, ...]:
    """From corner to corner of the wall: where a flap keeps clear of a corner the wall's own end is cut."""
    return ((_ZERO, _ZERO), *(flap.edge if flap else ()), (wide, _ZERO))


def _each_once(ring: Sequence[ExactPoint]) -> Iterator[ExactPoint]:
    """The outline without places that stand twice, and those between two others on one straight line."""
    once = [place for place, before in zip(ring, (ring[-1], *ring[:-1]), strict=True) if place != before]
    for before, place, after in zip((once[-1], *once[:-1]), once, (*once[1:], once[0]), strict=True):
        (x1, y1), (x2, y2), (x3, y3) = before, place, after
        if (x2 - x1) * (y3 - y2) != (y2 - y1) * (x3 - x2):
            yield place


def _drawn(walls: Sequence[Wall], xs: Sequence[Fraction], top: Fraction, foot: Fraction) -> Iterator[Drawn]:
    for left, wall in zip(xs, walls, strict=False):
        right = left + wall.wide
        yield fold((right, top), (right, foot), wall.bend)
        for flap, hinge, out in ((wall.above, top, -1), (wall.below, foot, 1)):
            if flap is None:
                continue
            yield fold((left + flap.edge[0][0], hinge), (left + flap.edge[-1][0], hinge), flap.bend)
            for (u1, v1), (u2, v2), angle in flap.folds:
                yield fold((left + u1, hinge + out * v1), (left + u2, hinge + out * v2), angle)
            for area in flap.glue:
                yield Drawn(GLUE_AREA, tuple((left + u, hinge + out * v) for u, v in area))


def _glue_area(left: Fraction, wide: Fraction, top: Fraction, foot: Fraction, taper: Fraction) -> Drawn:
    inset = wide * _INSET
    left, right, top, foot = left + inset, left + wide - inset, top + inset, foot - inset
    return Drawn(
        GLUE_AREA, ((left, top + inset / 4), (right, top + taper), (right, foot - taper), (left, foot - inset / 4))
    )


def _labels(
    walls: Sequence[Wall], xs: Sequence[Fraction], top: Fraction, foot: Fraction, glue: Fraction
) -> Iterator[tuple[str, ExactPoint]]:
    for left, wall in zip(xs, walls, strict=False):
        for flap, hinge, out in ((wall.above, top, -1), (wall.below, foot, 1)):
            yield from ((name, (left + u, hinge + out * v)) for name, (u, v) in (flap.labels if flap else ()))
    yield GLUE_FLAP, (xs[-1] + glue / 2, (top + foot) / 2)
