"""Glue on a piece in space: the areas that are drawn on its blank, as hatched sheets on its panels."""

from __future__ import annotations

from collections.abc import Iterator

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.lines import drawn_points
from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.space import plus, times
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.scene import LineKind

_ON_TOP = 0.15
"""Millimetres above the panel: less than a layer that is stuck on it."""
_SMALL = 1.0
"""Square millimetres: less is no place for glue."""


def glue_on(shape: Folded, blank: Blank, paper: int) -> Iterator[Leaf]:
    """The glue areas of a blank, on the good side of its panels, each cut where a fold runs through it."""
    areas = [drawn_points(line) for line in blank.drawn if line.kind == "glue area" and not line.doubtful]
    if not areas or shape.net.curved:
        return
    from shapely.geometry import Polygon

    for number, panel in shape.panels:
        for area in areas:
            shared = Polygon(panel.outline).buffer(0).intersection(Polygon(area).buffer(0))
            if shared.geom_type != "Polygon" or shared.area < _SMALL:
                continue
            normal = shape.normal(number)
            ring = [plus(shape.place(number, (x, y)), times(normal, _ON_TOP)) for x, y in shared.exterior.coords[:-1]]
            yield Leaf(tuple(ring), normal, (LineKind.CREASE,) * len(ring), wet=True, paper=paper)
