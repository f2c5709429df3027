"""Packs that hold parts of a unit, some without a price, against every mix."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.event.plan.packs import PackOffer, cheapest_packs

amounts = st.builds(Fraction, st.integers(1, 12), st.integers(1, 4))
prices = st.one_of(st.none(), st.decimals("0.05", 9, places=2))


@settings(max_examples=40, derandomize=True)
@given(
    st.builds(Fraction, st.integers(1, 30), st.integers(1, 4)),
    st.lists(st.tuples(amounts, prices), min_size=1, max_size=3),
)
def test_the_cheapest_of_packs_with_a_price(needed: Fraction, packs: list[tuple[Fraction, Decimal | None]]) -> None:
    mix = cheapest_packs(needed, [PackOffer(*pack) for pack in packs])
    priced = any(price is not None for _, price in packs)
    tried = []
    for counts in product(*(range(-(-needed // amount) + 1) for amount, _ in packs)):
        held = sum((count * amount for count, (amount, _) in zip(counts, packs, strict=True)), Fraction(0))
        if priced and any(count and price is None for count, (_, price) in zip(counts, packs, strict=True)):
            continue
        paid = sum((count * (price or 0) for count, (_, price) in zip(counts, packs, strict=True)), Decimal(0))
        if held >= needed:
            tried.append((paid, held - needed, sum(counts)))
    paid, over, number = min(tried)
    assert (mix.price, mix.left_over, sum(mix.counts)) == (paid if priced else None, over, number)


def test_a_dozen_or_singles() -> None:
    """14 of packs of 12 at 6.00 and singles at 0.75: a dozen and two, not two dozen."""
    mix = cheapest_packs(
        Fraction(14), [PackOffer(Fraction(12), Decimal("6.00")), PackOffer(Fraction(1), Decimal("0.75"))]
    )
    assert (mix.counts, mix.left_over, mix.price) == ((1, 2), 0, Decimal("7.50"))
