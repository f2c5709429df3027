"""The day of the event on one page: when what happens, what lies on each table, what the teacher brings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from foldwright.plan.event.model import Making
from foldwright.plan.event.planning import Event, supplies_in_bag
from foldwright.recipe.model import When
from foldwright.sheet.catalogue import Catalogue
from foldwright.sheet.event.guests import diets_line
from foldwright.sheet.event.kits import allergens_of
from foldwright.sheet.event.model import EventPaper, EventPart, Table, Tick, Ticks, Words
from foldwright.sheet.in_class import class_sheet
from foldwright.sheet.model import Sheet
from foldwright.sheet.wording import span_words
from foldwright.sheet.words import plain

_ARRIVE, _WELCOME = 15 * 60, 10 * 60
"""Doors open a quarter of an hour before, and ten minutes go for the welcome (common practice, no source)."""
_MORE_HANDOUTS = 10
"""One more handout for so many (common practice, no source)."""
_DAY = 24 * 3600


def day_paper(event: Event, sheets: Sequence[Sheet], words: Catalogue) -> EventPaper:
    """One page to hold in the hand."""
    tables = -(-event.people // event.wishes.per_table)
    told = words.say("event.day.tables", count=tables, size=min(event.wishes.per_table, event.people))
    begins = clock(event.wishes.begins)
    summary = words.say("event.day.summary", people=event.people, tables=told, begins=begins)
    parts: list[EventPart] = []
    for number, sheet in enumerate(sheets):
        parts += _schedule(event, number, sheet, words)
    for making, sheet in zip(event.makings, sheets, strict=True):
        parts.append(_table(event, making, sheet, words, len(sheets) > 1))
    parts.append(Words("", (words.say("event.day.shared-rule"),)))
    parts.append(Ticks(words.say("event.day.teacher"), tuple(map(Tick, _teacher(event, words)))))
    return EventPaper("the-day", words.say("event.day.title"), summary, tuple(parts), one_page=True)


def clock(seconds: int) -> str:
    """`14:05`; past midnight the clock begins again."""
    hours, minutes = divmod(seconds % _DAY // 60, 60)
    return f"{hours:02}:{minutes:02}"


def _schedule(event: Event, number: int, sheet: Sheet, words: Catalogue) -> Iterator[EventPart]:
    length = event.classes[number]
    heading = words.say("event.day.schedule")
    if len(event.makings) > 1:
        heading = f"{heading}: {sheet.head.title}"
    if length is None:
        yield Words(heading, (words.say("event.day.no-class"),))
        return
    begins = event.wishes.begins
    first = begins + _WELCOME
    headings = {step.number: plain(step.heading, event.wishes.system) for step in sheet.steps}
    rows = [
        (clock(begins - _ARRIVE), "", words.say("event.day.arrive")),
        (clock(begins), "", words.say("event.day.welcome")),
    ]
    # In class the steps are numbered as the handout does.
    for count, step in enumerate(length.steps, 1):
        what = words.say("event.day.step", number=count, heading=headings[step.number])
        what += words.say("event.day.turns", count=step.turns)
        rows.append((clock(first + step.start), clock(first + step.slow_start), what))
    rows.append((clock(first + length.usual), clock(first + length.slow), words.say("event.day.end")))
    columns = tuple(words.say(f"event.day.column-{name}") for name in ("time", "slow", "what"))
    yield Table(heading, columns, tuple(rows))
    usual, slow = (span_words(words, -(-seconds // 60) * 60) for seconds in (length.usual, length.slow))
    yield Words("", (words.say("event.day.length", usual=usual, slow=slow),))


def _table(event: Event, making: Making, sheet: Sheet, words: Catalogue, many: bool) -> Ticks:
    """What the people at one table share: tools, and what sticks or colours."""
    made = class_sheet(sheet)
    size = min(event.wishes.per_table, making.kits)
    heading = words.say("event.day.per-table", size=size)
    if many:
        heading = f"{heading}: {sheet.head.title}"
    if made is None:
        return Ticks(heading, ())
    recipe = making.understood.recipe
    shared = {
        step.share.value[1]: step.share.value[0] for step in recipe.steps if step.share and step.when is When.IN_CLASS
    }
    tables = -(-making.kits // event.wishes.per_table)
    lines = []
    for tool in made.sheet.tools:
        said = next((number for name, number in shared.items() if name.rstrip("s") in tool.said), 0)
        count = -(-said // tables) if said else -(-size // 2)
        lines.append(words.say("event.day.tool-count", count=count, name=tool.said))
    in_bag = {*supplies_in_bag(recipe), *(piece.supply.value for piece in recipe.pieces if piece.supply)}
    lines += [supply.said for supply in made.sheet.supplies if supply.said not in in_bag]
    return Ticks(heading, tuple(map(Tick, lines)))


def _teacher(event: Event, words: Catalogue) -> Iterator[str]:
    yield words.say("event.day.teach-sample")
    for making in event.makings:
        if making.spare:
            recipe = making.understood.recipe.title.value
            yield words.say("event.day.teach-spare-count", count=making.spare, recipe=recipe)
    handouts = event.people + -(-event.people // _MORE_HANDOUTS)
    yield words.say("event.day.teach-handouts", count=handouts)
    yield words.say("event.day.teach-first-aid")
    allergens = tuple(dict.fromkeys(one for making in event.makings for one in allergens_of(making)))
    if allergens:
        yield words.say("event.day.teach-allergens", allergens=allergens)
    if diets := diets_line(event, words):
        yield diets
