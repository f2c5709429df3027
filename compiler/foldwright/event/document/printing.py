"""What to print of an event's folder: each file, how often, on what, and who gets it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum

from msgspec import Struct

from foldwright.document.catalogue import Catalogue
from foldwright.event.document.model import EventPaper, PaperTable, PaperWords
from foldwright.event.plan.model import Making

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
