"""The fewest sheets for pieces of several sizes, by straight cuts from edge to edge, and whether fewer are possible.

First the tables and programs of `patterns` and `mixing`: always the same answer, and nearly always a proof. What they
leave open the packing solver looks for, as far as its effort goes. No clock: the plan is the same on every machine.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import lcm

from msgspec.structs import replace

from foldwright.pack.cutting.laying import gives, layout, one_kind_a_sheet, without
from foldwright.pack.cutting.mixing import Mix, Mixer, Pattern, StockCost
from foldwright.pack.cutting.model import Cutting, PieceKind, Stock, Trade, Traded, work_of, worth_of
from foldwright.pack.cutting.patterns import COARSE, Patterns, Sketch, TooFineError, Way
from foldwright.pack.cutting.solving import solve

EFFORT = 1
"""How far the packing solver looks, where it is needed at all: a count of work, not of time."""
_LEVELS = (2, 3, 0)
_MANY_WAYS = 30
"""With more ways to lie than that, few stages are not tried alone: the solver mends the first mix instead."""
_MOST_MENDED = 4
"""How often some sheets are cut anew, for each unit of effort."""
_MOST_AT_ONCE = 120
"""More pieces than that the solver is not given in one go."""


def cut_sheets(
    kinds: Sequence[PieceKind], stocks: Sequence[Stock], effort: int = EFFORT, trade: Trade | None = None
) -> Cutting:
    """All pieces of all kinds for the least cost, from sheets owned and bought. Kinds that fit no sheet are told.

    With a `trade`, more sheets are taken where that saves work worth more.
    """
    fits = [any(stock.holds(kind) for stock in stocks) for kind in kinds]
    too_large = tuple(number for number, kind in enumerate(kinds) if kind.count and not fits[number])
    wanted = [0 if number in too_large else kind.count for number, kind in enumerate(kinds)]
    if not any(wanted):
        return Cutting((), Fraction(0), Fraction(0), not too_large, too_large)
    cutting = _planned(_Case(kinds, stocks, wanted), too_large, effort, trade)
    if cutting is not None and gives(cutting, kinds, stocks):
        return cutting
    return one_kind_a_sheet(kinds, stocks, too_large)


def _planned(case: _Case, too_large: tuple[int, ...], effort: int, trade: Trade | None) -> Cutting | None:
    mixer, bound, mix = case.by_tables()
    if mix is None or not case.proven(bound, mix):
        bound, mix = case.by_solver(mixer, bound, mix, effort)
    if mix is None:
        return None
    mix = case.mended(bound, mix, effort)
    cutting = case.told(bound, mix, too_large)
    return case.weighed(mixer, mix, cutting, trade) if trade and len(cutting.layouts) > 1 else cutting


class _Case:
    """One problem in whole numbers."""

    def __init__(self, kinds: Sequence[PieceKind], stocks: Sequence[Stock], wanted: Sequence[int]) -> None:
        sides = [side for kind in kinds for way in kind.ways for side in way]
        sides += [side for stock in stocks for side in stock.room]
        self.scale = Fraction(lcm(*(side.denominator for side in sides)))
        self.stocks, self.wanted = stocks, wanted
        self.rooms = [self._whole(stock.room) for stock in stocks]
        self.ways: list[Way] = [
            (number, *self._whole(way))
            for number, kind in enumerate(kinds)
            if wanted[number]
            for way in kind.ways
            if any(self._goes_on(self._whole(way), room) for room in self.rooms)
        ]
        self.sheets = [StockCost(stock.cost, stock.copies) for stock in stocks]
        sold = [room for room, stock in zip(self.rooms, stocks, strict=True) if stock.copies is None]
        self.scarce = [
            number
            for number, count in enumerate(wanted)
            if count and not any(self._goes_on(way[1:], room) for way in self.ways if way[0] == number for room in sold)
        ]

    def _whole(self, sides: tuple[Fraction, Fraction]) -> tuple[int, int]:
        return int(sides[0] * self.scale), int(sides[1] * self.scale)

    @staticmethod
    def _goes_on(way: tuple[int, int], room: tuple[int, int]) -> bool:
        return way[0] <= room[0] and way[1] <= room[1]

    # --- searching -------------------------------------------------------------------------------------------------

    def _coarse(self) -> Mixer:
        """Tables of sides rounded up, which give patterns, with a bound from tables of sides rounded down."""
        grid = (
            -(-max(width for width, _ in self.rooms) // COARSE),
            -(-max(height for _, height in self.rooms) // COARSE),
        )
        lower = Mixer(Patterns(self.ways, self.rooms, grid, lower=True), self.sheets, self.wanted, self.scarce)
        lower.grow(0)
        mixer = Mixer(Patterns(self.ways, self.rooms, grid), self.sheets, self.wanted, self.scarce)
        mixer.proves, mixer.bound = False, lower.bound
        return mixer

    def by_tables(self) -> tuple[Mixer, Fraction, Mix | None]:
        """What any way costs at least; the best the tables find, of the fewest stages, then of the fewest layouts."""
        try:
            mixer = Mixer(Patterns(self.ways, self.rooms), self.sheets, self.wanted, self.scarce)
        except TooFineError:
            mixer = self._coarse()
        mixer.grow(0)
        bound = max(self._least_area(), mixer.rounded_bound())
        best: tuple[Mix, int] | None = None
        many = len(self.ways) > _MANY_WAYS
        levels = (0,) if many else _LEVELS
        for enriched in (False,) if many else (False, True):
            for level in levels:
                if enriched and level:
                    mixer.enrich(level)
                elif level:
                    mixer.grow(level)
                best = self._better(best, mixer.whole(level), level)
                if best and self.proven(bound, best[0]):
                    return mixer, bound, mixer.plainest(best[1], best[0])
        if best and many:
            return mixer, bound, best[0]
        return mixer, bound, mixer.plainest(best[1], best[0]) if best else None

    def _better(self, best: tuple[Mix, int] | None, mix: Mix | None, level: int) -> tuple[Mix, int] | None:
        if mix is None or (best and self._merit(best[0]) <= self._merit(mix)):
            return best
        return mix, level

    def _merit(self, mix: Mix) -> tuple[int, Fraction]:
        return sum(mix.missing), mix.cost(self.sheets)

    def proven(self, bound: Fraction, mix: Mix) -> bool:
        return not any(mix.missing) and mix.cost(self.sheets) <= bound

    def _least_area(self) -> Fraction:
        """What the area of the pieces costs at least, where one size is sold and none is owned."""
        if len(self.stocks) != 1 or self.stocks[0].copies is not None:
            return Fraction(0)
        areas = {number: width * height for number, width, height in self.ways}
        area = sum(areas.get(number, 0) * count for number, count in enumerate(self.wanted))
        return -(-area // (self.rooms[0][0] * self.rooms[0][1])) * self.stocks[0].cost

    def by_solver(self, mixer: Mixer, bound: Fraction, mix: Mix | None, effort: int) -> tuple[Fraction, Mix | None]:
        """The solver on what the whole sheets of the relaxed answer leave over; on all of it when that is little."""
        tries = [self.wanted] if sum(self.wanted) <= _MOST_AT_ONCE else []
        kept: list[tuple[tuple[Pattern, int], ...]] = [()] * len(tries)
        if not any(mix.missing if mix else ()):
            for whole in mixer.rounded_down():
                left = [
                    max(0, want - had) for want, had in zip(self.wanted, _given(whole, len(self.wanted)), strict=True)
                ]
                if 0 < sum(left) <= _MOST_AT_ONCE and left not in tries:
                    tries.append(left)
                    kept.append(whole)
        for wanted, whole in zip(tries, kept, strict=True):
            found, its_bound = self._solved(wanted, effort)
            if wanted is self.wanted:
                bound = max(bound, its_bound)
            for sheets in found:
                other = self._joined(whole, sheets)
                if other is not None and (mix is None or self._merit(other) < self._merit(mix)):
                    mix = other
            if mix is not None and self.proven(bound, mix):
                break
        return bound, mix

    def mended(self, bound: Fraction, mix: Mix, effort: int) -> Mix:
        """Some sheets at a time, the emptiest first, cut anew by the solver; what it saves is kept."""
        begin = 0
        for _ in range(_MOST_MENDED * effort):
            if self.proven(bound, mix) or any(mix.missing) or len(self.stocks) > 1:
                break
            single = [one for one, copies in exactly(mix.sheets, self.wanted) for _ in range(copies)]
            single.sort(key=self._filled)
            end, pieces = begin, 0
            while end < len(single) and pieces + sum(single[end].counts) <= _MOST_AT_ONCE:
                pieces += sum(single[end].counts)
                end += 1
            if end - begin < 2:
                break
            kept = tuple((one, 1) for one in (*single[:begin], *single[end:]))
            wanted = _given([(one, 1) for one in single[begin:end]], len(self.wanted))
            found, _ = self._solved(wanted, effort)
            others = [other for sheets in found if (other := self._joined(kept, sheets)) is not None]
            better = min(others, key=self._merit, default=mix)
            if self._merit(better) < self._merit(mix):
                mix, begin = better, 0
            else:
                begin = end
        return mix

    def _filled(self, pattern: Pattern) -> tuple[int, tuple[int, ...]]:
        areas = {number: width * height for number, width, height in self.ways}
        return sum(areas.get(kind, 0) * count for kind, count in enumerate(pattern.counts)), pattern.counts

    def _solved(
        self, wanted: Sequence[int], effort: int
    ) -> tuple[tuple[tuple[tuple[int, Sketch, int], ...], ...], Fraction]:
        """The solver counts costs in whole numbers too: so large that all that is owned, at one each, comes to less."""
        owned = sum(sheet.copies for sheet in self.sheets if sheet.copies is not None)
        parts = lcm(*(sheet.cost.denominator for sheet in self.sheets)) * (owned + 1)
        costs = [(int(sheet.cost * parts), sheet.copies) for sheet in self.sheets]
        solved = solve(self.ways, wanted, self.rooms, costs, effort)
        return solved.ways, max(Fraction(0), (solved.bound - owned) / parts)

    def _joined(self, whole: Sequence[tuple[Pattern, int]], sheets: Sequence[tuple[int, Sketch, int]]) -> Mix | None:
        more = [(Pattern(stock, sketch.count(len(self.wanted)), sketch, 0), copies) for stock, sketch, copies in sheets]
        mix = Mix((*whole, *more), (0,) * len(self.wanted))
        given = _given(mix.sheets, len(self.wanted))
        used = [sum(number for one, number in mix.sheets if one.stock == stock) for stock in range(len(self.sheets))]
        enough = all(had >= want for had, want in zip(given, self.wanted, strict=True))
        there = all(one.copies is None or number <= one.copies for one, number in zip(self.sheets, used, strict=True))
        return mix if enough and there else None

    def weighed(self, mixer: Mixer, mix: Mix, least: Cutting, trade: Trade) -> Cutting:
        """The least cost, or what costs more and saves more than that in work."""
        spend = trade.second * work_of(least.layouts)
        most = least.cost + (spend if trade.most is None else min(spend, trade.most))
        found = mixer.traded(mix, trade.second, most)
        if found is None or sum(found.missing) > sum(mix.missing):
            return least
        other = self.told(least.bound, found, least.too_large)
        if worth_of(other, trade.second) >= worth_of(least, trade.second):
            return least
        if other.cost <= least.cost:
            return other
        fewer = len(least.layouts) - len(other.layouts)
        more = self._sold(other) - self._sold(least)
        return replace(other, traded=Traded(more, fewer)) if fewer > 0 and more > 0 else least

    def _sold(self, cutting: Cutting) -> int:
        return sum(cutting.sheets(number) for number, stock in enumerate(self.stocks) if stock.copies is None)

    # --- telling ---------------------------------------------------------------------------------------------------

    def told(self, bound: Fraction, mix: Mix, too_large: tuple[int, ...]) -> Cutting:
        exact = exactly(mix.sheets, [want - less for want, less in zip(self.wanted, mix.missing, strict=True)])
        layouts = [
            layout(self.stocks[pattern.stock], pattern.stock, pattern.sketch, copies, self.scale)
            for pattern, copies in exact
        ]
        layouts.sort(key=lambda one: (self.stocks[one.stock].copies is None, one.stock, -one.copies))
        cost = sum((copies * self.sheets[pattern.stock].cost for pattern, copies in exact), Fraction(0))
        bound = min(cost, bound)
        short = tuple((number, less) for number, less in enumerate(mix.missing) if less)
        return Cutting(tuple(layouts), cost, bound, cost == bound and not too_large and not short, too_large, short)


def _given(sheets: Sequence[tuple[Pattern, int]], kinds: int) -> list[int]:
    return [sum(number * pattern.counts[kind] for pattern, number in sheets) for kind in range(kinds)]


def exactly(sheets: Sequence[tuple[Pattern, int]], wanted: Sequence[int]) -> list[tuple[Pattern, int]]:
    """The same sheets without what is over, taken from as few of them as can be; sheets left empty are not used."""
    left = sorted(sheets, key=lambda one: (one[1], one[0].counts))
    for kind, want in enumerate(wanted):
        over = _given(left, len(wanted))[kind] - want
        while over > 0:
            at = next(at for at, (pattern, _) in enumerate(left) if pattern.counts[kind])
            pattern, copies = left.pop(at)
            each = min(over, pattern.counts[kind])
            times = min(copies, over // each)
            over -= each * times
            if copies > times:
                left.insert(at, (pattern, copies - times))
            if sketch := without(pattern.sketch, kind, each):
                fewer = replace(pattern, sketch=sketch, counts=sketch.count(len(wanted)))
                left.insert(0, (fewer, times))
    return _together(left)


def _together(sheets: Sequence[tuple[Pattern, int]]) -> list[tuple[Pattern, int]]:
    """Sheets cut alike counted together."""
    found: dict[tuple[int, Sketch], tuple[Pattern, int]] = {}
    for pattern, copies in sheets:
        there = found.get((pattern.stock, pattern.sketch), (pattern, 0))
        found[pattern.stock, pattern.sketch] = (pattern, there[1] + copies)
    return list(found.values())
