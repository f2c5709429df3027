"""From a planned event to all its papers in words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.model import Document
from foldwright.event.document.costs import costs_paper
from foldwright.event.document.cutting import cutting_paper
from foldwright.event.document.day import day_paper
from foldwright.event.document.guests import diets_papers, named_labels
from foldwright.event.document.kits import kits_paper, labels_of
from foldwright.event.document.lengths import LengthWriter
from foldwright.event.document.model import EventSheet, Occasion
from foldwright.event.document.preparing import preparing_paper
from foldwright.event.document.seating import seating_papers
from foldwright.event.document.shopping import shopping_paper
from foldwright.event.document.tables import tables_paper
from foldwright.event.plan.planning import Event
from foldwright.measure.length import System


def occasion_of(called: str, on: date | None, at: str, words: Catalogue) -> Occasion:
    """The event's name, day and place, the day written out in the language of the words."""
    written = ""
    if on is not None:
        from babel.dates import format_date

        written = format_date(on, words.say("event.date"), locale=words.locale)
    line = words.say("event.between").join(part for part in (called, written, at) if part)
    return Occasion(called, on.isoformat() if on else "", written, at, line)


def compose_event(event: Event, sheets: Sequence[Document], occasion: Occasion) -> EventSheet:
    """`sheets` are those of the recipes at the event, in order."""
    words = catalogue(sheets[0].language)
    lengths = LengthWriter(event.wishes.system, words)
    titles = [
        words.say("event.title", kits=making.kits, recipe=making.understood.recipe.title.value)
        for making in event.makings
    ]
    papers = (
        shopping_paper(event, lengths, words),
        cutting_paper(event, lengths, words),
        preparing_paper(event, words),
        kits_paper(event, sheets, lengths, words),
        tables_paper(event, sheets, words),
        *diets_papers(event, words),
        *seating_papers(event, words),
        day_paper(event, sheets, words),
        costs_paper(event, lengths, words),
    )
    units = "imperial" if event.wishes.system is System.IMPERIAL else "metric"
    summary = [words.say("event.made-for", people=event.people) + "."]
    summary += [
        words.say("event.spare", kits=making.all_kits, spare=making.spare, recipe=making.understood.recipe.title.value)
        + "."
        for making in event.makings
        if making.spare
    ]
    summary.append(words.say(f"event.units-{units}"))
    return EventSheet(
        words.language,
        words.listed(titles),
        " ".join(summary),
        papers,
        tuple(
            label
            for number, (making, sheet) in enumerate(zip(event.makings, sheets, strict=True))
            for label in named_labels(event, number, labels_of(making, sheet, lengths, words, occasion), words)
        ),
        dict(words.below("event")),
        occasion,
    )
