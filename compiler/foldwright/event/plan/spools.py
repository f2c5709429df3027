"""Which lengths come off which spool: the plan of a shopping line, spool by spool, in the order they are begun."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from msgspec import Struct

from foldwright.event.plan.shopping import LengthWanted, ShoppingLine


class SpoolWork(Struct, frozen=True):
    """So many spools cut alike, numbered from `first`: the `lengths` cut off each, and what is left of it.

    `left` is in one piece, what is lost at the ends not counted.
    """

    first: int
    spools: int
    length: Fraction
    owned: bool
    lengths: tuple[LengthWanted, ...]
    left: Fraction


def spool_work(line: ShoppingLine) -> Iterator[SpoolWork]:
    """Owned spools first, as the plan takes them; of those to buy the ones used up most come first."""
    if line.spools is None:
        return
    first = 1
    for way in sorted(line.spools.ways, key=lambda one: (line.reels[one.spool].copies is None, one.spool, one.left)):
        lengths = tuple(
            LengthWanted(one.recipes, one.length, count)
            for one, count in zip(line.lengths, way.counts, strict=True)
            if count
        )
        reel = line.reels[way.spool]
        yield SpoolWork(first, way.spools, reel.length, reel.copies is not None, lengths, way.left)
        first += way.spools
