"""What has to be in the room, as data: how many of each tool, and of what sticks or colours, there must be."""

from __future__ import annotations

from foldwright.event.document.kit_data import RoomData, RoomThingData, TableData
from foldwright.event.plan.planning import Event
from foldwright.event.plan.tools import Needed


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
