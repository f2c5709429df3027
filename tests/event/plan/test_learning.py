"""Both learning curves digit for digit as printed, and whole seconds that no sharing out can undercut."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.event.plan.learning import seconds_for, seconds_up_to

UNIT_TABLE = """
1 1 1 1 1 1 1 1 1 1 1
2 .700 1.700 .750 1.750 .800 1.800 .850 1.850 .900 1.900
3 .568 2.268 .634 2.384 .702 2.502 .773 2.623 .846 2.746
4 .490 2.758 .562 2.946 .640 3.142 .723 3.345 .810 3.556
5 .437 3.195 .513 3.459 .596 3.738 .686 4.031 .783 4.339
8 .343 4.303 .422 4.802 .512 5.346 .614 5.936 .729 6.574
10 .306 4.932 .385 5.589 .477 6.315 .583 7.116 .705 7.994
15 .248 6.274 .325 7.319 .418 8.511 .530 9.861 .663 11.384
20 .214 7.407 .288 8.828 .381 10.485 .495 12.402 .634 14.608
"""
"""Heizer and Render, Operations Management, Table E.3: n, then the n-th and the total at 70, 75, 80, 85 and 90 %."""

FOUR_FIFTHS = Fraction(4, 5)


FINE = 10**12
"""So many seconds for the first one, that whole seconds show twelve digits."""


def total(number: int, rate: Fraction) -> Decimal:
    """What the first so many take in all by Wright's model, the first taking 1."""
    return Decimal(seconds_for(FINE, number, rate)) / FINE


def power(number: int, rate: Fraction) -> Decimal:
    """number^b: the mean of the first so many by Wright's model, and the last of them alone by the unit model."""
    return total(number, rate) / number


def unit_total(number: int, rate: Fraction) -> Decimal:
    """The first so many by the unit model (Crawford)."""
    return sum((power(nth, rate) for nth in range(1, number + 1)), Decimal(0))


def printed(value: Decimal, as_printed: str) -> bool:
    """Within half of the last digit: .5625 may be printed as .562."""
    figure = Decimal(as_printed)
    return abs(value - figure) <= Decimal(1).scaleb(figure.as_tuple().exponent) / 2


@pytest.mark.parametrize("row", UNIT_TABLE.strip().splitlines(), ids=lambda row: row.split()[0])
def test_every_figure_of_the_unit_table(row: str) -> None:
    number, *figures = row.split()
    for percent, nth, whole in zip((70, 75, 80, 85, 90), figures[::2], figures[1::2], strict=True):
        assert printed(power(int(number), Fraction(percent, 100)), nth)
        assert printed(unit_total(int(number), Fraction(percent, 100)), whole)


def test_the_unit_model_in_worked_examples() -> None:
    """300 h at 80 %; 15 min at 70 %; Krajewski, Operations Management, supplement I (1000 h)."""
    assert printed(300 * power(5, FOUR_FIFTHS), "178.7")
    assert printed(15 * unit_total(3, Fraction(7, 10)), "34.02")
    assert printed(1000 * power(38, FOUR_FIFTHS), "310")
    assert printed(unit_total(3, FOUR_FIFTHS) / 3, ".83403")
    assert printed(unit_total(10, FOUR_FIFTHS) / 10, ".63154")


def test_an_example_worked_from_the_table_of_three_digits() -> None:
    """Stevenson, Operations Management, example 7S-2: 400 days at 80 %, which are multiplied by .381 and 10.485.

    So are 300 h by 3.738 for the first five.
    """
    half_a_digit = 400 * Decimal("0.0005")
    assert abs(400 * power(20, FOUR_FIFTHS) - Decimal("152.4")) <= half_a_digit
    assert abs(400 * unit_total(20, FOUR_FIFTHS) - 4194) <= half_a_digit
    assert printed(400 * unit_total(20, FOUR_FIFTHS) / 20, "209.7")
    assert abs(300 * unit_total(5, FOUR_FIFTHS) - Decimal("1121.4")) <= 300 * Decimal("0.0005")


def test_the_average_model_in_a_worked_table() -> None:
    """100 h at 80 %, the BMC handbook, p. 324: what each doubling adds (245.76, where the book has a misprint)."""
    totals = [100 * total(number, FOUR_FIFTHS) for number in (1, 2, 4, 8, 16)]
    assert totals == [100, 160, 256, Decimal("409.6"), Decimal("655.36")]
    added = [after - before for before, after in pairwise(totals)]
    assert added == [60, 96, Decimal("153.6"), Decimal("245.76")]
    assert [50 * power(number, FOUR_FIFTHS) for number in (1, 2, 4)] == [50, 40, 32]


def test_whole_seconds_are_exact_where_the_curve_is() -> None:
    """Eight at 80 % take (2 x 4/5)^3 = 4.096 times the first."""
    assert seconds_for(1000, 8, FOUR_FIFTHS) == 4096
    assert seconds_for(125, 8, FOUR_FIFTHS) == 512
    assert seconds_for(100, 8, FOUR_FIFTHS) == 410
    assert seconds_for(45, 7, Fraction(1)) == seconds_for(45, 7, None) == 315


@given(st.integers(1, 2000), st.integers(0, 10), st.integers(51, 100))
def test_doublings_are_rounded_up_from_the_exact_figure(first: int, doublings: int, percent: int) -> None:
    exact = first * Fraction(2 * percent, 100) ** doublings
    assert seconds_for(first, 2**doublings, Fraction(percent, 100)) == ceil(exact)


@pytest.mark.parametrize("rate", [Fraction(1, 2), Fraction(0), Fraction(11, 10), Fraction(-4, 5)])
def test_a_rate_that_is_no_learning_is_refused(rate: Fraction) -> None:
    with pytest.raises(ValueError, match="rate"):
        seconds_for(60, 3, rate)


RATES = st.one_of(st.none(), st.integers(51, 100).map(lambda percent: Fraction(percent, 100)))


@given(st.integers(0, 600), st.integers(0, 60), st.integers(0, 60), RATES)
def test_two_who_share_some_never_take_less_than_one_who_does_them_all(
    first: int, one: int, other: int, rate: Fraction | None
) -> None:
    together = seconds_for(first, one + other, rate)
    assert max(seconds_for(first, one, rate), seconds_for(first, other, rate)) <= together
    assert together <= seconds_for(first, one, rate) + seconds_for(first, other, rate)
    assert seconds_for(first, 1, rate) == first
    table = seconds_up_to(first, one + other, rate)
    assert (len(table), table[-1], table[one]) == (one + other + 1, together, seconds_for(first, one, rate))
