"""What is drawn, stamped, written or stitched on a sheet: lines on the side of it that is seen best."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import cos, pi, sin

from msgspec.structs import replace

from foldwright.geometry.folding.space import Spot, cross, dot, length, minus, plus, times, unit
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.pictures.state import Added
from foldwright.geometry.scene import LineKind, Point

_TOWARDS = (0.35, -0.6, 0.72)
"""About where a picture is looked at from: before, above, a little from a side."""
_EDGE_ON = 0.15
_FILLS = 0.62
"""How much of a side a drawing takes."""
_INSET = 2.5
"""Millimetres stitches and staples keep from a fold or an edge."""

type Lines = tuple[tuple[Point, ...], ...]


def _ring(radius: float, middle: Point = (0.0, 0.0), corners: int = 14) -> tuple[Point, ...]:
    x, y = middle
    turns = (2 * pi * step / corners for step in range(corners + 1))
    return tuple((x + radius * cos(turn), y + radius * sin(turn)) for turn in turns)


def _flower() -> Lines:
    petals = (_ring(0.26, (0.52 * cos(2 * pi * at / 5 - 1.57), 0.52 * sin(2 * pi * at / 5 - 1.57))) for at in range(5))
    return (*petals, _ring(0.2))


def _star() -> Lines:
    turns = [(pi * at / 5 - pi / 2, 0.85 if at % 2 == 0 else 0.36) for at in range(11)]
    return (tuple((far * cos(turn), far * sin(turn)) for turn, far in turns),)


def _writing() -> Lines:
    """Three lines of loops, the last one shorter."""
    rows = ((-0.5, 0.9), (0.0, 0.8), (0.5, 0.4))
    return tuple(
        tuple((-0.9 + step * 0.06, y + 0.1 * sin(step * 1.35) * (1 - step % 3 * 0.25)) for step in range(int(30 * to)))
        for y, to in rows
    )


def _scribble() -> Lines:
    return (tuple((-0.85 + step * 0.1, 0.6 if step % 2 else -0.6) for step in range(18)),)


def _waves() -> Lines:
    return tuple(tuple((-0.8 + step * 0.1, y + 0.09 * sin(step)) for step in range(17)) for y in (-0.45, 0.0, 0.45))


def _dots() -> Lines:
    spots = [(x * 0.42 + (y % 2) * 0.2, y * 0.36) for x in range(-2, 3) for y in range(-2, 3)]
    return tuple(_ring(0.05, spot, 6) for spot in spots)


def _bead() -> Lines:
    return (tuple((-0.85 + step * 0.1, 0.16 * (-1) ** step) for step in range(18)),)


def _dice(shape: Lines) -> Lines:
    """Five of a small shape, as on dice."""
    spots = ((-0.8, -0.8), (0.8, -0.8), (0.0, 0.0), (-0.8, 0.8), (0.8, 0.8))
    return tuple(tuple((x + dx, y + dy) for dx, dy in line) for x, y in spots for line in shape)


def _ticks() -> Lines:
    return (((-0.5, -0.98), (-0.5, -0.7)), ((0.5, -0.98), (0.5, -0.7)), ((-0.98, 0.0), (-0.75, 0.0)))


def _frame() -> Lines:
    return (((-0.7, -0.7), (0.7, -0.7), (0.7, 0.7), (-0.7, 0.7), (-0.7, -0.7)), *_star())


def _strip() -> Lines:
    return (((-0.9, -0.12), (0.9, -0.12), (0.9, 0.12), (-0.9, 0.12), (-0.9, -0.12)),)


PATTERNS: dict[str, Callable[[], Lines]] = {
    "mark": _ticks,
    "trace": _frame,
    "draw": _star,
    "write": _writing,
    "stamp": _flower,
    "emboss": _flower,
    "stencil": _star,
    "colour": _scribble,
    "paint": _waves,
    "decorate": _star,
    "heat": _flower,
    "spray": _dots,
    "glue": _bead,
    "hot glue": _bead,
    "tape": _strip,
    "stick": _bead,
    "attach": _bead,
    "dots": lambda: _dice((_ring(0.16, corners=10),)),
    "pads": lambda: _dice((((-0.16, -0.16), (0.16, -0.16), (0.16, 0.16), (-0.16, 0.16), (-0.16, -0.16)),)),
    "rub": _scribble,
    "solder": lambda: (_ring(0.12),),
}
"""What each act, and each way of gluing, leaves in the middle of a side, in a square from -1 to 1."""
ALONG = {"sew": 9, "staple": 2, "ink": 15, "sand down": 15, "tear": 0, "perforate": 0, "round": 0}
"""What goes along a fold or an edge instead: how many short lines."""
HIDDEN = frozenset({"glue", "hot glue", "tape", "stick", "attach", "dots", "pads", "rub", "mark", "trace", "heat"})
"""What is seen while it is done and not afterwards."""


def inked(sheets: Sequence[Leaf], added: Sequence[Added]) -> tuple[Leaf, ...]:
    """The sheets with the lines on them, each on the side of its piece that is seen best."""
    found = list(sheets)
    for one in added:
        if one.how in PATTERNS or one.how in ALONG:
            number = best_side(found, one.piece)
            if number is not None:
                leaf = found[number]
                found[number] = replace(leaf, marks=(*leaf.marks, *marks_on(leaf, one.how)))
    return tuple(found)


def best_side(sheets: Sequence[Leaf], piece: str) -> int | None:
    """The largest part of a piece that shows its good side."""
    areas = {
        number: length(area) * facing
        for number, leaf in enumerate(sheets)
        if leaf.piece == piece
        and (facing := dot(leaf.good, _TOWARDS)) > _EDGE_ON
        and length(area := _area(leaf.outline)) > 0
    }
    return max(areas, key=lambda number: areas[number]) if areas else None


def marks_on(leaf: Leaf, how: str) -> tuple[tuple[Spot, ...], ...]:
    """The lines an act leaves on a sheet, in space."""
    if how in ALONG:
        return tuple(_rounded(leaf) if how == "round" else _along(leaf, how))
    middle, across, down = frame_of(leaf)
    lines = PATTERNS[how]()
    return tuple(tuple(plus(middle, plus(times(across, x), times(down, y))) for x, y in line) for line in lines)


def frame_of(leaf: Leaf) -> tuple[Spot, Spot, Spot]:
    """The middle of a sheet and the ways right and down on it as it is seen, to the border of what is drawn there."""
    ring = leaf.outline
    long = max(zip(ring, (*ring[1:], ring[0]), strict=True), key=lambda edge: length(minus(edge[1], edge[0])))
    edge = unit(minus(long[1], long[0]))
    # Down is down in the picture: lower, or nearer where the sheet lies.
    down = max((edge, unit(cross(leaf.good, edge))), key=lambda way: (round(abs(way[2]), 3), abs(way[1])))
    down = times(down, -1.0) if (round(down[2], 3), down[1]) > (0.0, 0.0) else down
    right = unit(cross(leaf.good, down))
    spans = [[dot(spot, way) for spot in ring] for way in (right, down)]
    middle = times(leaf.good, dot(ring[0], leaf.good))
    for way, span in zip((right, down), spans, strict=True):
        middle = plus(middle, times(way, (max(span) + min(span)) / 2))
    half = _FILLS * min(max(span) - min(span) for span in spans) / 2
    return middle, times(unit(right), half), times(down, half)


def _along(leaf: Leaf, how: str) -> Iterator[tuple[Spot, ...]]:
    """Along the longest fold, or the lowest long edge where nothing is folded."""
    one, other = edge_of(leaf, folds=how in ("sew", "staple"))
    way = unit(minus(other, one))
    inwards = cross(leaf.good, way)
    middle = frame_of(leaf)[0]
    inwards = inwards if dot(minus(middle, one), inwards) > 0 else times(inwards, -1.0)
    long = length(minus(other, one))
    count = ALONG[how]
    if how in ("ink", "sand down"):
        for step in range(count):
            foot = plus(one, times(way, long * (step + 0.5) / count))
            yield foot, plus(foot, times(inwards, min(_INSET, long * 0.05)))
        return
    if how in ("tear", "perforate"):
        yield tuple(
            plus(plus(one, times(way, long * step / 24)), times(inwards, _INSET * (1 + 0.6 * (-1) ** step)))
            for step in range(25)
        )
        return
    inset = times(inwards, min(_INSET, length(minus(middle, one)) * 0.15))
    parts = [(step + 0.25, step + 0.75) for step in range(count)]
    for start, end in parts:
        yield tuple(plus(plus(one, times(way, long * at / count)), inset) for at in (start, end))


def _rounded(leaf: Leaf) -> Iterator[tuple[Spot, ...]]:
    """A quarter of a circle in each corner."""
    for before, corner, after in zip(
        (leaf.outline[-1], *leaf.outline), leaf.outline, (*leaf.outline[1:], leaf.outline[0]), strict=False
    ):
        ways = unit(minus(before, corner)), unit(minus(after, corner))
        if abs(dot(*ways)) > _SQUARE:
            continue
        radius = min(_CORNER, length(minus(before, corner)) / 3, length(minus(after, corner)) / 3)
        turns = [pi / 2 * step / 6 for step in range(7)]
        yield tuple(
            plus(corner, plus(times(ways[0], radius * (1 - sin(turn))), times(ways[1], radius * (1 - cos(turn)))))
            for turn in turns
        )


_CORNER, _SQUARE = 8.0, 0.2
"""Millimetres of a rounded corner (common practice, no source), and the cosine of what still is a square one."""


def edge_of(leaf: Leaf, folds: bool) -> tuple[Spot, Spot]:
    """The edge of a sheet something runs along."""
    ring = leaf.outline
    edges = [*zip(ring, (*ring[1:], ring[0]), leaf.edges, strict=True)]
    wanted = [edge for edge in edges if folds and edge[2] is LineKind.CREASE] or edges
    longest = max(length(minus(b, a)) for a, b, _ in wanted)
    long = [(a, b) for a, b, _ in wanted if length(minus(b, a)) > 0.98 * longest]
    return min(long, key=lambda edge: (round(edge[0][2] + edge[1][2], 3), edge[0][1] + edge[1][1]))


def _area(ring: Sequence[Spot]) -> Spot:
    total = 0.0, 0.0, 0.0
    for one, other in zip(ring, (*ring[1:], ring[0]), strict=True):
        total = plus(total, cross(one, other))
    return total
