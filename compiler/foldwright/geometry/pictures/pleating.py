"""A rosette on its way: a strip in pleats, the ring of it standing, the ring pressed flat.

No flat pleat can be twisted by a right angle, as paper does a little: each is drawn as two triangles, with its folds as
long as they are but for a hair.
"""

from __future__ import annotations

from math import cos, pi, radians, sin, sqrt

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.net import Net, Panel
from foldwright.geometry.folding.space import Pose, Spot, cross, minus, plus, times, unit
from foldwright.geometry.scene import Point

_STEEP = 70.0
"""Degrees by which a pleat leans when the strip is pleated and not yet closed to a ring."""
_CLOSED = 0.5
"""The part of the way from which on the ends are glued together."""


def pleated(net: Net, part: float) -> Folded:
    """Every triangle of a rosette where it is at that part of the way; the good side of the finished thing looks up."""
    shape = _Rosette(net)
    return Folded(net, tuple(_pose_of(panel, shape, part) for panel in net.panels))


def _pose_of(panel: Panel, shape: _Rosette, part: float) -> Pose:
    """What sends the three corners of a triangle to their places: it may stretch it by a hair."""
    (x0, y0), (x1, y1), (x2, y2) = panel.outline[:3]
    s0, s1, s2 = (shape.spot(corner, part) for corner in panel.outline[:3])
    one, other = minus(s1, s0), minus(s2, s0)
    whole = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
    along = times(minus(times(one, y2 - y0), times(other, y1 - y0)), 1 / whole)
    down = times(minus(times(other, x1 - x0), times(one, x2 - x0)), 1 / whole)
    origin = minus(s0, plus(times(along, x0), times(down, y0)))
    return Pose(along, down, unit(cross(along, down)), origin)


class _Rosette:
    def __init__(self, net: Net) -> None:
        corners = {corner for panel in net.panels for corner in panel.outline}
        wide, high = (max(corner[axis] for corner in corners) for axis in (0, 1))
        folds = [crease for crease in net.creases if not crease.smooth]
        self.upright = all(abs(one.start[0] - one.end[0]) < abs(one.start[1] - one.end[1]) for one in folds)
        self.high = high if self.upright else wide
        self.folds = sorted({round(self._flat(corner)[0], 6) for corner in corners})
        self.pleat = max(self.folds) / (len(self.folds) - 1)
        pleats = len(self.folds) - 1
        # With an odd number the last pleat lies on the first.
        self.turn = 2 * pi / (pleats - pleats % 2)

    def _flat(self, corner: Point) -> Point:
        """How far along the strip, and how far across it."""
        return corner if self.upright else (corner[1], corner[0])

    def spot(self, corner: Point, part: float) -> Spot:
        along, across = self._flat(corner)
        number = min(range(len(self.folds)), key=lambda at: abs(self.folds[at] - along))
        side = 1.0 if number % 2 else -1.0
        if part < _CLOSED:
            lean = radians(_STEEP * part / _CLOSED)
            x, y, z = along * cos(lean), across, side * self.pleat / 2 * sin(lean)
            return (x, y, z) if self.upright else (y, x, z)
        return self._in_ring(number, side, across, radians(90.0 * (part - _CLOSED) / (1.0 - _CLOSED)))

    def _in_ring(self, number: int, side: float, across: float, down: float) -> Spot:
        """The middles of the folds stay on one circle; `down` is how far they have turned from upright, in radians.

        The upper edge of the strip goes out, the lower one to the middle. A pleat is as deep as is left of it where the
        circle asks for less.
        """
        middle = self.high / 2
        off = middle - across
        radius = middle + off * sin(down)
        chord = 2 * radius * sin(self.turn / 2)
        deep = sqrt(max(0.0, self.pleat * self.pleat - chord * chord)) / 2
        radius += side * deep * cos(down)
        return (
            radius * cos(number * self.turn),
            radius * sin(number * self.turn),
            -off * cos(down) + side * deep * sin(down),
        )


def level_of(under: Blank, good: bool) -> Folded:
    """A level panel over the middle of a rosette, or under it, for what is laid on it there."""
    wide, high = float(under.width), float(under.height)
    _, strips = under.main_row
    top = float(max(strip.long for strip in strips)) / 2
    panel = Panel("", ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)))
    pose = Pose((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (-wide / 2, -high / 2, top if good else -top))
    return Folded(Net(under.piece, (panel,), (), 0, max(wide, high)), (pose,))
