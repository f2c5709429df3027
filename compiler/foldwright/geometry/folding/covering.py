"""Flaps that come to lie across an opening once a piece is folded."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from foldwright.geometry.flat.blank import Blank, Opening
from foldwright.geometry.flat.lines import opening_outline
from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.net import MEETS
from foldwright.geometry.folding.space import Pose, Spot, dot, minus
from foldwright.geometry.scene import Point

_LEVEL = 1.0 - 1e-6
"""The cosine from which two panels count as parallel."""
_SMALL = 0.5
"""What is less than this part of the panel it lies on is a flap; a leaf that closes over another is meant to."""
_FOLDED_FLAT = 170.0
"""Degrees: from here a panel is folded onto its neighbour on purpose, as the leaf of a card is."""


class Covered(Struct, frozen=True):
    """An opening, the panel it is in and the flap across it, by number, and how far the flap reaches into it."""

    opening: Opening
    panel: int
    flap: int
    over: float


def covered_openings(folded: Folded, blank: Blank) -> Iterator[Covered]:
    """Every opening at most once, with the flap that reaches farthest into it."""
    openings = [one for one in blank.openings if not one.doubtful]
    if not openings:
        return
    from shapely.geometry import Point as Place
    from shapely.geometry import Polygon

    shapes = {number: Polygon(panel.outline) for number, panel in folded.panels}
    flat = {
        one for crease in folded.net.creases if abs(crease.angle) > _FOLDED_FLAT for one in (crease.one, crease.other)
    }
    for opening in openings:
        hole = Polygon(opening_outline(opening))
        middle = Place(hole.centroid)
        own = next((number for number, shape in shapes.items() if shape.buffer(MEETS).contains(middle)), None)
        if own is None or own in flat:
            continue
        found = []
        for number, panel in folded.panels:
            small = shapes[number].area < _SMALL * Polygon(shapes[own].exterior).area
            if number == own or number in flat or panel.openings or not (small or panel.name == "flap"):
                continue
            laid = _laid_on(folded, number, own)
            if laid is None:
                continue
            left, top, right, bottom = hole.intersection(Polygon(laid).buffer(0)).bounds or (0.0,) * 4
            found.append((min(right - left, bottom - top), number))
        over, flap = max(found, default=(0.0, 0))
        if over > MEETS:
            yield Covered(opening, own, flap, over)


def _laid_on(folded: Folded, panel: int, under: int) -> Sequence[Point] | None:
    """The outline of a panel where it lies on another one, as places of the other on the blank; None where it does
    not."""
    pose = folded.poses[under]
    assert pose is not None
    if abs(dot(folded.normal(panel), pose.out)) < _LEVEL:
        return None
    corners = folded.corners(panel)
    if any(abs(dot(minus(corner, pose.origin), pose.out)) > MEETS for corner in corners):
        return None
    return [_place_on(pose, corner) for corner in corners]


def _place_on(pose: Pose, spot: Spot) -> Point:
    off = minus(spot, pose.origin)
    return dot(off, pose.along), dot(off, pose.down)
