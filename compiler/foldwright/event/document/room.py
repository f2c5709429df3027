"""What has to be in the room, in words: tools, and what sticks or colours; how many, what there is, what is lacking."""

from __future__ import annotations

from collections.abc import Iterator

from foldwright.document.catalogue import Catalogue
from foldwright.event.document.jobs import called
from foldwright.event.document.model import EventPart, PaperWords, Tick, Ticks
from foldwright.event.plan.planning import Event
from foldwright.event.plan.tools import Needed


def room_parts(event: Event, words: Catalogue) -> Iterator[EventPart]:
    """Lists to tick; then by what rules they were counted."""
    for heading, needed in (("tables", event.consumables), ("tools", event.tools)):
        if needed:
            lines = tuple(Tick(room_line(one, words), "; ".join(room_asides(one, event, words))) for one in needed)
            yield Ticks(words.say(f"event.room.{heading}"), lines)
    if event.tools or event.consumables:
        yield PaperWords("", (words.say("event.room.rule"),))


def room_line(one: Needed, words: Catalogue) -> str:
    """`strong tape: 13 rolls`."""
    count = words.say("event.room.rolls" if one.roll else "event.room.count", count=one.count)
    return words.say("event.room.line", name=called(one.name, one.colour, words), count=count)


def room_asides(one: Needed, event: Event, words: Catalogue) -> Iterator[str]:
    """Where they are, and what is to be got."""
    if one.optional:
        yield words.say("event.shopping.aside-optional")
    if one.in_room:
        many = any(one.at_table)
        yield words.say("event.room.shared-by-some" if many else "event.room.shared", count=one.in_room)
    if any(one.at_table):
        yield words.say("event.room.one-a-table" if max(one.at_table) == 1 else "event.room.one-for-two")
    if one.before > one.in_class:
        yield words.say("event.room.before", count=one.before)
    if one.plenty:
        yield words.say("event.shopping.plenty")
    elif one.have:
        what = "of-these" if one in event.consumables else "have"
        lacking = "" if one.lacking else "-enough"
        yield words.say(f"event.room.{what}{lacking}", count=one.have, lacking=one.lacking)
