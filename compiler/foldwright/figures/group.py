"""Closing one group: the coarsest step that serves, and what gives way when none does."""

from __future__ import annotations

from dataclasses import dataclass, replace

from foldwright.figures.problem import Problem
from foldwright.figures.search import Budget, BudgetSpentError, best_closing

MOST_BRANCHES = 4000
"""A group of everyday size takes under a hundred; this many take about a quarter of a second."""
FEW_BRANCHES = 400
"""What a large group may take before it is handed to the integer program."""
LARGE = 8
"""Above this many free lengths the integer program is called in."""
FAR = 16
"""How many times the usual reach a length may move before a relation is said not to close at all."""


@dataclass(frozen=True, slots=True)
class Rules:
    """The steps to try, coarsest first, and the farthest a length may move while there is a finer one (ticks).

    `trimmer`: the only step is the trimmer's own, so lengths may be released and may move farther for it.
    """

    steps: tuple[int, ...]
    reach: int
    trimmer: bool = False


@dataclass(frozen=True, slots=True)
class Closed:
    """The values of a group on `step`; `dropped` are the sources of relations that cannot hold together."""

    values: list[int]
    step: int
    dropped: tuple[int, ...] = ()
    proven: bool = True


def close_group(problem: Problem, rules: Rules) -> Closed:
    """The closing of one group, whatever it takes."""
    for step in rules.steps:
        closed = _closed(problem, step, rules.reach)
        if closed:
            return closed
    finest = rules.steps[-1]
    farther = max(FAR * rules.reach, 4 * finest)
    if rules.trimmer and any(problem.fixed):
        closed = _closed(problem.released(), finest, rules.reach) or _closed(problem.released(), finest, farther)
    else:
        closed = _closed(problem, finest, farther)
    return closed or _without_offenders(problem, rules, farther)


def _closed(problem: Problem, step: int, reach: int) -> Closed | None:
    values = problem.nearest(step)
    if problem.deviation(values) <= reach and all(row.at(step).holds(values) for row in problem.rows):
        return Closed(values, step)
    budget = Budget(FEW_BRANCHES if problem.freedom > LARGE else MOST_BRANCHES)
    try:
        best = best_closing(problem, step, reach, budget)
    except BudgetSpentError:
        return _closed_large(problem, step, reach, budget.found)
    return None if best is None else Closed(best, step)


def _closed_large(problem: Problem, step: int, reach: int, found: list[int] | None) -> Closed | None:
    """By the integer program where the group is large; else the best the search has met, said to be no more."""
    if problem.freedom > LARGE:
        from foldwright.figures.program import UnprovenError, best_by_program

        try:
            best = best_by_program(problem, step, reach)
        except UnprovenError:
            pass
        else:
            return None if best is None else Closed(best, step)
    return None if found is None else Closed(found, step, proven=False)


def _without_offenders(problem: Problem, rules: Rules, farther: int) -> Closed:
    """Takes the relations one by one as they were stated and leaves out each that cannot hold with those before."""
    finest = rules.steps[-1]
    kept = replace(problem, rows=())
    dropped: list[int] = []
    for row in problem.rows:
        longer = replace(kept, rows=(*kept.rows, row))
        if _closed(longer, finest, farther):
            kept = longer
        else:
            dropped.append(row.source)
    closed = next(filter(None, (_closed(kept, step, rules.reach) for step in rules.steps)), None)
    closed = closed or _closed(kept, finest, farther) or Closed(kept.nearest(finest), finest)
    return replace(closed, dropped=tuple(dropped))
