"""How supplies are sold: the packs of a sheet, and the cheapest mix of packs that gives at least what is needed."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from math import lcm

from msgspec import Struct
from msgspec.structs import replace

from foldwright.measure.amounts import Dimension
from foldwright.recipe.model import Amount, NamedSheet, Pack, Supply

_ONE_SHEET = Amount(Dimension.COUNT, Fraction(1), "", "sheet")


def sheet_packs(supply: Supply, sheet: NamedSheet) -> tuple[Pack, ...]:
    """The packs one size is sold in. The price of a sheet goes before that of a pack: then they are sold singly, or,
    where a pack has no price, in such packs at that price a sheet.
    """
    packs = [pack.value for pack in supply.packs if pack.value.amount.dimension is Dimension.COUNT]
    price = sheet.price
    if price is None:
        return tuple(packs)
    made_up = [
        replace(pack, price=price * int(pack.amount.number), money=sheet.money)
        for pack in packs
        if pack.price is None and pack.amount.number.denominator == 1
    ]
    return tuple(made_up) or (Pack(_ONE_SHEET, price, sheet.money),)


def sheet_price(supply: Supply, sheet: NamedSheet) -> Fraction | None:
    """What one sheet costs in the pack where it is cheapest."""
    prices = [
        Fraction(pack.price) / pack.amount.number for pack in sheet_packs(supply, sheet) if pack.price is not None
    ]
    return min(prices, default=None)


def is_single(pack: Pack) -> bool:
    """Whether it is a sheet by itself."""
    return pack.amount == _ONE_SHEET


class PackOffer(Struct, frozen=True):
    """A pack as sold: how much it holds, and its price if it is known."""

    amount: Fraction
    price: Decimal | None


class PackMix(Struct, frozen=True):
    """How many of each offer, what is left over, and the price of all (None where one is not known)."""

    counts: tuple[int, ...]
    left_over: Fraction
    price: Decimal | None


def cheapest_packs(needed: Fraction, offers: Sequence[PackOffer]) -> PackMix:
    """The least price, then the least left over, then the fewest packs; exact.

    Offers without a price are taken only where none has one; then what is left over decides.
    """
    if needed <= 0:
        return PackMix((0,) * len(offers), Fraction(0), Decimal(0))
    priced = any(offer.price is not None for offer in offers)
    usable = [number for number, offer in enumerate(offers) if offer.price is not None or not priced]
    parts = lcm(needed.denominator, *(offers[number].amount.denominator for number in usable))
    sizes = [int(offers[number].amount * parts) for number in usable]
    costs = [
        Fraction(offers[number].price or 0) if priced else Fraction(size)
        for number, size in zip(usable, sizes, strict=True)
    ]
    best = _PackSearch(sizes, costs).best(int(needed * parts))
    counts = [0] * len(offers)
    for number, count in zip(usable, best, strict=True):
        counts[number] = count
    amount = sum((offer.amount * count for offer, count in zip(offers, counts, strict=True)), Fraction(0))
    price = sum((Decimal(offers[number].price or 0) * counts[number] for number in usable), Decimal(0))
    return PackMix(tuple(counts), amount - needed, price if priced else None)


class _PackSearch:
    """Every sensible mix: of all but the pack that is cheapest for what it holds there are few.

    Of as many other packs as the cheapest holds parts, some together hold a multiple of it and cost no less (by the
    pigeonhole principle), so that fewer need be tried.
    """

    def __init__(self, sizes: Sequence[int], costs: Sequence[Fraction]) -> None:
        self._order = sorted(range(len(sizes)), key=lambda one: (costs[one] / sizes[one], -sizes[one]))
        self._sizes, self._costs = sizes, costs
        self._found: tuple[tuple[Fraction, int, int], list[int]] | None = None

    def best(self, needed: int) -> list[int]:
        self._needed = needed
        first, *others = self._order
        self._try([0] * len(self._sizes), others, first, Fraction(0), 0)
        assert self._found is not None
        return self._found[1]

    def _try(self, counts: list[int], others: Sequence[int], first: int, cost: Fraction, held: int) -> None:
        left = max(0, self._needed - held)
        rate = self._costs[first] / self._sizes[first]
        if self._found and cost + left * rate > self._found[0][0]:
            return
        fill = -(-left // self._sizes[first])
        whole = cost + fill * self._costs[first]
        merit = whole, held + fill * self._sizes[first] - self._needed, sum(counts) + fill
        if self._found is None or merit < self._found[0]:
            mine = list(counts)
            mine[first] = fill
            self._found = merit, mine
        for number, other in enumerate(others):
            most = -(-left // self._sizes[other])
            for count in range(1, min(most, self._sizes[first]) + 1):
                counts[other] = count
                more = cost + count * self._costs[other]
                if self._found and more > self._found[0][0]:
                    break
                self._try(counts, others[number + 1 :], first, more, held + count * self._sizes[other])
            counts[other] = 0
