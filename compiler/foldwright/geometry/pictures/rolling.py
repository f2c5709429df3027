"""A sheet bent or rolled: narrow strips of it, side by side on a round surface."""

from __future__ import annotations

from math import cos, pi, sin

from msgspec import Struct

from foldwright.geometry.folding.net import Net
from foldwright.geometry.folding.space import Spot
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.scene import LineKind, Point

_STRIPS = 24
_LAP = 0.4
"""Millimetres by which strips overlap, so that nothing shows between them."""
_WOUND = 0.4
"""Millimetres by which one end of a rolled sheet lies further in than the other."""
_FAR, _NOTHING = 1e6, 1e-6
"""Millimetres farther than any sheet reaches, and an area below which there is nothing."""
ROLLED, CURLED, BENT = 1.0, 0.8, 0.22
"""How much of a whole turn a sheet makes: a tube, one that is being rolled, and a sheet that is only bent."""


class _Rolling(Struct, frozen=True):
    """A sheet from `left` on, so wide, on a round surface of some radius; its lower edge is at `low` on the blank."""

    left: float
    wide: float
    radius: float
    low: float

    def spot(self, point: Point, one: float, other: float) -> Spot:
        """A place of the strip between two lines of the sheet, which is flat from one to the other."""
        part = (point[0] - one) / (other - one)
        (ax, ay), (bx, by) = self._round(one), self._round(other)
        return ax + (bx - ax) * part, ay + (by - ay) * part, self.low - point[1]

    def angle(self, x: float) -> float:
        return (x - self.left - self.wide / 2) / self.radius

    def _round(self, x: float) -> Point:
        # What lies on itself lies a hair further in, so that the end on top is the outer one.
        radius, angle = self.radius - _WOUND * (x - self.left) / self.wide, self.angle(x)
        return radius * sin(angle), -radius * cos(angle)


def rolled(net: Net, turn: float, paper: int, radius: float | None = None) -> tuple[Leaf, ...]:
    """A sheet rolled about an upright line, its good side outside: `turn` of a whole turn, or a tube of some radius."""
    from shapely import Polygon, box

    xs = [x for panel in net.panels for x, _ in panel.outline]
    left, wide = min(xs), max(xs) - min(xs)
    low = max(y for panel in net.panels for _, y in panel.outline)
    roll = _Rolling(left, wide, radius or wide / (2 * pi * turn), low)
    found: list[Leaf] = []
    for number in range(_STRIPS):
        one, other = left + wide * number / _STRIPS, left + wide * (number + 1) / _STRIPS
        angle = roll.angle((one + other) / 2)
        for panel in net.panels:
            part = Polygon(panel.outline, panel.openings).intersection(box(one, -_FAR, other + _LAP, _FAR))
            for shape in getattr(part, "geoms", [part]):
                if shape.geom_type != "Polygon" or shape.area < _NOTHING:
                    continue
                ring = list(shape.exterior.coords)[:-1]
                edges = tuple(_edge(a, b, left, wide) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))
                spots = tuple(roll.spot(point, one, other) for point in ring)
                found.append(Leaf(spots, (sin(angle), -cos(angle), 0.0), edges, paper=paper, piece=net.piece))
    return tuple(found)


def _edge(one: Point, other: Point, left: float, wide: float) -> LineKind | None:
    """No line where one strip goes over into the next."""
    upright = abs(one[0] - other[0]) < 1e-6
    inside = left + 1e-6 < one[0] < left + wide - 1e-6
    return None if upright and inside else LineKind.CUT
