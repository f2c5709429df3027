"""Half-moon slots: curved cuts under whose tabs the edges or corners of a card are pushed.

A half-moon stays joined along the straight line between its ends and lifts along its curve. What is pushed under one
whose curve looks away from the middle has to reach past its straight line, and goes no farther than the top of the
curve. One whose curve looks to the middle lies over the edge: the straight line stays outside, the curve reaches over.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from msgspec import Struct

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.points import floats
from foldwright.geometry.scene import Point

_LEAST_HELD = 1.0
"""Millimetres: what reaches less far under a half-moon slips out (common practice, no source)."""
_OPPOSITE = -0.7
"""The cosine from which two half-moons face away from each other."""


class SlotFit(Struct, frozen=True):
    """How a card lies under its half-moons: `over` is how far it would have to go past the top of the tightest (below
    nothing: so much is left), `held` how far it reaches under the one that holds it least, in millimetres."""

    over: float
    held: float

    @property
    def fits(self) -> bool:
        return self.over <= 0.5 and self.held >= _LEAST_HELD


class _Moon(Struct, frozen=True):
    """The middle of its straight line, which way its curve lies, half its width, and how deep it is."""

    middle: Point
    way: Point
    half: float
    deep: float


def slot_fit(blank: Blank, wide: float, high: float) -> SlotFit | None:
    """How a card of this size (mm) lies under the half-moons of a piece, either way, the better; None without any."""
    moons = _moons(blank)
    if len(moons) < 2 or not any(_dot(one.way, other.way) <= _OPPOSITE for one in moons for other in moons):
        return None
    ways = [_fit(moons, *size) for size in ((wide, high), (high, wide))]
    return min(ways, key=lambda one: (not one.fits, max(one.over, _LEAST_HELD - one.held)))


def _moons(blank: Blank) -> list[_Moon]:
    found = []
    for line in blank.drawn:
        if line.kind != "cut" or not line.arc or line.doubtful:
            continue
        (ax, ay), top, (bx, by) = floats(line.points)
        if any(_at_the_edge(x, y, blank) for x, y in ((ax, ay), (bx, by))):
            continue
        middle = ((ax + bx) / 2, (ay + by) / 2)
        off = top[0] - middle[0], top[1] - middle[1]
        deep = hypot(*off)
        if deep > 0:
            found.append(_Moon(middle, (off[0] / deep, off[1] / deep), hypot(ax - bx, ay - by) / 2, deep))
    return found


def _at_the_edge(x: float, y: float, blank: Blank) -> bool:
    """A curve that begins at the edge is a notch for a thumb."""
    return min(x, y, float(blank.width) - x, float(blank.height) - y) <= 0.3


def _fit(moons: Sequence[_Moon], wide: float, high: float) -> SlotFit:
    """With the card in the middle of them all."""
    x = sum(moon.middle[0] for moon in moons) / len(moons)
    y = sum(moon.middle[1] for moon in moons) / len(moons)
    corners = [(x + wide / 2 * right, y + high / 2 * down) for right, down in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    overs, helds = [], []
    for moon in moons:
        if _dot(moon.way, (x - moon.middle[0], y - moon.middle[1])) > 0:
            begins = _begins(moon, corners)
            overs.append(-begins)
            helds.append(moon.deep - begins)
        else:
            reach = _reach(moon, corners)
            overs.append(reach - moon.deep)
            helds.append(reach)
    return SlotFit(max(overs), min(helds))


def _reach(moon: _Moon, corners: Sequence[Point]) -> float:
    """How far past its straight line a card reaches between the two ends of it; below nothing where it stays before."""
    return max(_passing(moon, corners), default=-moon.deep)


def _begins(moon: _Moon, corners: Sequence[Point]) -> float:
    """How far past its straight line a card begins; past its curve where it does not lie before it at all."""
    return min(_passing(moon, corners), default=2 * moon.deep)


def _passing(moon: _Moon, corners: Sequence[Point]) -> list[float]:
    """How far past its straight line the edges of a card are at either end of what they share with it."""
    places: list[float] = []
    for start, end in zip(corners, (*corners[1:], corners[0]), strict=True):
        one, other = (_seen(moon, point) for point in (start, end))
        # The part of this edge that lies between the ends of the half-moon.
        places += [one[1] + (other[1] - one[1]) * part for part in _between(one[0], other[0], moon.half)]
    return places


def _seen(moon: _Moon, point: Point) -> Point:
    """A place as the half-moon sees it: along its straight line, and past it."""
    off = point[0] - moon.middle[0], point[1] - moon.middle[1]
    return off[0] * -moon.way[1] + off[1] * moon.way[0], _dot(off, moon.way)


def _between(start: float, end: float, half: float) -> list[float]:
    """The ends of that part of a stretch that lies no farther than `half` from 0, each as a part of the stretch."""
    if abs(end - start) < 1e-9:
        return [0.0, 1.0] if abs(start) <= half else []
    parts = sorted((side - start) / (end - start) for side in (-half, half))
    low, high = max(0.0, parts[0]), min(1.0, parts[1])
    return [low, high] if low <= high else []


def _dot(one: Point, other: Point) -> float:
    return one[0] * other[0] + one[1] * other[1]
