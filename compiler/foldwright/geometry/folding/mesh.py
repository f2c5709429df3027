"""A net as corners, edges and faces for other programs: every panel a face, joined only along its creases."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.net import Crease, Net
from foldwright.geometry.folding.space import Spot
from foldwright.geometry.scene import Point

_NEAR = 1e-6
"""Millimetres: corners nearer than this are one corner."""


class Mesh(Struct, frozen=True):
    """Where a cut parts two panels there are two corners at one place, and the edge stands twice, once for each.

    `corners` lie on the flat blank; `panel_of` says on which panel each corner was met first, which gives its place
    once folded. `edges` are pairs of corners with the crease they lie on (None for a cut edge; the rims of openings are
    edges too). `faces` run as the outlines of the panels do, and have no openings in them: a panel that has is several
    faces, parted by `joins`, where the paper goes on. `face_panels` names the panel of each. What is cut off is left
    out.
    """

    corners: tuple[Point, ...]
    panel_of: tuple[int, ...]
    edges: tuple[tuple[int, int, Crease | None], ...]
    faces: tuple[tuple[int, ...], ...]
    face_panels: tuple[int, ...] = ()
    joins: tuple[tuple[int, int], ...] = ()

    def folded(self, folded: Folded) -> tuple[Spot, ...]:
        """The corners in space."""
        return tuple(
            folded.place(panel, corner) if folded.poses[panel] else (*corner, 0.0)
            for panel, corner in zip(self.panel_of, self.corners, strict=True)
        )


def mesh_of(net: Net) -> Mesh:
    """The net as corners, edges and faces that share them."""
    return _MeshBuilder(net).mesh()


def whole_faces(rings: Sequence[tuple[int, ...]], corners: Sequence[Point]) -> list[tuple[int, ...]]:
    """A face without its openings, as faces that have none: the first ring is its rim, the others are its openings.

    Triangles between the corners that are there (constrained, Delaunay) are put together again as long as what comes
    of it has one rim that touches itself nowhere.
    """
    if len(rings) == 1:
        return [rings[0]]
    faces = [_turned_as(triangle, rings[0], corners) for triangle in _triangles(rings, corners)]
    merged = True
    while merged:
        merged = False
        for at, one in enumerate(faces):
            for other in faces[at + 1 :]:
                whole = _together(one, other)
                if whole is not None:
                    faces = [face for face in faces if face not in (one, other)] + [whole]
                    merged = True
                    break
            if merged:
                break
    return faces


def _triangles(rings: Sequence[tuple[int, ...]], corners: Sequence[Point]) -> Iterator[tuple[int, ...]]:
    from shapely import constrained_delaunay_triangles, get_parts
    from shapely.geometry import Polygon

    outlines = [[corners[number] for number in ring] for ring in rings]
    number_at = {corners[number]: number for ring in rings for number in ring}
    for triangle in get_parts(constrained_delaunay_triangles(Polygon(outlines[0], outlines[1:]))):
        yield tuple(number_at[x, y] for x, y in triangle.exterior.coords[:-1])


def _turned_as(face: tuple[int, ...], rim: Sequence[int], corners: Sequence[Point]) -> tuple[int, ...]:
    same = (_area([corners[number] for number in face]) > 0) is (_area([corners[number] for number in rim]) > 0)
    return face if same else face[::-1]


def _area(ring: Sequence[Point]) -> float:
    """Signed, by the shoelace formula."""
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True)) / 2


def _together(one: tuple[int, ...], other: tuple[int, ...]) -> tuple[int, ...] | None:
    """Two faces as one where they share a single run of edges and no other corner; both run the same way round."""
    shared = set(one) & set(other)
    edges = {(end, start) for start, end in zip(other, (*other[1:], other[0]), strict=True)}
    common = [pair for pair in zip(one, (*one[1:], one[0]), strict=True) if pair in edges]
    if not common or len(shared) != len(common) + 1:
        return None
    first = next(start for start, _ in common if start not in {end for _, end in common})
    last = next(end for _, end in common if end not in {start for start, _ in common})
    begin, resume = one.index(last), other.index(first)
    outer = [*one[begin:], *one[:begin]]
    inner = [*other[resume:], *other[:resume]]
    return (*outer[: outer.index(first)], *inner[: inner.index(last)])


def joins_of(faces: Sequence[tuple[int, ...]]) -> list[tuple[int, int]]:
    """The edges that the faces of one panel share."""
    seen: set[tuple[int, int]] = set()
    joins: list[tuple[int, int]] = []
    for face in faces:
        for start, end in zip(face, (*face[1:], face[0]), strict=True):
            pair = (min(start, end), max(start, end))
            joins += [pair] if pair in seen else []
            seen.add(pair)
    return joins


class _MeshBuilder:
    def __init__(self, net: Net) -> None:
        self.net = net
        self.places = list(_places(net))
        self.rings = [
            [list(self._with_all_corners(ring)) for ring in (panel.outline, *panel.openings)] for panel in net.panels
        ]
        self.creases = [(crease, tuple(self._on(crease))) for crease in net.creases]
        """Every crease with the places on it."""
        self.parent: dict[tuple[int, int], tuple[int, int]] = {}

    def mesh(self) -> Mesh:
        for crease, places in self.creases:
            for place in places:
                self._join((crease.one, place), (crease.other, place))
        number_of: dict[tuple[int, int], int] = {}
        corners: list[Point] = []
        panel_of: list[int] = []
        edges: dict[tuple[int, int], Crease | None] = {}
        faces: list[tuple[int, tuple[int, ...]]] = []
        joins: list[tuple[int, int]] = []
        for panel, rings in enumerate(self.rings):
            if panel in self.net.loose:
                continue
            numbered: list[tuple[int, ...]] = []
            for ring in rings:
                numbers: list[int] = []
                for place in ring:
                    root = self._root((panel, place))
                    if root not in number_of:
                        number_of[root] = len(corners)
                        corners.append(self.places[place])
                        panel_of.append(panel)
                    numbers.append(number_of[root])
                numbered.append(tuple(numbers))
                for at, place in enumerate(ring):
                    one, other = numbers[at], numbers[(at + 1) % len(numbers)]
                    key = (min(one, other), max(one, other))
                    edges.setdefault(key, self._crease_along(panel, place, ring[(at + 1) % len(ring)]))
            parts = whole_faces(numbered, corners)
            faces += [(panel, part) for part in parts]
            joins += joins_of(parts)
        joined = tuple((one, other, crease) for (one, other), crease in edges.items())
        panels, rims = zip(*faces, strict=True) if faces else ((), ())
        return Mesh(tuple(corners), tuple(panel_of), joined, rims, panels, tuple(joins))

    def _with_all_corners(self, ring: Sequence[Point]) -> Iterator[int]:
        """The ring's corners and those of neighbours that lie on its edges, by number of place."""
        for start, end in zip(ring, (*ring[1:], ring[0]), strict=True):
            between = [(reach, place) for place, reach in self._along(start, end)]
            yield from (place for _, place in sorted(between))

    def _along(self, start: Point, end: Point) -> Iterator[tuple[int, float]]:
        """Places on an edge from its start to just before its end."""
        dx, dy = end[0] - start[0], end[1] - start[1]
        long = (dx * dx + dy * dy) ** 0.5
        for number, (x, y) in enumerate(self.places):
            reach = ((x - start[0]) * dx + (y - start[1]) * dy) / long
            off = abs((x - start[0]) * dy - (y - start[1]) * dx) / long
            if off < _NEAR and -_NEAR < reach < long - _NEAR:
                yield number, reach

    def _on(self, crease: Crease) -> Iterator[int]:
        for number, _ in self._along(crease.start, crease.end):
            yield number
        for number, place in enumerate(self.places):
            if abs(place[0] - crease.end[0]) + abs(place[1] - crease.end[1]) < _NEAR:
                yield number

    def _crease_along(self, panel: int, one: int, other: int) -> Crease | None:
        for crease, on in self.creases:
            if panel in (crease.one, crease.other) and one in on and other in on:
                return crease
        return None

    def _root(self, corner: tuple[int, int]) -> tuple[int, int]:
        while corner in self.parent:
            corner = self.parent[corner]
        return corner

    def _join(self, one: tuple[int, int], other: tuple[int, int]) -> None:
        one, other = sorted((self._root(one), self._root(other)))
        if one != other:
            self.parent[other] = one


def _places(net: Net) -> Iterator[Point]:
    """Every corner of every panel and every end of a crease, each once."""
    seen: set[tuple[int, int]] = set()
    points = [point for panel in net.panels for ring in (panel.outline, *panel.openings) for point in ring]
    points += [point for crease in net.creases for point in (crease.start, crease.end)]
    for x, y in points:
        key = round(x / _NEAR), round(y / _NEAR)
        near = {(key[0] + dx, key[1] + dy) for dx in (-1, 0, 1) for dy in (-1, 0, 1)}
        if not near & seen:
            seen.add(key)
            yield x, y
