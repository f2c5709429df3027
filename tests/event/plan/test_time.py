"""Learning, balancing, the timeline and the length of a class, against published tables and brute force."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.event.plan.balancing import Task, balance, fewest_stations
from foldwright.event.plan.class_length import ClassStep, class_length
from foldwright.event.plan.learning import (
    average_model_mean,
    average_model_total,
    unit_model_nth,
    unit_model_total,
)
from foldwright.event.plan.preparing import plan_preparation

UNIT_ROWS = [
    (2, 70, ".700", "1.700"), (5, 75, ".513", "3.459"), (8, 80, ".512", "5.346"), (10, 80, ".477", "6.315"),
    (15, 85, ".530", "9.861"), (20, 80, ".381", "10.485"), (10, 90, ".705", "7.994"),
]  # fmt: skip
"""Heizer and Render, Operations Management, Table E.3: unit, rate, time of the unit and total, the first taking 1."""
AVERAGE_ROWS = [(1, "100", "100"), (2, "80", "160"), (4, "64", "256"), (8, "51.2", "409.6"), (16, "40.96", "655.36")]
"""Cumulative average at 80 %, the first taking 100 h: the BMC handbook's table, p. 324 (mean, total)."""
WAGON = {"A": 45, "B": 11, "C": 9, "D": 50, "E": 15, "F": 12, "G": 12, "H": 12, "I": 12, "J": 8, "K": 9}
AFTER = {"B": "A", "C": "B", "E": "D", "F": "C", "G": "C", "H": "E", "I": "E", "J": "FGHI", "K": "J"}
"""Jacobs and Chase, Operations and Supply Chain Management, example 8.2; the book's rule needs five stations."""


@pytest.mark.parametrize(("number", "rate", "nth", "total"), UNIT_ROWS)
def test_the_unit_model_is_the_published_table(number: int, rate: int, nth: str, total: str) -> None:
    share = Fraction(rate, 100)
    assert float(unit_model_nth(1, number, share)) == pytest.approx(float(nth), abs=0.0006)
    assert float(unit_model_total(1, number, share)) == pytest.approx(float(total), abs=0.0011)


@pytest.mark.parametrize(("number", "mean", "total"), AVERAGE_ROWS)
def test_the_average_model_is_the_published_table(number: int, mean: str, total: str) -> None:
    assert float(average_model_mean(100, number, Fraction(4, 5))) == pytest.approx(float(mean), abs=0.005)
    assert float(average_model_total(100, number, Fraction(4, 5))) == pytest.approx(float(total), abs=0.005)


def _wagon() -> list[Task]:
    numbers = {name: number for number, name in enumerate(WAGON, 1)}
    return [
        Task(numbers[name], seconds, after=tuple(numbers[one] for one in AFTER.get(name, "")))
        for name, seconds in WAGON.items()
    ]


def test_the_textbook_line_needs_four_stations_where_its_rule_finds_five() -> None:
    found = fewest_stations(_wagon(), 50)
    assert found is not None
    assert len([station for station in found.stations if station]) == 4
    assert max(balance(_wagon(), 4).times) == 50
    assert max(balance(_wagon(), 1).times) == sum(WAGON.values()) == 195


def test_the_second_textbook_line_needs_three() -> None:
    """A70 B60(A) C120(B) D60 E240(C,D) F100(A) G190(E,F), 300 s: three; the longest-task rule finds four."""
    seconds = (70, 60, 120, 60, 240, 100, 190)
    after = ((), (1,), (2,), (), (3, 4), (1,), (5, 6))
    tasks = [
        Task(number, one, after=before) for number, (one, before) in enumerate(zip(seconds, after, strict=True), 1)
    ]
    found = fewest_stations(tasks, 300)
    assert found is not None
    assert len([station for station in found.stations if station]) == 3


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


def test_a_class_takes_turns_and_slow_hands_half_as_long_again() -> None:
    steps = [ClassStep(1, 120), ClassStep(2, 60, share=3), ClassStep(3, 60, waiting=600)]
    length = class_length(steps, 12)
    assert [one.turns for one in length.steps] == [1, 4, 1]
    assert length.usual == 120 + 4 * 60 + 60 + 600
    assert length.slow == (120 + 4 * 60 + 60) * 3 // 2 + 600
