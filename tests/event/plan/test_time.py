"""Balancing, the timeline and the length of a class, against textbook lines and brute force."""

from __future__ import annotations

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.event.plan.balancing import Task, balance
from foldwright.event.plan.class_length import ClassStep, class_length
from foldwright.event.plan.preparing import plan_preparation

WAGON = {"A": 45, "B": 11, "C": 9, "D": 50, "E": 15, "F": 12, "G": 12, "H": 12, "I": 12, "J": 8, "K": 9}
AFTER = {"B": "A", "C": "B", "E": "D", "F": "C", "G": "C", "H": "E", "I": "E", "J": "FGHI", "K": "J"}
"""Jacobs and Chase, Operations and Supply Chain Management, example 8.2; the book's rule needs five stations."""


def _wagon() -> list[Task]:
    numbers = {name: number for number, name in enumerate(WAGON, 1)}
    return [
        Task(numbers[name], seconds, after=tuple(numbers[one] for one in AFTER.get(name, "")))
        for name, seconds in WAGON.items()
    ]


def test_the_textbook_line_needs_four_stations_where_its_rule_finds_five() -> None:
    assert max(balance(_wagon(), 4).times) == 50 < max(balance(_wagon(), 3).times)
    assert max(balance(_wagon(), 1).times) == sum(WAGON.values()) == 195


def test_the_second_textbook_line_needs_three() -> None:
    """A70 B60(A) C120(B) D60 E240(C,D) F100(A) G190(E,F), 300 s: three; the longest-task rule finds four."""
    seconds = (70, 60, 120, 60, 240, 100, 190)
    after = ((), (1,), (2,), (), (3, 4), (1,), (5, 6))
    tasks = [
        Task(number, one, after=before) for number, (one, before) in enumerate(zip(seconds, after, strict=True), 1)
    ]
    assert max(balance(tasks, 3).times) <= 300 < max(balance(tasks, 2).times)


tasks_drawn = st.lists(st.tuples(st.integers(1, 30), st.integers(0, 31)), min_size=1, max_size=5)


def _drawn(rows: list[tuple[int, int]]) -> list[Task]:
    return [
        Task(number, seconds, after=tuple(one for one in range(1, number) if mask >> one & 1))
        for number, (seconds, mask) in enumerate(rows, 1)
    ]


@settings(max_examples=40)
@given(tasks_drawn, st.integers(1, 4))
def test_no_balance_is_quicker(rows: list[tuple[int, int]], stations: int) -> None:
    tasks = _drawn(rows)
    tried = []
    for places in product(range(stations), repeat=len(tasks)):
        if all(places[one - 1] <= places[task.number - 1] for task in tasks for one in task.after):
            loads = [0] * stations
            for place, task in zip(places, tasks, strict=True):
                loads[place] += task.seconds
            tried.append(max(loads))
    assert max(balance(tasks, stations).times) == min(tried)


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
