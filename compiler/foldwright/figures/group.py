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
    """In ticks: the steps a ruler shows, coarsest first; those between its lines, for what cannot hold otherwise; and
    the farthest a length may move on any of them.

    `kept` is why there is but one step, `trimmer` or `numbers`: then lengths may be released and move farther for it.
    """

    steps: tuple[int, ...]
    finer: tuple[int, ...]
    reach: int
    kept: str = ""

    @property
    def finest(self) -> int:
        return (*self.steps, *self.finer)[-1]

    @property
    def farthest(self) -> int:
        """How far a length may move at the finest step before a relation is said not to close at all."""
        return max(FAR * self.reach, 4 * self.finest)


class ClosedGroup(Struct, frozen=True):
    """The values of a group on `step`; `dropped` are the sources of relations that cannot hold together.

    `because` is the source of the relation that no step of a ruler can hold, where a finer one was taken.
    """

    values: list[int]
    step: int
    dropped: tuple[int, ...] = ()
    proven: bool = True
    because: int | None = None


def close_group(problem: Problem, rules: Rules) -> ClosedGroup:
    """The closing of one group, whatever it takes."""
    search = StepSearch()
    smaller, places = merged(problem)
    closed = (
        search.coarsest(smaller, rules.steps, rules.reach)
        or _finer(search, smaller, rules)
        or _farther(search, smaller, rules)
        or _without_offenders(search, smaller, rules)
    )
    return replace(closed, values=[closed.values[place] for place in places], proven=not search.cut_short)


def _finer(search: StepSearch, problem: Problem, rules: Rules) -> ClosedGroup | None:
    """Between the lines of a ruler, and which of the relations, taken as they were stated, asks for that."""
    closed = search.coarsest(problem, rules.finer, rules.reach)
    if closed is None:
        return None
    kept = replace(problem, rows=())
    for row in problem.rows:
        kept = replace(kept, rows=(*kept.rows, row))
        if search.coarsest(kept, rules.steps, rules.reach) is None:
            return replace(closed, because=row.source)
    return closed


def _farther(search: StepSearch, problem: Problem, rules: Rules) -> ClosedGroup | None:
    """On the finest step, farther than usual; for the sake of a step that is kept, what was written may change too."""
    if rules.kept and any(problem.fixed):
        problem = problem.released()
        closed = search.closed(problem, rules.finest, rules.reach)
        if closed:
            return closed
    return search.closed(problem, rules.finest, rules.farthest)


def _without_offenders(search: StepSearch, problem: Problem, rules: Rules) -> ClosedGroup:
    """Takes the relations one by one as they were stated and leaves out each that cannot hold with those before."""
    kept = replace(problem, rows=())
    dropped: list[int] = []
    for row in problem.rows:
        longer = replace(kept, rows=(*kept.rows, row))
        if search.closed(longer, rules.finest, rules.farthest):
            kept = longer
        else:
            dropped.append(row.source)
    closed = search.coarsest(kept, (*rules.steps, *rules.finer), rules.reach)
    closed = closed or search.closed(kept, rules.finest, rules.farthest)
    return replace(closed or ClosedGroup(kept.nearest(rules.finest), rules.finest), dropped=tuple(dropped))


class StepSearch(Struct):
    """Tries steps, and remembers whether any answer was given up on before it was certain."""

    cut_short: bool = False
    few: bool = False
    """Whether it gives up early: what it looks for may be missing."""

    def coarsest(self, problem: Problem, steps: tuple[int, ...], reach: int) -> ClosedGroup | None:
        return next(filter(None, (self.closed(problem, step, reach) for step in steps)), None)

    def closed(self, problem: Problem, step: int, reach: int) -> ClosedGroup | None:
        values = problem.nearest(step)
        if problem.deviation(values) <= reach and all(row.at(step).holds(values) for row in problem.rows):
            return ClosedGroup(values, step)
        large = problem.freedom > LARGE and not self.few
        budget = Budget(FEW_BRANCHES if large or self.few else MOST_BRANCHES)
        try:
            best = best_closing(problem, step, reach, budget)
        except BudgetSpentError:
            best = self._by_program(problem, step, reach, budget.found) if large else self._given_up(budget.found)
        return None if best is None else ClosedGroup(best, step)

    def _by_program(self, problem: Problem, step: int, reach: int, found: list[int] | None) -> list[int] | None:
        from foldwright.figures.program import UnprovenError, best_by_program

        try:
            return best_by_program(problem, step, reach)
        except UnprovenError:
            return self._given_up(found)

    def _given_up(self, found: list[int] | None) -> list[int] | None:
        self.cut_short = True
        return found
