"""All papers of an event in one table, and from a planned event to all of them in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from enum import Enum

from msgspec import Struct

from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.model import Document
from foldwright.event.document.costs import costs_paper
from foldwright.event.document.cutting import cutting_paper
from foldwright.event.document.day import day_paper
from foldwright.event.document.guests import diets_paper, named_labels, seating_paper
from foldwright.event.document.kits import kits_paper, labels_of
from foldwright.event.document.model import (
    EventDocument,
    EventPaper,
    For,
    LabelText,
    Occasion,
    PaperTable,
    PaperText,
    PaperWords,
)
from foldwright.event.document.preparing import preparing_paper
from foldwright.event.document.shopping import shopping_paper
from foldwright.event.document.tables import tables_paper
from foldwright.event.document.writing import EventSource
from foldwright.event.plan.model import Making
from foldwright.event.plan.planning import Event
from foldwright.measure.length import System

SLUG = "what-to-print"


class PrintedOn(Enum):
    """What a file is printed on; `kind` names its words, and `file` the file where there is one of the kind."""

    PAPER = "paper", ""
    LABELS = "labels", "bag-labels"
    CARDS = "place-cards", "place-cards"

    def __init__(self, kind: str, file: str) -> None:
        self.kind, self.file = kind, file


class Printout(Struct, frozen=True):
    """A file to print; `pages` are those of one copy, `whom` says who gets it."""

    file: str
    copies: int
    pages: int
    whom: str
    on: PrintedOn = PrintedOn.PAPER


def printing_paper(
    printouts: Sequence[Printout], paper: str, words: Catalogue, makings: Sequence[Making] = ()
) -> EventPaper:
    """`paper` is the name of the size that all are set for. What is cut along a template is said of the `makings`."""
    columns = tuple(words.say(f"event.print.column-{name}") for name in ("file", "pages", "copies", "on", "whom"))
    rows = tuple(
        (
            one.file,
            str(one.pages),
            str(one.copies),
            words.say(f"event.print.on-{one.on.kind}", paper=paper),
            one.whom,
        )
        for one in printouts
    )
    sheets = sum(one.pages * one.copies for one in printouts)
    table = PaperTable("", columns, rows, frozenset({1, 2}), ticked=True)
    notes = PaperWords(
        "", (words.say("event.print.handouts"), *_templates(makings, words), words.say("event.print.true-size"))
    )
    title, summary = words.say("event.print.title"), words.say("event.print.summary", count=sheets)
    return EventPaper(SLUG, title, summary, (table, notes))


def _templates(makings: Sequence[Making], words: Catalogue) -> Iterator[str]:
    """The templates are no files of the event: which recipes need theirs, and how to make it."""
    for making in makings:
        recipe = making.recipe
        pieces = tuple(piece.name.value for piece in recipe.pieces if piece.outline)
        if pieces:
            yield words.say("event.print.template", pieces=pieces, recipe=recipe.title.value)


class PaperRow(Struct, frozen=True):
    """A paper: what its file is called, where its words are below `event` (`title`, `whom`), what makes its text.

    `compose` gives None where there is nothing to say. It is printed for each helper and each teacher that is said.
    """

    slug: str
    section: str
    compose: Callable[[EventSource], PaperText | None]
    each_helper: bool = False
    teacher: bool = False
    whose: For = For.HELPERS
    one_page: bool = False

    def copies(self, helpers: int) -> int:
        """How often it is printed; one at least."""
        return max(1, self.each_helper * helpers + self.teacher)


PAPERS = (
    PaperRow("shopping-list", "shopping", shopping_paper),
    PaperRow("cutting-plan", "cutting", cutting_paper, each_helper=True),
    PaperRow("before-class", "preparing", preparing_paper, each_helper=True),
    PaperRow("packing", "kits", kits_paper),
    PaperRow("tables", "tables", tables_paper),
    PaperRow("allergies-and-diets", "guests", diets_paper),
    PaperRow("seating", "seating", seating_paper),
    PaperRow("the-day", "day", day_paper, each_helper=True, teacher=True, one_page=True),
    PaperRow("costs", "costs", costs_paper, whose=For.STUDIO),
)
"""In the order in which they stand on the page and in the list of what to print."""
_AFTER_THE_LIST = 2
"""What to print is the first paper."""


def occasion_of(called: str, on: date | None, at: str, words: Catalogue) -> Occasion:
    """The event's name, day and place, the day written out in the language of the words."""
    written = ""
    if on is not None:
        from babel.dates import format_date

        written = format_date(on, words.say("event.date"), locale=words.locale)
    line = words.say("event.between").join(part for part in (called, written, at) if part)
    return Occasion(called, on.isoformat() if on else "", written, at, line)


def compose_event(event: Event, documents: Sequence[Document], occasion: Occasion) -> EventDocument:
    """All papers and labels in words. `documents` are those of the recipes at the event, in order."""
    words = catalogue(documents[0].language)
    source = EventSource(event, documents, words)
    titles = [words.say("event.title", kits=making.kits, recipe=making.title) for making in event.makings]
    said = [(row, text) for row in PAPERS if (text := row.compose(source)) is not None]
    papers = [_paper(row, text, source, number) for number, (row, text) in enumerate(said, _AFTER_THE_LIST)]
    return EventDocument(
        words.language,
        words.listed(titles),
        " ".join(_summary(event, words)),
        tuple(papers),
        tuple(_labels(source, occasion)),
        dict(words.below("event")),
        event.wishes.system,
        occasion,
    )


def _paper(row: PaperRow, text: PaperText, source: EventSource, number: int) -> EventPaper:
    words = source.words
    return EventPaper(
        row.slug,
        words.say(f"event.{row.section}.title"),
        text.summary,
        text.parts,
        row.whose,
        row.one_page,
        text.shorter,
        row.copies(source.event.wishes.helpers),
        words.say(f"event.{row.section}.whom"),
        number,
    )


def _summary(event: Event, words: Catalogue) -> Iterator[str]:
    yield words.say("event.made-for", people=event.people)
    for making in event.makings:
        if making.spare:
            yield words.say("event.spare", count=making.spare, kits=making.all_kits, recipe=making.title)
    yield words.say("event.units-imperial" if event.wishes.system is System.IMPERIAL else "event.units-metric")


def _labels(source: EventSource, occasion: Occasion) -> Iterator[tuple[LabelText, int]]:
    for number in range(len(source.documents)):
        yield from named_labels(source.event, number, labels_of(source, number, occasion), source.words)
