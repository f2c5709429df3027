"""Which line of a side each number lies at that was measured from an edge."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.begin.recover.notes.noted import RunManner
from foldwright.begin.recover.notes.runs import NARROWEST, RUNNING, MeasuredRun, whole_run


class PlacedRuns(Struct, frozen=True):
    """`lines` has for each run the lines its numbers lie at: 1 is the first score from the left (or top) edge.

    `edges` are the runs whose last number was taken for the far edge, as nobody said how long the side is.
    """

    count: int
    lines: tuple[tuple[int, ...], ...]
    edges: tuple[MeasuredRun, ...] = ()


class ApartRuns(Struct, frozen=True):
    """Two runs that do not speak of the same lines, and how many panels each would make."""

    first: tuple[MeasuredRun, int]
    other: tuple[MeasuredRun, int]


class OneLineOrTwo(Struct, frozen=True):
    """A run of one score whose other end nobody knows: from both ends, it may be one line or two."""

    run: MeasuredRun


def place_running(
    runs: Sequence[MeasuredRun], all_runs: Sequence[MeasuredRun], count: int | None
) -> PlacedRuns | ApartRuns | OneLineOrTwo:
    """The lines of runs measured from an edge. `count` is how many panels other runs speak of."""
    whole = _whole(all_runs)
    if whole is None or not all(run.is_full for run in runs):
        return _by_order(runs, whole, count)
    return _by_place(runs, whole)


def _whole(runs: Sequence[MeasuredRun]) -> Fraction | None:
    """How long the side is, as somebody said or as single panels come to."""
    said = whole_run(runs)
    if said is not None:
        return said.lengths[0]
    return next((run.total for run in runs if run.way is RunManner.SINGLY and run.is_full), None)


def _by_order(
    runs: Sequence[MeasuredRun], whole: Fraction | None, count: int | None
) -> PlacedRuns | ApartRuns | OneLineOrTwo:
    meeting = _meet_from_both_ends(runs)
    starts = {run.way for run in runs}
    if meeting and whole is None and count is None and len(runs[0].items) == 1:
        return OneLineOrTwo(next(run for run in runs if run.way is RunManner.FROM_END))
    inner: list[int] = []
    edges = []
    for run in runs:
        last = run.items[-1].length
        to_edge = not run.scores and not meeting
        if whole is not None:
            to_edge = last is not None and last.mm > whole - NARROWEST
        elif count is not None and len(starts) == 1:
            to_edge = len(run.items) == count
        elif to_edge:
            edges.append(run)
        inner.append(len(run.items) - to_edge)
    apart = next((at for at, one in enumerate(inner) if one != inner[0]), None)
    if apart is not None:
        return ApartRuns((runs[0], inner[0] + 1), (runs[apart], inner[apart] + 1))
    panels = inner[0] + 1
    return PlacedRuns(panels, tuple(_in_order(run, panels) for run in runs), tuple(edges))


def _in_order(run: MeasuredRun, count: int) -> tuple[int, ...]:
    numbers = range(1, len(run.items) + 1)
    return tuple(count - number if run.way is RunManner.FROM_END else number for number in numbers)


def _by_place(runs: Sequence[MeasuredRun], whole: Fraction) -> PlacedRuns | ApartRuns:
    """With the whole known, every number has its place, whichever edge it was measured from."""
    places = [_places(run, whole) for run in runs]
    first = max(range(len(runs)), key=lambda at: (len(places[at]), -at))
    lines = sorted(places[first])
    matched: list[list[Fraction]] = []
    for run, own in zip(runs, places, strict=True):
        near = [_nearest(lines, place) for place in own]
        meets = [abs(line - place) < NARROWEST for line, place in zip(near, own, strict=True)]
        if len(own) == len(places[first]) and (run.way is runs[first].way or any(meets)):
            near = sorted(places[first])
        elif not any(meets) and run.way is not runs[first].way:
            near = own
        elif not all(meets) or len(set(near)) < len(near):
            return ApartRuns((runs[first], len(places[first]) + 1), (run, len(own) + 1))
        matched.append(near)
    lines = sorted({place for near in matched for place in near})
    count = len(lines) + 1
    numbers = []
    for run, near in zip(runs, matched, strict=True):
        inner = [lines.index(place) + 1 for place in near]
        ends = [count] * (len(run.items) - len(inner))
        numbers.append((*reversed(inner), *(0 for _ in ends)) if run.way is RunManner.FROM_END else (*inner, *ends))
    return PlacedRuns(count, tuple(map(tuple, numbers)))


def _nearest(lines: Sequence[Fraction], place: Fraction) -> Fraction:
    return min(lines, key=lambda line: abs(line - place), default=place)


def _places(run: MeasuredRun, whole: Fraction) -> list[Fraction]:
    """The places of a run's scores from the left (or top) edge, in that order; without the far edge."""
    inner = [length for length in run.lengths if length <= whole - NARROWEST]
    return sorted(whole - length for length in inner) if run.way is RunManner.FROM_END else inner


def _meet_from_both_ends(runs: Sequence[MeasuredRun]) -> bool:
    """Whether runs from both edges speak of the same scores: each score's two distances come to the same whole."""
    starts, ends = ([run for run in runs if run.way is way] for way in RUNNING)
    if not starts or not ends or not (starts[0].is_full and ends[0].is_full):
        return False
    if len(starts[0].items) != len(ends[0].items):
        return False
    sums = [one + other for one, other in zip(starts[0].lengths, reversed(ends[0].lengths), strict=True)]
    bounds = [one.bound.mm + other.bound.mm for one, other in zip(starts[0].items, ends[0].items, strict=True)]
    return max(sums) - min(sums) <= 2 * max(bounds) and starts[0].lengths[-1] < max(sums) - NARROWEST
