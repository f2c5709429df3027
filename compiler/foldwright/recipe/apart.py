"""Amounts of one supply that cannot be added up: pieces against yards, ounces against cups; told with both places."""

from __future__ import annotations

from collections.abc import Iterator

from foldwright.finding import Finding, Place, Strength
from foldwright.measure.amounts import Dimension
from foldwright.recipe.model import Amount, Recipe, Said, Supply

_WEIGHT_OR_VOLUME = {Dimension.MASS, Dimension.VOLUME}


def amounts_apart(recipe: Recipe) -> Iterator[Finding]:
    """What each supply of a recipe is used by, against the packs it is sold in."""
    cut_from = {piece.supply.value.casefold() for piece in recipe.pieces if piece.supply}
    for supply in recipe.supplies:
        in_sheets = supply.name.value.casefold() in cut_from and bool(supply.sheets)
        for pack in supply.packs:
            amount = pack.value.amount
            if in_sheets and amount.dimension is not Dimension.COUNT:
                yield _apart("sheets-apart", supply, supply.sheets[0].place, "", Said(amount, pack.place))
            elif not in_sheets and supply.use and supply.use.value.dimension is not amount.dimension:
                use = supply.use
                code = _code(use.value, amount)
                yield _apart(code, supply, use.place, _said(use.value), Said(amount, pack.place))


def _apart(code: str, supply: Supply, place: Place, use: str, pack: Said[Amount]) -> Finding:
    name = supply.name.value
    return Finding.of(code, Strength.MISFIT, place, name=name, use=use, pack=_said(pack.value), there=pack.place)


def _code(one: Amount, other: Amount) -> str:
    dimensions = {one.dimension, other.dimension}
    if Dimension.COUNT in dimensions:
        return "counted-apart"
    ounces = any(amount.unit == "oz" for amount in (one, other))
    return "ounces-apart" if ounces and dimensions == _WEIGHT_OR_VOLUME else "measured-apart"


def _said(amount: Amount) -> str:
    from foldwright.recipe.facts.writing import write_amount

    return write_amount(amount)
