"""What has to be in the room: what lies on each table before people come, what all share, how many there are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from foldwright.document.catalogue import Catalogue
from foldwright.event.document.model import EventPart, PaperText, PaperWords, Tick, Ticks
from foldwright.event.document.writing import EventSource, called
from foldwright.event.plan.planning import Event
from foldwright.event.plan.tools import ClassTable, Needed


def tables_paper(source: EventSource) -> PaperText:
    """The same tools, and what sticks or colours, as the shopping list counts."""
    event, words = source.event, source.words
    parts: list[EventPart] = []
    for number, document in enumerate(source.documents):
        if event.classes[number] is None:
            parts.append(PaperWords(document.head.title, (words.say("event.tables.no-class"),)))
            continue
        parts += _of_recipe(event, number, document.head.title, words)
    if shared := tuple(_shared(event, words)):
        parts.append(Ticks(words.say("event.tables.shared"), tuple(map(Tick, shared))))
    parts.append(PaperWords("", (words.say("event.tables.rule"), words.say("event.tables.in-the-bag"))))
    # A table at which several recipes are made is one all the same.
    count = len({table.name for table in event.tables})
    return PaperText(words.say("event.tables.summary", count=count), tuple(parts))


def _of_recipe(event: Event, recipe: int, title: str, words: Catalogue) -> Iterator[Ticks | PaperWords]:
    """Tables on which the same lies, for as many people, are told together; those on which nothing lies, too."""
    alike: dict[tuple[int, tuple[str, ...]], list[ClassTable]] = {}
    for at, table in enumerate(event.tables):
        if table.recipe == recipe:
            alike.setdefault((table.people, tuple(_lines(event, at, words))), []).append(table)
    for (people, lines), tables in alike.items():
        facts = {"tables": _named(tables, words), "size": people, "recipe": title}
        heading = words.say("event.tables.heading", count=len(tables), **facts)
        if lines:
            yield Ticks(heading, tuple(map(Tick, lines)))
        else:
            yield PaperWords(heading, (words.say("event.tables.bags-alone"),))


def _named(tables: Sequence[ClassTable], words: Catalogue) -> str:
    """`Tables 1, 2 and 3`; a table's own name as it is."""
    numbers = [table.name for table in tables if table.name.isdecimal() and table.name == str(int(table.name))]
    names = [table.name for table in tables if table.name not in numbers]
    runs = words.listed(list(_in_runs(numbers, words)))
    told = [words.say("event.tables.numbered", count=len(numbers), numbers=runs)] if numbers else []
    return words.listed([*told, *names])


def seating(event: Event, recipe: int, words: Catalogue) -> str:
    """Where the people of a recipe sit: `Tables 1 and 2`."""
    return _named([table for table in event.tables if table.recipe == recipe], words)


def _in_runs(numbers: Sequence[str], words: Catalogue) -> Iterator[str]:
    """`1 to 13` where three or more follow on each other; the others one by one."""
    runs: list[list[int]] = []
    for number in map(int, numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    for run in runs:
        if len(run) > 2:
            yield words.say("event.tables.run", first=run[0], last=run[-1])
        else:
            yield from map(str, run)


def _lines(event: Event, at: int, words: Catalogue) -> Iterator[str]:
    """What the people at one table share: tools, and what sticks or colours."""
    for one in (*event.tools, *event.consumables):
        if one.at_table[at]:
            own = one.own_names.get(event.tables[at].recipe, one.name)
            name = words.say("event.kits.in-colour", name=own, colour=one.colour) if one.colour else own
            yield words.say("event.tables.tool", count=one.at_table[at], name=name)


def supplies_on_table(event: Event, recipe: int) -> tuple[str, ...]:
    """What is used of and comes in no bag."""
    here = (one for one in event.consumables if recipe in one.recipes)
    return tuple(dict.fromkeys(one.own_names.get(recipe, one.name) for one in here))


def _shared(event: Event, words: Catalogue) -> Iterator[str]:
    """What steps in class share: so many for all who make it, at whatever table."""
    for one in (*event.tools, *event.consumables):
        if one.in_room:
            yield words.say("event.tables.tool", count=one.in_room, name=one.name)


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
