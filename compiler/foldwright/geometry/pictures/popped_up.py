"""A folded piece that stands up in a card: glued to both its leaves, the card as far open as that piece is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import acos

from msgspec import Struct

from foldwright.geometry.flat.panels import faces_meant
from foldwright.geometry.flat.points import floats
from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.meeting import area_of
from foldwright.geometry.folding.space import Spot, cross, dot, minus, plus, times, unit
from foldwright.geometry.pictures.joining import panel_at
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.pictures.standing import mapped, rested
from foldwright.geometry.pictures.state import State
from foldwright.geometry.pictures.workshop import Workshop
from foldwright.recipe.model import Gluing

_CARDS = frozenset({"card", ""})
_ON_TOP = 0.3
"""Millimetres between the leaves and what is glued on them."""
_PARALLEL = 0.98
"""The cosine of the angle between two panels from which they lie flat, and nothing stands up."""


class Wedge(Struct, frozen=True):
    """Two planes that meet: a place on the line they share, and three ways at right angles to each other: along that
    line, away from the first panel, and up from its plane to where the other panel is. `second` looks up from that."""

    corner: Spot
    along: Spot
    away: Spot
    first: Spot
    second: Spot

    def turned(self, way: Spot) -> Spot:
        """A way, with the first plane on the table and its panel before the line."""
        # The frame of a blank is left-handed, its y runs down; the table's is not.
        return -dot(way, self.along), dot(way, self.away), dot(way, self.first)

    def place(self, spot: Spot) -> Spot:
        """A place, likewise, the line on the table's x axis."""
        return self.turned(minus(spot, self.corner))


def popped_up(workshop: Workshop, state: State, piece: str) -> tuple[Leaf, ...]:
    """The card and what stands in it, one leaf of the card on the table; nothing where there is no such thing."""
    for added in state.added:
        if added.how == "glue-to" and piece in (added.piece, added.thing):
            found = _in_card(workshop, state, added.piece, added.thing)
            if found:
                return found
    return ()


def _in_card(workshop: Workshop, state: State, inner: str, card: str) -> tuple[Leaf, ...]:
    blank, bench = workshop.blank(card), workshop.bench(state)
    if blank is None or blank.form not in _CARDS or not {inner, card} <= bench.bendings.keys():
        return ()
    bending, shape = bench.bendings[card], bench.shape(inner)
    pair = _panels_of(workshop, shape, inner, card)
    inside = _wedge(shape, *pair[0]) if pair else None
    if pair is None or inside is None or bending.last != 1 or len(bending.net.panels) != 2:
        return ()
    halfway = _wedge(bending.posed(0, 1, 0.5), *pair[1])
    if halfway is None:
        return ()
    opened = bending.posed(0, 1, min(1.0, 0.5 * _turn(inside) / _turn(halfway)))
    outside = _wedge(opened, *pair[1])
    if outside is None:
        return ()
    leaves, below = bench.sheets(inner, shape), bench.sheets(card, opened)
    return rested((*_on_table(below, outside, 0.0), *_on_table(leaves, inside, _ON_TOP)))


def _turn(wedge: Wedge) -> float:
    """By how much a flat sheet is folded to have two such planes, in radians."""
    return acos(max(-1.0, min(1.0, dot(wedge.first, wedge.second))))


def _on_table(leaves: Sequence[Leaf], wedge: Wedge, off: float) -> Iterator[Leaf]:
    """The first plane of a wedge on the table, `off` from both planes, in the middle along their line."""
    spans = [wedge.place(spot)[0] for leaf in leaves for spot in leaf.outline]
    clear = times(plus(wedge.turned(wedge.first), wedge.turned(wedge.second)), off)
    by = plus(clear, (-(min(spans) + max(spans)) / 2, 0.0, 0.0))
    return (mapped(leaf, lambda spot: plus(wedge.place(spot), by), wedge.turned) for leaf in leaves)


def _wedge(shape: Folded, one: int, other: int) -> Wedge | None:
    """The planes of two panels; None where they are parallel."""
    middles = [_middle(shape.corners(panel)) for panel in (one, other)]
    normals = [shape.normal(panel) for panel in (one, other)]
    sides = [dot(normals[at], minus(middles[1 - at], middles[at])) for at in (0, 1)]
    first, second = (times(normal, 1.0 if side > 0 else -1.0) for normal, side in zip(normals, sides, strict=True))
    share = dot(first, second)
    if abs(share) > _PARALLEL:
        return None
    far = dot(first, middles[0]), dot(second, middles[1])
    part = 1 - share * share
    corner = plus(times(first, (far[0] - far[1] * share) / part), times(second, (far[1] - far[0] * share) / part))
    along = unit(cross(first, second))
    away = cross(first, along)
    if dot(away, minus(middles[0], corner)) > 0:
        along, away = times(along, -1.0), times(away, -1.0)
    return Wedge(corner, along, away, first, second)


def _panels_of(
    workshop: Workshop, shape: Folded, inner: str, card: str
) -> tuple[tuple[int, int], tuple[int, int]] | None:
    """The two panels of what stands in the card, and those of the card they are glued to; the one that lies on the
    table first."""
    piece, net = workshop.piece(inner), workshop.net(card)
    said = [one.value for one in piece.glued if workshop.named(one.value.to.piece) == card] if piece else []
    if not said or net is None or len(net.panels) != 2:
        return None
    if len(said) > 1:
        pairs = [pair for place in said if (pair := _glued(workshop, inner, card, place)) is not None]
        pairs.sort(key=lambda pair: net.panels[pair[1]].name != "front")
        if not pairs or pairs[0][1] == pairs[-1][1]:
            return None
        (one, under), (other, beside) = pairs[0], pairs[-1]
        return (one, other), (under, beside)
    if said[0].to.panel or said[0].own_panel:
        return None
    # The lower of the two on the blank lies on the table, as the front of the card does.
    largest = sorted((number for number, _ in shape.panels), key=lambda at: -area_of(shape.net.panels[at].outline))
    apart = (two for two in combinations(largest, 2) if abs(dot(*map(shape.normal, two))) < _PARALLEL)
    low, high = sorted(next(apart, (0, 0)), key=lambda at: _place(shape, at), reverse=True)
    order = (1, 0) if net.panels[1].name == "front" else (0, 1)
    return ((low, high), order) if low != high else None


def _place(shape: Folded, panel: int) -> tuple[float, float]:
    x, y, _ = _middle(tuple((x, y, 0.0) for x, y in shape.net.panels[panel].outline))
    return y, x


def _glued(workshop: Workshop, inner: str, card: str, one: Gluing) -> tuple[int, int] | None:
    """The panel of the one piece and that of the other which are glued on each other."""
    found = [_panel(workshop, inner, one.own_panel), _panel(workshop, card, one.to.panel)]
    own, other = found
    return None if own is None or other is None else (own, other)


def _panel(workshop: Workshop, name: str, panel: str) -> int | None:
    blank, net = workshop.blank(name), workshop.net(name)
    faces = faces_meant(blank, panel) if blank and panel else ()
    return panel_at(net, floats((faces[0].middle,))[0]) if net and faces else None


def _middle(spots: Sequence[Spot]) -> Spot:
    x, y, z = (sum(axis) / len(spots) for axis in zip(*spots, strict=True))
    return x, y, z
