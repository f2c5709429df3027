"""From a planned event to all its papers in words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from foldwright.measure.length import System
from foldwright.plan.event.planning import Event
from foldwright.sheet.catalogue import Catalogue, catalogue
from foldwright.sheet.event.costs import costs_paper
from foldwright.sheet.event.cutting import cutting_paper
from foldwright.sheet.event.day import day_paper
from foldwright.sheet.event.guests import diets_papers, named_labels
from foldwright.sheet.event.kits import kits_paper, labels_of
from foldwright.sheet.event.lengths import Lengths
from foldwright.sheet.event.model import EventSheet, Occasion
from foldwright.sheet.event.preparing import preparing_paper
from foldwright.sheet.event.shopping import shopping_paper
from foldwright.sheet.event.tables import tables_paper
from foldwright.sheet.model import Sheet


def occasion_of(called: str, on: date | None, at: str, words: Catalogue) -> Occasion:
    """The event's name, day and place, the day written out in the language of the words."""
    written = ""
    if on is not None:
        from babel.dates import format_date

        written = format_date(on, words.say("event.date"), locale=words.language)
    line = words.say("event.between").join(part for part in (called, written, at) if part)
    return Occasion(called, on.isoformat() if on else "", written, at, line)


def compose_event(event: Event, sheets: Sequence[Sheet], occasion: Occasion) -> EventSheet:
    """`sheets` are those of the recipes at the event, in order."""
    words = catalogue()
    lengths = Lengths(event.wishes.system, words)
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
