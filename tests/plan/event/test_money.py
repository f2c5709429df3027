"""Fees in monies of no, two and three decimals (ISO 4217: JPY 0, EUR 2, KWD 3)."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from foldwright.plan.event.money import CostLine, costs_of, margin_at, price_a_head


@pytest.mark.parametrize(
    ("digits", "fee"),
    [(0, "15"), (2, "14.29"), (3, "14.286")],
    ids=["JPY", "EUR", "KWD"],
)
def test_a_fee_is_rounded_up_to_the_minor_unit(digits: int, fee: str) -> None:
    """10 at 30 % is 100 / 7 = 14.2857..."""
    asked = price_a_head(Decimal(10), Fraction(3, 10), digits)
    assert str(asked) == fee
    assert margin_at(Decimal(10), asked) >= Fraction(3, 10)


@pytest.mark.parametrize(("digits", "fee"), [(0, "100"), (2, "100.00"), (3, "100.000")])
def test_what_comes_out_even_is_not_rounded_up(digits: int, fee: str) -> None:
    """(100 - 75) / 100 is a quarter."""
    assert str(price_a_head(Decimal(75), Fraction(1, 4), digits)) == fee


def test_no_margin_asks_the_cost_and_a_loss_is_less_than_nothing() -> None:
    assert price_a_head(Decimal("12.30"), Fraction(0)) == Decimal("12.30")
    assert margin_at(Decimal(15), Decimal(12)) == Fraction(-1, 4)


@pytest.mark.parametrize(("digits", "each"), [(0, "2"), (2, "2.12"), (3, "2.125")])
def test_the_part_of_a_kit_is_rounded_half_to_even(digits: int, each: str) -> None:
    """17 for 8 kits is 2.125."""
    costs = costs_of([CostLine("card", Decimal(17), Decimal(17))], 8, digits)
    assert (str(costs.used_up_each), str(costs.to_buy_each)) == (each, each)
