"""Lengths off spools and rolls: the least that must be bought, what is owned first, and how each spool is cut."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from math import gcd, lcm

from msgspec import Struct

from foldwright.pack.lengths import Roll, RollJob, first_fits
from foldwright.pack.spooling import SpoolCuts, solve


class WantedLength(Struct, frozen=True):
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
    """`proven` when no way buys for less; `too_long` are the wanted lengths of which not all can be had.

    `counted` when no plan was found, and spool after spool was filled instead: enough, and perhaps more than that.
    """

    ways: tuple[SpoolWay, ...]
    proven: bool
    too_long: tuple[int, ...] = ()
    counted: bool = False


def cut_lengths(
    wanted: Sequence[WantedLength], spools: Sequence[Spool], end_waste: Fraction = Fraction(0)
) -> SpoolPlan:
    """The least bought for all that is wanted, what is owned first. `end_waste` is lost at both ends of each spool."""
    room = [spool.length - 2 * end_waste for spool in spools]
    usable = [number for number, spool in enumerate(spools) if room[number] > 0 and spool.copies != 0]
    longest = max((room[number] for number in usable), default=Fraction(0))
    kinds = [number for number, one in enumerate(wanted) if one.count and one.length <= longest]
    too_long = [number for number, one in enumerate(wanted) if one.count and one.length > longest]
    if not kinds:
        return SpoolPlan((), not too_long, tuple(too_long))
    job = _job([wanted[kind] for kind in kinds], [spools[number] for number in usable], [room[one] for one in usable])
    found = solve(job)
    counted = not _sound(job, found)
    if counted:
        found = SpoolCuts(min(first_fits(job), key=job.merit), 0)
    missing = job.missing(found.cuts)
    ways = []
    for cut, copies in found.cuts:
        counts = [0] * len(wanted)
        for kind, count in zip(kinds, cut.counts, strict=True):
            counts[kind] = count
        taken = sum((one.length * count for one, count in zip(wanted, counts, strict=True)), Fraction(0))
        ways.append(SpoolWay(usable[cut.roll], tuple(counts), copies, room[usable[cut.roll]] - taken))
    too_long += [kind for kind, number in zip(kinds, missing, strict=True) if number]
    proven = not too_long and not counted and job.cost(found.cuts) <= found.bound
    return SpoolPlan(tuple(ways), proven, tuple(sorted(too_long)), counted)


def _job(wanted: Sequence[WantedLength], spools: Sequence[Spool], rooms: Sequence[Fraction]) -> RollJob:
    """The same in whole numbers, as small as they can be: all lengths are multiples of what they have in common."""
    parts = lcm(*(one.length.denominator for one in wanted))
    lengths = [int(one.length * parts) for one in wanted]
    common = gcd(*lengths)
    priced = all(spool.price for spool in spools if spool.copies is None)
    costs = [_cost(spool, priced) for spool in spools]
    share = lcm(*(cost.denominator for cost in costs))
    rolls = [
        Roll(int(room * parts) // common, int(cost * share), spool.copies)
        for room, cost, spool in zip(rooms, costs, spools, strict=True)
    ]
    return RollJob(tuple(length // common for length in lengths), tuple(one.count for one in wanted), tuple(rolls))


def _cost(spool: Spool, priced: bool) -> Fraction:
    if spool.copies is not None:
        return Fraction(0)
    return Fraction(spool.price) if priced and spool.price else spool.length


def _sound(job: RollJob, found: SpoolCuts) -> bool:
    """Whether every cut can be made, and gives just what is wanted of all that can be bought."""
    given = [sum(number * cut.counts[kind] for cut, number in found.cuts) for kind in range(len(job.wanted))]
    scarce = job.scarce()
    right = all(
        had == want or (kind in scarce and had < want)
        for kind, (had, want) in enumerate(zip(given, job.wanted, strict=True))
    )
    return right and job.possible(found.cuts) and found.bound >= 0
