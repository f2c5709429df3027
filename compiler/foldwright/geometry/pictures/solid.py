"""Panels in space as faces of a scene, hidden ones behind nearer ones.

Faces are put in an order in which each hides only what lies behind it: of two that overlap in the picture, the nearer
at a place where they overlap comes later. Panels that do not run through one another always have such an order but for
rings of three, which folded paper seldom makes; there the one that hides least goes first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from heapq import heapify, heappop, heappush
from itertools import pairwise
from math import hypot
from typing import Any

from msgspec import Struct

from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.net import Crease, Net
from foldwright.geometry.folding.space import Spot, cross, minus, times, unit
from foldwright.geometry.pictures.grounding import ground_of
from foldwright.geometry.pictures.view import View
from foldwright.geometry.scene import Face, LineKind, Point, Stroke, Tone

_NEARLY = 1e-6
_OVERLAP = 1e-3
"""Square millimetres of a picture: less than that and two faces only touch."""
_OVER = 0.004
"""As a part of its longer side: how far a facet reaches over a seam in the picture."""
_END = 0.04
"""As a part of a seam: so near to its ends a facet does not reach over it."""
_DIGITS = 5
"""Ends of seams are compared to hundred-thousandths of a millimetre."""
_HAIR = 1e-4
"""How much smaller, as a part of its size, a face is taken when asked what it overlaps: GEOS is at times wrong about
faces with an edge in common but for rounding."""


class Leaf(Struct, frozen=True):
    """One flat part in space, as it will be drawn: the kind of line of each edge (None: no line), and cuts in it.

    `good` looks out of its good side, which is hatched where glue goes on it (`wet`).
    """

    outline: tuple[Spot, ...]
    good: Spot
    edges: tuple[LineKind | None, ...]
    gaps: tuple[tuple[Spot, ...], ...] = ()
    slits: tuple[tuple[Spot, ...], ...] = ()
    wet: bool = False
    paper: int = 0
    """Which of the recipe's papers it is of: each has a tone of its own."""
    stuff: Tone | None = None
    """What it is of, where it is no paper."""
    marks: tuple[tuple[Spot, ...], ...] = ()
    """Lines on its good side."""
    piece: str = ""
    """The piece it is a part of."""


class LeafShown(Struct):
    """A sheet in the picture: its face, its corners with how near each is, and the plane they lie in."""

    face: Face
    around: tuple[Stroke, ...]
    corners: tuple[Spot, ...]
    depth: tuple[float, float, float]
    """Nearness is the first times across plus the second times down plus the third."""

    @property
    def outline(self) -> tuple[Point, ...]:
        """The face without the hair by which it reaches over its seams."""
        return tuple((x, y) for x, y, _ in self.corners)

    def nearness(self, x: float, y: float) -> float:
        return self.depth[0] * x + self.depth[1] * y + self.depth[2]

    def side_of(self, other: LeafShown) -> int | None:
        """1 when all of it lies before the plane of the other, -1 behind it, 0 in it; None when it goes through."""
        ahead = [near - other.nearness(x, y) for x, y, near in self.corners]
        before, behind = max(ahead) > _NEARLY, min(ahead) < -_NEARLY
        return None if before and behind else before - behind


type Edges = tuple[tuple[LineKind | None, ...], ...]


def sheets_of(
    folded: Folded, glued: Iterable[int] = (), paper: int = 0, edges: Edges | None = None
) -> tuple[Leaf, ...]:
    """The panels of a folded net. Glue goes on the good side of the panels in `glued`.

    `edges` are those of `edges_of`, for who folds one net many times.
    """
    wet = set(glued)
    kinds = edges or edges_of(folded.net)
    return tuple(_sheet(folded, number, kinds[number], number in wet, paper) for number, _ in folded.panels)


def edges_of(net: Net) -> Edges:
    """Of each panel, in the order of its outline, which edges are folds and which are cut."""
    found = []
    for number, panel in enumerate(net.panels):
        creases = [one for one in net.creases if number in (one.one, one.other)]
        middles = [
            ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
            for start, end in zip(panel.outline, (*panel.outline[1:], panel.outline[0]), strict=True)
        ]
        on = (next((crease for crease in creases if crease.holds(middle)), None) for middle in middles)
        found.append(tuple(_kind_of(crease) for crease in on))
    return tuple(found)


def _kind_of(crease: Crease | None) -> LineKind | None:
    if crease is None:
        return LineKind.CUT
    return None if crease.smooth else LineKind.CREASE


def _sheet(folded: Folded, number: int, edges: tuple[LineKind | None, ...], wet: bool, paper: int) -> Leaf:
    panel = folded.net.panels[number]
    return Leaf(
        folded.corners(number),
        folded.normal(number),
        edges,
        tuple(tuple(folded.place(number, point) for point in ring) for ring in panel.openings),
        tuple(tuple(folded.place(number, point) for point in slit) for slit in panel.slits),
        wet,
        paper,
        piece=folded.net.piece,
    )


@lru_cache(maxsize=1024)
def faces_of(sheets: tuple[Leaf, ...], view: View) -> tuple[Face, ...]:
    """The sheets as faces, the farthest first. Under them all lies their outline, so that it shows round the whole."""
    shown = _all_shown(sheets, view)
    around = tuple(stroke for one in shown for stroke in one.around)
    # A cord may hang below the table, and stands on nothing.
    ground = ground_of([sheet.outline for sheet in sheets if sheet.stuff is None], view)
    under = Face((), Tone.PLAIN, edges=around, ground=ground)
    return (under, *(one.face for one in _in_order(shown)))


def faces_in_order(sheets: Sequence[Leaf], view: View) -> tuple[Face, ...]:
    """The same without what lies under them."""
    return tuple(one.face for one in _in_order(_all_shown(sheets, view)))


def _all_shown(sheets: Sequence[Leaf], view: View) -> list[LeafShown]:
    seams = _shown_seams(sheets, view)
    return [one for sheet in sheets if (one := shown_leaf(sheet, view, _hidden(sheet, seams))) is not None]


type _Seam = tuple[Spot, Spot]


def _shown_seams(sheets: Sequence[Leaf], view: View) -> frozenset[_Seam]:
    """The seams whose two facets show different sides: there the curve turns out of sight."""
    sides: dict[_Seam, list[bool]] = {}
    for sheet in sheets:
        for at, kind in enumerate(sheet.edges):
            if kind is None:
                sides.setdefault(_seam(sheet, at), []).append(view.sees(sheet.good))
    return frozenset(seam for seam, seen in sides.items() if len(seen) == 2 and seen[0] != seen[1])


def _hidden(sheet: Leaf, shown: frozenset[_Seam]) -> tuple[bool, ...]:
    """Of each edge whether it is a seam at which nothing is to be seen."""
    return tuple(kind is None and _seam(sheet, at) not in shown for at, kind in enumerate(sheet.edges))


def _seam(sheet: Leaf, at: int) -> _Seam:
    """An edge by its ends, the same from both sides of it."""
    ends = [tuple(round(part, _DIGITS) for part in sheet.outline[(at + step) % len(sheet.outline)]) for step in (0, 1)]
    (x1, y1, z1), (x2, y2, z2) = sorted(ends)
    return (x1, y1, z1), (x2, y2, z2)


@lru_cache(maxsize=4096)
def shown_leaf(sheet: Leaf, view: View, hidden: tuple[bool, ...] = ()) -> LeafShown | None:
    """None for a sheet seen edge on. `hidden` are its seams at which nothing is to be seen, by edge."""
    spots = tuple(view.project(spot) for spot in sheet.outline)
    nx, ny, nz = _normal(spots)
    if abs(nz) / 2 < _OVERLAP:
        return None
    x, y, z = spots[0]
    depth = -nx / nz, -ny / nz, z + (nx * x + ny * y) / nz
    outline = tuple((x, y) for x, y, _ in spots)
    good = view.sees(sheet.good)
    tone = sheet.stuff or (Tone.GOOD if good else Tone.PLAIN)
    outward = sheet.good if good else times(sheet.good, -1.0)
    hidden = hidden or (False,) * len(sheet.edges)
    # Where a curve turns out of sight it is seen as a fold is.
    kinds = [None if gone else kind or LineKind.CREASE for kind, gone in zip(sheet.edges, hidden, strict=True)]
    edges = (*_runs(outline, kinds), *_inside(sheet, view))
    around = tuple(_runs(outline, [kind and LineKind.CUT for kind in kinds]))
    gaps = tuple(tuple(view.point(spot) for spot in gap) for gap in sheet.gaps)
    return LeafShown(
        Face(
            _over_seams(outline, hidden),
            tone,
            0.0,
            edges,
            view.shade(outward),
            gaps,
            sheet.wet and good,
            sheet.paper,
            _grain(sheet, view),
        ),
        around,
        spots,
        depth,
    )


def _grain(sheet: Leaf, view: View) -> tuple[Point, Point]:
    """Where a millimetre along its first edge and one across it lead to in the picture."""
    along = unit(minus(sheet.outline[1], sheet.outline[0]))
    return view.point(along), view.point(cross(sheet.good, along))


def _normal(spots: Sequence[Spot]) -> Spot:
    """Of the plane through a flat ring of places, twice as long as its area (Newell's method)."""
    nx = ny = nz = 0.0
    for one, other in zip(spots, (*spots[1:], spots[0]), strict=True):
        nx += (one[1] - other[1]) * (one[2] + other[2])
        ny += (one[2] - other[2]) * (one[0] + other[0])
        nz += (one[0] - other[0]) * (one[1] + other[1])
    return nx, ny, nz


def _over_seams(outline: Sequence[Point], hidden: Sequence[bool]) -> tuple[Point, ...]:
    """A face reaches a hair over its seams, or what lies behind would shine through between two that only touch."""
    if not any(hidden):
        return tuple(outline)
    size = max(max(axis) - min(axis) for axis in zip(*outline, strict=True))
    turn = 1.0 if sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairwise((*outline, outline[0]))) > 0 else -1.0
    ring: list[Point] = []
    for at, seam in enumerate(hidden):
        (x1, y1), (x2, y2) = outline[at], outline[(at + 1) % len(outline)]
        ring.append((x1, y1))
        if seam and (long := hypot(x2 - x1, y2 - y1)):
            off_x, off_y = turn * (y2 - y1) / long * _OVER * size, -turn * (x2 - x1) / long * _OVER * size
            # Not at its ends, where the rims of both facets meet.
            ring += [(x1 + (x2 - x1) * part + off_x, y1 + (y2 - y1) * part + off_y) for part in (_END, 1.0 - _END)]
    return tuple(ring)


def _runs(outline: Sequence[Point], kinds: Sequence[LineKind | None]) -> Iterator[Stroke]:
    """Neighbouring edges of one kind as one line, so that dashes and corners run on."""
    count = len(outline)
    start = next((at for at in range(count) if kinds[at] is not kinds[at - 1]), 0)
    run: list[Point] = []
    for step in range(count):
        at = (start + step) % count
        kind = kinds[at]
        run = run or [outline[at]]
        run.append(outline[(at + 1) % count])
        if step == count - 1 or kinds[(at + 1) % count] is not kind:
            closed = len(run) == count + 1
            if kind is not None:
                yield Stroke(kind, tuple(run[:-1] if closed else run), closed)
            run = []


def _inside(sheet: Leaf, view: View) -> Iterator[Stroke]:
    """The rims of what is cut out of it, and cuts in it."""
    for gap in sheet.gaps:
        yield Stroke(LineKind.CUT, tuple(view.point(spot) for spot in gap), True)
    for slit in sheet.slits:
        yield Stroke(LineKind.CUT, tuple(view.point(spot) for spot in slit))
    for mark in sheet.marks if view.sees(sheet.good) else ():
        yield Stroke(LineKind.INKED, tuple(view.point(spot) for spot in mark))


def _in_order(shown: Sequence[LeafShown]) -> list[LeafShown]:
    """What hides nothing that is not there yet comes first, then what hides least, of several the first."""
    hides: list[set[int]] = [set() for _ in shown]
    """Of each face those it hides something of."""
    hidden_by: list[set[int]] = [set() for _ in shown]
    for number, other in _overlapping([one.outline for one in shown]):
        ahead = _nearer(shown[number], shown[other])
        if ahead:
            over, under = (number, other) if ahead > 0 else (other, number)
            hides[over].add(under)
            hidden_by[under].add(over)
    order: list[LeafShown] = []
    # Who hides one less is put in once more, so that some stand in it twice.
    waiting = [(len(under), number) for number, under in enumerate(hides)]
    heapify(waiting)
    done: set[int] = set()
    while waiting:
        _, number = heappop(waiting)
        if number in done:
            continue
        done.add(number)
        order.append(shown[number])
        for over in hidden_by[number] - done:
            hides[over].discard(number)
            heappush(waiting, (len(hides[over]), over))
    return order


def _nearer(one: LeafShown, other: LeafShown) -> float:
    """Above nothing when the one is nearer where the two overlap in the picture, below when it is farther.

    Most lie wholly before or behind the plane of the other (Newell, Newell and Sancha, 1972); of two that do not, what
    they share in the picture is looked at.
    """
    side = one.side_of(other)
    if side is not None:
        return side
    side = other.side_of(one)
    if side is not None:
        return -side
    shared = _area(one.outline).intersection(_area(other.outline))
    if shared.area < _OVERLAP:
        return 0.0
    place = shared.representative_point()
    return one.nearness(place.x, place.y) - other.nearness(place.x, place.y)


@lru_cache(maxsize=1024)
def _area(outline: tuple[Point, ...]) -> Any:
    from shapely import make_valid
    from shapely.geometry import Polygon

    # A curved sheet seen from its side may run through itself in the picture.
    return make_valid(Polygon(outline))


_BEFORE = 1.0
"""Millimetres a sheet has to be nearer than a place to hide it: a place on a sheet is not hidden by that."""


def hides(sheets: Sequence[Leaf], spot: Spot, view: View) -> bool:
    """Whether something is in the way of a place in space."""
    x, y, near = view.project(spot)
    shown = (one for sheet in sheets if (one := shown_leaf(sheet, view)) is not None)
    return any(one.nearness(x, y) > near + _BEFORE and _holds(one.face.outline, x, y) for one in shown)


def _holds(ring: Sequence[Point], x: float, y: float) -> bool:
    """Whether a place lies inside a closed line: one that starts there crosses it an odd number of times."""
    inside = False
    for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (y1 > y) != (y2 > y) and x < x1 + (x2 - x1) * (y - y1) / (y2 - y1):
            inside = not inside
    return inside


def _overlapping(outlines: Sequence[Sequence[Point]]) -> Iterator[tuple[int, int]]:
    """Every two faces that overlap in the picture, and do not only touch along an edge."""
    import shapely

    if not outlines:
        return
    rings = shapely.linearrings(
        [point for outline in outlines for point in _drawn_in(outline)],
        indices=[number for number, outline in enumerate(outlines) for _ in outline],
    )
    shapes = shapely.polygons(rings)
    # All at once: asked one by one, most of the time goes into the asking.
    ones, others = shapely.STRtree(shapes).query(shapes, "intersects")
    yield from ((one, other) for one, other in zip(ones.tolist(), others.tolist(), strict=True) if one > other)


def _drawn_in(outline: Sequence[Point]) -> Iterator[Point]:
    """A hair smaller, so that what shares an edge with it keeps clear of it."""
    x, y = sum(x for x, _ in outline) / len(outline), sum(y for _, y in outline) / len(outline)
    return ((px + (x - px) * _HAIR, py + (y - py) * _HAIR) for px, py in outline)
