"""Lengths off spools: what every shop assistant knows, and brute force."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.pack.spools import Spool, SpoolPlan, WantedLength, cut_lengths

INCH = Fraction(127, 5)


def bought(plan: SpoolPlan, spool: int) -> int:
    return sum(way.spools for way in plan.ways if way.spool == spool)


def test_36_inches_make_three_lengths_of_12() -> None:
    """Common practice, no source."""
    spools = [Spool(36 * INCH, None, Decimal(1))]
    assert bought(cut_lengths([WantedLength(12 * INCH, 3)], spools), 0) == 1
    assert bought(cut_lengths([WantedLength(12 * INCH, 4)], spools), 0) == 2


def test_what_is_lost_at_the_ends_takes_one_away() -> None:
    plan = cut_lengths([WantedLength(12 * INCH, 3)], [Spool(36 * INCH, None, Decimal(1))], INCH)
    assert (bought(plan, 0), plan.proven) == (2, True)


def test_ends_of_spools_on_the_shelf_go_first() -> None:
    spools = [Spool(25 * INCH, 2, None), Spool(36 * INCH, None, Decimal(3))]
    plan = cut_lengths([WantedLength(12 * INCH, 6)], spools)
    assert (bought(plan, 0), bought(plan, 1)) == (2, 1)


def test_a_length_that_comes_off_no_spool_is_told() -> None:
    plan = cut_lengths([WantedLength(40 * INCH, 2), WantedLength(10 * INCH, 3)], [Spool(36 * INCH, None, None)])
    assert plan.too_long == (0,)
    assert bought(plan, 0) == 1


@settings(max_examples=20)
@given(st.integers(2, 9), st.integers(1, 6), st.integers(2, 9), st.integers(0, 5))
def test_two_lengths_take_as_few_spools_as_trying_everything(one: int, ones: int, other: int, others: int) -> None:
    plan = cut_lengths(
        [WantedLength(Fraction(one), ones), WantedLength(Fraction(other), others)],
        [Spool(Fraction(12), None, Decimal(2))],
    )
    assert bought(plan, 0) == _fewest([one] * ones + [other] * others, [])


def _fewest(lengths: list[int], spools: list[int]) -> int:
    if not lengths:
        return len(spools)
    first, *rest = lengths
    found = [_fewest(rest, [*spools, 12 - first])]
    for number in {room: at for at, room in enumerate(spools) if room >= first}.values():
        found.append(_fewest(rest, [*spools[:number], spools[number] - first, *spools[number + 1 :]]))
        if min(found) == len(spools):
            break
    return min(found)
