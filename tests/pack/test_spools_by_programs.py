"""Lengths off spools against values from textbooks, and against a plain program over every way to cut a spool."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from foldwright.pack import spools as spools_module
from foldwright.pack.spools import Spool, SpoolCuts, SpoolPlan, WantedLength, cut_lengths

INCH = Fraction(127, 5)

PAPER_MILL = {
    1380: 22,
    1520: 25,
    1560: 12,
    1710: 14,
    1820: 18,
    1880: 18,
    1930: 20,
    2000: 10,
    2050: 12,
    2100: 14,
    2140: 16,
    2150: 18,
    2200: 20,
}
"""The paper machine with rolls of 5600 mm that articles on cutting stock tell of (from memory): 73 rolls."""


def check(
    plan: SpoolPlan, wanted: Sequence[WantedLength], spools: Sequence[Spool], ends: Fraction = Fraction(0)
) -> None:
    """Exactly what is wanted, off spools that are long enough and there."""
    for way in plan.ways:
        taken = sum((one.length * count for one, count in zip(wanted, way.counts, strict=True)), Fraction(0))
        assert taken + way.left + 2 * ends == spools[way.spool].length
        assert way.left >= 0
    for number, one in enumerate(wanted):
        given = sum(way.counts[number] * way.spools for way in plan.ways)
        assert given == one.count or (number in plan.too_long and given < one.count)
    for number, spool in enumerate(spools):
        used = sum(way.spools for way in plan.ways if way.spool == number)
        assert spool.copies is None or used <= spool.copies


def paid(plan: SpoolPlan, spools: Sequence[Spool]) -> Decimal:
    return sum(
        (way.spools * (spools[way.spool].price or Decimal(0)) for way in plan.ways if spools[way.spool].copies is None),
        Decimal(0),
    )


@pytest.mark.parametrize(
    ("roll", "wanted", "fewest"),
    [
        # Chvatal, Linear Programming (1983), chapter 13, from memory: 452.25 in parts, 453 whole raws.
        (100, {45: 97, 36: 610, 31: 395, 14: 211}, 453),
        (5600, PAPER_MILL, 73),
    ],
    ids=["Chvatal", "paper mill"],
)
def test_textbook_examples_take_as_few_as_is_published(roll: int, wanted: dict[int, int], fewest: int) -> None:
    spools = [Spool(Fraction(roll), None, Decimal(1))]
    lengths = [WantedLength(Fraction(length), count) for length, count in wanted.items()]
    plan = cut_lengths(lengths, spools)
    check(plan, lengths, spools)
    assert (paid(plan, spools), plan.proven) == (fewest, True)


def test_two_lengths_with_no_coarse_grid_in_common_come_off_four_spools() -> None:
    """80 of 470 mm and 70 of 610 mm are 80.3 m: no fewer than four spools of 25 m."""
    wanted = [WantedLength(Fraction(470), 80), WantedLength(Fraction(610), 70)]
    spools = [Spool(Fraction(25_000), None, Decimal("3.20"))]
    plan = cut_lengths(wanted, spools)
    check(plan, wanted, spools)
    assert sum(way.spools for way in plan.ways) == 4
    assert plan.proven and not plan.counted


def test_three_of_a_spool_each_fill_it_to_the_last_millimetre() -> None:
    """Triplets (Falkenauer 1996 makes his so, from memory): 20 spools of 1000 without any waste, and no other way."""
    rng = random.Random(60)
    lengths = []
    for _ in range(20):
        first, second = rng.randint(380, 490), rng.randint(250, 260)
        lengths += [first, second, 1000 - first - second]
    wanted = [WantedLength(Fraction(length), 1) for length in lengths]
    spools = [Spool(Fraction(1000), None, Decimal(1))]
    plan = cut_lengths(wanted, spools)
    check(plan, wanted, spools)
    assert 20 <= paid(plan, spools) <= 21
    assert plan.proven == (paid(plan, spools) == 20)


def jobs() -> Iterator[tuple[list[WantedLength], list[Spool], Fraction]]:
    """Always the same 22: millimetres or quarters of an inch, one or two spools that are sold, some ends owned."""
    rng = random.Random(22)
    for number in range(22):
        kinds, metric = rng.randint(1, 3), number % 2
        unit = Fraction(5) if metric else INCH / 4
        wanted = [WantedLength(rng.randint(40, 180) * unit, rng.randint(3, 200)) for _ in range(kinds)]
        sold = [(4, "0.95"), (5, "1.10"), (10, "1.95"), (25, "3.95")][: 2 if kinds > 2 else 4]
        yard = Fraction(1000) if metric else 36 * INCH
        spools = [Spool(length * yard, None, Decimal(price)) for length, price in rng.sample(sold, rng.randint(1, 2))]
        if rng.random() < 0.4:
            spools.append(Spool(rng.randint(10, 40) * 10 * unit, rng.randint(1, 3), None))
        yield wanted, spools, rng.choice([Fraction(0), Fraction(0), 2 * unit])


@pytest.mark.parametrize("number", range(22))
def test_no_program_over_every_way_buys_for_less(number: int) -> None:
    wanted, spools, ends = list(jobs())[number]
    plan = cut_lengths(wanted, spools, ends)
    check(plan, wanted, spools, ends)
    assert plan.proven and not plan.too_long and not plan.counted
    least, most = between(wanted, spools, ends)
    assert least - 1e-6 <= float(paid(plan, spools)) <= most + 1e-6


def between(wanted: Sequence[WantedLength], spools: Sequence[Spool], ends: Fraction) -> tuple[float, float]:
    """Every way to cut every spool is a column; scipy chooses whole numbers of them: its bound, and its best."""
    columns, costs, owners = [], [], []
    for number, spool in enumerate(spools):
        for way in ways_of([one.length for one in wanted], [one.count for one in wanted], spool.length - 2 * ends):
            columns.append(way)
            costs.append(float(spool.price or 0) if spool.copies is None else 0.0)
            owners.append(number)
    rows = [LinearConstraint(np.array(columns).T, lb=[one.count for one in wanted])]
    for number, spool in enumerate(spools):
        if spool.copies is not None:
            rows.append(LinearConstraint([float(owner == number) for owner in owners], ub=spool.copies))
    nodes = {"node_limit": 50}
    found = milp(costs, constraints=rows, integrality=np.ones(len(costs)), bounds=Bounds(lb=0), options=nodes)
    return float(found.mip_dual_bound), float(found.fun)


def ways_of(lengths: Sequence[Fraction], counts: Sequence[int], room: Fraction) -> list[tuple[int, ...]]:
    if not lengths:
        return [()]
    if len(lengths) == 1:
        return [(min(counts[0], int(room // lengths[0])),)]
    return [
        (first, *rest)
        for first in range(min(counts[0], int(room // lengths[0])) + 1)
        for rest in ways_of(lengths[1:], counts[1:], room - first * lengths[0])
    ]


def test_ten_lengths_to_the_64th_of_an_inch_by_the_thousand() -> None:
    """More places than a table holds one by one in millimetres; what is planned is right, and near what is proven."""
    wanted = [
        WantedLength((7 + 3 * number + Fraction(2 * number + 1, 64)) * INCH, 300 + 50 * number) for number in range(10)
    ]
    spools = [Spool(Fraction(25_000), None, Decimal(1))]
    plan = cut_lengths(wanted, spools)
    check(plan, wanted, spools)
    total = sum((one.length * one.count for one in wanted), Fraction(0))
    assert -(-total // 25_000) <= paid(plan, spools) <= -(-total // 25_000) + 1


def test_owned_ends_that_hold_nothing_and_nothing_wanted_are_no_trouble() -> None:
    assert cut_lengths([], [Spool(Fraction(10), None, None)]).ways == ()
    plan = cut_lengths(
        [WantedLength(Fraction(3), 2)], [Spool(Fraction(1), 1, None), Spool(Fraction(7), None, None)], Fraction(1, 2)
    )
    assert [(way.spool, way.counts, way.left) for way in plan.ways] == [(1, (2,), 0)]


def test_the_same_twice() -> None:
    wanted, spools, ends = list(jobs())[5]
    assert cut_lengths(wanted, spools, ends) == cut_lengths(wanted, spools, ends)


def test_where_no_plan_is_found_spool_after_spool_is_filled(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plan that gives too little is not believed: what is bought is enough, and said to be counted."""
    wanted, roll = (
        [WantedLength(Fraction(470), 80), WantedLength(Fraction(610), 70)],
        [Spool(Fraction(25_000), None, Decimal(3))],
    )
    monkeypatch.setattr(spools_module, "solve", lambda _: SpoolCuts((), 0))
    plan = cut_lengths(wanted, roll)
    check(plan, wanted, roll)
    assert plan.counted and not plan.proven and not plan.too_long
    assert sum(way.spools for way in plan.ways) >= 4
