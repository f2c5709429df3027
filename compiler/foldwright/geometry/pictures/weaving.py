"""Woven strips as they lie: over one and under the next, as many, as wide and as long as the recipe says."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import accumulate, pairwise
from math import cos, pi, sin

from msgspec import Struct

from foldwright.geometry.folding.space import Spot
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.scene import LineKind
from foldwright.geometry.together.weaving import Strips, Weave

_ABOVE = 0.3
"""Millimetres: how far a strip is drawn above the one it lies on."""
_MOST = 24
"""So many strips of a set are drawn at most: more are hardly told apart."""
_OUT = 0.45
"""How far a strip on its way is drawn out, as a part of the mat."""
_ARC = 12
_UP: Spot = (0.0, 0.0, 1.0)


class Laid(Struct, frozen=True):
    """One set on the table: where its strips begin and end, side by side (`marks`), and along them (`low`, `high`).

    A sheet goes on by `before` and `after` the cuts, all its strips in one, `bulging` where its edge is no straight
    one; 0 where the strips end.
    """

    piece: str
    paper: int
    marks: tuple[float, ...]
    low: float
    high: float
    before: float = 0.0
    after: float = 0.0
    bulging: bool = False

    @property
    def loose(self) -> bool:
        return not self.before and not self.after


def laid_out(weave: Weave, papers: Mapping[str, int], outlined: frozenset[str] = frozenset()) -> tuple[Laid, Laid]:
    """The set that lies along y and the one that is woven through it along x; a sheet with cuts is the first.
    `outlined` are pieces with a free outline."""
    one, other = (weave.one, weave.other) if weave.one.cut and not weave.other.cut else (weave.other, weave.one)
    columns, rows = (_laid(strips, papers, strips.piece in outlined) for strips in (one, other))
    return columns, rows


def _laid(strips: Strips, papers: Mapping[str, int], outlined: bool) -> Laid:
    widths = strips.widths[:_MOST]
    ends = [float(mm) for mm in accumulate(widths, initial=Fraction(0))]
    marks = tuple(end - ends[-1] / 2 for end in ends)
    half, paper = float(strips.room) / 2, papers.get(strips.piece, 0)
    if strips.cut is None:
        return Laid(strips.piece, paper, marks, -half, half)
    before, after = float(strips.cut[0]), float(strips.long - strips.cut[1])
    # Folded at the middle of its cuts, so that one end of the strips is the fold.
    margins = (0.0, min(before, after)) if strips.folded else (after, before)
    return Laid(strips.piece, paper, marks, -half, half, *margins, outlined)


def woven_leaves(columns: Laid, rows: Laid, moving: bool = False) -> Iterator[Leaf]:
    """All that can be seen of a plain weave from above; the last row on its way where it is `moving`."""
    yield from (_turned(leaf) for leaf in _flat(columns))
    yield from _margins(rows)
    wide = columns.marks[-1] - columns.marks[0]
    for row, (y1, y2) in enumerate(pairwise(rows.marks)):
        shift = -_OUT * (wide + rows.high - rows.low) / 2 if moving and row == len(rows.marks) - 2 else 0.0
        low, high = rows.low + shift, rows.high + shift
        places = sorted({low, high, *(mark for mark in columns.marks if low < mark < high)})
        for x1, x2 in pairwise(places):
            column = sum(mark <= (x1 + x2) / 2 for mark in columns.marks) - 1
            within = 0 <= column < len(columns.marks) - 1
            if within and (column + row) % 2:
                continue
            first, last = x1 == low and not rows.before, x2 == high and not rows.after
            yield _sheet((x1, x2), (y1, y2), rows, (True, last, True, first), _ABOVE)


def _flat(strips: Laid) -> Iterator[Leaf]:
    """Strips along x, as they lie on the table, and what joins them."""
    yield from _margins(strips)
    for y1, y2 in pairwise(strips.marks):
        yield _sheet(
            (strips.low, strips.high), (y1, y2), strips, (True, not strips.after, True, not strips.before), 0.0
        )


def _margins(strips: Laid) -> Iterator[Leaf]:
    y1, y2 = strips.marks[0], strips.marks[-1]
    for side, reach in ((-1, strips.before), (1, strips.after)):
        if reach and strips.bulging:
            x = strips.high if side > 0 else strips.low
            turns = [pi * (step / _ARC - 0.5) for step in range(_ARC + 1)]
            ring = tuple((x + side * reach * cos(turn), (y2 - y1) / 2 * sin(turn), 0.0) for turn in turns)
            yield Leaf(ring, _UP, (*(LineKind.CUT,) * _ARC, None), paper=strips.paper, piece=strips.piece)
        elif reach and side < 0:
            yield _sheet((strips.low - reach, strips.low), (y1, y2), strips, (True, False, True, True), 0.0)
        elif reach:
            yield _sheet((strips.high, strips.high + reach), (y1, y2), strips, (True, True, True, False), 0.0)


def _sheet(
    across: tuple[float, float], along: tuple[float, float], of: Laid, lines: tuple[bool, bool, bool, bool], z: float
) -> Leaf:
    """A rectangle; `lines` says which of its edges are drawn: near, right, far and left."""
    (x1, x2), (y1, y2) = across, along
    ring = ((x1, y1, z), (x2, y1, z), (x2, y2, z), (x1, y2, z))
    return Leaf(ring, _UP, tuple(LineKind.CUT if line else None for line in lines), paper=of.paper, piece=of.piece)


def _turned(leaf: Leaf) -> Leaf:
    """The same a quarter turn further, so that what lay along x lies along y."""
    ring = tuple((-y, x, z) for x, y, z in leaf.outline)
    return Leaf(ring, leaf.good, leaf.edges, paper=leaf.paper, piece=leaf.piece)
