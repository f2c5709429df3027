"""What lies on a face in another size: a mat keeps its border, a label its shape, what stands over stands over."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from msgspec import Struct

from foldwright.begin.resize.growth import Growth, nearest, on_ruler
from foldwright.geometry.together.lying import Lying
from foldwright.measure.length import Unit

_NARROW = Fraction(1, 8)
"""A border no wider than this part of a mat's shorter side is narrow (a reasoned guess)."""
_EVEN = Fraction(1)
"""Borders that differ by no more than this (mm) look even (a reasoned guess)."""
_EDGES = {"across": ("left", "right"), "down": ("top", "bottom")}

type Sides = Mapping[str, Fraction]
"""Across and down, in millimetres."""


class Lies(Struct, frozen=True):
    """How large a piece is now, and how far from an edge it is lined up, where that is another length than before.

    `border` is what a mat keeps all round (below nothing where it stands over the face), None for a label.
    """

    across: Fraction
    down: Fraction
    border: Fraction | None = None
    away: tuple[tuple[str, Fraction], ...] = ()


class Lie(Struct, frozen=True):
    """A piece on a face as it was: both sizes, how it is said to lie, and the unit it is measured in."""

    own: Sides
    face: Sides
    lying: Lying
    unit: Unit

    @property
    def borders(self) -> dict[str, Fraction]:
        """What shows of the face at each edge; below nothing where the piece stands over it."""
        found: dict[str, Fraction] = {}
        for side, edges in _EDGES.items():
            room = self.face[side] - self.own[side]
            found |= dict.fromkeys(edges, room / 2)
            for edge, by in self.lying.edges:
                if edge in edges:
                    other = edges[1 - edges.index(edge)]
                    found[edge] = by.mm if by else Fraction(0)
                    found[other] = room - found[edge]
                    break
        return found

    @property
    def held(self) -> frozenset[str]:
        """The edges of a mat that keep their border: three or all four of them, narrow and even. None of a label's."""
        borders = self.borders
        narrow = [edge for edge, border in borders.items() if abs(border) <= _NARROW * min(self.own.values())]
        for first in narrow:
            alike = frozenset(edge for edge in narrow if abs(borders[edge] - borders[first]) <= _EVEN)
            if len(alike) >= len(borders) - 1:
                return alike
        return frozenset()

    def follows(self, side: str) -> bool:
        """Whether it is as long as its face along a side, but for what a mat leaves free at either edge."""
        return self.own[side] == self.face[side] or self.held.issuperset(_EDGES[side])


def laid_anew(lie: Lie, face: Sides, growth: Growth) -> Lies:
    """The piece on the face as that is now."""
    mat = _mat(lie, face, growth) if lie.held else None
    return mat or _evenly(lie, face, growth) or _label(lie, face, growth)


def _mat(lie: Lie, face: Sides, growth: Growth) -> Lies | None:
    """A mat with the borders it had; the one edge that is far off goes with the face. None when nothing is left."""
    borders, held = lie.borders, lie.held
    sizes = {}
    for side, edges in _EDGES.items():
        far = next((edge for edge in edges if edge not in held), None)
        kept = sum((borders[edge] for edge in edges if edge in held), Fraction(0))
        if far is None:
            sizes[side] = face[side] - kept
        elif borders[far] > 0:
            # The wide border grows as its face does.
            grown = nearest(borders[far] * face[side] / lie.face[side], growth.mark(lie.unit))
            sizes[side] = face[side] - kept - grown
        else:
            sizes[side] = face[side] - kept + nearest(-borders[far] * growth.scale, growth.mark(lie.unit))
    border = next(borders[edge] for edge in sorted(held))
    sizes = {side: on_ruler(size, lie.unit, larger=border < 0) for side, size in sizes.items()}
    return Lies(sizes["across"], sizes["down"], border) if min(sizes.values()) > 0 else None


def _evenly(lie: Lie, face: Sides, growth: Growth) -> Lies | None:
    """A wide border that is the same all round is scaled, and stays the same all round; None for any other."""
    border, *others = lie.borders.values()
    if not border or any(other != border for other in others) or any(by for _, by in lie.lying.edges):
        return None
    new = nearest(abs(border) * factor(lie, face, growth), growth.mark(lie.unit)) * (1 if border > 0 else -1)
    sizes = {side: on_ruler(face[side] - 2 * new, lie.unit, larger=border < 0) for side in _EDGES}
    return Lies(sizes["across"], sizes["down"]) if min(sizes.values()) > 0 else None


def _label(lie: Lie, face: Sides, growth: Growth) -> Lies:
    """A label so many times as large; what was flush with an edge, within it or beyond it still is."""
    mark = growth.mark(lie.unit)
    times = factor(lie, face, growth)
    away = {edge: _away(lie, edge, by.mm, face, mark) for edge, by in lie.lying.edges if by}
    sizes = {}
    for side, edges in _EDGES.items():
        room = lie.face[side] - lie.own[side]
        new = lie.own[side] if times == 1 else nearest(lie.own[side] * times, mark)
        if not room:
            new = on_ruler(face[side], lie.unit, larger=False)
        elif room < 0:
            new = max(new, on_ruler(face[side], lie.unit, larger=True) + mark)
        else:
            taken = sum((away.get(edge, Fraction(0)) for edge in edges), Fraction(0))
            new = min(new, on_ruler(face[side] - (taken or mark), lie.unit, larger=False))
        sizes[side] = max(new, mark)
    moved = ((edge, away[edge]) for edge, by in lie.lying.edges if by and away[edge] != by.mm)
    return Lies(sizes["across"], sizes["down"], away=tuple(moved))


def factor(lie: Lie, face: Sides, growth: Growth) -> Fraction:
    """How many times as large a label is: as all else, or where nothing is scaled, as its face in its tighter way."""
    if growth.scale != 1:
        return growth.scale
    return min(face[side] / lie.face[side] for side in _EDGES)


def _away(lie: Lie, edge: str, by: Fraction, face: Sides, mark: Fraction) -> Fraction:
    """How far from an edge: a narrow border stays, a wide one goes with the face."""
    if by <= _NARROW * min(lie.own.values()):
        return by
    side = next(side for side, edges in _EDGES.items() if edge in edges)
    ratio = face[side] / lie.face[side]
    return by if ratio == 1 else nearest(by * ratio, mark)
