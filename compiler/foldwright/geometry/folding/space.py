"""Points and turns in space, in plain floats: x to the right, y down the blank, z towards who looks at the good side.

With y down this is a left-handed frame; all that is done in it (turning about a line, measuring) is told from the side.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians, sin, sqrt

from msgspec import Struct

from foldwright.geometry.scene import Point

type Spot = tuple[float, float, float]

_EXACT = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), -90.0: (0.0, -1.0), 180.0: (-1.0, 0.0), -180.0: (-1.0, 0.0)}
"""Cosine and sine of whole quarter turns, in degrees."""


class Pose(Struct, frozen=True):
    """Where a panel is: the three axes of the blank as they have been turned, and where its origin has gone."""

    along: Spot
    down: Spot
    out: Spot
    origin: Spot

    def place(self, point: Point) -> Spot:
        """A point of the flat blank in space."""
        (ax, ay, az), (bx, by, bz), (ox, oy, oz) = self.along, self.down, self.origin
        x, y = point
        return ax * x + bx * y + ox, ay * x + by * y + oy, az * x + bz * y + oz


FLAT = Pose((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.0, 0.0, 0.0))


def minus(one: Spot, other: Spot) -> Spot:
    """The way from the other spot to the one."""
    return one[0] - other[0], one[1] - other[1], one[2] - other[2]


def plus(one: Spot, other: Spot) -> Spot:
    """A spot moved by another."""
    return one[0] + other[0], one[1] + other[1], one[2] + other[2]


def times(spot: Spot, by: float) -> Spot:
    """A spot so many times as far from the origin."""
    return spot[0] * by, spot[1] * by, spot[2] * by


def dot(one: Spot, other: Spot) -> float:
    """The scalar product."""
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def cross(one: Spot, other: Spot) -> Spot:
    """The vector product: upright on both, right-handed."""
    return (
        one[1] * other[2] - one[2] * other[1],
        one[2] * other[0] - one[0] * other[2],
        one[0] * other[1] - one[1] * other[0],
    )


def length(spot: Spot) -> float:
    """How far from the origin."""
    return sqrt(dot(spot, spot))


def distance(one: Spot, other: Spot) -> float:
    """How far apart."""
    return length(minus(one, other))


def unit(spot: Spot) -> Spot:
    """The same way, of length 1. Raises ZeroDivisionError for the origin."""
    return times(spot, 1.0 / length(spot))


def turner(axis: Spot, degrees: float) -> Callable[[Spot], Spot]:
    """What turns directions about a unit axis (Rodrigues' formula); quarter and half turns come out exact."""
    c, s = _EXACT.get(degrees) or (cos(radians(degrees)), sin(radians(degrees)))
    x, y, z = axis
    rest = 1.0 - c

    def turned(spot: Spot) -> Spot:
        px, py, pz = spot
        along = (x * px + y * py + z * pz) * rest
        return (
            px * c + (y * pz - z * py) * s + x * along,
            py * c + (z * px - x * pz) * s + y * along,
            pz * c + (x * py - y * px) * s + z * along,
        )

    return turned


def hinged(pose: Pose, start: Point, end: Point, degrees: float) -> Pose:
    """The pose of a panel that hangs on one with `pose` by the line from `start` to `end`, folded by so much.

    Seen from the good side with the line running away, the panel on the left is turned: towards the viewer for an angle
    above nothing.
    """
    one, other = pose.place(start), pose.place(end)
    turned = turner(unit(minus(other, one)), degrees)
    arm = turned(minus(pose.origin, one))
    return Pose(turned(pose.along), turned(pose.down), turned(pose.out), plus(one, arm))
