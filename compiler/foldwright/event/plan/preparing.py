"""Preparing all kits with so many helpers: shared by whoever is free, or by stations that pass on; the sooner one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import asdict, replace

from foldwright.event.plan.balancing import Balance, Task, balance_pairs, in_order
from foldwright.event.plan.learning import seconds_for
from foldwright.event.plan.timeline import USUAL_BREAKS, Breaks, TakeUpRule, Timeline, machines_of, work_through

MOST_BATCHES = 25
BATCHES = (1, 5, 10, 20)
MORE_HELPERS = 2
"""Beyond those asked for, so many more are compared."""
_AS_SOON = Fraction(1, 20)
"""Nobody keeps a time to a twentieth: of plans so near each other the one with the fewest changes is taken."""


class Sharing(Enum):
    """Whether all work on the same job or each at a station of their own."""

    TOGETHER = "together"
    STATIONS = "stations"


class Finish(Struct, frozen=True):
    """When the preparation is done, in seconds, with so many helpers in that way."""

    helpers: int
    way: Sharing
    seconds: int


class _BestSharing(Struct, frozen=True):
    """Whole seconds. `way` is the one that `timeline` goes; `together` and `stations` are when each would finish."""

    way: Sharing
    timeline: Timeline
    together: int
    stations: int
    balance: Balance


class Preparation(_BestSharing, frozen=True):
    """The better way for the helpers that were asked for, in whole seconds.

    `work` is one person alone without breaks or waits; `bound` is what no way with so many helpers can beat;
    `by_helpers` is the finish with one helper, two, and so on, to two more than were asked for.
    """

    bound: int
    work: int
    by_helpers: tuple[Finish, ...]
    rate: Fraction | None = None


def plan_preparation(
    tasks: Sequence[Task], helpers: int, rate: Fraction | None = None, breaks: Breaks = USUAL_BREAKS
) -> Preparation | None:
    """None without anything to do. ValueError without helpers, at a rate not above 1/2 and at most 1, or as `in_order`.

    Both ways are tried with batches of 1, 5, 10 and 20 and with as much at once as one helper's share; above
    MOST_BATCHES of anything with so many times those as keep within MOST_BATCHES batches. Of the shortest of each way,
    and those hardly longer, the one with the fewest changes is taken. One helper more never makes it longer: they may
    look on.
    With a rate each helper learns alone, by Wright's model.
    """
    if helpers < 1:
        raise ValueError(f"{helpers} helpers")
    order = in_order([task for task in tasks if task.count > 0])
    if not order:
        return None
    found: list[_BestSharing] = []
    for number in range(1, helpers + MORE_HELPERS + 1):
        best = _best(order, number, rate, breaks)
        before = found[-1] if found else best
        found.append(before if before.timeline.finish < best.timeline.finish else best)
    return Preparation(
        **asdict(found[helpers - 1]),
        bound=least_possible(order, helpers, rate, breaks),
        work=sum(_alone(task, rate) for task in order),
        by_helpers=tuple(Finish(number, one.way, one.timeline.finish) for number, one in enumerate(found, 1)),
        rate=rate,
    )


def _best(order: Sequence[Task], helpers: int, rate: Fraction | None, breaks: Breaks) -> _BestSharing:
    """The better of the two ways with so many helpers."""
    balanced = balance_pairs([_whole(task) for task in order], helpers)
    sizes = batch_sizes(max(task.count for task in order), helpers)
    together = [
        work_through(order, helpers, size, rule, rate=rate, breaks=breaks)
        for size in sizes
        for rule in (TakeUpRule.MOST_TO_COME, TakeUpRule.STAY, TakeUpRule.SCARCE)
    ]
    stations = [
        work_through(order, helpers, size, TakeUpRule.PASS_ON, whose=balanced.share, rate=rate, breaks=breaks)
        for size in sizes
    ]
    shared, passed = _plainest(together), _plainest(stations)
    way, timeline = (Sharing.STATIONS, passed) if passed.finish < shared.finish else (Sharing.TOGETHER, shared)
    return _BestSharing(way, timeline, shared.finish, passed.finish, balanced)


def _whole(task: Task) -> Task:
    """All of it as one piece of work."""
    return replace(task, seconds=task.seconds * task.count + task.get_ready + task.set_up, count=1)


def batch_sizes(count: int, helpers: int) -> tuple[int, ...]:
    """The largest first, one helper's share of all; none larger."""
    share = -(-count // helpers)
    fold = -(-count // MOST_BATCHES)
    return tuple(sorted({share, *(min(size * fold, share) for size in BATCHES)}, reverse=True))


def _plainest(timelines: Sequence[Timeline]) -> Timeline:
    soonest = min(timeline.finish for timeline in timelines)
    near = [timeline for timeline in timelines if timeline.finish <= soonest * (1 + _AS_SOON)]
    return min(near, key=lambda timeline: (timeline.changes, timeline.finish))


# --- what no way can beat ---------------------------------------------------------------------------------------------


def least_possible(order: Sequence[Task], helpers: int, rate: Fraction | None, breaks: Breaks) -> int:
    """The most of: the work shared out evenly with its breaks, the longest chain, and each machine with what follows.

    Who gets ready for a task, and sets up for it, does so once at least; learning is most where one does all.
    """
    bounds = [_shared(order, helpers, rate, breaks), _longest_chain(order), *_machine_bounds(order, helpers, rate)]
    return max(bounds)


def _alone(task: Task, rate: Fraction | None) -> int:
    """One person does all of it."""
    return task.get_ready + task.set_up + seconds_for(task.seconds, task.count, rate)


def _shared(order: Sequence[Task], helpers: int, rate: Fraction | None, breaks: Breaks) -> int:
    """Somebody does at least an even share, and has a break after each stretch, which is at most one piece longer."""
    share = -(-sum(_alone(task, rate) for task in order) // helpers)
    if not breaks.work or not breaks.rest:
        return share
    stretch = breaks.work + max(task.get_ready + task.set_up + task.seconds for task in order)
    return share + max(0, -(-share // stretch) - 1) * breaks.rest


def _longest_chain(order: Sequence[Task]) -> int:
    """The longest way of one kit through its tasks: getting ready, hands-on as for a first kit, and waits.

    It binds with learning too: nobody can begin a task before somebody has done the one before, and each who begins
    it gets ready and takes as long for their first kit as anyone. What the first kit does not need does not count.
    """
    ends: dict[int, int] = {}
    for task in order:
        start = max((ends[number] for number, needed in task.needed(1) if needed > 0 and number in ends), default=0)
        ends[task.number] = start + task.get_ready + task.set_up + task.seconds + task.wait
    return max(ends.values())


def _machine_bounds(order: Sequence[Task], helpers: int, rate: Fraction | None) -> Iterator[int]:
    """All the work at a machine shared among those who find room there, and the least that comes after it."""
    groups, free = machines_of(order)
    tails = _after_the_last(order, rate)
    for group in range(1, len(free)):
        mine = [place for place, own in enumerate(groups) if own == group]
        work = sum(_alone(order[place], rate) for place in mine)
        yield -(-work // min(free[group], helpers)) + min(tails[place] for place in mine)


def _after_the_last(order: Sequence[Task], rate: Fraction | None) -> list[int]:
    """What comes at least after the last of each task: its wait, and the last of whatever needs it all.

    By then practice may have made that as quick as one likes, so that with learning only waits count.
    """
    tails = [task.wait for task in order]
    at = {task.number: place for place, task in enumerate(order)}
    for place in range(len(order) - 1, -1, -1):
        task = order[place]
        for number, needed in task.needed(task.count):
            if number in at and needed >= order[at[number]].count:
                seconds = task.seconds if rate is None else 0
                earlier = at[number]
                tails[earlier] = max(tails[earlier], order[earlier].wait + seconds + tails[place])
    return tails
