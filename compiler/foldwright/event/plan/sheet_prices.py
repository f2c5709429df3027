"""How the sheets of a supply are sold, each size by itself, and what one of them costs."""

from __future__ import annotations

from fractions import Fraction

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
