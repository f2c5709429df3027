"""Readings that cannot all be true, against a linear program, which had no part in finding them."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import highspy
import pytest

from begin.recover.samples import HERE
from foldwright.begin.recover.contradiction import contradiction_in, times_wider
from foldwright.begin.recover.model import RulerReading
from foldwright.measure.length import Length, Unit


def some_readings(random: Random, count: int, slack: int) -> list[RulerReading]:
    lines = [0]
    for _ in range(count):
        lines.append(lines[-1] + random.randint(10, 60))
    readings = []
    for _ in range(random.randint(count, 3 * count)):
        start, end = sorted(random.sample(range(count + 1), 2))
        off = Fraction(random.randint(-slack, slack), 10)
        bound = Length.of(Fraction(random.randint(2, 10), 10), Unit.MILLIMETRE)
        readings.append(
            RulerReading(start, end, Length.of(lines[end] - lines[start] + off, Unit.MILLIMETRE), bound, HERE, "")
        )
    return readings


def program(count: int, readings: list[RulerReading], stretch: bool) -> highspy.Highs:
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    # The whole process shares the solver's threads, and `figures` wants one.
    solver.setOptionValue("threads", 1)
    for _ in range(count + 1):
        solver.addVar(0 if not _ else -1e4, 0 if not _ else 1e4)
    if stretch:
        solver.addVar(1, 1e4)
    for reading in readings:
        columns = [reading.end, reading.start] + ([count + 1] if stretch else [])
        wide = float(reading.bound.mm)
        lowest = [1.0, -1.0] + ([wide] if stretch else [])
        highest = [1.0, -1.0] + ([-wide] if stretch else [])
        own = 0.0 if stretch else wide
        length = float(reading.length.mm)
        solver.addRow(length - own, 1e9, len(columns), columns, lowest)
        solver.addRow(-1e9, length + own, len(columns), columns, highest)
    for line in range(count):
        solver.addRow(0, 1e9, 2, [line + 1, line], [1.0, -1.0])
    return solver


@pytest.mark.parametrize("seed", range(60))
def test_readings_contradict_each_other_where_a_linear_program_has_no_answer(seed):
    random = Random(seed)
    count = random.randint(1, 5)
    readings = some_readings(random, count, random.choice([2, 6, 12]))
    solver = program(count, readings, stretch=False)
    solver.run()
    feasible = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    found = contradiction_in(count, readings)
    assert (found is None) is feasible
    if found is not None:
        # Those that are named contradict each other without any help.
        assert contradiction_in(count, found.suspects) is not None


@pytest.mark.parametrize("seed", range(60))
def test_how_much_wider_bounds_must_be_is_what_a_linear_program_says(seed):
    random = Random(1000 + seed)
    count = random.randint(1, 4)
    readings = some_readings(random, count, 30)
    solver = program(count, readings, stretch=True)
    solver.changeColCost(count + 1, 1.0)
    solver.run()
    assert float(times_wider(count, readings)) == pytest.approx(solver.getInfo().objective_function_value, abs=1e-6)


def test_a_contradiction_is_named_by_the_fewest_readings():
    def reading(start: int, end: int, mm: int) -> RulerReading:
        return RulerReading(start, end, Length.of(mm, Unit.MILLIMETRE), Length.of(1, Unit.MILLIMETRE), HERE, str(mm))

    fine = [reading(0, 1, 20), reading(1, 2, 60), reading(0, 2, 80)]
    assert contradiction_in(2, fine) is None
    found = contradiction_in(2, [*fine, reading(0, 1, 30)])
    assert found is not None
    assert {one.said for one in found.suspects} in ({"20", "30"}, {"30", "60", "80"})
    # 30 + 60 is 10 more than 80: three readings that would have to give way by 3 1/3 each; 30 and 20 by 5.
    assert found.times == 5
