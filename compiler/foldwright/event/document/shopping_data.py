"""What is bought and what has to be in the room, as data."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction

from msgspec import field

from foldwright.document.data_format import Count, DataPart, Exact, Ratio, copied
from foldwright.event.document.shopping import Shop, shop_of
from foldwright.event.facts.agreeing import grams_of, sheets_used
from foldwright.event.plan.money import rounded
from foldwright.event.plan.planning import Event
from foldwright.event.plan.shopping import Bought, ShoppingLine, Why
from foldwright.event.plan.supplies import SupplyNeed
from foldwright.event.plan.taken import taken_from_shelf
from foldwright.event.plan.tools import Needed
from foldwright.measure.length import Length
from foldwright.recipe.model import Said, Supply


class PacksData(DataPart, frozen=True):
    """So many packs of so much each; a unit is `mm` for lengths, null for what is counted."""

    packs: Count
    of: Ratio
    unit: str | None
    sheet: str | None
    price: Decimal | None
    sum: Decimal | None


class ThingNeedData(DataPart, frozen=True):
    """Which recipe needs a thing, by the name it has there."""

    recipe: str
    supply: str
    kits: Count
    optional: bool


class SheetSizeData(DataPart, frozen=True):
    """A size of sheet that is used."""

    name: str
    across: Exact
    down: Exact


class TakenData(DataPart, frozen=True):
    """So many, of so many alike, that are taken from the shelf, with the sides of a sheet or a length alone."""

    count: Count = field(name="taken")
    there_are: Count
    sides: tuple[Exact, ...]
    scrap: bool


class ShoppingData(DataPart, frozen=True):
    """One supply in one colour: what is needed, what is there, what is bought and left over, and what identifies it.

    Amounts are in `unit` (`mm` for lengths, null: counted); weights in grams a square metre, sizes in millimetres.
    """

    supply: str
    colour: str | None
    why: Why
    optional: bool
    unit: str | None
    needed: Ratio
    had: Ratio = field(name="on_shelf")
    used_of_had: Ratio = field(name="used_of_shelf")
    buy: tuple[PacksData, ...]
    left_over: Ratio
    used_up: Decimal | None
    to_buy: Decimal | None
    stand_in: str | None
    short: bool
    counted: bool
    recipes: tuple[str, ...]
    needs: tuple[ThingNeedData, ...]
    shop: Shop
    kind: str | None
    weight_gsm: Ratio | None
    thickness: Exact | None
    width: Exact | None
    size: tuple[Exact, ...] | None
    sheets: tuple[SheetSizeData, ...]
    pattern: str | None
    grain: str | None
    contains: tuple[str, ...]
    from_shelf: tuple[TakenData, ...]


class TableData(DataPart, frozen=True):
    """A table: what is made at it, and how many sit there."""

    name: str
    recipe: str
    people: Count


class RoomThingData(DataPart, frozen=True):
    """A thing that is shared: how many on each table, in the room, before class and in all, and how many lack."""

    name: str
    colour: str | None
    recipes: tuple[str, ...]
    count: Count
    at_table: tuple[Count, ...]
    in_room: Count
    before: Count = field(name="before_class")
    optional: bool
    have: Count
    plenty: bool
    lacking: Count


class RoomData(DataPart, frozen=True):
    """Tools, and what sticks or colours, that must be in the room; `at_table` goes by the order of `tables`."""

    tables: tuple[TableData, ...]
    tools: tuple[RoomThingData, ...]
    consumables: tuple[RoomThingData, ...]


# --- from a plan ------------------------------------------------------------------------------------------------------


def shopping_data(event: Event, line: ShoppingLine) -> ShoppingData:
    """One line of the shopping list."""
    supply = line.supply
    return copied(
        ShoppingData,
        line,
        supply=supply.name.value,
        optional=supply.optional,
        buy=tuple([_packs(event, one) for one in line.bought]),
        used_up=_sum(event, line.cost.used_up),
        to_buy=_sum(event, line.cost.to_buy),
        recipes=tuple(map(event.slug, line.recipes)),
        needs=tuple(_needs(event, line.needs)),
        shop=shop_of(supply),
        kind=supply.kind.value if supply.kind else None,
        weight_gsm=grams_of(supply),
        thickness=_mm(supply.thickness),
        width=_mm(supply.width),
        size=tuple([length.mm for length in supply.size.value.lengths]) if supply.size else None,
        sheets=_sheets(event, supply),
        pattern=supply.pattern.value if supply.pattern else None,
        grain=supply.grain.value if supply.grain else None,
        contains=tuple([said.value for said in supply.contains]),
        from_shelf=tuple(taken_from_shelf(line)),
    )


def _sum(event: Event, exact: Fraction | None) -> Decimal | None:
    """Rounded to the minor unit of the money, once."""
    return None if exact is None else rounded(exact, event.wishes.digits)


def _packs(event: Event, one: Bought) -> PacksData:
    amount = one.pack.amount
    return PacksData(
        packs=one.count,
        of=amount.number,
        unit=amount.unit or amount.noun or None,
        sheet=one.sheet or None,
        price=one.pack.price,
        sum=_sum(event, one.price),
    )


def _needs(event: Event, needs: Iterable[SupplyNeed]) -> Iterator[ThingNeedData]:
    for need in needs:
        yield ThingNeedData(event.slug(need.recipe), need.supply.name.value, need.kits, need.supply.optional)


def _sheets(event: Event, supply: Supply) -> tuple[SheetSizeData, ...]:
    used = [said.value for said in sheets_used(supply, event.wishes.system)]
    return tuple([SheetSizeData(sheet.name, sheet.across.mm, sheet.down.mm) for sheet in used])


def _mm(length: Said[Length] | None) -> Fraction | None:
    return length.value.mm if length else None


def room_data(event: Event) -> RoomData:
    """How many of everything there must be; what is there, what is lacking."""
    return RoomData(
        tables=tuple([TableData(table.name, event.slug(table.recipe), table.people) for table in event.tables]),
        tools=tuple([_needed(event, one) for one in event.tools]),
        consumables=tuple([_needed(event, one) for one in event.consumables]),
    )


def _needed(event: Event, one: Needed) -> RoomThingData:
    return copied(RoomThingData, one, recipes=tuple(map(event.slug, one.recipes)))
