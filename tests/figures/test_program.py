"""The integer program for large groups gives what the search gives, and takes over where the search would be long."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest

from figures.hard_rules import broken
from foldwright.figures import group
from foldwright.figures.closing import close
from foldwright.figures.problem import Constraint, Problem
from foldwright.figures.program import UnprovenError, best_by_program
from foldwright.figures.search import Budget, BudgetSpentError, best_closing
from foldwright.figures.table import named_in
from foldwright.geometry.lengths import Equal, LengthId, Lengths, Relation, Sum
from foldwright.measure.length import Length, System, Unit

STEP, REACH = 100, 50
"""Ticks: a step of a hundred, so that exact values fall anywhere between two marks."""


def made_up_problem(random: Random, count: int) -> Problem:
    """So many lengths and the totals of some runs of them, one pair held apart, some fixed on marks."""
    exact = [random.randint(300, 9000) for _ in range(count)]
    fixed = [random.random() < 0.15 for _ in range(count)]
    exact = [value // STEP * STEP if stands else value for value, stands in zip(exact, fixed, strict=True)]
    rows = []
    for _ in range(random.randint(1, 3)):
        start = random.randrange(count - 1)
        run = range(start, random.randint(start + 2, count))
        rows.append(Constraint((*((index, 1) for index in run), (len(exact), -1)), 0, 0, len(rows)))
        exact.append(sum(exact[index] for index in run))
        fixed.append(False)
    one, other = sorted((0, 1), key=lambda index: -exact[index])
    if exact[one] > exact[other]:
        rows.append(Constraint(((one, 1), (other, -1)), 1, None, len(rows), exact[one] - exact[other]))
    weights = tuple(random.randint(1, 3) for _ in exact)
    return Problem(tuple(exact), tuple(fixed), tuple(rows), weights)


@pytest.mark.parametrize("seed", range(60))
def test_the_program_and_the_search_agree(seed: int) -> None:
    random = Random(seed)
    problem = made_up_problem(random, random.randint(3, 7))
    for step in (STEP, STEP // 2, STEP // 5):
        assert best_by_program(problem, step, REACH) == best_closing(problem, step, REACH, Budget(100_000)), step


def test_the_search_stops_when_its_budget_is_spent() -> None:
    # Three lengths from the middle between two marks: which of them goes up has to be tried.
    total = Constraint(((0, 1), (1, 1), (2, 1), (3, -1)), 0, 0, 0)
    halves = Problem((150, 150, 150, 450), (False,) * 4, (total,))
    with pytest.raises(BudgetSpentError):
        best_closing(halves, STEP, REACH, Budget(0))
    assert best_closing(halves, STEP, REACH, Budget(10)) == [100, 100, 200, 400]


def test_the_program_refuses_numbers_too_large_for_it() -> None:
    with pytest.raises(UnprovenError):
        best_by_program(made_up_problem(Random(1), 4), 10**7, 10**7)


def cross_braced() -> Lengths:
    """Twelve panels of awkward lengths and the sums of every run of four, all free."""
    random = Random(7)
    names = [LengthId("screen", "across", "panel", number) for number in range(12)]
    by_id = {name: Length.of(Fraction(random.randint(40, 90), 32), Unit.INCH) for name in names}
    relations: list[Relation] = []
    for start in range(9):
        run = names[start : start + 4]
        total = LengthId("screen", "across", f"run {start}")
        by_id[total] = Length(sum((by_id[name].mm for name in run), Fraction(0)), Unit.INCH)
        relations.append(Sum(total, tuple(run), held=True))
    return Lengths(by_id, tuple(relations))


def test_a_large_group_goes_to_the_program_and_comes_back_proven(monkeypatch: pytest.MonkeyPatch) -> None:
    lengths = cross_braced()
    by_search = close(lengths, System.METRIC)
    monkeypatch.setattr(group, "FEW_BRANCHES", 0)
    by_program = close(lengths, System.METRIC)
    assert list(broken(lengths, by_program)) == []
    assert by_program.printed == by_search.printed
    assert "closing-not-proven" not in {note.code for note in by_program.notes}


def test_a_small_group_cut_short_says_that_it_is_not_proven(monkeypatch: pytest.MonkeyPatch) -> None:
    names = [LengthId("strip", "across", "panel", number) for number in range(5)]
    by_id = {name: Length.of(Fraction(9, 8), Unit.INCH) for name in names}
    size = LengthId("strip", "across", "size")
    by_id[size] = Length.of(Fraction(45, 8), Unit.INCH)
    lengths = Lengths(by_id, (Sum(size, tuple(names), held=True), Equal(names[0], names[4])))
    needed = next(budget for budget in range(1, 400) if _proven(lengths, budget, monkeypatch))
    monkeypatch.setattr(group, "MOST_BRANCHES", needed - 1)
    figures = close(lengths, System.METRIC)
    assert "closing-not-proven" in {note.code for note in figures.notes}
    told = [named for note in figures.notes if note.code == "cannot-close" for named in [note.lengths]]
    assert [named_in(relation) for relation in broken(lengths, figures)] == told


def _proven(lengths: Lengths, budget: int, monkeypatch: pytest.MonkeyPatch) -> bool:
    monkeypatch.setattr(group, "MOST_BRANCHES", budget)
    return not close(lengths, System.METRIC).notes
