"""What is bought and what has to be in the room, as data."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from foldwright.event.document.identity import shop_of
from foldwright.event.document.kit_data import (
    PacksData,
    RoomData,
    RoomThingData,
    SheetSizeData,
    ShoppingData,
    TableData,
    TakenData,
    ThingNeedData,
)
from foldwright.event.facts.agreeing import sheets_used
from foldwright.event.plan.money import rounded
from foldwright.event.plan.planning import Event
from foldwright.event.plan.shopping import Bought, ShoppingLine
from foldwright.event.plan.taken import taken_from_shelf
from foldwright.event.plan.tools import Needed
from foldwright.measure.length import Length
from foldwright.measure.weight import grammage
from foldwright.recipe.model import Said, Supply, Weight


def shopping_data(event: Event, line: ShoppingLine) -> ShoppingData:
    """One line of the shopping list."""
    supply = line.supply
    return ShoppingData(
        supply=supply.name.value,
        colour=line.colour or None,
        why=line.why,
        optional=supply.optional,
        unit=line.unit or None,
        needed=line.needed,
        on_shelf=line.had,
        used_of_shelf=line.used_of_had,
        buy=tuple([_packs(event, one) for one in line.bought]),
        left_over=line.left_over,
        used_up=_sum(event, line.cost.used_up),
        to_buy=_sum(event, line.cost.to_buy),
        stand_in=line.stand_in or None,
        short=line.short,
        counted=line.counted,
        recipes=tuple(map(event.slug, line.recipes)),
        needs=_needs(event, line),
        shop=shop_of(supply),
        kind=supply.kind.value if supply.kind else None,
        weight_gsm=_grams(supply.weight),
        thickness=_mm(supply.thickness),
        width=_mm(supply.width),
        size=tuple([length.mm for length in supply.size.value.lengths]) if supply.size else None,
        sheets=_sheets(event, supply),
        pattern=supply.pattern.value if supply.pattern else None,
        grain=supply.grain.value if supply.grain else None,
        contains=tuple([said.value for said in supply.contains]),
        from_shelf=tuple([TakenData(one.count, one.there_are, one.sides, one.scrap) for one in taken_from_shelf(line)]),
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


def _needs(event: Event, line: ShoppingLine) -> tuple[ThingNeedData, ...]:
    return tuple(
        [
            ThingNeedData(event.slug(need.recipe), need.supply.name.value, need.kits, need.supply.optional)
            for need in line.needs
        ]
    )


def _sheets(event: Event, supply: Supply) -> tuple[SheetSizeData, ...]:
    used = [said.value for said in sheets_used(supply, event.wishes.system)]
    return tuple([SheetSizeData(sheet.name, sheet.across.mm, sheet.down.mm) for sheet in used])


def _grams(weight: Said[Weight] | None) -> Fraction | None:
    return grammage(weight.value.number, weight.value.unit, weight.value.grade) if weight else None


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
    return RoomThingData(
        name=one.name,
        colour=one.colour or None,
        recipes=tuple(map(event.slug, one.recipes)),
        count=one.count,
        at_table=one.at_table,
        in_room=one.in_room,
        before_class=one.before,
        optional=one.optional,
        have=one.have,
        plenty=one.plenty,
        lacking=one.lacking,
    )
