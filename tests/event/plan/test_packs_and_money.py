"""Mixes of packs by brute force; fees and margins that close."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.event.plan.money import CostLine, costs_of, margin_at, price_a_head
from foldwright.event.plan.packs import PackOffer, cheapest_packs
from workbench.long import tries

offers = st.lists(st.tuples(st.integers(1, 9), st.integers(1, 20)), min_size=1, max_size=3)


@settings(max_examples=tries(20, 60))
@given(st.integers(1, 30), offers)
def test_the_mix_is_the_cheapest_then_the_one_with_the_least_over(needed: int, packs: list[tuple[int, int]]) -> None:
    mix = cheapest_packs(Fraction(needed), [PackOffer(Fraction(amount), Decimal(price)) for amount, price in packs])
    tried = [
        (sum(n * price for n, (_, price) in zip(counts, packs, strict=True)), held - needed, sum(counts))
        for counts in product(*(range(-(-needed // amount) + 1) for amount, _ in packs))
        if (held := sum(n * amount for n, (amount, _) in zip(counts, packs, strict=True))) >= needed
    ]
    assert (mix.price, mix.left_over, sum(mix.counts)) == min(tried)


def test_without_prices_the_least_is_left_over() -> None:
    mix = cheapest_packs(Fraction(25), [PackOffer(Fraction(24), None), PackOffer(Fraction(10), None)])
    assert (mix.counts, mix.left_over, mix.price) == ((0, 3), 5, None)


def test_an_offer_without_a_price_is_no_bargain() -> None:
    mix = cheapest_packs(Fraction(25), [PackOffer(Fraction(100), None), PackOffer(Fraction(10), Decimal(2))])
    assert mix.counts == (0, 3)


def test_nothing_is_bought_of_what_is_not_needed() -> None:
    assert cheapest_packs(Fraction(0), [PackOffer(Fraction(10), Decimal(2))]).counts == (0,)


def test_ten_thousand_kits_are_reckoned_too() -> None:
    mix = cheapest_packs(
        Fraction(360_000), [PackOffer(Fraction(720), Decimal("5.25")), PackOffer(Fraction(7200), Decimal(49))]
    )
    assert mix.counts == (0, 50)


def test_a_cost_of_75_at_a_margin_of_a_quarter_of_the_fee_asks_100() -> None:
    """An identity: (100 - 75) / 100."""
    assert price_a_head(Fraction(75), Fraction(1, 4)) == 100
    assert margin_at(Fraction(75), Decimal(100)) == Fraction(1, 4)


@given(st.decimals(0, 500, places=2), st.fractions(0, Fraction(9, 10)), st.sampled_from([0, 2, 3]))
def test_the_fee_leaves_at_least_the_margin_and_a_unit_less_would_not(
    said: Decimal, margin: Fraction, digits: int
) -> None:
    """Minor units after ISO 4217: yen 0, euro 2, Kuwaiti dinar 3."""
    cost = Fraction(said)
    fee = price_a_head(cost, margin, digits)
    assert fee == round(fee, digits)
    if fee > 0:
        assert margin_at(cost, fee) >= margin
        less = fee - Decimal(1).scaleb(-digits)
        assert less <= 0 or margin_at(cost, less) < margin


def test_a_margin_of_the_whole_fee_is_refused() -> None:
    with pytest.raises(ValueError, match="leaves nothing"):
        price_a_head(Fraction(1), Fraction(1))


def test_what_has_no_price_is_not_counted_and_named() -> None:
    lines = [CostLine("card", Fraction(9), Fraction("16.80")), CostLine("twine", None, None)]
    costs = costs_of(lines, [100])
    assert (costs.used_up, costs.to_buy, costs.whole_each) == (9, Fraction("16.8"), Fraction("0.168"))
    assert costs.not_counted == ("twine",)
