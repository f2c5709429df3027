"""What an event costs, in decimals: used up and to buy, a kit and in all; the fee at a margin, the margin at a fee."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_HALF_EVEN, Decimal
from fractions import Fraction

from msgspec import Struct


class CostLine(Struct, frozen=True):
    """One supply: the share of its packs that is used up, and what is paid for those bought. None is not counted."""

    name: str
    used_up: Decimal | None
    to_buy: Decimal | None


class Costs(Struct, frozen=True):
    """Sums over all that has a price, for the event and for each kit; the names of what has none."""

    used_up: Decimal
    to_buy: Decimal
    used_up_each: Decimal
    to_buy_each: Decimal
    not_counted: tuple[str, ...]


def costs_of(lines: Sequence[CostLine], kits: int, digits: int = 2) -> Costs:
    """Each kit's part is rounded to the money's minor unit once, half to even."""
    used_up = sum((line.used_up for line in lines if line.used_up is not None), Decimal(0))
    to_buy = sum((line.to_buy for line in lines if line.to_buy is not None), Decimal(0))
    names = tuple(line.name for line in lines if line.used_up is None or line.to_buy is None)
    unit = Decimal(1).scaleb(-digits)
    each = [(whole / kits).quantize(unit, ROUND_HALF_EVEN) for whole in (used_up, to_buy)]
    return Costs(used_up, to_buy, each[0], each[1], names)


def price_a_head(cost: Decimal, margin: Fraction, digits: int = 2) -> Decimal:
    """The fee of which `margin` is left when the cost is paid, rounded up to the minor unit. ValueError from 1 up."""
    if margin >= 1:
        raise ValueError(f"a margin of {margin} of the fee leaves nothing for the cost")
    exact = Fraction(cost) / (1 - margin)
    unit = 10**digits
    whole = Decimal(-int(-exact * unit // 1))
    return whole.scaleb(-digits).quantize(Decimal(1).scaleb(-digits), ROUND_CEILING)


def margin_at(cost: Decimal, fee: Decimal) -> Fraction:
    """The share of the fee that is left when the cost is paid; below nothing at a loss."""
    return (Fraction(fee) - Fraction(cost)) / Fraction(fee)
