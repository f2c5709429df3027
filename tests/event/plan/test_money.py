"""Fees and sums in monies of no, two and three decimals (ISO 4217: JPY 0, EUR 2, KWD 3)."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from foldwright.event.document.writing import Money, currency_of
from foldwright.event.plan.money import CostLine, OtherCost, costs_of, margin_at, price_a_head, rounded


@pytest.mark.parametrize(
    ("digits", "fee"),
    [(0, "15"), (2, "14.29"), (3, "14.286")],
    ids=["JPY", "EUR", "KWD"],
)
def test_a_fee_is_rounded_up_to_the_minor_unit(digits: int, fee: str) -> None:
    """10 at 30 % is 100 / 7 = 14.2857..."""
    asked = price_a_head(Fraction(10), Fraction(3, 10), digits)
    assert str(asked) == fee
    assert margin_at(Fraction(10), asked) >= Fraction(3, 10)


@pytest.mark.parametrize(("digits", "fee"), [(0, "100"), (2, "100.00"), (3, "100.000")])
def test_what_comes_out_even_is_not_rounded_up(digits: int, fee: str) -> None:
    """(100 - 75) / 100 is a quarter."""
    assert str(price_a_head(Fraction(75), Fraction(1, 4), digits)) == fee


def test_no_margin_asks_the_cost_and_a_loss_is_less_than_nothing() -> None:
    assert price_a_head(Fraction("12.30"), Fraction(0)) == Decimal("12.30")
    assert margin_at(Fraction(15), Decimal(12)) == Fraction(-1, 4)


@pytest.mark.parametrize(("digits", "each"), [(0, "2"), (2, "2.12"), (3, "2.125")])
def test_the_part_of_a_kit_is_rounded_half_to_even(digits: int, each: str) -> None:
    """17 for 8 kits is 2.125."""
    (costs,) = costs_of([CostLine("card", Fraction(17), Fraction(17), ((0, Fraction(1)),))], [8]).recipes
    assert (str(rounded(costs.used_up_each, digits)), str(rounded(costs.to_buy_each, digits))) == (each, each)


def test_a_fee_is_reckoned_from_the_exact_cost() -> None:
    """365.30 for 1000 kits at 60 %: 0.3653 / 0.4 = 0.913..., where 0.37 / 0.4 would ask 0.93."""
    costs = costs_of([CostLine("card", None, Fraction("365.30"))], [1000])
    assert price_a_head(costs.whole_each, Fraction(60, 100)) == Decimal("0.92")


def test_other_costs_are_paid_once_or_for_each_kit_that_is_made() -> None:
    """80 + 120 + 0.10 x 105, and 50 for what is bought: 260.50 for 100 people."""
    other = [
        OtherCost("hall", Decimal(80)),
        OtherCost("teacher", Decimal(120)),
        OtherCost("bags", Decimal("0.10"), True),
    ]
    costs = costs_of([CostLine("card", Fraction(40), Fraction(50))], [60, 40], other, 105)
    assert [paid for _, paid in costs.other] == [80, 120, Fraction("10.5")]
    assert (costs.whole, costs.whole_each) == (Fraction("260.5"), Fraction("2.605"))


def test_what_each_recipe_pays_adds_up_to_all() -> None:
    lines = [
        CostLine("card", Fraction(10), Fraction(16), ((0, Fraction(1, 3)), (1, Fraction(2, 3)))),
        CostLine("bow", Fraction(2), None, ((1, Fraction(1)),)),
    ]
    costs = costs_of(lines, [10, 7])
    assert [(one.used_up, one.to_buy) for one in costs.recipes] == [
        (Fraction(10, 3), Fraction(16, 3)),
        (Fraction(26, 3), Fraction(32, 3)),
    ]
    assert costs.recipes[1].used_up_each == Fraction(26, 21)
    assert (costs.used_up, costs.to_buy, costs.not_counted) == (12, 16, ("bow",))


@pytest.mark.parametrize(
    ("code", "digits"), [("JPY", 0), ("EUR", 2), ("USD", 2), ("GBP", 2), ("CHF", 2), ("KWD", 3), ("BHD", 3), ("KRW", 0)]
)
def test_minor_units_are_those_of_iso_4217(code: str, digits: int) -> None:
    """ISO 4217, list one (from memory)."""
    assert currency_of(code.lower()) == (code, digits)


def test_what_is_no_code_has_no_sign() -> None:
    assert currency_of("pounds") == ("", 2)


@pytest.mark.parametrize(
    ("code", "exact", "said"),
    [
        ("EUR", "1234.5", "€1,234.50"),
        ("EUR", "0.125", "€0.12"),
        ("EUR", "0.135", "€0.14"),
        ("USD", "12.5", "$12.50"),
        ("GBP", "0.005", "£0.00"),
        ("JPY", "1234.5", "¥1,234"),
        ("KWD", "1.2345", "KWD\u00a01.234"),
        ("CHF", "7.125", "CHF\u00a07.12"),
        ("", "1234.5", "1,234.50"),
    ],
)
def test_sums_are_written_as_cldr_has_them_for_english(code: str, exact: str, said: str) -> None:
    """CLDR, locale en: the sign before the number, a code with a no-break space (from memory); half to even."""
    assert Money(code, currency_of(code)[1], "en").said(Fraction(exact)) == said


def test_a_price_keeps_all_its_figures() -> None:
    money = Money("EUR", 2, "en")
    assert [money.as_written(Decimal(one)) for one in ("0.125", "3", "3.50", "3.5000")] == [
        "€0.125",
        "€3.00",
        "€3.50",
        "€3.50",
    ]


def test_large_sums_lose_nothing() -> None:
    whole = 10**40
    assert rounded(Fraction(whole * 100 + 1, 100), 2) == Decimal(f"{whole}.01")
    assert Money("EUR", 2, "en").said(Fraction(whole * 100 + 1, 100)) == f"€{whole:,}.01"
    assert Money("", 2, "en").said(Fraction(whole * 100 + 1, 100)) == f"{whole:,}.01"
    assert Money("EUR", 2, "en").as_written(Decimal("0." + "1" * 40)) == "€0." + "1" * 40
