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
_HOLLOW = 1e-6
"""As a part of its hull: what is less is none."""


def ground_of(outlines: Sequence[Sequence[Spot]], view: View) -> tuple[tuple[Point, ...], ...]:
    """The shadow of flat parts in space as closed outlines in the picture, its dark first; none of what is held."""
    import numpy
    import shapely

    low = min((spot[2] for ring in outlines for spot in ring), default=inf)
    if low > _TOUCHES:
        return ()
    standing = [[spot[:2] for spot in ring] for ring in outlines if min(spot[2] for spot in ring) < low + _TOUCHES]
    standing = _without_seams(standing)
    corners = numpy.array([spot for ring in standing for spot in ring])
    reach = float(numpy.ptp(corners, axis=0).max())
    away = (-_FALLS[0] if view.lit_from_right else _FALLS[0]) * reach, _FALLS[1] * reach
    # All parts of all five at once: asked one by one, most of the time goes into the asking.
    cast = corners + numpy.outer(_CAST, away)[:, None]
    swept = numpy.stack((numpy.broadcast_to(corners, cast.shape), cast), axis=2).reshape(-1, 2)
    part_of = numpy.repeat(numpy.arange(len(standing)), [2 * len(ring) for ring in standing])
    parts = numpy.concatenate([part_of + level * len(standing) for level in range(len(_CAST))])
    hulls = shapely.convex_hull(shapely.linestrings(swept, indices=parts)).reshape(len(_CAST), -1)
    # What GEOS divides by nothing on its way it looks at itself; numpy would warn of it.
    with numpy.errstate(divide="ignore", invalid="ignore"):
        fallen = shapely.buffer(shapely.union_all(hulls, axis=1), numpy.multiply(_ROUND, reach), quad_segs=4)
    whole = shapely.polygons(shapely.get_exterior_ring(shapely.get_parts(fallen)))
    around, ring_of = shapely.get_coordinates(shapely.simplify(whole, 0.002 * reach), return_index=True)
    rings: list[list[Point]] = [[] for _ in whole]
    for ring, (x, y) in zip(ring_of.tolist(), around.tolist(), strict=True):
        rings[ring].append(view.point((x, y, low)))
    return tuple(tuple(ring[:-1]) for ring in rings)


def _without_seams(standing: list[list[Point]]) -> list[list[Point]]:
    """What stands on the table as one part, if that has no hollows: most boxes have none."""
    import shapely

    parts = [number for number, ring in enumerate(standing) for _ in ring]
    corners = [spot for ring in standing for spot in ring]
    whole = shapely.union_all(shapely.convex_hull(shapely.linestrings(corners, indices=parts)))
    hull = shapely.convex_hull(whole)
    return [hull.exterior.coords[:-1]] if hull.area - whole.area < _HOLLOW * hull.area else standing
