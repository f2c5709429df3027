"""The best closing of a large group by an integer program; every answer is checked again in whole numbers.

The program counts steps above each length's smallest value, so its numbers stay small and exact; largest deviations
are tried as bounds, and the sum of deviations is bounded half a tick above its least, so no nearly-equal is taken.
"""

from __future__ import annotations

from collections.abc import Sequence
from operator import mul
from typing import Any

from foldwright.figures.problem import Problem
from foldwright.figures.search import Box, box_within, least_level, levels_of, narrow
from foldwright.quiet_highs import quiet_highs

_LARGEST_STEP = 10**6
"""A step of more ticks than this would leave too few digits for a fraction of one."""
_MOST_NODES = 20_000


class UnprovenError(Exception):
    """The program came to no certain answer."""


def best_by_program(problem: Problem, step: int, reach: int) -> list[int] | None:
    """The same answer as `best_closing`. Raises UnprovenError when the solver gives up or its answer does not hold."""
    if step > _LARGEST_STEP:
        raise UnprovenError
    problem = problem.at(step)
    widest = box_within(problem, step, reach) if problem.on_grid(step) else None
    if widest is None or not narrow(problem.rows, widest, step):
        return None

    def any_within(level: int) -> list[int] | None:
        box = box_within(problem, step, level)
        if box is None or not narrow(problem.rows, box, step):
            return None
        return _FiguresProgram(problem, step, box).least_sum()

    found = least_level(problem, levels_of(problem, widest, step), any_within)
    if found is None:
        return None
    tight = box_within(problem, step, problem.deviation(found))
    if tight is None or not narrow(problem.rows, tight, step):
        raise UnprovenError
    return _FiguresProgram(problem, step, tight).first_in_order()


class _FiguresProgram:
    """One group inside a box: a column of steps and a column of deviation for every length, a row for every row."""

    def __init__(self, problem: Problem, step: int, box: Box) -> None:
        import highspy

        self._problem, self._step, self._box = problem, step, box
        self._count = len(problem.exact)
        self._solver: Any = quiet_highs()
        for option, value in (("mip_max_nodes", _MOST_NODES), ("mip_rel_gap", 0.0), ("mip_abs_gap", 0.0)):
            self._solver.setOptionValue(option, value)
        self._infinity: float = self._solver.getInfinity()
        self._optimal, self._infeasible = highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kInfeasible
        self._add_columns(highspy.HighsVarType.kInteger)
        self._add_rows()

    def _add_columns(self, whole: Any) -> None:
        for low, high in zip(*self._box, strict=True):
            self._solver.addVar(0, (high - low) // self._step)
        for index in range(self._count):
            self._solver.changeColIntegrality(index, whole)
            self._solver.addVar(0, self._infinity)

    def _add_rows(self) -> None:
        """Rows of the group, in steps; then deviation >= value - exact and deviation >= exact - value, in ticks."""
        for row in self._problem.rows:
            offset = sum(times * self._box[0][index] for index, times in row.terms)
            least = -((offset - row.least) // self._step)
            most = self._infinity if row.most is None else (row.most - offset) // self._step
            indices, times = zip(*row.terms, strict=True)
            self._solver.addRow(least, most, len(indices), indices, times)
        for index, exact in enumerate(self._problem.exact):
            over, pair = self._box[0][index] - exact, [index, self._count + index]
            self._solver.addRow(over, self._infinity, 2, pair, [-self._step, 1])
            self._solver.addRow(-over, self._infinity, 2, pair, [self._step, 1])

    def least_sum(self) -> list[int] | None:
        """The values with the least sum of deviations; None when the box holds none."""
        return self._solve({self._count + index: weight for index, weight in enumerate(self._problem.each_weight)})

    def first_in_order(self) -> list[int]:
        """The smallest figures in order of mention among those with the least sum."""
        values = self._sure(self.least_sum())
        weights = self._problem.each_weight
        moves = (abs(value - exact) for value, exact in zip(values, self._problem.exact, strict=True))
        total = sum(map(mul, weights, moves))
        deviations = list(range(self._count, 2 * self._count))
        self._solver.addRow(0, total + 0.5, self._count, deviations, weights)
        for index, low in enumerate(self._box[0]):
            if values[index] > low:
                values = self._sure(self._solve({index: 1}))
            steps = (values[index] - low) // self._step
            self._solver.changeColBounds(index, steps, steps)
        return values

    def _solve(self, costs: dict[int, int]) -> list[int] | None:
        for column in range(2 * self._count):
            self._solver.changeColCost(column, costs.get(column, 0))
        self._solver.run()
        status = self._solver.getModelStatus()
        if status == self._infeasible:
            return None
        if status != self._optimal:
            raise UnprovenError
        columns: Sequence[float] = self._solver.getSolution().col_value
        values = [low + self._step * round(columns[index]) for index, low in enumerate(self._box[0])]
        inside = all(low <= value <= high for low, value, high in zip(self._box[0], values, self._box[1], strict=True))
        if not inside or not all(row.holds(values) for row in self._problem.rows):
            raise UnprovenError
        return values

    @staticmethod
    def _sure(values: list[int] | None) -> list[int]:
        if values is None:
            raise UnprovenError
        return values
