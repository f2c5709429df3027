"""The box that stays free inside a piece whose folds are drawn, once it is folded."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations

from foldwright.geometry.flat.points import kept
from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.meeting import FLAT_ON, tabs_of
from foldwright.geometry.folding.net import MEETS
from foldwright.geometry.folding.space import Spot
from foldwright.geometry.together.rooms import FreeRoom

_CLOSED = 0.5
"""A side is there when panels cover so much of it."""


def free_box(folded: Folded) -> FreeRoom | None:
    """None where its walls do not stand square to each other, or something stands between them."""
    planes = [_planes(folded, axis) for axis in range(3)]
    flaps = tabs_of(folded)
    upright = {number for levels in planes for _, panels in levels for number in panels}
    if any(number not in upright and number not in flaps for number, _ in folded.panels):
        return None
    found: list[tuple[Fraction, Fraction, int]] = []
    low, high = folded.extent
    for axis, levels in enumerate(planes):
        sides = [(at, panels) for at, panels in levels if _covered(folded, panels, axis, low, high) >= _CLOSED]
        if (
            not sides
            or len(sides) > 2
            or any(set(panels) - flaps for at, panels in levels if (at, panels) not in sides)
        ):
            return None
        layers = [_most_layers(folded, panels, axis) for _, panels in sides]
        ends = [at for at, _ in sides]
        long = max(ends) - min(ends) if len(sides) == 2 else _reach(folded, ends[0], axis, flaps)
        # Half of the outermost card on either side lies outside of its fold.
        found.append((kept(long, 10_000), sum(layers, Fraction(0)) - Fraction(len(sides), 2), len(sides)))
    if sum(count for _, _, count in found) < 5:
        return None
    found.sort(key=lambda one: -one[2])
    sizes, layers_of, counts = zip(*found, strict=True)
    return FreeRoom(sizes, layers_of, sum(counts) == 6)


def _planes(folded: Folded, axis: int) -> list[tuple[float, list[int]]]:
    """The panels that stand square to an axis, together where they lie at the same place of it."""
    levels: list[tuple[float, list[int]]] = []
    for number, _ in folded.panels:
        if abs(folded.normal(number)[axis]) < FLAT_ON:
            continue
        at = folded.corners(number)[0][axis]
        level = next((panels for where, panels in levels if abs(where - at) <= MEETS), None)
        if level is None:
            levels.append((at, [number]))
        else:
            level.append(number)
    return levels


def _seen(corners: Sequence[Spot], axis: int) -> list[tuple[float, float]]:
    return [(spot[(axis + 1) % 3], spot[(axis + 2) % 3]) for spot in corners]


def _covered(folded: Folded, panels: Sequence[int], axis: int, low: Spot, high: Spot) -> float:
    """The part of a side that its panels cover."""
    from shapely import union_all
    from shapely.geometry import Polygon

    whole = 1.0
    for other in range(3):
        whole *= 1.0 if other == axis else high[other] - low[other]
    area = union_all([Polygon(_seen(folded.corners(number), axis)) for number in panels]).area
    return float(area) / whole if whole else 0.0


def _most_layers(folded: Folded, panels: Sequence[int], axis: int) -> Fraction:
    """How many panels lie on one another at most."""
    from shapely.geometry import Polygon

    shapes = [Polygon(_seen(folded.corners(number), axis)).buffer(-MEETS) for number in panels]
    shapes = [shape for shape in shapes if not shape.is_empty]
    places = [shape.representative_point() for shape in shapes]
    overlaps = (one.intersection(other) for one, other in combinations(shapes, 2))
    places += [overlap.representative_point() for overlap in overlaps if not overlap.is_empty]
    return Fraction(max((sum(shape.contains(place) for shape in shapes) for place in places), default=1))


def _reach(folded: Folded, start: float, axis: int, flaps: frozenset[int]) -> float:
    """How far the lowest of the walls reaches that stand on the only side there is."""
    ends = [
        max(abs(spot[axis] - start) for spot in folded.corners(number))
        for number, _ in folded.panels
        if number not in flaps and abs(folded.normal(number)[axis]) < FLAT_ON
    ]
    return min(ends, default=0.0)
