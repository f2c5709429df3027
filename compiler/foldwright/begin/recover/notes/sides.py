"""Which side the runs of a line are of, where their own words do not say so."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from foldwright.begin.recover.model import SIDES
from foldwright.begin.recover.notes.noted import ALL_ROUND, EDGES, OPEN, NotedRun, RunManner

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
        other = other_scores(run, runs)
        if told := side_by_names(run):
            run.side = told
            left.append(run)
        elif other:
            run.side = other
            left.append(run)
        elif len(named) == 1 and (run.way is RunManner.WHOLE or (several and _adds_up(run, runs))):
            run.side = next(iter(named))
        elif not named and (several or run.way is RunManner.WHOLE):
            run.side = OPEN
        elif several and len(named) == 1 and named <= set(SIDES):
            run.side = SIDES[1 - SIDES.index(next(iter(named)))]
            left.append(run)
        else:
            return None
    return left


def side_by_names(run: NotedRun) -> str:
    """The side along which panels lie that are called `left` and `right`, or `top` and `bottom`."""
    words = {word for number in run.numbers for word in number.name.casefold().split()}
    sides = [side for side, edges in EDGES.items() if words.issuperset(edges)]
    return sides[0] if len(sides) == 1 else ""


def front_to_back(runs: Sequence[NotedRun]) -> bool:
    """Whether all of them have panels called `front` and `back`: beside a row from left to right they run down."""
    return all({"front", "back"} <= {number.name.casefold() for number in run.numbers} for run in runs)


def other_scores(run: NotedRun, runs: Sequence[NotedRun]) -> str:
    """`4 1/8 x 4 1/4 in, scored 5/8 from each end and at 1 3/4 and 2 1/2 down`: scores of the side that other scores
    are not of, behind a size.
    """
    wholes = {one.side for one in runs if one.way is RunManner.WHOLE}
    others = {one.side for one in runs if one.scores and one is not run and one.side}
    if not run.scores or wholes != set(SIDES) or len(others) != 1 or not others <= set(SIDES):
        return ""
    return SIDES[1 - SIDES.index(next(iter(others)))]


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


def crossed_sides(order: Sequence[str]) -> tuple[str, ...]:
    """The sides of `W x H: 105 x 108 mm`, in that order; none where they do not tell both."""
    sides = [one if one in SIDES else "" for one in order]
    if len(sides) == 2 and "" in sides and set(sides) != {""}:
        known = sides[1 - sides.index("")]
        sides[sides.index("")] = SIDES[1 - SIDES.index(known)]
    return tuple(sides) if len(sides) == 2 and set(sides) == set(SIDES) else ()
