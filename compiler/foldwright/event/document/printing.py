"""What to print of an event's folder: each file, how often, on what, and who gets it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from foldwright.document.catalogue import Catalogue
from foldwright.event.document.model import EventPaper, PaperTable, PaperWords
from foldwright.event.plan.model import Making

SLUG = "what-to-print"


class Printout(Struct, frozen=True):
    """A file to print: `kind` says whose it is and what it goes on; `pages` are those of one copy."""

    file: str
    kind: str
    copies: int
    pages: int


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
            words.say(f"event.print.on-{one.kind if one.kind in ('labels', 'place-cards') else 'paper'}", paper=paper),
            words.say(f"event.print.whom-{one.kind}"),
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
        recipe = making.understood.recipe
        pieces = tuple(piece.name.value for piece in recipe.pieces if piece.outline)
        if pieces:
            yield words.say("event.print.template", pieces=pieces, recipe=recipe.title.value)
