"""The timeline and the length of a class, worked out by hand."""

from __future__ import annotations

from foldwright.event.plan.balancing import Task
from foldwright.event.plan.class_length import ClassStep, class_length
from foldwright.event.plan.preparing import plan_preparation


def test_drying_holds_up_what_comes_after_it() -> None:
    tasks = [Task(1, 60, wait=600), Task(2, 60, after=(1,))]
    plan = plan_preparation(tasks, 1)
    assert plan is not None
    assert plan.timeline.finish == 60 + 600 + 60 == plan.bound


def test_no_more_people_at_a_trimmer_than_there_are_trimmers() -> None:
    plan = plan_preparation([Task(1, 60, machine="trimmers", machines=2, count=12)], 4)
    assert plan is not None
    assert plan.timeline.finish == 12 * 60 // 2


def test_a_class_takes_turns_and_slower_makers_half_as_long_again() -> None:
    steps = [ClassStep(1, 120), ClassStep(2, 60, share=3), ClassStep(3, 60, waiting=600)]
    length = class_length(steps, 12)
    assert [one.turns for one in length.steps] == [1, 4, 1]
    assert length.usual == 120 + 4 * 60 + 60 + 600
    assert length.slow == (120 + 4 * 60 + 60) * 3 // 2 + 600
