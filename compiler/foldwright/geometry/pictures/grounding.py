"""What lies in shadow on the table round a thing that stands on it."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from foldwright.geometry.folding.space import Spot
from foldwright.geometry.pictures.view import View
from foldwright.geometry.scene import Point

_TOUCHES = 1.0
"""Millimetres above the table: what comes so near to it stands on it."""
_ROUND = (0.008, 0.02, 0.034, 0.05, 0.068)
"""As parts of how far what stands reaches: by how much a shadow goes round it, from its dark to its pale edge."""
_CAST = (0.06, 0.075, 0.09, 0.105, 0.12)
"""How far it falls away from the light, as parts of the same."""
_FALLS = (0.61, 0.79)
"""Away from the light, which comes from the front and one side (`view._LIGHT`)."""


def ground_of(outlines: Sequence[Sequence[Spot]], view: View) -> tuple[tuple[Point, ...], ...]:
    """The shadow of flat parts in space as closed outlines in the picture, its dark first; none of what is held."""
    import numpy
    import shapely

    low = min((spot[2] for ring in outlines for spot in ring), default=inf)
    if low > _TOUCHES:
        return ()
    standing = [[spot[:2] for spot in ring] for ring in outlines if min(spot[2] for spot in ring) < low + _TOUCHES]
    xs, ys = zip(*(spot for ring in standing for spot in ring), strict=True)
    reach = max(max(xs) - min(xs), max(ys) - min(ys))
    right, back = (-_FALLS[0] if view.lit_from_right else _FALLS[0]), _FALLS[1]
    rings = [number for number, ring in enumerate(standing) for _ in (*ring, *ring)]
    found: list[tuple[Point, ...]] = []
    for wider, cast in zip(_ROUND, _CAST, strict=True):
        over, up = right * cast * reach, back * cast * reach
        # All parts at once: asked one by one, most of the time goes into the asking.
        corners = [spot for ring in standing for spot in (*ring, *((x + over, y + up) for x, y in ring))]
        swept = shapely.convex_hull(shapely.multipoints(shapely.points(corners), indices=rings))
        # What GEOS divides by nothing on its way it looks at itself; numpy would warn of it.
        with numpy.errstate(divide="ignore", invalid="ignore"):
            fallen = shapely.union_all(shapely.buffer(swept, wider * reach, quad_segs=4))
        for part in getattr(fallen, "geoms", (fallen,)):
            outline = shapely.Polygon(part.exterior).simplify(0.002 * reach)
            found.append(tuple(view.point((x, y, low)) for x, y in outline.exterior.coords[:-1]))
    return tuple(found)
