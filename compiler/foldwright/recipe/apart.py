"""Amounts of one supply that cannot be added up: pieces against yards, ounces against cups; told with both places."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.finding import Finding, LineTable, Place, Strength
from foldwright.measure.amounts import Dimension
from foldwright.recipe.model import Amount, Recipe, Said, Supply

if TYPE_CHECKING:
    from foldwright.recipe.stock import ShelfLine


APART = frozenset({"counted-apart", "measured-apart", "ounces-apart", "sheets-apart", "elsewhere-apart"})
"""The findings with which no shopping list can be reckoned."""
_WEIGHT_OR_VOLUME = {Dimension.MASS, Dimension.VOLUME}


class Planned(Struct, frozen=True):
    """A recipe of an event and the lines of its text."""

    recipe: Recipe
    lines: LineTable


class _Used(Struct, frozen=True):
    """An amount, where it stands, and for another recipe's its title and line."""

    amount: Amount
    place: Place
    title: str
    line: int


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


def recipes_apart(
    planned: Sequence[Planned], called: Callable[[str], Hashable] = str.casefold
) -> list[tuple[int, Finding]]:
    """What one recipe says of a supply against what an earlier one says of the same; by the number of the recipe.

    Names that come to the same, as they are `called`, are one supply.
    """
    first: dict[Hashable, _Used] = {}
    found = []
    for number, one in enumerate(planned):
        for supply in one.recipe.supplies:
            name = called(supply.name.value)
            for used in _used(one, supply):
                before = first.setdefault(name, used)
                if before.amount.dimension is not used.amount.dimension:
                    found.append((number, _elsewhere(supply.name.value, Said(used.amount, used.place), before)))
                    break
    return found


def shelf_apart(met: Iterable[tuple[ShelfLine, int, Supply]], planned: Sequence[Planned]) -> list[Finding]:
    """What is on the shelf against what a recipe, by its number, says of the same supply; each line once."""
    found: dict[Place, Finding] = {}
    for line, number, supply in met:
        used = next(_used(planned[number], supply), None)
        for amount in _had(line) if used else ():
            if used and amount.value.dimension is not used.amount.dimension:
                found.setdefault(amount.place, _elsewhere(supply.name.value, amount, used))
    return list(found.values())


def _used(one: Planned, supply: Supply) -> Iterator[_Used]:
    """What is used of it and how it is sold, as far as that has to be added up."""
    amounts = [Said(pack.value.amount, pack.place) for pack in supply.packs]
    for said in ([supply.use] if supply.use else []) + amounts:
        line, _ = one.lines.line_and_column(said.place.start)
        yield _Used(said.value, said.place, one.recipe.title.value, line)


def _had(line: ShelfLine) -> Iterator[Said[Amount]]:
    if line.amount:
        yield line.amount
    for said in line.lengths:
        length = said.value.length
        yield Said(Amount(Dimension.LENGTH, length.value, length.unit.symbol, length=length), said.place)


def _elsewhere(name: str, here: Said[Amount], there: _Used) -> Finding:
    return Finding.of(
        "elsewhere-apart",
        Strength.MISFIT,
        here.place,
        name=name,
        here=_said(here.value),
        there=_said(there.amount),
        title=there.title,
        line=there.line,
    )


def _said(amount: Amount) -> str:
    from foldwright.recipe.writing_facts import write_amount

    return write_amount(amount)
