"""What is bought and what has to be in the room, as data: what identifies each thing, and how many there must be."""

from __future__ import annotations

from typing import Any

from foldwright.document.data import exact_mm
from foldwright.event.document.shop import shop_of
from foldwright.event.facts.agreeing import sheets_used
from foldwright.event.plan.planning import Event
from foldwright.event.plan.shopping import ShoppingLine
from foldwright.event.plan.taken import taken_from_shelf
from foldwright.event.plan.tools import Needed
from foldwright.measure.length import Length
from foldwright.measure.weight import grammage
from foldwright.recipe.model import Said, Weight

type Data = dict[str, Any]


def thing_data(event: Event, line: ShoppingLine) -> Data:
    """What identifies a thing, for which recipes it is, and what is taken of the shelf."""
    supply = line.supply
    return {
        "recipes": [event.makings[number].understood.recipe.slug for number in line.recipes],
        "needs": [
            {
                "recipe": event.makings[need.recipe].understood.recipe.slug,
                "supply": need.supply.name.value,
                "kits": need.kits,
                "optional": need.supply.optional,
            }
            for need in line.needs
        ],
        "shop": shop_of(supply),
        "kind": supply.kind.value if supply.kind else None,
        "weight_gsm": _grams(supply.weight),
        "thickness": _mm(supply.thickness),
        "width": _mm(supply.width),
        "size": [exact_mm(length.mm) for length in supply.size.value.lengths] if supply.size else None,
        "sheets": [
            {"name": said.value.name, "across": exact_mm(said.value.across.mm), "down": exact_mm(said.value.down.mm)}
            for said in sheets_used(supply, event.wishes.system)
        ],
        "pattern": supply.pattern.value if supply.pattern else None,
        "grain": supply.grain.value if supply.grain else None,
        "contains": [said.value for said in supply.contains],
        "from_shelf": [
            {
                "taken": one.count,
                "there_are": one.there_are,
                "sides": [exact_mm(side) for side in one.sides],
                "scrap": one.scrap,
            }
            for one in taken_from_shelf(line)
        ],
    }


def _grams(weight: Said[Weight] | None) -> str | None:
    grams = grammage(weight.value.number, weight.value.unit, weight.value.grade) if weight else None
    return None if grams is None else str(grams)


def _mm(length: Said[Length] | None) -> str | None:
    return exact_mm(length.value.mm) if length else None


def room_data(event: Event) -> Data:
    """How many of each tool, and of what sticks or colours, there must be; what is there, what is lacking."""
    return {
        "tables": [
            {
                "name": table.name,
                "recipe": event.makings[table.recipe].understood.recipe.slug,
                "people": table.people,
            }
            for table in event.tables
        ],
        "tools": [_needed(event, one) for one in event.tools],
        "consumables": [_needed(event, one) for one in event.consumables],
    }


def _needed(event: Event, one: Needed) -> Data:
    return {
        "name": one.name,
        "colour": one.colour or None,
        "recipes": [event.makings[number].understood.recipe.slug for number in one.recipes],
        "count": one.count,
        "at_table": list(one.at_table),
        "in_room": one.in_room,
        "before_class": one.before,
        "optional": one.optional,
        "have": one.have,
        "plenty": one.plenty,
        "lacking": one.lacking,
    }
