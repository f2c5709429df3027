"""The day of the event on one page: when what happens, who is early or late, what the teacher brings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from foldwright.document.catalogue import Catalogue
from foldwright.document.model import Document
from foldwright.document.wording import span_words
from foldwright.document.words import plain, plain_passage
from foldwright.event.document.guests import diets_line
from foldwright.event.document.kits import allergens_of
from foldwright.event.document.model import Beside, EventPart, PaperTable, PaperText, PaperWords, Tick, Ticks
from foldwright.event.document.tables import seating, supplies_on_table
from foldwright.event.document.writing import EventSource, SectionWriter
from foldwright.event.plan.class_length import ClassLength
from foldwright.event.plan.planning import Event
from foldwright.recipe.facts.clocks import write_clock
from foldwright.recipe.words import SectionKind

_ARRIVE, WELCOME = 15 * 60, 10 * 60
"""Doors open a quarter of an hour before, and ten minutes go for the welcome (common practice, no source)."""
_SIDE_BY_SIDE = 4
"""Columns of recipes that a page has room for; more are told a line each."""
_LONG_VARIATION = 200
"""Letters of a variation that the page has room for; of a longer one it says where it stands."""


def day_paper(source: EventSource) -> PaperText:
    """One page to hold in the hand. Its shorter form leaves the single steps out."""
    event, documents, words = source.event, source.documents, source.words
    told = words.say("event.day.tables", count=len(event.tables), size=max(one.people for one in event.tables))
    begins = write_clock(event.wishes.begins)
    summary = words.say("event.day.summary", people=event.people, tables=told, begins=begins)
    run = _RunOfDay(source)
    parts = (run.table(), *run.lengths(), _rest(event, documents, words, short=False))
    left_out = PaperWords("", (words.say("event.day.shorter"),))
    shorter = (*run.in_short(), left_out, _rest(event, documents, words, short=True))
    return PaperText(summary, parts, shorter)


class Moment(Struct, frozen=True):
    """When something begins, in seconds since midnight, for whom (empty: for everybody), and what."""

    at: int
    who: str
    what: str


def run_of_day(source: EventSource) -> tuple[Moment, ...]:
    """The run of the day by the clock, for a screen that knows the time; empty where there is no class."""
    return tuple(_RunOfDay(source).moments())


def _rest(event: Event, documents: Sequence[Document], words: Catalogue, short: bool) -> Beside:
    """What is looked up now and then, side by side under the run of the day."""
    brings = Ticks(words.say("event.day.teacher"), tuple(map(Tick, _teacher(event, words, short))))
    told = tuple(_early_and_late(event, documents, words, short))
    if not told:
        return Beside(((brings,),))
    early, late = told
    return Beside(((early, brings), (late,)))


class _RunOfDay(SectionWriter):
    """The run of the day: one for all recipes."""

    section = "day"

    def __init__(self, source: EventSource) -> None:
        super().__init__(source)
        self._documents, self._first = source.documents, source.event.wishes.begins + WELCOME

    def table(self) -> EventPart:
        heading = self._say("schedule")
        classes = [length for length in self._event.classes if length]
        if not classes:
            return PaperWords(heading, (self._say("no-class"),))
        if len(self._documents) == 1:
            return self._alone(heading, classes[0])
        return self._beside(heading) if len(self._documents) <= _SIDE_BY_SIDE else self._mixed(heading)

    def in_short(self) -> Iterator[EventPart]:
        """A line for each recipe: where it is made, when it begins, when it is done."""
        opening = tuple(self._say("at-time", time=write_clock(at), what=what) for at, what in self._opening())
        yield PaperWords(self._say("schedule"), opening)
        rows = []
        for number, (length, document) in enumerate(zip(self._event.classes, self._documents, strict=True)):
            if length is not None:
                times = (self._first, self._first + length.usual, self._first + length.slow)
                rows.append((document.head.title, seating(self._event, number, self._words), *map(write_clock, times)))
        yield PaperTable(
            "", self._columns("project", "tables", "time", "done", "slow-done"), tuple(rows), frozenset({2, 3, 4})
        )

    def _opening(self) -> tuple[tuple[int, str], ...]:
        begins = self._event.wishes.begins
        return (begins - _ARRIVE, self._say("arrive")), (begins, self._say("welcome"))

    def _steps(self, number: int, length: ClassLength) -> Iterator[tuple[int, int, str]]:
        """When steps begin, usually and for slower makers; numbered as the handout does. Then the end."""
        headings = {
            step.number: plain(step.heading, self._event.wishes.system) for step in self._documents[number].steps
        }
        for count, step in enumerate(length.steps, 1):
            what = self._say("step", number=count, heading=headings[step.number])
            what += self._say("turns", count=step.turns)
            yield self._first + step.start, self._first + step.slow_start, what
        yield self._first + length.usual, self._first + length.slow, self._say("end")

    def _alone(self, heading: str, length: ClassLength) -> PaperTable:
        rows = [(write_clock(at), "", what) for at, what in self._opening()]
        rows += [(write_clock(at), write_clock(slow), what) for at, slow, what in self._steps(0, length)]
        return PaperTable(heading, self._columns("time", "slow", "what"), tuple(rows), frozenset({0, 1}))

    def _beside(self, heading: str) -> PaperTable:
        """A column for each recipe, a row for each time at which anything begins."""
        count = len(self._documents)
        cells: dict[str, list[str]] = {}
        for at, what in self._opening():
            cells[write_clock(at)] = [what, *[self._say("likewise")] * (count - 1)]
        for at, number, what in self._events():
            row = cells.setdefault(write_clock(at), [""] * count)
            row[number] = f"{row[number]}; {what}" if row[number] else what
        columns = (self._say("column-time"), *map(self._column, range(count)))
        return PaperTable(heading, columns, tuple((at, *row) for at, row in cells.items()), frozenset({0}))

    def _column(self, number: int) -> str:
        """What is made, at which tables, and how long it takes."""
        title, length = self._documents[number].head.title, self._event.classes[number]
        if length is None:
            return title
        where = seating(self._event, number, self._words)
        return self._say("column-of", recipe=title, tables=where, **self._spans(length))

    def _spans(self, length: ClassLength) -> dict[str, str]:
        """How long it takes, usually and slower makers, to the minute upwards."""
        usual, slow = (span_words(self._words, -(-one // 60) * 60) for one in (length.usual, length.slow))
        return {"usual": usual, "slow": slow}

    def _mixed(self, heading: str) -> PaperTable:
        """A row for each step of each recipe, in the order of the clock."""
        rows = [(write_clock(at), self._say("everybody"), what) for at, what in self._opening()]
        rows += [(write_clock(at), self._documents[number].head.title, what) for at, number, what in self._events()]
        return PaperTable(heading, self._columns("time", "who", "what"), tuple(rows), frozenset({0}))

    def _events(self) -> list[tuple[int, int, str]]:
        """What begins when in which recipe, by time: in minutes, as the clock shows it."""
        found = []
        for number, length in enumerate(self._event.classes):
            if length is None:
                continue
            for at, slow, what in self._steps(number, length):
                late = self._say("slow-end", time=write_clock(slow)) if at == self._first + length.usual else ""
                found.append((at // 60 * 60, number, what + late))
        return sorted(found, key=lambda one: one[:1])

    def moments(self) -> Iterator[Moment]:
        """All of it, in order; who makes what is said where several things are made."""
        if not any(self._event.classes):
            return
        titles = [document.head.title if len(self._documents) > 1 else "" for document in self._documents]
        yield from (Moment(at, "", what) for at, what in self._opening())
        yield from (Moment(at, titles[number], what) for at, number, what in self._events())

    def lengths(self) -> Iterator[PaperWords]:
        """How long each takes and where it is made, a sentence each, where no column of the run says so."""
        in_columns = any(self._event.classes) and 1 < len(self._documents) <= _SIDE_BY_SIDE
        told = []
        for number, (length, document) in enumerate(zip(self._event.classes, self._documents, strict=True)):
            where = seating(self._event, number, self._words)
            if length is None:
                told.append(self._say("no-class-of", recipe=document.head.title))
                continue
            if not in_columns:
                told.append(self._say("length", tables=where, recipe=document.head.title, **self._spans(length)))
        yield PaperWords("", (*told, self._say("length-means")))


def _early_and_late(event: Event, documents: Sequence[Document], words: Catalogue, short: bool) -> Iterator[PaperWords]:
    """What to do for those who are done before the others, and for those who come late or are not done."""
    if not any(event.classes):
        return
    early = [words.say("event.day.early")]
    for document in () if short else documents:
        for section in document.sections:
            if section.kind is SectionKind.VARIATIONS:
                told = " ".join(plain_passage(section.words, event.wishes.system).split())
                key = "variation" if len(told) <= _LONG_VARIATION else "variation-long"
                early.append(words.say(f"event.day.{key}", recipe=document.head.title, words=told))
    late = [words.say("event.day.late"), words.say("event.day.not-done")]
    on_tables = [
        (document.head.title, things)
        for number, document in enumerate(documents)
        if event.classes[number] and (things := supplies_on_table(event, number))
    ]
    every = tuple(dict.fromkeys(thing for _, things in on_tables for thing in things))
    alike = len(on_tables) == len(documents) and len({things for _, things in on_tables}) == 1
    if every and (short or alike):
        late.append(words.say("event.day.take-home-all", things=every))
    else:
        late += [words.say("event.day.take-home", recipe=recipe, things=things) for recipe, things in on_tables]
    yield PaperWords(words.say("event.day.early-heading"), tuple(early))
    yield PaperWords(words.say("event.day.late-heading"), tuple(late))


def _teacher(event: Event, words: Catalogue, short: bool) -> Iterator[str]:
    yield words.say("event.day.teach-sample", count=len(event.makings))
    spare = [making for making in event.makings if making.spare]
    if short and spare:
        yield words.say("event.day.teach-spare", count=sum(making.spare for making in spare))
    for making in () if short else spare:
        recipe = making.title
        yield words.say("event.day.teach-spare-count", count=making.spare, recipe=recipe)
    if any(event.classes):
        yield words.say("event.day.teach-handouts", count=len(event.makings))
    yield words.say("event.day.teach-first-aid")
    allergens = tuple(dict.fromkeys(one for making in event.makings for one in allergens_of(making)))
    if allergens:
        yield words.say("event.day.teach-allergens", allergens=allergens)
    if diets := diets_line(event, words):
        yield diets
