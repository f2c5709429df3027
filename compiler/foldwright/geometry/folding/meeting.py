"""Edges that should meet once a piece is folded, and how far apart they stay."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.net import MEETS
from foldwright.geometry.folding.space import Spot, distance, dot
from foldwright.geometry.scene import Point

_NEARLY = 0.03
"""Edges that stay this near, as a part of their length, were meant to meet; a wider opening is one that was meant."""
_LEVEL = 1.0 - 1e-9
"""The cosine from which two panels count as parallel."""


class Gap(Struct, frozen=True):
    """Two panels, by number, the edges of which nearly meet, and how far apart they are in millimetres."""

    one: int
    other: int
    apart: float


def closing_gap(folded: Folded, first: int, last: int, side: str) -> float:
    """How far the free edge of the first panel of a row stays from the end of the last wall, in millimetres.

    `side` is the one the row runs along. Where both ends of the edge are off, the larger.
    """
    start, end = _ends(folded, first, side, first=True), _ends(folded, last, side, first=False)
    return max(distance(one, other) for one, other in zip(start, end, strict=True))


def _ends(folded: Folded, panel: int, side: str, first: bool) -> tuple[Spot, Spot]:
    """The two ends of the outer edge of a panel, in the order of the other side."""
    points = folded.net.panels[panel].outline
    axis = 0 if side == "across" else 1
    outer = (min if first else max)(point[axis] for point in points)
    on_edge = sorted((point for point in points if abs(point[axis] - outer) < 1e-6), key=lambda point: point[1 - axis])
    return folded.place(panel, on_edge[0]), folded.place(panel, on_edge[-1])


def near_misses(folded: Folded) -> Iterator[Gap]:
    """Free edges as long as each other that lie side by side and do not quite meet, each pair once.

    Only of panels that stand at an angle to each other, as the sides of a solid do. Leaves that lie flat on one
    another, and flaps that meet in one plane, are a little short on purpose.
    """
    edges = list(_free_edges(folded))
    for number, (one, start, end) in enumerate(edges):
        for other, its_start, its_end in edges[:number]:
            if one == other or _parallel(folded, one, other):
                continue
            long, its_long = distance(start, end), distance(its_start, its_end)
            # Two edges that meet run against each other, as the outlines of neighbours do.
            apart = max(distance(start, its_end), distance(end, its_start))
            if abs(long - its_long) <= _NEARLY * long and MEETS < apart <= _NEARLY * long:
                yield Gap(other, one, apart)


def _parallel(folded: Folded, one: int, other: int) -> bool:
    return abs(dot(folded.normal(one), folded.normal(other))) > _LEVEL


def _free_edges(folded: Folded) -> Iterator[tuple[int, Spot, Spot]]:
    for number, panel in folded.panels:
        creases = [one for one in folded.net.creases if number in (one.one, one.other)]
        for start, end in zip(panel.outline, (*panel.outline[1:], panel.outline[0]), strict=True):
            middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
            if not any(_between(middle, one.start, one.end) for one in creases):
                yield number, folded.place(number, start), folded.place(number, end)


def _between(point: Point, start: Point, end: Point) -> bool:
    dx, dy = end[0] - start[0], end[1] - start[1]
    px, py = point[0] - start[0], point[1] - start[1]
    long = dx * dx + dy * dy
    return abs(dx * py - dy * px) < 1e-6 * long and -1e-6 < (dx * px + dy * py) / long < 1 + 1e-6
