"""What is laid on each table before people come, and what all tables share."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from foldwright.plan.event.model import Making
from foldwright.plan.event.planning import Event, supplies_in_bag
from foldwright.plan.event.tables import Table as Seats
from foldwright.sheet.catalogue import Catalogue
from foldwright.sheet.event.jobs import called
from foldwright.sheet.event.model import EventPaper, EventPart, Tick, Ticks, Words
from foldwright.sheet.in_class import ClassSheet, class_sheet
from foldwright.sheet.model import Sheet


def tables_paper(event: Event, sheets: Sequence[Sheet], words: Catalogue) -> EventPaper:
    """`sheets` are those at the event: what only cutting needs is put away by then."""
    parts: list[EventPart] = []
    for number, sheet in enumerate(sheets):
        made = class_sheet(sheet)
        tables = [table for table in event.tables if table.recipe == number]
        if made is None:
            parts.append(Words(sheet.head.title, (words.say("event.tables.no-class"),)))
            continue
        for people in dict.fromkeys(table.people for table in tables):
            alike = [table for table in tables if table.people == people]
            named, title = _named(alike, words), sheet.head.title
            heading = words.say("event.tables.heading", count=len(alike), tables=named, size=people, recipe=title)
            parts.append(Ticks(heading, tuple(map(Tick, _lines(event, event.tables.index(alike[0]), words)))))
        if shared := tuple(_shared(event, number, words)):
            heading = words.say("event.tables.shared", recipe=sheet.head.title)
            parts.append(Ticks(heading, tuple(map(Tick, shared))))
    parts.append(Words("", (words.say("event.room.rule"), words.say("event.tables.in-the-bag"))))
    title, summary = words.say("event.tables.title"), words.say("event.tables.summary", count=len(event.tables))
    return EventPaper("tables", title, summary, tuple(parts))


def _named(tables: Sequence[Seats], words: Catalogue) -> str:
    """`Tables 1, 2 and 3`; a table's own name as it is."""
    numbers = [table.name for table in tables if table.name.isdecimal()]
    names = [table.name for table in tables if not table.name.isdecimal()]
    told = [words.say("event.tables.numbered", count=len(numbers), numbers=words.listed(numbers))] if numbers else []
    return words.listed([*told, *names])


def seating(event: Event, number: int, words: Catalogue) -> str:
    """Where the people of a recipe sit: `Tables 1 and 2`."""
    return _named([table for table in event.tables if table.recipe == number], words)


def _lines(event: Event, table: int, words: Catalogue) -> Iterator[str]:
    """What the people at one table, by its number from 0, share: tools, and what sticks or colours."""
    for one in (*event.tools, *event.consumables):
        if count := one.at_table[table]:
            name = called(one.name, one.colour, words)
            yield words.say("event.tables.tool", count=count, name=name)


def supplies_on_table(making: Making, made: ClassSheet) -> tuple[str, ...]:
    """What is used of and comes in no bag."""
    recipe = making.understood.recipe
    in_bag = {*supplies_in_bag(recipe), *(piece.supply.value for piece in recipe.pieces if piece.supply)}
    return tuple(supply.said for supply in made.sheet.supplies if supply.said not in in_bag)


def _shared(event: Event, recipe: int, words: Catalogue) -> Iterator[str]:
    """What stands in the room for all who make a recipe, at whatever table."""
    for one in (*event.tools, *event.consumables):
        if one.in_room and recipe in one.recipes:
            yield words.say("event.tables.tool", count=one.in_room, name=called(one.name, one.colour, words))
