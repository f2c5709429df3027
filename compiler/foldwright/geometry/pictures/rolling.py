"""A sheet bent or rolled: narrow strips of it, side by side on a round surface."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, sin

from foldwright.geometry.folding.net import Net
from foldwright.geometry.folding.space import Spot
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.scene import LineKind, Point

_STRIPS = 24
_LAP = 0.4
"""Millimetres by which strips overlap, so that nothing shows between them."""
ROLLED, CURLED, BENT = 1.0, 0.8, 0.22
"""How much of a whole turn a sheet makes: a tube, one that is being rolled, and a sheet that is only bent."""


def rolled(net: Net, turn: float, paper: int, radius: float | None = None) -> tuple[Leaf, ...]:
    """A sheet rolled about an upright line, its good side outside: `turn` of a whole turn, or a tube of some radius."""
    xs = [x for panel in net.panels for x, _ in panel.outline]
    ys = [y for panel in net.panels for _, y in panel.outline]
    left, wide = min(xs), max(xs) - min(xs)
    round_ = radius or wide / (2 * pi * turn)
    low = max(ys)

    def place(point: Point) -> Spot:
        angle = (point[0] - left - wide / 2) / round_
        # What lies on itself lies a hair further in, so that the end on top is the outer one.
        off = round_ - 0.4 * (point[0] - left) / wide
        return off * sin(angle), -off * cos(angle), low - point[1]

    return tuple(_leaves(net, left, wide, place, round_, paper))


def _leaves(net: Net, left: float, wide: float, place, round_: float, paper: int) -> Iterator[Leaf]:  # type: ignore[no-untyped-def]
    from shapely import Polygon, box

    for number in range(_STRIPS):
        one, other = left + wide * number / _STRIPS, left + wide * (number + 1) / _STRIPS
        angle = ((one + other) / 2 - left - wide / 2) / round_
        for panel in net.panels:
            part = Polygon(panel.outline, panel.openings).intersection(box(one, -1e6, other + _LAP, 1e6))
            for shape in getattr(part, "geoms", [part]):
                if shape.geom_type != "Polygon" or shape.area < 1e-6:
                    continue
                ring = list(shape.exterior.coords)[:-1]
                edges = tuple(_edge(a, b, left, wide) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))
                yield Leaf(tuple(map(place, ring)), (sin(angle), -cos(angle), 0.0), edges, paper=paper)


def _edge(one: Point, other: Point, left: float, wide: float) -> LineKind | None:
    """No line where one strip goes over into the next."""
    upright = abs(one[0] - other[0]) < 1e-6
    inside = left + 1e-6 < one[0] < left + wide - 1e-6
    return None if upright and inside else LineKind.CUT
