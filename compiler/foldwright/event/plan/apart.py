"""Amounts of one supply that cannot be added up across the recipes of an event and its shelf; told with both places."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence

from msgspec import Struct

from foldwright.event.facts.stock import ShelfLine
from foldwright.finding import Finding, LineTable, Place, Strength
from foldwright.measure.amounts import Dimension
from foldwright.recipe.facts.writing import write_amount
from foldwright.recipe.model import Amount, Recipe, Said, Supply

APART = frozenset({"counted-apart", "measured-apart", "ounces-apart", "sheets-apart", "elsewhere-apart"})
"""The findings with which no shopping list can be reckoned."""


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
        here=write_amount(here.value),
        there=write_amount(there.amount),
        title=there.title,
        line=there.line,
    )
