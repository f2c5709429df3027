"""Lengths off spools and rolls: the least that must be bought, what is owned first, and how each spool is cut.

Gilmore and Gomory (1961, from memory): a linear program over ways to cut a spool asks a knapsack table for better ways
until none would gain; then comes one in whole numbers. Under the values of its answer no way of cutting is worth more
than the table says, and from that follows which spools must be bought however they are cut. Values, lengths and tables
are whole numbers: the bound holds whatever the programs rounded. Nothing looks at the clock.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from math import gcd, lcm
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from foldwright.pack.lengths import (
    Cuts,
    Knapsack,
    Limit,
    Roll,
    RollCut,
    RollJob,
    cheapest,
    every_way,
    exactly,
    first_fits,
)
from foldwright.quiet_highs import quiet_highs


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


_VALUE = 1 << 30
"""What the dearest length is worth in the tables."""
_MOST_ROUNDS = 300
_MOST_NODES = 400
_MOST_LIMITS = 60
_MOST_DIVES = 4
_MOST_IN_PROGRAM = 400
_CLEAR = 1e-7
"""Below this a gain is the program's own rounding."""


class SpoolCuts(Struct, frozen=True):
    """The best cuts, and what any cuts that give everything cost at least."""

    cuts: Cuts
    bound: int


def solve(job: RollJob) -> SpoolCuts:
    """The least missing, then the least cost, then the fewest spools. Always an answer; the bound says how good."""
    best = min(first_fits(job), key=job.merit)
    search = _CutSearch(job, best)
    bound, counts = search.bound()

    def good() -> bool:
        return job.merit(best)[:2] <= (0, bound)

    if counts is not None:
        for turn in range(_MOST_DIVES):
            if not good():
                best = min(
                    best, exactly(job, search.dive(dict(zip(job.sold(), counts, strict=True)), turn)), key=job.merit
                )
    if not good() and (found := search.whole()) is not None and job.possible(found):
        best = min(best, exactly(job, found), key=job.merit)
    return SpoolCuts(best, bound)


class _CutSearch:
    """Ways to cut, more and more of them."""

    def __init__(self, job: RollJob, known: Cuts) -> None:
        self._job = job
        self._table = Knapsack(job, True, job.wanted)
        self._lower = self._table if self._table.exact else Knapsack(job, False, job.wanted)
        self._limits: list[Limit] = []
        self._pool: dict[RollCut, None] = dict.fromkeys((*(cut for cut, _ in known), *every_way(job)))
        kinds = range(len(job.lengths))
        for roll in range(len(job.rolls)):
            alone = [tuple(job.most(kind, roll) * (kind == other) for other in kinds) for kind in kinds]
            self._pool.update(dict.fromkeys(RollCut(roll, counts) for counts in alone if any(counts)))
        self._limit(job.lengths)
        self._limit(_in_whole(_grown(_SpoolProgram(job, self._pool), self._pool, self._table)))

    def dive(self, bought: Mapping[int, int], turn: int) -> Cuts:
        """Whole spools off just those: the whole ones of a program of parts, then one more, and a program of the rest.

        Each `turn` takes another of the likely ways first. What is left in the end is bought, the longest first.
        """
        job, left, taken = self._job, list(self._job.wanted), list[tuple[RollCut, int]]()
        rolls = [replace(roll, copies=bought.get(number, roll.copies)) for number, roll in enumerate(job.rolls)]
        while any(left):
            rest = RollJob(job.lengths, tuple(left), tuple(rolls))
            fewer = (
                RollCut(one.roll, tuple(map(min, one.counts, left))) for one in self._pool if rolls[one.roll].copies
            )
            pool = dict.fromkeys(cut for cut in fewer if any(cut.counts))
            program = _SpoolProgram(rest, pool)
            _grown(program, pool, Knapsack(rest, True, left))
            shares = sorted(program.shares(), key=lambda one: (-one[1], one[0].counts))
            step = [(cut, int(share + _CLEAR)) for cut, share in shares if share + _CLEAR >= 1]
            if not step and shares:
                step, turn = [(shares[min(turn, len(shares) - 1)][0], 1)], 0
            if not step:
                break
            taken += step
            for cut, number in step:
                left = [max(0, had - number * count) for had, count in zip(left, cut.counts, strict=True)]
                rolls[cut.roll] = replace(rolls[cut.roll], copies=(rolls[cut.roll].copies or 0) - number)
        over = RollJob(
            job.lengths,
            tuple(left),
            tuple(roll if roll.copies is None else replace(roll, copies=0) for roll in job.rolls),
        )
        return (*taken, *min(first_fits(over), key=over.merit))

    def whole(self) -> Cuts | None:
        """Whole spools, as good as the ways known allow, where there are not too many of them."""
        if len(self._pool) > _MOST_IN_PROGRAM and self._job.sold():
            return None
        return _SpoolProgram(self._job, self._pool).in_whole_numbers()

    # --- proving -----------------------------------------------------------------------------------------------------

    def _limit(self, values: Sequence[int]) -> None:
        """Spools that give everything are worth as much as all of it: a limit to how few must be bought."""
        filled, job = self._lower.best(values), self._job
        worth = [filled.value(roll) for roll in range(len(job.rolls))]
        needed = sum(value * want for value, want in zip(values, job.wanted, strict=True))
        had = sum(worth[number] * roll.copies for number, roll in enumerate(job.rolls) if roll.copies is not None)
        self._limits.append((tuple(worth[number] for number in job.sold()), needed - had))

    def bound(self) -> tuple[int, tuple[int, ...] | None]:
        """The least cost of whole spools that pass every limit, and out of whose parts all could come; and which."""
        job, sold = self._job, self._job.sold()
        costs = [job.rolls[number].cost for number in sold]
        cost, counts = 0, None
        while costs and len(self._limits) < _MOST_LIMITS:
            cost, counts = cheapest(costs, self._limits)
            if counts is None or len(costs) == 1:
                break
            # Whether just these spools would do, and if not, the values that show it.
            program = _SpoolProgram(job, self._pool, dict(zip(sold, counts, strict=True)))
            values = _grown(program, self._pool, self._table)
            if program.enough():
                break
            self._limit(_in_whole(values))
            worth, needed = self._limits[-1]
            if sum(count * one for count, one in zip(counts, worth, strict=True)) >= needed:
                break
        return cost, counts


def _grown(program: _SpoolProgram, pool: dict[RollCut, None], table: Knapsack) -> list[float]:
    """Add ways until none would gain; the values of the last."""
    for _ in range(_MOST_ROUNDS):
        values, prices = program.values()
        filled = table.best(_in_whole(values))
        fresh = [
            cut
            for roll, price in enumerate(prices)
            if (cut := filled.cut(roll)) not in pool
            and sum(value * count for value, count in zip(values, cut.counts, strict=True)) > price + _CLEAR
        ]
        if not fresh:
            break
        for cut in fresh:
            pool[cut] = None
            program.add(cut)
    return values


def _in_whole(values: Sequence[float]) -> list[int]:
    most = max(values) or 1.0
    return [int(value / most * _VALUE) for value in values]


class _SpoolProgram:
    """A row for each length, one for each roll, a column for each way to cut.

    What counts is the cost; where the spools to buy are given, it is what is lacking.
    """

    def __init__(self, job: RollJob, pool: Mapping[RollCut, None], bought: Mapping[int, int] | None = None) -> None:
        self.solver: Any = quiet_highs()
        self._job, self._pool, self._given = job, list[RollCut](), bought is not None
        self._dearest = max((roll.cost for roll in job.rolls), default=0) or 1
        infinity = self.solver.getInfinity()
        for want in job.wanted:
            self.solver.addRow(want, infinity, 0, [], [])
        for number, roll in enumerate(job.rolls):
            most = roll.copies if roll.copies is not None else (bought or {}).get(number, infinity)
            self.solver.addRow(-infinity, most, 0, [], [])
        self._lacking = list(range(len(job.lengths))) if self._given else job.scarce()
        longest = max(job.lengths)
        for kind in self._lacking:
            cost = job.lengths[kind] / longest if self._given else 1000.0
            self.solver.addCol(cost, 0, job.wanted[kind], 1, [kind], [1.0])
        for cut in pool:
            self.add(cut)

    def add(self, cut: RollCut) -> None:
        kinds = [kind for kind, count in enumerate(cut.counts) if count]
        # What is owned costs next to nothing, so that no more of it is begun than is needed.
        cost = 0.0 if self._given else self._job.rolls[cut.roll].cost / self._dearest or 1e-6
        self.solver.addCol(
            cost,
            0,
            self.solver.getInfinity(),
            len(kinds) + 1,
            [*kinds, len(self._job.wanted) + cut.roll],
            [*(float(cut.counts[kind]) for kind in kinds), 1.0],
        )
        self._pool.append(cut)

    def values(self) -> tuple[list[float], list[float]]:
        """What a piece of each length is worth, and what a spool of each roll takes."""
        self.solver.run()
        duals = list(self.solver.getSolution().row_dual)
        kinds = len(self._job.wanted)
        costs = [0.0 if self._given else roll.cost / self._dearest for roll in self._job.rolls]
        prices = [cost + max(0.0, -dual) for cost, dual in zip(costs, duals[kinds:], strict=True)]
        return [max(0.0, dual) for dual in duals[:kinds]], prices

    def enough(self) -> bool:
        """Whether nothing is lacking."""
        return bool(self.solver.getInfo().objective_function_value < _CLEAR * max(self._job.wanted))

    def shares(self) -> list[tuple[RollCut, float]]:
        values = self.solver.getSolution().col_value[len(self._lacking) :]
        return [(cut, share) for cut, share in zip(self._pool, values, strict=True) if share > _CLEAR]

    def in_whole_numbers(self) -> Cuts | None:
        import highspy

        for column in range(self.solver.getNumCol()):
            self.solver.changeColIntegrality(column, highspy.HighsVarType.kInteger)
        for option, value in (("mip_max_nodes", _MOST_NODES), ("mip_rel_gap", 0.0), ("mip_abs_gap", _CLEAR)):
            self.solver.setOptionValue(option, value)
        self.solver.run()
        if not len(self.solver.getSolution().col_value):
            return None
        return tuple((cut, number) for cut, share in self.shares() if (number := round(share)) > 0)
