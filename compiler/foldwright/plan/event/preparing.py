"""Preparing so many kits with so many helpers: everyone whole kits, or stations that pass on; which is done sooner."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from enum import Enum
from fractions import Fraction

from msgspec import Struct

from foldwright.plan.event.balancing import Balance, Task, balance, in_order
from foldwright.plan.event.learning import seconds_for
from foldwright.plan.event.timeline import USUAL_BREAKS, Breaks, Timeline, by_stations, whole_kits

MOST_BATCHES = 100
BATCHES = (1, 5, 10, 20)
MOST_HELPERS_COMPARED = 8


class Way(Enum):
    WHOLE_KITS = "whole kits"
    STATIONS = "stations"


class Share(Struct, frozen=True):
    """What one helper (from 1) does: step numbers in order of the steps, and kits of each. Empty: nothing to do."""

    helper: int
    steps: tuple[tuple[int, int], ...]


class Finish(Struct, frozen=True):
    helpers: int
    way: Way
    seconds: int


class Preparation(Struct, frozen=True):
    """Whole seconds. `way` is the one that `timeline` goes; `whole_kits` and `stations` are when each would finish.

    `work` is one person alone without breaks or waits; `bound` is what no way with so many helpers can beat;
    `by_helpers` is the better finish with one helper, two, and so on.
    """

    way: Way
    timeline: Timeline
    whole_kits: int
    stations: int
    bound: int
    work: int
    balance: Balance
    shares: tuple[Share, ...]
    by_helpers: tuple[Finish, ...]
    rate: Fraction | None = None


def plan_preparation(
    tasks: Sequence[Task],
    count: int,
    helpers: int,
    rate: Fraction | None = None,
    breaks: Breaks = USUAL_BREAKS,
) -> Preparation | None:
    """None without tasks or kits. ValueError without helpers, at a rate not above 1/2 and at most 1, or as `in_order`.

    Both ways are tried with batches of 1, 5, 10 and 20 kits and with all at once; above MOST_BATCHES kits with so many
    times those as keep within MOST_BATCHES batches. Of equals whole kits, and the larger batch, are taken.
    With a rate each helper learns alone, by Wright's model.
    """
    if helpers < 1:
        raise ValueError(f"{helpers} helpers")
    if not tasks or count < 1:
        return None
    order = in_order(tasks)
    work = sum(task.get_ready + seconds_for(task.seconds, count, rate) for task in order)
    numbers = sorted({*range(1, MOST_HELPERS_COMPARED + 1), helpers})
    best = {number: _Best(order, count, number, rate, breaks) for number in numbers}
    chosen = best[helpers]
    return Preparation(
        way=chosen.way,
        timeline=chosen.timeline,
        whole_kits=chosen.whole_kits.finish,
        stations=chosen.stations.finish,
        bound=max(-(-work // helpers), _longest_chain(order)),
        work=work,
        balance=chosen.balance,
        shares=_shares(chosen.timeline, order, helpers),
        by_helpers=tuple(
            Finish(number, best[number].way, best[number].timeline.finish)
            for number in range(1, MOST_HELPERS_COMPARED + 1)
        ),
        rate=rate,
    )


class _Best:
    """The better of the two ways with so many helpers."""

    def __init__(self, order: Sequence[Task], count: int, helpers: int, rate: Fraction | None, breaks: Breaks) -> None:
        self.balance = balance(order, helpers)
        self.whole_kits = _soonest(
            whole_kits(order, count, helpers, batch, rate=rate, breaks=breaks)
            for batch in batch_sizes(count, -(-count // helpers))
        )
        self.stations = _soonest(
            by_stations(order, self.balance, count, batch, rate=rate, breaks=breaks)
            for batch in batch_sizes(count, count)
        )
        sooner = self.stations.finish < self.whole_kits.finish
        self.way = Way.STATIONS if sooner else Way.WHOLE_KITS
        self.timeline = self.stations if sooner else self.whole_kits


def batch_sizes(count: int, all_at_once: int) -> tuple[int, ...]:
    """The largest first, none larger than all at once."""
    fold = -(-count // MOST_BATCHES)
    return tuple(sorted({all_at_once, *(min(size * fold, all_at_once) for size in BATCHES)}, reverse=True))


def _soonest(timelines: Iterable[Timeline]) -> Timeline:
    return min(timelines, key=lambda timeline: timeline.finish)


def _longest_chain(order: Sequence[Task]) -> int:
    """The longest way of one kit through the steps: getting ready, hands-on as for a first kit, and waits.

    It binds with learning too: nobody can begin a step before somebody has done the one before, and each who begins
    it gets ready and takes as long for their first kit as anyone.
    """
    ends: dict[int, int] = {}
    for task in order:
        start = max((ends[number] for number in task.after if number in ends), default=0)
        ends[task.number] = start + task.get_ready + task.seconds + task.wait
    return max(ends.values())


def _shares(timeline: Timeline, order: Sequence[Task], helpers: int) -> tuple[Share, ...]:
    kits: Counter[tuple[int, int]] = Counter()
    for span in timeline.spans:
        kits[span.helper, span.step] += span.kits
    return tuple(
        Share(helper, tuple((task.number, done) for task in order if (done := kits[helper, task.number])))
        for helper in range(1, helpers + 1)
    )
