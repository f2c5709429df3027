"""Parts that the cuts of a piece free all round: waste at its edge, and what was meant to stay."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import permutations

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.lines import drawn_points, outline_of
from foldwright.geometry.folding.meeting import area_of
from foldwright.geometry.folding.net import MEETS, Net
from foldwright.geometry.folding.snapping import apart, foot_on
from foldwright.geometry.scene import Point


def half_moon(blank: Blank) -> int:
    """The author's line, by number, that is a cut arc whose ends another cut joins, so that what lies between them
    falls out; 0 where there is none."""
    cuts = [one for one in blank.drawn if one.kind == "cut" and one.number and not one.doubtful]
    for arc, chord in permutations(cuts, 2):
        ends, its = ((points[0], points[-1]) for points in (drawn_points(arc), drawn_points(chord)))
        if arc.arc and all(any(apart(end, other) <= MEETS for other in its) for end in ends):
            return arc.number
    return 0


def loose_part(net: Net, blank: Blank) -> int | None:
    """The first panel, by number, that falls out and was hardly meant to: larger than what stays, or one with a name.

    What falls out at the edge and is smaller than what stays is the waste of a notch.
    """
    areas, edge = [area_of(panel.outline) for panel in net.panels], outline_of(blank)
    for number in net.loose:
        panel = net.panels[number]
        inside = not any(_on_edge(corner, edge) for corner in panel.outline)
        if areas[number] > areas[net.root] or (panel.name and inside):
            return number
    return None


def _on_edge(point: Point, edge: Sequence[Point]) -> bool:
    pairs = zip(edge, (*edge[1:], edge[0]), strict=True)
    return any(apart(point, foot_on(point, pair)) <= MEETS for pair in pairs)
