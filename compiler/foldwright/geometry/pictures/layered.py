"""What is punched through a folded piece goes through every layer that lies there."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.meeting import FLAT_ON, lies_in
from foldwright.geometry.folding.net import MEETS, Net
from foldwright.geometry.folding.space import dot
from foldwright.geometry.pictures.bending import Bending
from foldwright.geometry.scene import Point


def punched_through(bending: Bending, groups: int) -> Net:
    """The net with each opening also in the panels that lie on it when so many groups are folded; not where it would
    only notch one, or runs into what is open there."""
    laid = bending.laid(groups)
    panels = [
        replace(panel, openings=(*panel.openings, *_from_others(laid, number)))
        for number, panel in enumerate(bending.net.panels)
    ]
    return replace(bending.net, panels=tuple(panels))


def _from_others(laid: Folded, under: int) -> Iterator[tuple[Point, ...]]:
    """The openings of other panels that lie on a panel, as places of the blank."""
    from shapely.geometry import Polygon

    pose, panel = laid.poses[under], laid.net.panels[under]
    if pose is None:
        return
    shape, taken = Polygon(panel.outline), [Polygon(ring) for ring in panel.openings]
    for number, other in laid.panels:
        if number == under or abs(dot(laid.normal(number), pose.out)) < FLAT_ON:
            continue
        for ring in other.openings:
            spots = [lies_in(pose, laid.place(number, point)) for point in ring]
            hole = Polygon([(x, y) for x, y, _ in spots])
            free = shape.contains(hole) and not any(hole.intersects(one) for one in taken)
            if free and all(abs(off) <= MEETS for _, _, off in spots):
                taken.append(hole)
                yield tuple((x, y) for x, y, _ in spots)
