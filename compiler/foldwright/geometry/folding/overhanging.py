"""Flaps that are too long or too wide for where they lie: folded, they stand out of the shape."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.meeting import FLAT_ON, lies_in, tabs_of
from foldwright.geometry.folding.net import MEETS, Crease
from foldwright.geometry.folding.space import dot
from foldwright.geometry.scene import Point

if TYPE_CHECKING:
    from shapely.geometry import Polygon

_FOLDED_FLAT = 170.0
"""Degrees: what is folded onto its neighbour is a leaf or an envelope's flap, which is told with its sums."""


class LongFlap(Struct, frozen=True):
    """A flap, by number, the crease it hangs by, and how far it stands out, in millimetres."""

    flap: int
    crease: Crease
    over: float


def long_flaps(folded: Folded) -> Iterator[LongFlap]:
    """Every flap that reaches past what it lies on, or past the edge of a wall that ends where it lies.

    A large leaf counts as a flap only where it lies on another panel: a roof may reach over its walls. Half flaps that
    share the place they lie on are looked at together.
    """
    small = tabs_of(folded)
    for number, _ in folded.panels:
        creases = [one for one in folded.net.creases if number in (one.one, one.other)]
        if len(creases) != 1 or abs(creases[0].angle) > _FOLDED_FLAT or not creases[0].angle:
            continue
        under = _level_with(folded, number)
        own = _outline(folded, number, number)
        rests = any(shape.contains(own.representative_point()) for _, shape in under)
        if not rests and number not in small:
            continue
        over = _past_walls(folded, number, creases[0], own)
        if rests:
            over = max(over, _past_rests(own, [shape for _, shape in under]))
        if over > MEETS:
            yield LongFlap(number, creases[0], over)


def _outline(folded: Folded, panel: int, on: int) -> Polygon:
    """A panel as it lies in the plane of another, in places of that one on the blank."""
    from shapely.geometry import Polygon

    pose = folded.poses[on]
    assert pose is not None
    return Polygon([lies_in(pose, corner)[:2] for corner in folded.corners(panel)]).buffer(0)


def _level_with(folded: Folded, flap: int) -> list[tuple[int, Any]]:
    """The other panels in the plane of a flap, as they lie there."""
    pose = folded.poses[flap]
    assert pose is not None
    return [
        (number, _outline(folded, number, flap))
        for number, _ in folded.panels
        if number != flap
        and abs(dot(folded.normal(number), pose.out)) >= FLAT_ON
        and all(abs(lies_in(pose, corner)[2]) <= MEETS for corner in folded.corners(number))
    ]


def _past_rests(own: Polygon, under: list[Any]) -> float:
    """How far it reaches out of all that lies in its plane."""
    from shapely import union_all

    out = own.difference(union_all(under).buffer(MEETS, join_style="mitre"))
    beyond = [part for part in getattr(out, "geoms", [out]) if not part.is_empty]
    # Measured from what it lies on: the buffer is taken off again.
    rest = union_all(under)
    return max((_farthest(part, rest) for part in beyond), default=0.0)


def _farthest(part: Polygon, rest: Any) -> float:
    from shapely.geometry import Point as Place

    return float(max(rest.distance(Place(*corner)) for corner in part.exterior.coords))


def _past_walls(folded: Folded, flap: int, crease: Crease, own: Polygon) -> float:
    """How far it reaches past the edge of a panel that stands on its plane, seen from its own fold."""
    from shapely.geometry import LineString

    pose = folded.poses[flap]
    assert pose is not None
    held, inner, over = crease.across(flap), own.buffer(-MEETS), 0.0
    for number, _ in folded.panels:
        if number in (flap, held) or abs(dot(folded.normal(number), pose.out)) >= FLAT_ON:
            continue
        corners = [lies_in(pose, corner) for corner in folded.corners(number)]
        for start, end in zip(corners, (*corners[1:], corners[0]), strict=True):
            if abs(start[2]) > MEETS or abs(end[2]) > MEETS or not LineString([start[:2], end[:2]]).intersects(inner):
                continue
            over = max(over, _beyond(start[:2], end[:2], crease, own))
    return over


def _beyond(start: Point, end: Point, crease: Crease, own: Polygon) -> float:
    """How far an outline reaches to that side of a line on which the middle of its fold is not."""
    (ax, ay), (bx, by) = start, end
    long = hypot(bx - ax, by - ay)
    if long <= MEETS:
        return 0.0

    def side(x: float, y: float) -> float:
        return ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / long

    home = side((crease.start[0] + crease.end[0]) / 2, (crease.start[1] + crease.end[1]) / 2)
    if abs(home) <= MEETS:
        return 0.0
    return float(max(-side(x, y) if home > 0 else side(x, y) for x, y in own.exterior.coords))
