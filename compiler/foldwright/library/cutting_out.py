"""Whether pieces come out of rectangles of paper with straight cuts from edge to edge, and how many times over.

What is found does come out. Now and then a way is missed that somebody who turns pieces about would find. Lengths are
whole numbers here, of whatever small part of a millimetre all of them are made of: exact, and quick to compare.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from functools import lru_cache
from math import lcm

from msgspec import Struct

from foldwright.outputs.entry import Cut, ExactMm

MOST_TIMES = 20
"""So often is counted; more is many."""
_MOST_PIECES = 200
"""Of more pieces at a time nothing is said: they come out of no sheet that anybody lays by hand."""


class Rectangle(Struct, frozen=True):
    """A rectangle of paper as it lay in its sheet. `grain` is the side the grain runs along; empty: nobody knows."""

    across: int
    down: int
    grain: str = ""

    @property
    def area(self) -> int:
        return self.across * self.down


class Wanted(Struct, frozen=True):
    """Alike pieces, with what `Cut` says of them."""

    across: int
    down: int
    count: int
    grain: str = ""
    upright: bool = False

    @property
    def area(self) -> int:
        return self.across * self.down * self.count

    def ways_in(self, paper: Rectangle) -> Iterator[tuple[int, int]]:
        """How it may lie on the paper, as far as grain and pattern are concerned."""
        turned = self.grain != paper.grain if self.grain else None
        if self.grain and not paper.grain:
            return
        if not turned:
            yield self.across, self.down
        if not self.upright and turned is not False and (self.across != self.down or turned):
            yield self.down, self.across


class Scale(Struct, frozen=True):
    """How many parts a millimetre has."""

    parts: int

    @classmethod
    def of(cls, lengths: Iterable[ExactMm]) -> Scale:
        """The scale at which all of these are whole numbers."""
        return cls(lcm(*{int(length.partition("/")[2] or 1) for length in lengths}))

    def whole(self, length: ExactMm) -> int:
        return _whole(length, self.parts)

    def wanted(self, cuts: Iterable[Cut]) -> tuple[Wanted, ...]:
        """The pieces, the longest first."""
        found = (Wanted(self.whole(c.across), self.whole(c.down), c.count, c.grain, c.upright) for c in cuts)
        return tuple(sorted(found, key=lambda one: (-max(one.across, one.down), -min(one.across, one.down))))


@lru_cache(maxsize=65536)
def _whole(length: ExactMm, parts: int) -> int:
    """Papers and pieces come in the same sizes over and over."""
    return int(Fraction(length) * parts)


def times_out(wanted: Sequence[Wanted], papers: Sequence[Rectangle], most: int = MOST_TIMES) -> int:
    """How many times over all the pieces come out of the papers, up to `most`."""
    if not wanted or sum(one.count for one in wanted) > _MOST_PIECES:
        return 0
    if len(wanted) == 1:
        (one,) = wanted
        return min(most, sum(_in_rows(one, paper) for paper in papers) // one.count)
    left, times = sorted(papers, key=lambda paper: paper.area), 0
    while times < most and (rest := _one_after_another(wanted, left)) is not None:
        left, times = rest, times + 1
    return times


def _in_rows(one: Wanted, paper: Rectangle) -> int:
    """How many alike pieces lie in rows on a paper, all the same way round."""
    return max((paper.across // wide * (paper.down // high) for wide, high in one.ways_in(paper)), default=0)


def _one_after_another(wanted: Sequence[Wanted], papers: Sequence[Rectangle]) -> list[Rectangle] | None:
    """What is left when every piece has been cut from the smallest paper that holds it; None where a piece has none."""
    left = list(papers)
    for one in wanted:
        for _ in range(one.count):
            found = next(
                (
                    (paper, way)
                    for paper in left
                    for way in one.ways_in(paper)
                    if way[0] <= paper.across and way[1] <= paper.down
                ),
                None,
            )
            if found is None:
                return None
            paper, way = found
            left.remove(paper)
            left += _rest(paper, *way)
            left.sort(key=lambda paper: paper.area)
    return left


def _rest(paper: Rectangle, wide: int, high: int) -> Iterator[Rectangle]:
    """What is left beside and below a piece in the corner, parted so that the larger part is as large as it can be."""
    beside, below = paper.across - wide, paper.down - high
    if beside * paper.down >= paper.across * below:
        parts = (beside, paper.down), (wide, below)
    else:
        parts = (beside, high), (paper.across, below)
    yield from (Rectangle(*part, paper.grain) for part in parts if min(part) > 0)
