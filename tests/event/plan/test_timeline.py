"""Timelines move by move, reckoned by hand: lots, machines, breaks, drying, learning, and whose is what."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.event.plan.balancing import Task
from foldwright.event.plan.timeline import Breaks, TakeUpRule, TaskSpan, Timeline, runs, work_through

NONE = Breaks(0, 0)


def test_three_kits_and_two_helpers_by_hand() -> None:
    """Cut 60 s (get ready 30 s), glue 20 s and dry 100 s, tie 10 s. Who has been free longest goes first."""
    tasks = [Task(1, 60, get_ready=30, count=3), Task(2, 20, wait=100, after=(1,), count=3)]
    tasks.append(Task(3, 10, after=(2,), count=3))
    assert work_through(tasks, 2, 1) == Timeline(
        (
            TaskSpan(1, 1, 0, 90, 1, 1),
            TaskSpan(2, 1, 0, 90, 2, 1),
            TaskSpan(1, 1, 90, 150, 3, 1),
            TaskSpan(2, 2, 90, 130, 1, 2),
            TaskSpan(2, 2, 150, 170, 3, 1),
            TaskSpan(1, 3, 210, 220, 1, 1),
            TaskSpan(2, 3, 230, 240, 2, 1),
            TaskSpan(1, 3, 270, 280, 3, 1),
        ),
        280,
        1,
    )


def test_stations_by_hand() -> None:
    """Batches of two: the second station waits for each, 20 s a kit against 30."""
    tasks = [Task(1, 30, count=3), Task(2, 20, after=(1,), count=3)]
    whose = [(frozenset({0}), (1,)), (frozenset({1}), (2,))]
    assert work_through(tasks, 2, 2, TakeUpRule.PASS_ON, whose=whose) == Timeline(
        (TaskSpan(1, 1, 0, 90, 1, 3), TaskSpan(2, 2, 60, 120, 1, 3)),
        120,
        2,
    )


def test_a_station_of_two_takes_turns() -> None:
    """60 s a kit and two people: one is passed on every half a minute."""
    tasks = [Task(1, 60, count=4), Task(2, 30, after=(1,), count=4)]
    whose = [(frozenset({0, 1}), (1,)), (frozenset({2}), (2,))]
    line = work_through(tasks, 3, 1, TakeUpRule.PASS_ON, whose=whose)
    assert [[span.first for span in run] for helper in (1, 2) for run in runs(line, helper)] == [[1, 3], [2, 4]]
    assert line.finish == 180
    assert line.changes == 3


def test_what_is_set_up_is_cut_in_lots_of_its_own() -> None:
    """Six stacks for twelve kits: batches of four kits are lots of two stacks, set up three times."""
    tasks = [Task(1, 10, set_up=60, count=6, machine="trimmer", machines=1), Task(2, 1, count=12)]
    line = work_through(tasks, 1, 4)
    assert sum(span.end - span.start for span in line.spans if span.task == 1) == 3 * 60 + 6 * 10
    assert sum(span.end - span.start for span in work_through(tasks, 1, 12).spans if span.task == 1) == 60 + 6 * 10


def test_nobody_gets_ready_for_what_others_have_done_sooner() -> None:
    """Getting ready takes ten minutes, the four kits that are left four: the second helper keeps out of it."""
    line = work_through([Task(1, 60, get_ready=600, count=5)], 2, 1)
    assert line.spans == (TaskSpan(1, 1, 0, 900, 1, 5),)


def test_a_break_comes_with_the_kit_that_fills_ninety_minutes() -> None:
    """Kits of 25 min: 90 min are full during the fourth, and after the last there is none."""
    line = work_through([Task(1, 1500, count=5)], 1, 5)
    assert line.spans == (
        TaskSpan(1, 1, 0, 6000, 1, 4),
        TaskSpan(1, 0, 6000, 6600, 0, 0),
        TaskSpan(1, 1, 6600, 8100, 5, 1),
    )
    assert work_through([Task(1, 1500, count=4)], 1, 1).finish == 6000
    assert work_through([Task(1, 1500, count=5)], 1, 5, breaks=NONE).finish == 7500


def test_drying_as_long_as_a_break_is_one() -> None:
    tasks = [Task(1, 5000, wait=600), Task(2, 5000, after=(1,)), Task(3, 60, after=(2,))]
    assert work_through(tasks, 1, 1).finish == 10_660
    shorter = [Task(1, 5000, wait=599), Task(2, 300, after=(1,)), Task(3, 300, after=(2,))]
    assert [span.task for span in work_through(shorter, 1, 1).spans] == [1, 2, 3]
    assert [span.task for span in work_through([*shorter, Task(4, 300, after=(3,))], 1, 1).spans].count(0) == 1


def test_what_is_followed_by_most_comes_first() -> None:
    """The frame has to dry an hour: it is glued before the label is cut, which waits for nothing."""
    tasks = [Task(1, 60, count=2), Task(2, 60, wait=3600, count=2), Task(3, 60, after=(1, 2), count=2)]
    line = work_through(tasks, 1, 1)
    assert [span.task for span in line.spans] == [2, 1, 3]
    assert line.finish == 60 + 3600 + 60 + 60


def test_the_trimmer_stands_idle_last_of_all() -> None:
    """Two helpers, 100 s of cutting before something is glued, and twice 300 s of folding: folding has more to come."""
    tasks = [Task(1, 300, count=2), Task(2, 100, machine="trimmer", machines=1), Task(3, 10, after=(2,))]
    assert work_through(tasks, 2, 1, TakeUpRule.SCARCE).spans[0] == TaskSpan(1, 2, 0, 100, 1, 1)
    assert work_through(tasks, 2, 1).spans[0] == TaskSpan(1, 1, 0, 300, 1, 1)


def test_learning_is_wrights_for_each_helper_alone() -> None:
    """At 80 % three kits take 3 x .7021 times the first, 210.6 s."""
    line = work_through([Task(1, 100, get_ready=7, count=6)], 2, 3, rate=Fraction(4, 5))
    assert [(span.helper, span.end, span.count) for span in line.spans] == [(1, 218, 3), (2, 218, 3)]


def test_batches_of_none_are_refused() -> None:
    with pytest.raises(ValueError, match="batches of 0"):
        work_through([Task(1, 60)], 1, 0)
