"""Closing one group: the coarsest step that serves, and what gives way when none does."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from foldwright.figures.problem import Problem, merged
from foldwright.figures.search import Budget, BudgetSpentError, best_closing

MOST_BRANCHES = 4000
"""A group of everyday size takes under a hundred; this many take about a quarter of a second."""
FEW_BRANCHES = 400
"""What a large group may take before it is handed to the integer program."""
LARGE = 8
"""Above this many free lengths the integer program is called in."""
FAR = 16
"""How many times the usual reach is farther than anybody would call the same length."""


class Rules(Struct, frozen=True):
    """The steps to try, coarsest first, and the farthest a length may move while there is a finer one (ticks).

    `trimmer`: the only step is the trimmer's own, so lengths may be released and may move farther for it.
    """

    steps: tuple[int, ...]
    reach: int
    trimmer: bool = False

    @property
    def farthest(self) -> int:
        """How far a length may move at the finest step before a relation is said not to close at all."""
        return max(FAR * self.reach, 4 * self.steps[-1])


class Closed(Struct, frozen=True):
    """The values of a group on `step`; `dropped` are the sources of relations that cannot hold together."""

    values: list[int]
    step: int
    dropped: tuple[int, ...] = ()
    proven: bool = True


def close_group(problem: Problem, rules: Rules) -> Closed:
    """The closing of one group, whatever it takes."""
    search = _Search()
    smaller, places = merged(problem)
    closed = next(filter(None, (search.closed(smaller, step, rules.reach) for step in rules.steps)), None)
    closed = closed or _farther(search, smaller, rules) or _without_offenders(search, smaller, rules)
    return replace(closed, values=[closed.values[place] for place in places], proven=not search.cut_short)


def _farther(search: _Search, problem: Problem, rules: Rules) -> Closed | None:
    """On the finest step, farther than usual; for a trimmer's sake what was written may change as well."""
    finest = rules.steps[-1]
    if rules.trimmer and any(problem.fixed):
        problem = problem.released()
        closed = search.closed(problem, finest, rules.reach)
        if closed:
            return closed
    return search.closed(problem, finest, rules.farthest)


def _without_offenders(search: _Search, problem: Problem, rules: Rules) -> Closed:
    """Takes the relations one by one as they were stated and leaves out each that cannot hold with those before."""
    finest = rules.steps[-1]
    kept = replace(problem, rows=())
    dropped: list[int] = []
    for row in problem.rows:
        longer = replace(kept, rows=(*kept.rows, row))
        if search.closed(longer, finest, rules.farthest):
            kept = longer
        else:
            dropped.append(row.source)
    attempts = [(step, rules.reach) for step in rules.steps] + [(finest, rules.farthest)]
    closed = next(filter(None, (search.closed(kept, step, reach) for step, reach in attempts)), None)
    return replace(closed or Closed(kept.nearest(finest), finest), dropped=tuple(dropped))


class _Search(Struct):
    """Tries steps, and remembers whether any answer was given up on before it was certain."""

    cut_short: bool = False

    def closed(self, problem: Problem, step: int, reach: int) -> Closed | None:
        values = problem.nearest(step)
        if problem.deviation(values) <= reach and all(row.at(step).holds(values) for row in problem.rows):
            return Closed(values, step)
        large = problem.freedom > LARGE
        budget = Budget(FEW_BRANCHES if large else MOST_BRANCHES)
        try:
            best = best_closing(problem, step, reach, budget)
        except BudgetSpentError:
            best = self._by_program(problem, step, reach, budget.found) if large else self._given_up(budget.found)
        return None if best is None else Closed(best, step)

    def _by_program(self, problem: Problem, step: int, reach: int, found: list[int] | None) -> list[int] | None:
        from foldwright.figures.program import UnprovenError, best_by_program

        try:
            return best_by_program(problem, step, reach)
        except UnprovenError:
            return self._given_up(found)

    def _given_up(self, found: list[int] | None) -> list[int] | None:
        self.cut_short = True
        return found
