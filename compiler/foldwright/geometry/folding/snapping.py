"""Lines that a hand has drawn, brought onto what they were meant to end on: a corner, another line, the edge.

Who draws a net reads its places off a ruler; ends that stay a hair apart are one place. Every end within `SNAPS` of a
corner or of another end is moved there, else onto the nearest line; what is crossed at such an end gets a corner
of its own there, so that the two share it to the last digit.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import hypot

from msgspec.structs import replace

from foldwright.geometry.flat.lines import Line
from foldwright.geometry.folding.net import SNAPS
from foldwright.geometry.scene import Point

_SAME = 1e-6
"""Millimetres: a place nearer to a line than this lies on it."""
_ROUNDS = 2
"""Lines may end on each other in a row: the second round settles what the first has moved."""


def snapped(ring: Sequence[Point], lines: Sequence[Line]) -> tuple[tuple[Point, ...], tuple[Line, ...]]:
    """The closed ring of an outline and the lines on it, with every end of the author's own lines in its place."""
    if not any(map(_is_drawn, lines)):
        return tuple(ring), tuple(lines)
    settled = _to_corners(ring, lines)
    for _ in range(_ROUNDS):
        settled = _onto_others(ring, settled)
    kept = [line for line in settled if len(set(line.points)) > 1]
    own, *others = _with_ends([ring, *(line.points for line in kept)], [end for line in kept for end in _ends(line)])
    return own, tuple(replace(line, points=points) for line, points in zip(kept, others, strict=True))


def _is_drawn(line: Line) -> bool:
    return line.source.side == "line"


def _ends(line: Line) -> tuple[Point, Point]:
    return line.points[0], line.points[-1]


def _between(line: Line, start: Point, end: Point) -> Line:
    return replace(line, points=(start, *line.points[1:-1], end))


def _to_corners(ring: Sequence[Point], lines: Sequence[Line]) -> list[Line]:
    """Every drawn end on the nearest corner, or on the first end that was drawn there."""
    fixed = [*ring, *(end for line in lines if not _is_drawn(line) for end in _ends(line))]
    drawn = [end for line in lines if _is_drawn(line) for end in _ends(line)]
    places = [*fixed, *drawn]
    near = _near(places, [(place, place) for place in places])
    stays = [True] * len(places)
    settled = list(places)
    for at in range(len(fixed), len(places)):
        before = [other for other in near[at] if other < at and stays[other]]
        if before:
            settled[at] = places[min(before, key=lambda other: (apart(places[at], places[other]), other))]
            stays[at] = False
    ends = iter(settled[len(fixed) :])
    return [_between(line, next(ends), next(ends)) if _is_drawn(line) else line for line in lines]


def _onto_others(ring: Sequence[Point], lines: Sequence[Line]) -> list[Line]:
    """Every drawn end on the nearest place of another line, or of the edge."""
    owned = [(-1, pair) for pair in pairwise(ring)]
    owned += [(number, pair) for number, line in enumerate(lines) for pair in pairwise(line.points)]
    ends = [end for line in lines for end in _ends(line)]
    near = _near(ends, [segment for _, segment in owned])
    settled = []
    for at, end in enumerate(ends):
        feet = [foot_on(end, owned[one][1]) for one in near[at] if owned[one][0] != at // 2]
        settled.append(min(feet, key=lambda foot: apart(end, foot), default=end))
    pairs = zip(lines, settled[::2], settled[1::2], strict=True)
    return [_between(line, start, end) if _is_drawn(line) else line for line, start, end in pairs]


def _with_ends(paths: Sequence[Sequence[Point]], ends: Sequence[Point]) -> list[tuple[Point, ...]]:
    """The paths with a corner at every end that lies on them."""
    owned = [(number, pair) for number, path in enumerate(paths) for pair in pairwise(path)]
    once = list(dict.fromkeys(ends))
    on: dict[int, list[Point]] = {}
    for end, near in zip(once, _near(once, [segment for _, segment in owned]), strict=True):
        for one in near:
            segment = owned[one][1]
            if end not in segment and apart(end, foot_on(end, segment)) <= _SAME:
                on.setdefault(one, []).append(end)
    found: list[list[Point]] = [[] for _ in paths]
    for at, (number, (start, _)) in enumerate(owned):
        found[number].append(start)
        found[number] += sorted(on.get(at, ()), key=lambda end, start=start: apart(start, end))
    return [(*points, path[-1]) for points, path in zip(found, paths, strict=True)]


def _near(places: Sequence[Point], segments: Sequence[tuple[Point, Point]]) -> list[list[int]]:
    """For every place the segments within `SNAPS` of it, by number."""
    from shapely import STRtree, linestrings, points

    found: list[list[int]] = [[] for _ in places]
    if not places or not segments:
        return found
    tree = STRtree(linestrings(list(segments)))
    for place, segment in zip(*tree.query(points(list(places)), "dwithin", SNAPS).tolist(), strict=True):
        found[place].append(segment)
    return [sorted(numbers) for numbers in found]


def foot_on(point: Point, segment: tuple[Point, Point]) -> Point:
    """The place on a segment that is nearest to the point."""
    (ax, ay), (bx, by) = segment
    dx, dy = bx - ax, by - ay
    long = dx * dx + dy * dy
    along = max(0.0, min(1.0, ((point[0] - ax) * dx + (point[1] - ay) * dy) / long)) if long > 0.0 else 0.0
    return ax + along * dx, ay + along * dy


def apart(one: Point, other: Point) -> float:
    """How far two places are from each other."""
    return hypot(one[0] - other[0], one[1] - other[1])
