"""Ends on the shelf beside two sizes of spool that are sold, against every way of cutting them."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.pack.spools import Spool, WantedLength, cut_lengths

SHORT, LONG = (9, 2), (14, 3)
"""Length and price of what is sold."""

lengths = st.integers(2, 9)


def test_the_only_end_there_is_gives_all() -> None:
    """5 and 7 of 20, and no spool is sold."""
    plan = cut_lengths([WantedLength(Fraction(5), 1), WantedLength(Fraction(7), 1)], [Spool(Fraction(20), 1, None)])
    assert plan.too_long == ()
    assert [(way.counts, way.spools, way.left) for way in plan.ways] == [((1, 1), 1, 8)]


def test_an_end_that_gives_too_few_says_so() -> None:
    plan = cut_lengths([WantedLength(Fraction(5), 5)], [Spool(Fraction(20), 1, None)])
    assert (plan.too_long, plan.proven) == ((0,), False)
    assert sum(way.counts[0] * way.spools for way in plan.ways) == 4


@settings(max_examples=25, derandomize=True)
@given(
    st.integers(2, 9), st.integers(1, 4), st.integers(2, 9), st.integers(0, 3), st.integers(3, 14), st.integers(0, 2)
)
def test_no_way_buys_for_less(one: int, ones: int, other: int, others: int, end: int, ends: int) -> None:
    wanted = [WantedLength(Fraction(one), ones), WantedLength(Fraction(other), others)]
    sold = [Spool(Fraction(length), None, Decimal(price)) for length, price in (SHORT, LONG)]
    plan = cut_lengths(wanted, [Spool(Fraction(end), ends, None), *sold])
    used = [sum(way.spools for way in plan.ways if way.spool == number) for number in range(3)]
    assert plan.too_long == ()
    assert used[0] <= ends
    for way in plan.ways:
        taken = way.counts[0] * one + way.counts[1] * other
        assert taken + way.left == (end, SHORT[0], LONG[0])[way.spool]
    for number, count in enumerate((ones, others)):
        assert sum(way.counts[number] * way.spools for way in plan.ways) == count
    paid = used[1] * SHORT[1] + used[2] * LONG[1]
    assert paid == _least(tuple(sorted([one] * ones + [other] * others, reverse=True)), (end,) * ends)


@cache
def _least(lengths: tuple[int, ...], open_: tuple[int, ...]) -> int:
    """What is paid at least: each length off something begun or owned, or off a spool bought for it."""
    if not lengths:
        return 0
    first, rest = lengths[0], lengths[1:]
    found = [
        price + _least(rest, tuple(sorted((*open_, length - first))))
        for length, price in (SHORT, LONG)
        if first <= length
    ]
    for number, room in enumerate(open_):
        if room >= first and room not in open_[:number]:
            found.append(_least(rest, tuple(sorted((*open_[:number], room - first, *open_[number + 1 :])))))
    return min(found)
