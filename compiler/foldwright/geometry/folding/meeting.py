"""Panels of a folded shape: edges that should meet, flaps across openings, and panels that run through one another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, Opening
from foldwright.geometry.flat.lines import opening_outline
from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.net import MEETS, Crease, Net
from foldwright.geometry.folding.space import Pose, Spot, cross, distance, dot, extent, length, minus, times, unit
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
    """How many pairs of edges meet, of panels (flaps and low walls, too) that stand at an angle to each other."""
    return sum(_apart(*pair) <= MEETS for pair in _beside(folded, list(_rims(folded, flaps=True))))


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
            level = abs(dot(folded.normal(one.panel), folded.normal(other.panel)))
            if abs(_long(one) - _long(other)) <= reach and level <= _LEVEL:
                yield one, other


def _apart(one: _Rim, other: _Rim) -> float:
    # Two edges that meet run against each other, as the outlines of neighbours do.
    return max(distance(one.start, other.end), distance(one.end, other.start))


def _long(rim: _Rim) -> float:
    return distance(rim.start, rim.end)


def _rims(folded: Folded, flaps: bool = False) -> Iterator[_Rim]:
    creases, tabs = _creases_of(folded.net), tabs_of(folded)
    for number, panel in folded.panels:
        if number in tabs and not flaps:
            continue
        for start, end in pairwise((*panel.outline, panel.outline[0])):
            middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
            hinge = next((one for one in creases.get(number, ()) if one.holds(middle)), None)
            if hinge is None or hinge.across(number) in tabs:
                yield _Rim(number, folded.place(number, start), folded.place(number, end), hinge is not None)


def _creases_of(net: Net) -> dict[int, list[Crease]]:
    creases: dict[int, list[Crease]] = {}
    for crease in net.creases:
        creases.setdefault(crease.one, []).append(crease)
        creases.setdefault(crease.other, []).append(crease)
    return creases


def tabs_of(folded: Folded) -> frozenset[int]:
    """The panels, by number, that are flaps: each hangs on by one fold, and is small beside what it hangs on."""
    creases = _creases_of(folded.net)
    return frozenset(number for number, _ in folded.panels if _is_tab(folded.net, number, creases.get(number, [])))


def tabs_in_place(folded: Folded) -> int:
    """How many flaps lie flat on a panel they do not hang on, as a tab does that is glued."""
    creases = _creases_of(folded.net)
    return sum(
        any(
            _rests_on(folded, tab, number)
            for number, _ in folded.panels
            if number != tab and number != creases[tab][0].across(tab)
        )
        for tab in tabs_of(folded)
    )


def _rests_on(folded: Folded, tab: int, under: int) -> bool:
    pose = folded.poses[under]
    if pose is None or folded.poses[tab] is None or abs(dot(folded.normal(tab), pose.out)) < FLAT_ON:
        return False
    corners = folded.corners(tab)
    x, y, off = lies_in(pose, times(_sum(corners), 1 / len(corners)))
    return abs(off) <= MEETS and _holds(folded.net.panels[under].outline, (x, y))


def _sum(spots: Sequence[Spot]) -> Spot:
    xs, ys, zs = zip(*spots, strict=True)
    return sum(xs), sum(ys), sum(zs)


def _holds(ring: Sequence[Point], point: Point) -> bool:
    """Whether a place lies in a closed line: a level line from it crosses that an odd number of times."""
    x, y = point
    crossed = False
    for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            crossed = not crossed
    return crossed


def lies_in(pose: Pose, spot: Spot) -> Spot:
    """A spot in space as a panel of this pose has it: its place on the blank, and how far off the panel it is."""
    off = minus(spot, pose.origin)
    return dot(off, pose.along), dot(off, pose.down), dot(off, pose.out)


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


FLAT_ON = 1.0 - 1e-6
"""The cosine from which a panel counts as lying flat on another."""
_SMALL = 0.5
"""What is less than this part of the panel it lies on is a flap; a leaf that closes over another is meant to."""
_FOLDED_FLAT = 170.0
"""Degrees: from here a panel is folded onto its neighbour on purpose, as the leaf of a card is."""


_SHARED = 1e-6
"""Square millimetres: panels that share less than this touch."""
_LINED = frozenset({"gift bag", "pocket"})
"""Forms with flaps that are folded flat onto the inside of a wall."""


class Covered(Struct, frozen=True):
    """An opening, the number of the panel it is in, and how far a flap reaches into it, in millimetres."""

    opening: Opening
    panel: int
    over: float


def covered_openings(folded: Folded, blank: Blank) -> Iterator[Covered]:
    """Every opening at most once, with the flap that reaches farthest into it."""
    openings = [_as_meant(one) for one in blank.openings]
    if not openings:
        return
    from shapely.geometry import Point as Place
    from shapely.geometry import Polygon

    shapes = {number: Polygon(panel.outline) for number, panel in folded.panels}
    # What is folded flat lies there on purpose, but for the hem of a bag and the flaps of a pocket.
    flat = {
        one for crease in folded.net.creases if abs(crease.angle) > _FOLDED_FLAT for one in (crease.one, crease.other)
    }
    flat = set() if blank.form in _LINED else flat
    for opening in openings:
        hole = Polygon(opening_outline(opening))
        middle = Place(hole.centroid)
        own = next((number for number, shape in shapes.items() if shape.buffer(MEETS).contains(middle)), None)
        if own is None or own in flat or (opening.doubtful and not _stays(hole, shapes[own])):
            continue
        # A panel beside it that lies in the same plane has its own part of the hole.
        hole = hole.intersection(Polygon(shapes[own].exterior))
        over = 0.0
        for number, panel in folded.panels:
            small = shapes[number].area < _SMALL * Polygon(shapes[own].exterior).area
            if number == own or number in flat or panel.openings or not (small or panel.name == "flap"):
                continue
            laid = laid_on(folded, number, own, _BEHIND)
            if laid is None:
                continue
            under = hole.intersection(Polygon(laid).buffer(0))
            # Two that only touch share a line, which may run at a slant.
            left, top, right, bottom = under.bounds if under.area > _SHARED else (0.0,) * 4
            over = max(over, min(right - left, bottom - top))
        if over > MEETS:
            yield Covered(opening, own, over)


def _as_meant(opening: Opening) -> Opening:
    """A hole as it is; one that does not stay on the piece with its numbers the other way round, as it was meant."""
    if not opening.doubtful:
        return opening
    off = (opening.width - opening.height) / 2
    at = {"left": opening.left + off, "top": opening.top - off}
    return replace(opening, width=opening.height, height=opening.width, **at)


def _stays(hole: Any, shape: Any) -> bool:
    """Whether all of a hole lies within the outline of its panel."""
    from shapely.geometry import Polygon

    return bool(Polygon(shape.exterior).buffer(MEETS).contains(hole))


_BEHIND = 2.0
"""Millimetres: what stands no farther behind a panel than that, room for a layer or two of card left between, is seen
through an opening in it (common practice, no source)."""


def laid_on(folded: Folded, panel: int, under: int, within: float = MEETS) -> Sequence[Point] | None:
    """The outline of a panel where it lies on another one, as places of the other on the blank; None where it does
    not, or one of them falls out."""
    pose = folded.poses[under]
    if pose is None or folded.poses[panel] is None or abs(dot(folded.normal(panel), pose.out)) < FLAT_ON:
        return None
    corners = [lies_in(pose, corner) for corner in folded.corners(panel)]
    return None if any(abs(off) > within for _, _, off in corners) else [(x, y) for x, y, _ in corners]


_THROUGH = 1e-6
"""As a part of the blank: panels that touch, or lie in one another by less, do not run into each other."""
_PARALLEL = 1e-9

type _Box = tuple[Spot, Spot]


def collisions(folded: Folded) -> Iterator[tuple[int, int]]:
    """Every two panels that pass through each other. Those that lie flat on one another or meet at an edge do not."""
    margin = _THROUGH * folded.net.size
    shapes = [(number, folded.corners(number), folded.normal(number)) for number, _ in folded.panels]
    boxes = {number: extent(corners) for number, corners, _ in shapes}
    hinged = {frozenset((crease.one, crease.other)) for crease in folded.net.creases}
    for (one, corners, normal), (other, its_corners, its_normal) in combinations(shapes, 2):
        if frozenset((one, other)) in hinged or not _boxes_meet(boxes[one], boxes[other], margin):
            continue
        if _run_through(corners, normal, its_corners, its_normal, margin):
            yield one, other


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
