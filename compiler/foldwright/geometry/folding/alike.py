"""Edges that meet once a piece is folded are as long as each other, however they are rounded.

An edge runs between places on a blank that have lengths of their own: scores, the size, points of drawn lines. A row
of panels has a length for every edge; a net that was drawn has only its points, so the edges between them get one
here, and each point stands where the edge before it ends.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import product
from math import floor

from msgspec import Struct, field

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.space import Spot, distance
from foldwright.geometry.lengths import Equal, LengthId, Lengths, Relation, Sum
from foldwright.geometry.scene import Point
from foldwright.measure.length import Length, Unit

_SIDES = ("across", "down")
_SAME_PLACE = 1e-6
"""Millimetres: a corner of a panel this near to a place of the blank is that place."""
_MEET = 0.3
"""Millimetres: what lies this near together meets, as paper can do it (a reasoned guess)."""

type _Span = tuple[Fraction, Fraction]


class Alike(Struct):
    """The lengths that edges get, and the relations that hold because of how a piece folds."""

    lengths: dict[LengthId, Length] = field(default_factory=dict)
    relations: list[Relation] = field(default_factory=list)
    worked_out: set[LengthId] = field(default_factory=set)
    """Those of them that lie between places nobody wrote."""


class _PanelEdge(Struct, frozen=True):
    """An edge of a panel: what it spans of either side (None where it does not move), and its ends in space."""

    panel: int
    flat: tuple[Point, Point]
    spans: tuple[_Span | None, _Span | None]
    ends: tuple[Spot, Spot]

    @property
    def middle(self) -> Spot:
        one, other = self.ends
        return (one[0] + other[0]) / 2, (one[1] + other[1]) / 2, (one[2] + other[2]) / 2


def alike_when_folded(blank: Blank, folded: Folded, lengths: Lengths) -> Alike:
    """What the edges of a folded piece ask of its lengths."""
    axes = tuple(_Axis(blank, side, lengths) for side in _SIDES)
    edges = list(_edges(folded, axes))
    for number, axis in enumerate(axes):
        straight = {edge.spans[number] for edge in edges if edge.spans[1 - number] is None}
        axis.set_out({span for span in straight if span is not None})
    pairs: dict[tuple[LengthId, LengthId], None] = {}
    for one, other in _meeting(edges):
        pairs |= dict.fromkeys(_equal_lengths(one, other, axes))
    found = Alike()
    for axis in axes:
        found.lengths |= axis.lengths
        found.relations += axis.relations
        found.worked_out |= axis.worked_out
    found.relations += (Equal(one, other) for one, other in pairs)
    return found


class _Axis:
    """One side of a blank: its places by identity, and the edges between them."""

    def __init__(self, blank: Blank, side: str, known: Lengths) -> None:
        lengths = known.by_id
        self._unwritten = known.worked_out
        self.worked_out: set[LengthId] = set()
        self.lengths: dict[LengthId, Length] = {}
        self.relations: list[Relation] = []
        self._piece, self._side = blank.piece, side
        strips = blank.across if side == "across" else blank.down
        self._spans = {(strip.start, strip.end): strip.length for strip in strips}
        self._places: dict[Fraction, LengthId] = {}
        size = LengthId(blank.piece, side, "size")
        self._rows = {LengthId(blank.piece, side, "score", number) for number in range(1, len(strips))}
        if len(strips) > 1:
            self._rows.add(size)
        for name, length in lengths.items():
            point = (name.side == "line" and name.place == side) or (name.side == side and name.place == "mark")
            if name in self._rows or name == size or (name.piece == blank.piece and point):
                self._places.setdefault(length.mm, name)
        self._made: dict[Fraction, list[LengthId]] = {}
        for own, mm in blank.made:
            self._made.setdefault(mm, []).append(own)
        self._unit = lengths[size].unit if size in lengths else Unit.MILLIMETRE
        self._near = {round(float(place), 3): place for place in (Fraction(0), *self._places)}

    def place(self, at: float) -> Fraction | None:
        found = self._near.get(round(at, 3))
        return found if found is not None and abs(float(found) - at) < _SAME_PLACE else None

    def set_out(self, spans: set[_Span]) -> None:
        """Every point of a drawn line stands where the nearest edge that ends there begins, and that edge further."""
        before: dict[Fraction, Fraction] = {}
        for start, end in spans:
            if start and self._places.get(end) not in self._rows:
                before[end] = max(start, before.get(end, start))
        for end, start in sorted(before.items()):
            edge = self._new_edge((start, end))
            self.relations.append(Sum(self._places[end], (self._places[start], edge)))

    def length_of(self, span: _Span) -> LengthId:
        known = self._spans.get(span)
        if known is None and not span[0]:
            known = self._places[span[1]]
        if known is None:
            known = self._new_edge(span)
            self.relations.append(Sum(self._places[span[1]], (self._places[span[0]], known), held=True))
        return known

    def _new_edge(self, span: _Span) -> LengthId:
        name = LengthId(self._piece, self._side, "edge", len(self.lengths) + 1)
        self._spans[span] = name
        self.lengths[name] = Length(span[1] - span[0], self._unit)
        if not self._unwritten.isdisjoint(self._places.get(end, name) for end in span):
            self.worked_out.add(name)
        self.relations += (Equal(made, name) for made in self._made.get(span[1] - span[0], ()))
        return name


def _edges(folded: Folded, axes: tuple[_Axis, ...]) -> Iterator[_PanelEdge]:
    """The edges that run between places of the blank; others have no length of their own."""
    for number, panel in folded.panels:
        for start, end in zip(panel.outline, (*panel.outline[1:], panel.outline[0]), strict=True):
            spans: list[_Span | None] = []
            for axis, one, other in zip(axes, start, end, strict=True):
                low, high = axis.place(min(one, other)), axis.place(max(one, other))
                if low is not None and high is not None:
                    spans.append((low, high) if low != high else None)
                elif abs(one - other) < _SAME_PLACE:
                    spans.append(None)
            if len(spans) == 2 and any(spans):
                ends = folded.place(number, start), folded.place(number, end)
                yield _PanelEdge(number, (min(start, end), max(start, end)), (spans[0], spans[1]), ends)


def _meeting(edges: list[_PanelEdge]) -> Iterator[tuple[_PanelEdge, _PanelEdge]]:
    """Pairs of edges of two panels that lie together, but for both sides of one fold."""
    cells: dict[tuple[int, int, int], list[_PanelEdge]] = {}
    for edge in edges:
        x, y, z = (floor(at / _MEET) for at in edge.middle)
        for dx, dy, dz in product((-1, 0, 1), repeat=3):
            for other in cells.get((x + dx, y + dy, z + dz), ()):
                if other.panel != edge.panel and other.flat != edge.flat and _lie_together(edge, other):
                    yield other, edge
        cells.setdefault((x, y, z), []).append(edge)


def _lie_together(one: _PanelEdge, other: _PanelEdge) -> bool:
    (start, end), (its_start, its_end) = one.ends, other.ends
    against = max(distance(start, its_end), distance(end, its_start))
    along = max(distance(start, its_start), distance(end, its_end))
    return min(against, along) <= _MEET


def _equal_lengths(one: _PanelEdge, other: _PanelEdge, axes: tuple[_Axis, ...]) -> Iterator[tuple[LengthId, LengthId]]:
    """What is equal about two edges that meet: their lengths, or how far each slants across and down."""
    straight, its_straight = (sorted(_moves(edge)) for edge in (one, other))
    if [long for long, _, _ in straight] != [long for long, _, _ in its_straight]:
        return
    for (_, side, span), (_, its_side, its_span) in zip(straight, its_straight, strict=True):
        names = axes[side].length_of(span), axes[its_side].length_of(its_span)
        if names[0] != names[1]:
            yield min(names), max(names)


def _moves(edge: _PanelEdge) -> Iterator[tuple[Fraction, int, _Span]]:
    for side, span in enumerate(edge.spans):
        if span is not None:
            yield span[1] - span[0], side, span
