"""What an event costs, exactly: used up and to buy, by recipe and in all, other costs; fees and margins.

All sums are Fractions; what is printed is rounded once, at the end.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from msgspec import Struct

NOTHING = Fraction(0)


class CostLine(Struct, frozen=True):
    """One supply: the share of its packs that is used up, and what is paid for those bought. None is not counted.

    `parts` are the recipes' shares of both, by the numbers of the recipes; they make one.
    """

    name: str
    used_up: Fraction | None
    to_buy: Fraction | None
    parts: tuple[tuple[int, Fraction], ...] = ()


class OtherCost(Struct, frozen=True):
    """What is paid besides supplies: once, or for each kit that is made."""

    name: str
    amount: Decimal
    each: bool = False

    def sum(self, kits: int) -> Fraction:
        return Fraction(self.amount) * (kits if self.each else 1)


class RecipeCosts(Struct, frozen=True):
    """What supplies one recipe uses up and has bought, spare kits and samples included; each kit bears its share."""

    kits: int
    used_up: Fraction
    to_buy: Fraction

    @property
    def used_up_each(self) -> Fraction:
        return self.used_up / self.kits

    @property
    def to_buy_each(self) -> Fraction:
        return self.to_buy / self.kits


class Costs(Struct, frozen=True):
    """Sums over all that has a price, and over each recipe; `other` is what is paid besides, with its sums.

    `kits` are those that people get. `not_counted` names what has no price.
    """

    kits: int
    used_up: Fraction
    to_buy: Fraction
    recipes: tuple[RecipeCosts, ...]
    other: tuple[tuple[OtherCost, Fraction], ...] = ()
    not_counted: tuple[str, ...] = ()

    @property
    def other_sum(self) -> Fraction:
        return sum((paid for _, paid in self.other), NOTHING)

    @property
    def whole(self) -> Fraction:
        """All that is paid: what is bought, and the other costs."""
        return self.to_buy + self.other_sum

    @property
    def whole_each(self) -> Fraction:
        return self.whole / self.kits


def costs_of(
    lines: Sequence[CostLine], kits: Sequence[int], other: Sequence[OtherCost] = (), all_kits: int | None = None
) -> Costs:
    """`kits` are those that people get of each recipe, `all_kits` as many as are made, spare ones and samples too."""
    recipes = [
        RecipeCosts(
            count,
            sum((line.used_up * _part(line, number) for line in lines if line.used_up is not None), NOTHING),
            sum((line.to_buy * _part(line, number) for line in lines if line.to_buy is not None), NOTHING),
        )
        for number, count in enumerate(kits)
    ]
    people = sum(kits)
    made = people if all_kits is None else all_kits
    return Costs(
        people,
        sum((line.used_up for line in lines if line.used_up is not None), NOTHING),
        sum((line.to_buy for line in lines if line.to_buy is not None), NOTHING),
        tuple(recipes),
        tuple((one, one.sum(made)) for one in other),
        tuple(line.name for line in lines if line.used_up is None or line.to_buy is None),
    )


def _part(line: CostLine, recipe: int) -> Fraction:
    return next((part for number, part in line.parts if number == recipe), NOTHING)


def price_a_head(cost: Fraction, margin: Fraction, digits: int = 2) -> Decimal:
    """The fee of which `margin` is left when the cost is paid, rounded up to the minor unit. ValueError from 1 up."""
    if margin >= 1:
        raise ValueError(f"a margin of {margin} of the fee leaves nothing for the cost")
    return _in_units(-(-cost / (1 - margin) * 10**digits // 1), digits)


def margin_at(cost: Fraction, fee: Decimal) -> Fraction:
    """The share of the fee that is left when the cost is paid; below nothing at a loss."""
    return (Fraction(fee) - cost) / Fraction(fee)


def rounded(exact: Fraction, digits: int) -> Decimal:
    """To the minor unit, half to even."""
    return _in_units(round(exact * 10**digits), digits)


def _in_units(units: int, digits: int) -> Decimal:
    """So many minor units, exactly, however many."""
    return Decimal(f"{units}e-{digits}")
