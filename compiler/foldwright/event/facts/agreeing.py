"""What two recipes say of one supply, fact by fact: as something that is equal where they agree, however it is written.

What a recipe does not say is None, and agrees with anything.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import Any

from msgspec.structs import replace

from foldwright.finding import Place
from foldwright.measure.amounts import AMOUNT_UNITS, Dimension, number_of
from foldwright.measure.length import System
from foldwright.measure.weight import grammage, whole_grams
from foldwright.recipe.model import Amount, NamedSheet, Pack, Said, Supply
from foldwright.vocabulary import kind_of

_CALLIPER = 20
"""Card of one sort varies by more than a twentieth of a millimetre (common practice, no source)."""
type Measured = tuple[Dimension, Fraction]
"""An amount in the unit that all of its dimension are compared in."""
_COMPARED_IN = {
    dimension: next(unit.symbol for unit in AMOUNT_UNITS.values() if unit.dimension is dimension)
    for dimension in (Dimension.AREA, Dimension.VOLUME, Dimension.MASS)
}


def _kind(supply: Supply) -> Hashable:
    if supply.kind is None:
        return None
    known = kind_of(supply.kind.value)
    return known.name if known else supply.kind.value.casefold()


def _weight(supply: Supply) -> Hashable:
    if supply.weight is None:
        return None
    said, grams = supply.weight.value, grams_of(supply)
    return whole_grams(grams) if grams is not None else (said.number, said.unit.casefold(), said.grade.casefold())


def grams_of(supply: Supply) -> Fraction | None:
    """What a square metre weighs; None where nobody says so, or in no unit that is known."""
    said = supply.weight.value if supply.weight else None
    return grammage(said.number, said.unit, said.grade) if said else None


def _thickness(supply: Supply) -> Hashable:
    return round(supply.thickness.value.mm * _CALLIPER) if supply.thickness else None


def _text(said: Said[str] | None) -> Hashable:
    return said.value.casefold() if said else None


def runs_one_way(supply: Supply) -> bool:
    """Whether its pattern has a top, so that no piece may be turned on it."""
    return supply.pattern is not None and "one" in supply.pattern.value.casefold().split()


def _size(supply: Supply) -> Hashable:
    return tuple(sorted(length.mm for length in supply.size.value.lengths)) if supply.size else None


FACTS: Mapping[str, Callable[[Supply], Hashable]] = MappingProxyType(
    {
        "kind": _kind,
        "weight": _weight,
        "thickness": _thickness,
        "grain": lambda supply: _text(supply.grain),
        "pattern": lambda supply: _text(supply.pattern),
        "size": _size,
        "width": lambda supply: supply.width.value.mm if supply.width else None,
    }
)
"""What a thing is, by the words of a recipe. Sheets and packs are compared apart: there are several of each."""


def places_of(supply: Supply) -> Mapping[str, Place]:
    """Where each fact of a supply stands."""
    found: dict[str, Sequence[Said[object]]] = {
        **{word: [said] for word in FACTS if (said := getattr(supply, word))},
        "sheet": supply.sheets,
        "pack": supply.packs,
        "colour": supply.colours,
        "contains": supply.contains,
    }
    return {
        word: Place(said[0].place.file, said[0].place.start, said[-1].place.end) for word, said in found.items() if said
    }


def sheets_used(supply: Supply, system: System) -> tuple[Said[NamedSheet], ...]:
    """Of the sheets it is sold in those that a folder of a system takes: its own, or all where none is."""
    own = tuple(said for said in supply.sheets if said.value.across.unit.system is system)
    return own or supply.sheets


def same_sheets(supply: Supply, system: System) -> Hashable:
    """The sheets a folder takes, whatever they are called and however they lie."""
    if not supply.sheets:
        return None
    return frozenset(tuple(sorted((one.value.across.mm, one.value.down.mm))) for one in sheets_used(supply, system))


def sheet_prices(supply: Supply) -> dict[tuple[Fraction, ...], Decimal]:
    """What one sheet of each size costs, where that is said."""
    priced = ((said.value, getattr(said.value, "price", None)) for said in supply.sheets)
    return {tuple(sorted((one.across.mm, one.down.mm))): price for one, price in priced if price is not None}


def measured(amount: Amount) -> Measured:
    """An amount to compare with others: its dimension, and how much of it in the one unit of that dimension."""
    if amount.length is not None:
        return amount.dimension, amount.length.mm
    unit = _COMPARED_IN.get(amount.dimension)
    return amount.dimension, number_of(amount.quantity, unit) if unit else amount.number


def prices_agree(several: Iterable[Mapping[Any, Decimal | None]]) -> bool:
    """Whether nothing has two prices."""
    prices: dict[Any, set[Decimal]] = {}
    for known in several:
        for what, price in known.items():
            prices.setdefault(what, set()).update(() if price is None else (price,))
    return all(len(known) < 2 for known in prices.values())


def packs_by_amount(supply: Supply) -> dict[Measured, Decimal | None]:
    """What a pack of each size costs, where that is said."""
    return {measured(said.value.amount): said.value.price for said in supply.packs}


def packs_agree(several: Iterable[Mapping[Measured, Decimal | None]]) -> bool:
    """Whether no pack has two prices, and one recipe knows all the sizes that the others do."""
    said = [packs for packs in several if packs]
    sizes = {amount for packs in said for amount in packs}
    return not said or (prices_agree(said) and any(sizes == packs.keys() for packs in said))


def packs_together(supplies: Sequence[Supply]) -> tuple[Said[Pack], ...]:
    """The packs of recipes that agree: of the one that knows the most sizes, with the prices that any knows."""
    prices: dict[Measured, Decimal] = {}
    for supply in supplies:
        prices |= {amount: price for amount, price in packs_by_amount(supply).items() if price is not None}
    most = max(supplies, key=lambda supply: len(supply.packs))
    return tuple(
        Said(replace(said.value, price=prices.get(measured(said.value.amount))), said.place) for said in most.packs
    )
