"""A card in slots: what of it lies under half-moons, or beyond slits across its corners, is not seen."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import Any

from foldwright.geometry.scene import Point

_FAR = 10.0
"""How far past a slit the paper that hides a corner is taken to reach, as a part of the slit."""

type Rings = tuple[tuple[Point, ...], ...]


def seen_of(card: Sequence[Point], slits: Sequence[Sequence[Point]]) -> Rings:
    """The outline of what is seen of a card, and of what is hidden inside of that; `slits` are the cuts in the sheet it
    lies on, straight ones of two points and the curves of half-moons. All in the millimetres of one plane."""
    from shapely.geometry import Polygon

    left: Any = Polygon(card)
    middle = left.centroid.coords[0]
    for slit in slits:
        hidden = Polygon(slit if len(slit) > 2 else _beyond(slit, middle)).buffer(0)
        without = left.difference(hidden)
        # A straight slit hides a corner; one that runs through the middle of a card, or beside it, holds nothing.
        if without.geom_type == "Polygon" and not without.is_empty:
            left = without
    rings = (left.exterior, *left.interiors)
    return tuple(tuple((x, y) for x, y in ring.coords[:-1]) for ring in rings)


def _beyond(slit: Sequence[Point], middle: Point) -> tuple[Point, ...]:
    """The paper on the far side of a straight slit, seen from the middle of the card."""
    (ax, ay), (bx, by) = slit
    long = hypot(bx - ax, by - ay)
    side = 1.0 if (bx - ax) * (middle[1] - ay) - (by - ay) * (middle[0] - ax) < 0 else -1.0
    way = -side * (by - ay) / long, side * (bx - ax) / long
    off = way[0] * long * _FAR, way[1] * long * _FAR
    return (ax, ay), (bx, by), (bx + off[0], by + off[1]), (ax + off[0], ay + off[1])
