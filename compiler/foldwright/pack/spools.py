"""Lengths off spools and rolls: the same problem as pieces out of sheets one high, solved and proven as that is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from msgspec import Struct

from foldwright.pack.cutting.cutting import cut_sheets
from foldwright.pack.cutting.model import Kind, Part, Stock

_HIGH = Fraction(1)


class Wanted(Struct, frozen=True):
    """So many of one length in millimetres."""

    length: Fraction
    count: int


class Spool(Struct, frozen=True):
    """A spool of a length; `copies` is how many there are (None: as many as are bought)."""

    length: Fraction
    copies: int | None
    price: Decimal | None


class SpoolWay(Struct, frozen=True):
    """So many spools cut alike: how many of each wanted length come off each, and what is left of it."""

    spool: int
    counts: tuple[int, ...]
    spools: int
    left: Fraction


class SpoolPlan(Struct, frozen=True):
    """`proven` when no way buys for less; `too_long` are the wanted lengths that come off no spool."""

    ways: tuple[SpoolWay, ...]
    proven: bool
    too_long: tuple[int, ...] = ()


def cut_lengths(wanted: Sequence[Wanted], spools: Sequence[Spool], end_waste: Fraction = Fraction(0)) -> SpoolPlan:
    """The least bought for all that is wanted, what is owned first. `end_waste` is lost at both ends of each spool."""
    kinds = [Kind(((one.length, _HIGH),), one.count) for one in wanted]
    room = [max(Fraction(0), spool.length - 2 * end_waste) for spool in spools]
    usable = [number for number, spool in enumerate(spools) if room[number] > 0 and spool.copies != 0]
    priced = all(spools[number].price for number in usable if spools[number].copies is None)
    stocks = [Stock(room[number], _HIGH, _cost(spools[number], priced), spools[number].copies) for number in usable]
    if not stocks:
        return SpoolPlan((), not kinds, tuple(range(len(kinds))))
    cutting = cut_sheets(kinds, stocks)
    ways = []
    for layout in cutting.layouts:
        held = Counter(layout.whole.pieces())
        counts = tuple(held.get(number, 0) for number in range(len(wanted)))
        ways.append(SpoolWay(usable[layout.stock], counts, layout.copies, _left(layout.whole)))
    missing = (*cutting.too_large, *(kind for kind, _ in cutting.short))
    return SpoolPlan(tuple(ways), cutting.proven, tuple(sorted(missing)))


def _cost(spool: Spool, priced: bool) -> Fraction:
    if spool.copies is not None:
        return Fraction(0)
    return Fraction(spool.price) if priced and spool.price else spool.length


def _left(whole: Part) -> Fraction:
    return sum((part.width for part in whole.parts if part.is_offcut), Fraction(0))
