"""What a line of the list takes off the shelf, size by size, and which lengths come off which spool."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from msgspec import Struct

from foldwright.event.plan.shopping import LengthWanted, ShoppingLine


class Taken(Struct, frozen=True):
    """So many, of so many alike, that are taken from the shelf. `sides` are those of a sheet, or a length alone."""

    count: int
    there_are: int
    sides: tuple[Fraction, ...]
    name: str = ""
    """What sheets of that size are called."""
    scrap: bool = False


def taken_from_shelf(line: ShoppingLine) -> Iterator[Taken]:
    """The sheets, scraps and spools of the shelf that are cut up."""
    if line.sheets is not None:
        for number, size in enumerate(line.sheets.sizes):
            if size.owned and (count := line.sheets.cutting.sheets(number)):
                yield Taken(count, size.count or 0, (size.width, size.height), size.name, size.scrap)
    elif line.spools is not None and line.owned is not None:
        for number, said in enumerate(line.owned.lengths):
            if count := sum(way.spools for way in line.spools.ways if way.spool == number):
                yield Taken(count, said.value.count, (said.value.length.mm,))


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
