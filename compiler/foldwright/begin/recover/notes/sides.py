"""Which side the runs of a line are of, where their own words do not say so."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from foldwright.begin.recover.model import SIDES
from foldwright.begin.recover.notes.noted import ALL_ROUND, OPEN, NotedRun, RunManner

_NEARLY = 20
"""Numbers that differ by less than this part of them may be one and the same: a sum, and how long a side is."""


def find_sides(runs: Sequence[NotedRun]) -> list[NotedRun] | None:
    """Give every run its side: the one spoken of before, or the one that is left. Those are handed back; None when one
    cannot have any. Several numbers may wait for what other lines say (`OPEN`).
    """
    for run in runs:
        if not run.side and run.meant:
            _as_meant(run, runs)
    named = {run.side for run in runs if run.side and run.side != ALL_ROUND}
    left: list[NotedRun] = []
    for run in (run for run in runs if not run.side):
        several = len(run.numbers) > 1 or run.scores
        if len(named) == 1 and (run.way is RunManner.WHOLE or (several and _adds_up(run, runs))):
            run.side = next(iter(named))
        elif several and not named:
            run.side = OPEN
        elif several and len(named) == 1 and named <= set(SIDES):
            run.side = SIDES[1 - SIDES.index(next(iter(named)))]
            left.append(run)
        else:
            return None
    return left


def _as_meant(run: NotedRun, runs: Sequence[NotedRun]) -> None:
    alone = len(run.numbers) == 1 and run.way is RunManner.UNSAID
    if alone and run.numbers[0].name:
        # `scores 5/8 in from each end, floor 2 7/8`
        run.side, run.way, run.panel = run.meant, RunManner.PANEL, run.numbers[0].name
    elif run.way is not RunManner.UNSAID or _adds_up(run, runs):
        run.side = run.meant


def _adds_up(run: NotedRun, runs: Sequence[NotedRun]) -> bool:
    """Whether another number of the line is what those of this run come to."""
    total = sum((number.value for number in run.numbers if number.value is not None), Fraction(0))
    others = (one.numbers[0].value for one in runs if one is not run and len(one.numbers) == 1)
    return any(other is not None and abs(other - total) * _NEARLY <= total for other in others)
