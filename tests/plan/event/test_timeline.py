"""Timelines and preparations, move by move: nobody twice, every kit, every wait, every machine, every break."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.plan.event.balancing import Balance, Task, balance
from foldwright.plan.event.preparing import Way, batch_sizes, plan_preparation
from foldwright.plan.event.timeline import Breaks, Span, Timeline, by_stations, whole_kits

NONE = Breaks(0, 0)


def test_whole_kits_by_hand() -> None:
    """Three kits, two helpers: cut 60 s (get ready 30 s), glue 20 s and dry 100 s, tie 10 s."""
    tasks = [Task(1, 60, get_ready=30), Task(2, 20, wait=100, after=(1,)), Task(3, 10, after=(2,))]
    assert whole_kits(tasks, 3, 2, 1) == Timeline(
        (
            Span(1, 1, 0, 150, 2),
            Span(2, 1, 0, 90, 1),
            Span(2, 2, 90, 110, 1),
            Span(1, 2, 150, 190, 2),
            Span(2, 3, 210, 220, 1),
            Span(1, 3, 270, 280, 1),
            Span(1, 3, 290, 300, 1),
        ),
        300,
        1,
    )


def test_stations_by_hand() -> None:
    """Batches of two: the second station waits for each, 20 s a kit against 30."""
    tasks = [Task(1, 30), Task(2, 20, after=(1,))]
    stations = Balance(((1,), (2,)), (30, 20))
    assert by_stations(tasks, stations, 3, 2) == Timeline(
        (Span(1, 1, 0, 90, 3), Span(2, 2, 60, 120, 3)),
        120,
        2,
    )


def test_a_break_comes_with_the_kit_that_fills_ninety_minutes() -> None:
    """Kits of 25 min: 90 min are full during the fourth, and after the last there is none."""
    line = whole_kits([Task(1, 1500)], 5, 1, 5)
    assert line.spans == (Span(1, 1, 0, 6000, 4), Span(1, 0, 6000, 6600, 0), Span(1, 1, 6600, 8100, 1))
    assert whole_kits([Task(1, 1500)], 4, 1, 1).finish == 6000
    assert whole_kits([Task(1, 1500)], 5, 1, 5, breaks=NONE).finish == 7500


def test_drying_as_long_as_a_break_is_one() -> None:
    tasks = [Task(1, 5000, wait=600), Task(2, 5000, after=(1,)), Task(3, 60, after=(2,))]
    assert whole_kits(tasks, 1, 1, 1).finish == 10_660
    shorter = [Task(1, 5000, wait=599), Task(2, 300, after=(1,)), Task(3, 300, after=(2,))]
    assert [span.step for span in whole_kits(shorter, 1, 1, 1).spans] == [1, 2, 3]
    assert [span.step for span in whole_kits([*shorter, Task(4, 300)], 1, 1, 1).spans].count(0) == 1


def test_what_is_followed_by_most_comes_first() -> None:
    """The frame has to dry an hour: it is glued before the label is cut, which waits for nothing."""
    tasks = [Task(1, 60), Task(2, 60, wait=3600), Task(3, 60, after=(1, 2))]
    line = whole_kits(tasks, 2, 1, 1)
    assert [span.step for span in line.spans] == [2, 1, 3]
    assert line.finish == 60 + 3600 + 60 + 60


def test_learning_is_wrights_for_each_helper_alone() -> None:
    """At 80 % three kits take 3 x .7021 times the first, 210.6 s, and four 2.56 times."""
    line = whole_kits([Task(1, 100, get_ready=7)], 6, 2, 1, rate=Fraction(4, 5))
    assert [(span.helper, span.end, span.kits) for span in line.spans] == [(1, 218, 3), (2, 218, 3)]
    plan = plan_preparation([Task(1, 100, get_ready=7)], 4, 1, Fraction(4, 5))
    assert plan is not None
    assert (plan.work, plan.timeline.finish, plan.bound) == (263, 263, 263)


@st.composite
def lines(draw: st.DrawFn) -> list[Task]:
    tasks = []
    for number in range(1, draw(st.integers(1, 5)) + 1):
        after = tuple(earlier for earlier in range(1, number) if draw(st.booleans()))
        machine = draw(st.sampled_from(["", "trimmer"]))
        tasks.append(
            Task(
                number,
                draw(st.integers(0, 400)),
                get_ready=draw(st.sampled_from([0, 120])),
                wait=draw(st.sampled_from([0, 0, 700])),
                after=after,
                machine=machine,
                machines=draw(st.integers(1, 2)) if machine else draw(st.sampled_from([0, 0, 1])),
            )
        )
    return tasks


def at_once(spans: list[Span]) -> int:
    """How many helpers at most are at work in the same second."""
    changes = sorted(
        [(span.start, 1) for span in spans if span.end > span.start]
        + [(span.end, -1) for span in spans if span.end > span.start]
    )
    now = most = 0
    for _, change in sorted(changes):
        now += change
        most = max(most, now)
    return most


def sound(line: Timeline, tasks: list[Task], count: int, breaks: Breaks) -> None:
    own: dict[int, list[Span]] = {}
    for span in line.spans:
        own.setdefault(span.helper, []).append(span)
        assert 0 <= span.start <= span.end <= line.finish
    for spans in own.values():
        assert all(before.end <= after.start for before, after in pairwise(spans))
        assert not any(before.step == after.step and before.end == after.start for before, after in pairwise(spans))
        assert spans[-1].step != 0
        assert all(span.end - span.start == breaks.rest and span.kits == 0 for span in spans if span.step == 0)
    for task in tasks:
        assert sum(span.kits for span in line.spans if span.step == task.number) == count
        alike = [
            other.number
            for other in tasks
            if other is task or (task.machine and other.machine == task.machine and other.machines)
        ]
        if task.machines:
            assert at_once([span for span in line.spans if span.step in alike]) <= task.machines


def kits_one_by_one(spans: list[Span], task: Task) -> list[tuple[int, int]]:
    """Without learning: when each kit of a helper's spans of a step begins and ends; getting ready lies before."""
    found = []
    for span in spans:
        ends = [span.end - later * task.seconds for later in range(span.kits - 1, -1, -1)]
        found += [(end - task.seconds, end) for end in ends]
    if found:
        assert found[0][0] == spans[0].start + task.get_ready
    return found


def kept_in_order(line: Timeline, tasks: list[Task], *, apart: bool) -> None:
    """None begins before the whole batch is through each step before, and dry. `apart`: each helper's own."""
    every = sorted({span.helper for span in line.spans})
    kits = {
        (helper, task.number): kits_one_by_one(
            [span for span in line.spans if span.step == task.number and span.helper == helper], task
        )
        for helper in every
        for task in tasks
    }
    for helper in every if apart else [0]:
        own = {
            task.number: [kit for one in ([helper] if apart else every) for kit in kits[one, task.number]]
            for task in tasks
        }
        for task in tasks:
            last = 0
            for at in range(0, len(own[task.number]), line.batch):
                batch = own[task.number][at : at + line.batch]
                last = max(last, batch[-1][1] + task.wait)
                for later in (one for one in tasks if task.number in one.after):
                    assert own[later.number][at][0] >= batch[-1][1] + task.wait
            assert line.finish >= last


@settings(max_examples=60, deadline=None)
@given(lines(), st.integers(1, 12), st.integers(1, 4), st.integers(1, 5), st.sampled_from([NONE, Breaks(900, 100)]))
def test_both_ways_keep_every_rule(tasks: list[Task], count: int, helpers: int, batch: int, breaks: Breaks) -> None:
    whole = whole_kits(tasks, count, helpers, batch, breaks=breaks)
    sound(whole, tasks, count, breaks)
    kept_in_order(whole, tasks, apart=True)
    shares = Counter({span.helper: 0 for span in whole.spans})
    for span in whole.spans:
        shares[span.helper] += span.kits * (span.step == tasks[0].number)
    assert set(shares.values()) <= {count // helpers, -(-count // helpers)}
    passed = by_stations(tasks, balance(tasks, helpers), count, batch, breaks=breaks)
    sound(passed, tasks, count, breaks)
    kept_in_order(passed, tasks, apart=False)


@settings(max_examples=40, deadline=None)
@given(lines(), st.integers(1, 12), st.integers(1, 4), st.sampled_from([None, Fraction(3, 4), Fraction(19, 20)]))
def test_a_preparation_is_the_sooner_way_and_beats_no_bound(
    tasks: list[Task], count: int, helpers: int, rate: Fraction | None
) -> None:
    plan = plan_preparation(tasks, count, helpers, rate)
    assert plan is not None
    sound(plan.timeline, tasks, count, Breaks())
    assert plan.timeline.finish == min(plan.whole_kits, plan.stations) >= plan.bound
    assert (plan.way is Way.STATIONS) == (plan.stations < plan.whole_kits)
    assert [one.helpers for one in plan.by_helpers] == list(range(1, 9))
    assert plan.by_helpers[helpers - 1].seconds == plan.timeline.finish
    assert plan.by_helpers[0].seconds >= plan.work
    assert [share.helper for share in plan.shares] == list(range(1, helpers + 1))
    done: Counter[int] = Counter()
    for share in plan.shares:
        done.update(dict(share.steps))
    assert done == {task.number: count for task in tasks}
    if rate is None:
        assert plan.work == sum(task.get_ready + count * task.seconds for task in tasks)


def test_what_is_long_to_get_ready_goes_to_stations() -> None:
    """Two steps, each half an hour to get ready and a minute a kit, ten kits, two helpers: nobody gets ready twice."""
    plan = plan_preparation([Task(1, 60, get_ready=1800), Task(2, 60, get_ready=1800)], 10, 2)
    assert plan is not None
    assert (plan.way, plan.stations, plan.whole_kits) == (Way.STATIONS, 2400, 4200)
    assert [share.steps for share in plan.shares] == [((1, 10),), ((2, 10),)]
    assert plan.bound == 2400


def test_nothing_to_do_is_no_plan_and_nobody_to_do_it_is_refused() -> None:
    assert plan_preparation([], 10, 2) is None
    assert plan_preparation([Task(1, 60)], 0, 2) is None
    with pytest.raises(ValueError, match="0 helpers"):
        plan_preparation([Task(1, 60)], 10, 0)
    with pytest.raises(ValueError, match="batches of 0"):
        whole_kits([Task(1, 60)], 3, 1, 0)


@given(st.integers(1, 100_000), st.integers(1, 12))
def test_batches_are_never_more_than_a_hundred_for_all(count: int, helpers: int) -> None:
    share = -(-count // helpers)
    sizes = batch_sizes(count, share)
    assert sizes[0] == share
    assert list(sizes) == sorted(set(sizes), reverse=True)
    assert -(-count // sizes[-1]) <= 100
