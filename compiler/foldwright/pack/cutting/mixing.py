"""Which patterns, and how many sheets of each: linear programs over a growing pool, then one in whole numbers.

The bound comes from values of the pieces under which no pattern is worth more than its sheet costs (duality; Farley
1990, from memory). Those values are whole numbers and the tables they fill are exact, so that it is a bound whatever
the program rounded.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import gcd, lcm
from typing import Any

from msgspec import Struct

from foldwright.pack.cutting.model import LAYOUT_SECONDS, SETTING_SECONDS
from foldwright.pack.cutting.patterns import Filled, Patterns, Sketch
from foldwright.quiet_highs import quiet_highs

_VALUE = 1_000_000
"""What one unit of cost is worth in the tables."""
_MOST_ROUNDS = 150
_MOST_NODES = 400
_PERTURBED = 12
_CLEAR = 1e-7
"""Below this a gain is the program's own rounding."""


class Pattern(Struct, frozen=True):
    """A sketch on a stock, and what it holds of each kind. `level` is the stages it was found with (0: any number)."""

    stock: int
    counts: tuple[int, ...]
    sketch: Sketch
    level: int

    @property
    def settings(self) -> int:
        return len(_settings(self.sketch))


class StockCost(Struct, frozen=True):
    """What the program knows of a stock."""

    cost: Fraction
    copies: int | None


class Mix(Struct, frozen=True):
    """How many sheets of each pattern, and how many pieces of each kind are missing."""

    sheets: tuple[tuple[Pattern, int], ...]
    missing: tuple[int, ...]

    def cost(self, stocks: Sequence[StockCost]) -> Fraction:
        return sum((number * stocks[pattern.stock].cost for pattern, number in self.sheets), Fraction(0))


class Mixer:
    """Grows a pool of patterns for some demand, and mixes them."""

    def __init__(
        self, patterns: Patterns, stocks: Sequence[StockCost], wanted: Sequence[int], scarce: Sequence[int]
    ) -> None:
        """`scarce` are the kinds that come out of no stock that can be bought, so that some may be missing."""
        self._patterns, self._stocks, self._wanted, self._scarce = patterns, stocks, wanted, scarce
        self._pool: dict[tuple[int, tuple[int, ...]], Pattern] = {}
        self.bound = Fraction(0)
        self.proves = True
        """Whether no pattern is worth more than these tables say, so that a bound follows from them."""
        dearest = max((stock.cost for stock in stocks), default=Fraction(0)) or Fraction(1)
        self._missing_cost = float(dearest) * 1000
        self._unit = max((stock.cost for stock in stocks if stock.copies is None), default=Fraction(1)) or Fraction(1)
        for kind in range(len(wanted)):
            values = [int(kind == other) for other in range(len(wanted))]
            filled = patterns.best(values)
            for stock in range(len(stocks)):
                self._add(filled, stock, 2)

    # --- growing ---------------------------------------------------------------------------------------------------

    def grow(self, level: int) -> float:
        """Add patterns of at most so many stages (0: any number) until none would gain; the least cost in parts."""
        cost = 0.0
        for _ in range(_MOST_ROUNDS):
            cost, values, scarcity = self._relaxed(self._of_level(level))
            whole = [int(value / float(self._unit) * _VALUE) for value in values]
            filled = self._patterns.best(whole)
            if level == 0 and self.proves:
                self._bound_from(whole, filled)
            if not self._gain(filled, whole, scarcity, level):
                break
        return cost

    def _gain(self, filled: Filled, values: Sequence[int], scarcity: Sequence[float], level: int) -> bool:
        """Whether some pattern of the level is worth more than its sheet costs; all such are added."""
        gained = False
        for stock, sheet in enumerate(self._stocks):
            price = (float(sheet.cost) + scarcity[stock]) / float(self._unit) * _VALUE
            for stages in _stages(level):
                for pattern in self._found(filled, stock, stages):
                    worth = sum(value * number for value, number in zip(values, pattern.counts, strict=True))
                    gained |= worth > price * (1 + _CLEAR) + 1 and self._keep(pattern)
        return gained

    def _add(self, filled: Filled, stock: int, stages: int) -> None:
        for pattern in self._found(filled, stock, stages):
            self._keep(pattern)

    def _found(self, filled: Filled, stock: int, stages: int) -> Iterable[Pattern]:
        for sketch in filled.patterns(stock, stages or None):
            if self._patterns.goes(sketch, stock):
                yield Pattern(stock, sketch.count(len(self._wanted)), sketch, stages)

    def _keep(self, pattern: Pattern) -> bool:
        key = pattern.stock, pattern.counts
        there = self._pool.get(key)
        if there is None or _order(pattern) < _order(there):
            self._pool[key] = pattern
        return there is None or (pattern.level or 99) < (there.level or 99)

    def _of_level(self, level: int) -> list[Pattern]:
        return [one for one in self._pool.values() if not level or 0 < one.level <= level]

    def _bound_from(self, values: Sequence[int], filled: Filled) -> None:
        """What any way of cutting costs at least, by these values."""
        worth = [filled.value(stock) for stock in range(len(self._stocks))]
        sold = [stock for stock, sheet in enumerate(self._stocks) if sheet.copies is None and worth[stock]]
        if not sold or any(self._stocks[stock].cost == 0 for stock in sold):
            return
        scale = max(worth[stock] / self._stocks[stock].cost for stock in sold)
        given = sum(worth[stock] * sheet.copies for stock, sheet in enumerate(self._stocks) if sheet.copies is not None)
        needed = sum(
            value * number
            for kind, (value, number) in enumerate(zip(values, self._wanted, strict=True))
            if kind not in self._scarce
        )
        self.bound = max(self.bound, (needed - given) / scale)

    def enrich(self, level: int) -> None:
        """More patterns that are nearly worth their sheet: what rounds well is seldom among those that gain."""
        _, values, _ = self._relaxed(self._of_level(level))
        for number in range(_PERTURBED):
            # A fixed sequence that strews the values by up to a tenth: the golden section leaves no gaps.
            factors = [0.9 + 0.2 * ((number + 1) * (kind + 1) * 0.6180339887 % 1) for kind in range(len(values))]
            strewn = [
                int(value * factor / float(self._unit) * _VALUE) for value, factor in zip(values, factors, strict=True)
            ]
            filled = self._patterns.best(strewn)
            for stock in range(len(self._stocks)):
                for stages in _stages(level):
                    self._add(filled, stock, stages)

    # --- programs ----------------------------------------------------------------------------------------------------

    def _relaxed(self, pool: Sequence[Pattern]) -> tuple[float, list[float], list[float]]:
        """The least cost in parts of sheets, and what a piece of each kind and a sheet of each stock are worth then."""
        # No most for a single pattern: it would have a price of its own.
        program = _PatternProgram(self, pool, capped=False)
        program.solver.run()
        duals = list(program.solver.getSolution().row_dual)
        kinds = len(self._wanted)
        scarcity = [max(0.0, -duals[kinds + stock]) for stock in range(len(self._stocks))]
        return program.solver.getInfo().objective_function_value, [max(0.0, dual) for dual in duals[:kinds]], scarcity

    def rounded_down(self) -> list[tuple[tuple[Pattern, int], ...]]:
        """The whole sheets of the relaxed answer, and the same with one sheet of each pattern less."""
        pool = self._of_level(0)
        program = _PatternProgram(self, pool, capped=False)
        program.solver.run()
        shares = zip(pool, program.solver.getSolution().col_value, strict=False)
        down = [(pattern, int(share + _CLEAR)) for pattern, share in shares if share > _CLEAR]
        fewer = [(pattern, max(0, number - 1)) for pattern, number in down]
        return [tuple((pattern, number) for pattern, number in one if number) for one in (down, fewer)]

    def whole(self, level: int) -> Mix | None:
        """Whole sheets, for the least cost the pool of that level allows."""
        program = _PatternProgram(self, self._of_level(level))
        program.in_whole_numbers(float(self._step()))
        return program.mix()

    def plainest(self, level: int, mix: Mix) -> Mix:
        """For no more than that costs: the fewest different layouts, then the fewest settings of the stop."""
        program = _PatternProgram(self, self._of_level(level))
        program.in_whole_numbers(0.0)
        program.choose_few(mix, float(mix.cost(self._stocks)))
        found = program.mix()
        return found if found is not None and _plainness(found) < _plainness(mix) else mix

    def traded(self, mix: Mix, second: Fraction, most: Fraction) -> Mix | None:
        """For at most so much: the least of sheets and work together, a second of which is worth so much."""
        program = _PatternProgram(self, self._of_level(0))
        program.in_whole_numbers(0.0)
        program.choose_few(mix, float(most), float(second))
        return program.mix()

    def _step(self) -> Fraction:
        """The least two costs can differ by."""
        costs = [stock.cost for stock in self._stocks if stock.cost]
        if not costs:
            return Fraction(1)
        parts = lcm(*(cost.denominator for cost in costs))
        return Fraction(gcd(*(int(cost * parts) for cost in costs)), parts)

    def rounded_bound(self) -> Fraction:
        step = self._step()
        return max(Fraction(0), -(-self.bound // step) * step)


class _PatternProgram:
    """The program over some patterns: a row for each kind, then one for each stock; a column for each pattern."""

    def __init__(self, mixer: Mixer, pool: Sequence[Pattern], capped: bool = True) -> None:
        import highspy

        self.solver: Any = quiet_highs()
        self._whole = highspy.HighsVarType.kInteger
        self._mixer, self._pool = mixer, list(pool)
        infinity = self.solver.getInfinity()
        wanted, stocks = mixer._wanted, mixer._stocks
        for number in wanted:
            self.solver.addRow(number, infinity, 0, [], [])
        for stock in stocks:
            self.solver.addRow(-infinity, infinity if stock.copies is None else stock.copies, 0, [], [])
        for pattern in self._pool:
            rows = [kind for kind, number in enumerate(pattern.counts) if number]
            times = [float(pattern.counts[kind]) for kind in rows]
            cost = float(stocks[pattern.stock].cost) or float(mixer._unit) * 1e-6
            self.solver.addCol(
                cost,
                0,
                self._most(pattern) if capped else infinity,
                len(rows) + 1,
                [*rows, len(wanted) + pattern.stock],
                [*times, 1.0],
            )
        for kind in mixer._scarce:
            self.solver.addCol(mixer._missing_cost, 0, wanted[kind], 1, [kind], [1.0])

    def _most(self, pattern: Pattern) -> int:
        copies = self._mixer._stocks[pattern.stock].copies
        most = max(
            -(-want // number) for want, number in zip(self._mixer._wanted, pattern.counts, strict=True) if number
        )
        return most if copies is None else min(most, copies)

    def in_whole_numbers(self, gap: float) -> None:
        for column in range(len(self._pool) + len(self._mixer._scarce)):
            self.solver.changeColIntegrality(column, self._whole)
        for option, value in (("mip_max_nodes", _MOST_NODES), ("mip_rel_gap", 0.0), ("mip_abs_gap", gap * 0.999)):
            self.solver.setOptionValue(option, value)

    def choose_few(self, known: Mix, cost: float, second: float | None = None) -> None:
        """Of all that cost no more: a column for each pattern that says whether it is used, and is what counts now.

        With what a `second` is worth, sheets count too.
        """
        count = len(self._pool)
        costs = [float(self._mixer._stocks[pattern.stock].cost) for pattern in self._pool]
        self.solver.addRow(-self.solver.getInfinity(), cost + 1e-6, count, list(range(count)), costs)
        values = {id(pattern): number for pattern, number in known.sheets}
        for column, pattern in enumerate(self._pool):
            unit = float(self._mixer._unit)
            self.solver.changeColCost(column, 1e-4 if second is None else costs[column] / unit + 1e-4)
            used = self.solver.getNumCol()
            seconds = LAYOUT_SECONDS + SETTING_SECONDS * pattern.settings
            work = 1 + pattern.settings / 64 if second is None else second / unit * seconds
            self.solver.addCol(work, 0, 1, 0, [], [])
            self.solver.changeColIntegrality(used, self._whole)
            self.solver.addRow(0, self.solver.getInfinity(), 2, [column, used], [-1.0, float(self._most(pattern))])
        start = [float(values.get(id(pattern), 0)) for pattern in self._pool]
        start += [float(known.missing[kind]) for kind in self._mixer._scarce]
        start += [float(bool(number)) for number in start[:count]]
        import highspy

        solution = highspy.HighsSolution()
        solution.col_value = start
        self.solver.setSolution(solution)

    def mix(self) -> Mix | None:
        """What is found, if it gives all that is wanted: checked again in whole numbers."""
        self.solver.run()
        values = self.solver.getSolution().col_value
        if not len(values):
            return None
        count = len(self._pool)
        sheets = tuple(
            (pattern, number)
            for pattern, value in zip(self._pool, values, strict=False)
            if (number := round(value)) > 0
        )
        missing = [0] * len(self._mixer._wanted)
        for kind, value in zip(self._mixer._scarce, values[count:], strict=False):
            missing[kind] = round(value)
        mix = Mix(sheets, tuple(missing))
        return mix if self._sound(mix) else None

    def _sound(self, mix: Mix) -> bool:
        given = list(mix.missing)
        used = [0] * len(self._mixer._stocks)
        for pattern, number in mix.sheets:
            used[pattern.stock] += number
            given = [had + number * each for had, each in zip(given, pattern.counts, strict=True)]
        enough = all(had >= want for had, want in zip(given, self._mixer._wanted, strict=True))
        there = all(
            sheet.copies is None or number <= sheet.copies
            for sheet, number in zip(self._mixer._stocks, used, strict=True)
        )
        return enough and there


def _stages(level: int) -> list[int]:
    """The numbers of stages that belong to a level: 2, 3 or any number (0)."""
    return [stages for stages in (2, 3, 0) if not level or 0 < stages <= level]


def _settings(sketch: Sketch) -> set[tuple[object, int]]:
    found: set[tuple[object, int]] = set()
    for part in sketch.parts:
        found.add((sketch.row, part.width if sketch.row and sketch.row.value == "across" else part.height))
        found |= _settings(part)
    return found


def _order(pattern: Pattern) -> tuple[int, int, str]:
    return pattern.level or 99, pattern.settings, repr(pattern.sketch)


def _plainness(mix: Mix) -> tuple[int, int]:
    return len(mix.sheets), sum(pattern.settings for pattern, _ in mix.sheets)
