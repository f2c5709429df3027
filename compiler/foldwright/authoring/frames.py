"""A piece in space on its way from flat to finished, as plain numbers for a page that turns and folds it.

Millimetres on the table on which the finished thing stands as it does in pictures: x to the right, y away, z up.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import chain

from msgspec import Struct

from foldwright.document.papers import papers_of
from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.net import Crease, Panel
from foldwright.geometry.folding.space import Spot
from foldwright.geometry.pictures.bending import Bending, standing_of
from foldwright.geometry.pictures.solid import faces_of, sheets_of
from foldwright.geometry.pictures.standing import Standing, stood, turn_of
from foldwright.geometry.pictures.workshop import Workshop, workshop_of
from foldwright.geometry.scene import LineKind, Point, scene_of
from foldwright.pipeline import Understood
from foldwright.render.drawing.pens import INK, LIGHT_INK, is_dark
from foldwright.render.drawing.svg import draw

_DIGITS = 3
"""Thousandths of a millimetre, which nobody sees."""
_FLAT = 0.5
"""Degrees: what is folded less lies flat."""


class FramePanel(Struct, frozen=True):
    """A panel: its name, and its triangles as numbers of corners, which run anticlockwise seen from its good side."""

    name: str
    triangles: tuple[int, ...]


class Frames(Struct, frozen=True):
    """`frames` hold x, y and z of every corner in turn, the first of the flat piece, the last of the finished one; of a
    piece that stays flat there is one. `folds` and `cuts` are pairs of corners, `kinds` says what each fold is."""

    piece: str
    front: str
    back: str
    edge: str
    """The colour of lines on it."""
    azimuth: float
    """How far to the right it is looked at from, in degrees, as in the pictures of the recipe."""
    panels: tuple[FramePanel, ...]
    cuts: tuple[int, ...]
    folds: tuple[int, ...]
    kinds: tuple[str, ...]
    frames: tuple[tuple[float, ...], ...]


def folded_frames(understood: Understood, piece: str, steps: int = 24) -> Frames | None:
    """One piece by its name, in so many steps; None where it could not be laid flat."""
    return frames_of(workshop_for(understood), piece, steps)


def folded_picture(understood: Understood, piece: str, width_mm: float = 90.0) -> str:
    """The finished piece as a drawing, for a page that shows nothing in space; empty where there are no frames."""
    workshop = workshop_for(understood)
    bending = workshop.bending(piece)
    if bending is None:
        return ""
    finished = bending.posed(bending.last)
    sheets = sheets_of(finished, (), workshop.papers[piece], bending.edges)
    faces = faces_of(stood(sheets, _standing(workshop, bending)), workshop.view)
    return draw(papers_of(understood.recipe).painted(scene_of(faces)), {}, width_mm, 10.0, piece)


def foldable(understood: Understood) -> tuple[str, ...]:
    """The pieces there are frames of."""
    names = [piece.name.value for piece in understood.recipe.pieces]
    blanks = [understood.flat.blank(name) for name in names]
    return tuple(blank.piece for blank in blanks if blank is not None and not blank.doubtful)


def workshop_for(understood: Understood) -> Workshop:
    """What pieces are folded with, for who wants several of a recipe."""
    return workshop_of(understood.recipe, understood.flat, understood.folding, frozenset())


def _standing(workshop: Workshop, bending: Bending) -> Standing:
    return standing_of(bending, True, bending.net.piece in workshop.lids)


def frames_of(workshop: Workshop, piece: str, steps: int = 24) -> Frames | None:
    """One piece of a recipe by its name; None where it could not be laid flat."""
    bending = workshop.bending(piece)
    if bending is None or not bending.net.panels:
        return None
    papers = papers_of(workshop.recipe)
    paper = papers.looks[papers.of_piece[piece]]
    corners = _Corners(bending, turn_of(_standing(workshop, bending)))
    view = workshop.view
    return Frames(
        piece,
        paper.front,
        paper.back,
        LIGHT_INK if is_dark(paper.front) else INK,
        -view.azimuth if view.left_handed else view.azimuth,
        tuple(corners.panel(number) for number in corners.there),
        tuple(corners.cuts()),
        tuple(chain.from_iterable(corners.folds)),
        tuple(_kind_of(crease) for crease in corners.creases),
        tuple(corners.placed(folded) for folded in on_the_way(bending, steps)),
    )


def on_the_way(bending: Bending, steps: int) -> Iterator[Folded]:
    """From flat to finished, group after group as it is folded for pictures, without what would tear on its way: that
    is folded in one move."""
    yield bending.posed(0)
    for step in range(1, steps if bending.last else 0):
        way = step * bending.last / steps
        now = bending.posed(int(way), int(way) + 1, way - int(way))
        if bending.net.curved or bending.holds(now):
            yield now
    if bending.last:
        yield bending.posed(bending.last)


class _Corners:
    """The corners of all panels, each panel's own, then the ends of the folds: a number for each."""

    def __init__(self, bending: Bending, turn: Callable[[Spot], Spot]) -> None:
        self._bending, self._turn, net = bending, turn, bending.net
        self.there = [number for number in range(len(net.panels)) if number not in net.loose]
        self.creases = [one for one in net.creases if not one.smooth and one.one in self.there]
        self._spots: list[tuple[int, Point]] = []
        self._first: dict[int, int] = {}
        for number in self.there:
            self._first[number] = len(self._spots)
            panel = net.panels[number]
            self._spots += [
                (number, point) for ring in (panel.outline, *panel.openings, *panel.slits) for point in ring
            ]
        self.folds: list[tuple[int, int]] = []
        for crease in self.creases:
            self.folds.append((len(self._spots), len(self._spots) + 1))
            self._spots += [(crease.one, crease.start), (crease.one, crease.end)]

    def panel(self, number: int) -> FramePanel:
        panel = self._bending.net.panels[number]
        first = self._first[number]
        return FramePanel(panel.name, tuple(first + at for at in _triangles(panel)))

    def cuts(self) -> Iterator[int]:
        """The edges that are cut, those of openings, and slits."""
        for number in self.there:
            panel, at = self._bending.net.panels[number], self._first[number]
            kinds = [kind is LineKind.CUT for kind in self._bending.edges[number]]
            for ring in (panel.outline, *panel.openings):
                for corner in range(len(ring)):
                    if ring is not panel.outline or kinds[corner]:
                        yield from (at + corner, at + (corner + 1) % len(ring))
                at += len(ring)
            for slit in panel.slits:
                for corner in range(len(slit) - 1):
                    yield from (at + corner, at + corner + 1)
                at += len(slit)

    def placed(self, folded: Folded) -> tuple[float, ...]:
        spots = (folded.place(number, point) for number, point in self._spots)
        return tuple(round(one, _DIGITS) + 0.0 for spot in spots for one in self._turn(spot))


def _kind_of(crease: Crease) -> str:
    if abs(crease.angle) < _FLAT:
        return "flat"
    return "valley" if crease.angle > 0 else "mountain"


def _triangles(panel: Panel) -> Iterator[int]:
    """By number of corner, outline first, then openings; seen from the good side they run anticlockwise."""
    from shapely import constrained_delaunay_triangles, get_parts
    from shapely.geometry import Polygon

    points = [point for ring in (panel.outline, *panel.openings) for point in ring]
    number = {point: at for at, point in enumerate(points)}
    for triangle in get_parts(constrained_delaunay_triangles(Polygon(panel.outline, panel.openings))):
        corners = [(x, y) for x, y in triangle.exterior.coords[:-1]]
        yield from (number[corner] for corner in (corners if _anticlockwise(corners) else corners[::-1]))


def _anticlockwise(corners: Sequence[Point]) -> bool:
    (ax, ay), (bx, by), (cx, cy) = corners
    return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax) < 0
