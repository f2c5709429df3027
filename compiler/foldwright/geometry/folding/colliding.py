"""Panels of a folded shape that run through one another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.space import Spot, cross, dot, length, minus, times, unit

_THROUGH = 1e-6
"""As a part of the blank: panels that touch, or lie in one another by less, do not run into each other."""
_PARALLEL = 1e-9

type _Box = tuple[Spot, Spot]


def collisions(folded: Folded) -> Iterator[tuple[int, int]]:
    """Every two panels that pass through each other. Those that lie flat on one another or meet at an edge do not."""
    margin = _THROUGH * folded.net.size
    shapes = [(number, folded.corners(number), folded.normal(number)) for number, _ in folded.panels]
    boxes = {number: _box(corners) for number, corners, _ in shapes}
    hinged = {frozenset((crease.one, crease.other)) for crease in folded.net.creases}
    for (one, corners, normal), (other, its_corners, its_normal) in combinations(shapes, 2):
        if frozenset((one, other)) in hinged or not _boxes_meet(boxes[one], boxes[other], margin):
            continue
        if _run_through(corners, normal, its_corners, its_normal, margin):
            yield one, other


def _box(corners: Sequence[Spot]) -> _Box:
    xs, ys, zs = zip(*corners, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


def _boxes_meet(one: _Box, other: _Box, margin: float) -> bool:
    return all(
        low <= its_high + margin and its_low <= high + margin
        for low, high, its_low, its_high in zip(*one, *other, strict=True)
    )


def _run_through(one: Sequence[Spot], normal: Spot, other: Sequence[Spot], its_normal: Spot, margin: float) -> bool:
    """Each reaches to both sides of the other's plane, and on the line the planes share both are there at a time."""
    way = cross(normal, its_normal)
    if length(way) < _PARALLEL:
        return False
    way = unit(way)
    mine = _stretches(one, other[0], its_normal, way, margin)
    its = _stretches(other, one[0], normal, way, margin)
    return any(min(end, its_end) - max(start, its_start) > margin for start, end in mine for its_start, its_end in its)


def _stretches(corners: Sequence[Spot], on: Spot, normal: Spot, way: Spot, margin: float) -> list[tuple[float, float]]:
    """Where a panel crosses a plane, as stretches along the line of crossing; none when it only touches it."""
    sides = [dot(minus(corner, on), normal) for corner in corners]
    if max(sides) <= margin or min(sides) >= -margin:
        return []
    places = []
    for at, (side, corner) in enumerate(zip(sides, corners, strict=True)):
        following = (at + 1) % len(corners)
        if (side >= 0) != (sides[following] >= 0):
            part = side / (side - sides[following])
            step = times(minus(corners[following], corner), part)
            places.append(dot((corner[0] + step[0], corner[1] + step[1], corner[2] + step[2]), way))
    places.sort()
    return list(zip(places[::2], places[1::2], strict=False))
