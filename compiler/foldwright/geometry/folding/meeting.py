"""Edges that should meet once a piece is folded, and how far apart they stay."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from msgspec import Struct

from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.net import MEETS, Crease, Net
from foldwright.geometry.folding.space import Spot, distance, dot
from foldwright.geometry.scene import Point

_NEARLY = 0.03
"""Edges that stay this near, as a part of their length, were meant to meet; a wider opening is one that was meant."""
_CLOSING = 0.1
"""The same where at least half of all edges do meet: a solid that closes was meant to close all round."""
_SLACK = 1.5
"""Millimetres a lid with a flap to tuck in may be short on purpose (common practice, no source)."""
_TAB = 0.5
"""What is smaller than this part of the panel it hangs on is a flap, not a side."""
_LEVEL = 1.0 - 1e-9
"""The cosine from which two panels count as parallel."""


class EdgeGap(Struct, frozen=True):
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


def near_misses(folded: Folded) -> Iterator[EdgeGap]:
    """Edges as long as each other that lie side by side and do not quite meet, each pair once.

    Only of panels that stand at an angle to each other, as the sides of a solid do. Leaves that lie flat on one
    another, and flaps that meet in one plane, are a little short on purpose. Where most edges do meet it is a solid
    that closes, and a wider opening was not meant either; but a lid that hangs on by a flap may have some slack.
    """
    rims = list(_rims(folded))
    pairs = [(pair, _apart(*pair)) for pair in _beside(folded, rims)]
    met = {rim for pair, apart in pairs if apart <= MEETS for rim in pair}
    closes = 2 * len(met) >= len(rims)
    for (one, other), apart in pairs:
        if one in met or other in met:
            continue
        part, tabbed = apart / max(_long(one), _long(other)), one.tabbed or other.tabbed
        if (part <= _NEARLY and not tabbed) or (closes and part <= _CLOSING and not (tabbed and apart <= _SLACK)):
            yield EdgeGap(other.panel, one.panel, apart)


def meeting_edges(folded: Folded) -> int:
    """How many pairs of edges meet, of panels that stand at an angle to each other."""
    return sum(_apart(*pair) <= MEETS for pair in _beside(folded, list(_rims(folded))))


class _Rim(Struct, frozen=True):
    """An edge of a panel that no other panel is hinged to, or none but a flap (`tabbed`)."""

    panel: int
    start: Spot
    end: Spot
    tabbed: bool


def _beside(folded: Folded, rims: Sequence[_Rim]) -> Iterator[tuple[_Rim, _Rim]]:
    """Pairs of edges of about one length, near enough to be asked about, of panels at an angle."""
    twice_the_middles = [tuple(map(sum, zip(rim.start, rim.end, strict=True))) for rim in rims]
    for number, one in enumerate(rims):
        reach = _CLOSING * _long(one)
        x, y, z = twice_the_middles[number]
        for other, (across, down, up) in zip(rims[:number], twice_the_middles, strict=False):
            # The middles lie no farther apart than the ends; nearly all pairs are told apart by that.
            if abs(across - x) > 2 * reach or abs(down - y) > 2 * reach or abs(up - z) > 2 * reach:
                continue
            if one.panel == other.panel or _apart(one, other) > reach:
                continue
            if abs(_long(one) - _long(other)) <= reach and not _parallel(folded, one.panel, other.panel):
                yield one, other


def _apart(one: _Rim, other: _Rim) -> float:
    # Two edges that meet run against each other, as the outlines of neighbours do.
    return max(distance(one.start, other.end), distance(one.end, other.start))


def _long(rim: _Rim) -> float:
    return distance(rim.start, rim.end)


def _parallel(folded: Folded, one: int, other: int) -> bool:
    return abs(dot(folded.normal(one), folded.normal(other))) > _LEVEL


def _rims(folded: Folded) -> Iterator[_Rim]:
    creases: dict[int, list[Crease]] = {}
    for crease in folded.net.creases:
        creases.setdefault(crease.one, []).append(crease)
        creases.setdefault(crease.other, []).append(crease)
    tabs = {number for number, _ in folded.panels if _is_tab(folded.net, number, creases.get(number, []))}
    for number, panel in folded.panels:
        if number in tabs:
            continue
        for start, end in pairwise((*panel.outline, panel.outline[0])):
            middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
            hinge = next((one for one in creases.get(number, ()) if _between(middle, one.start, one.end)), None)
            if hinge is None or hinge.across(number) in tabs:
                yield _Rim(number, folded.place(number, start), folded.place(number, end), hinge is not None)


def _is_tab(net: Net, panel: int, creases: Sequence[Crease]) -> bool:
    """A flap: it hangs on by one fold, and is small beside what it hangs on."""
    if len(creases) != 1:
        return False
    other = net.panels[creases[0].across(panel)]
    return area_of(net.panels[panel].outline) < _TAB * area_of(other.outline)


def area_of(points: Sequence[Point]) -> float:
    """The area inside a closed line that does not cross itself, in the square of its unit."""
    pairs = zip(points, (*points[1:], points[0]), strict=True)
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)) / 2


def _between(point: Point, start: Point, end: Point) -> bool:
    dx, dy = end[0] - start[0], end[1] - start[1]
    px, py = point[0] - start[0], point[1] - start[1]
    long = dx * dx + dy * dy
    return abs(dx * py - dy * px) < 1e-6 * long and -1e-6 < (dx * px + dy * py) / long < 1 + 1e-6
