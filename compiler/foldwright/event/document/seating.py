"""Who sits where, for whoever stands at the door: by name to tick, and table by table if there are not too many."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from itertools import batched

from foldwright.document.catalogue import Catalogue
from foldwright.event.document.guests import seats_of, table_called
from foldwright.event.document.model import EventPart, PaperText, PaperWords, Tick, Ticks
from foldwright.event.document.writing import EventSource
from foldwright.event.plan.planning import Event

_TOGETHER = 20
"""Names in a paragraph, where they have no lines of their own."""
_MOST_TICKED = 500
"""Guests of whom each has a line of their own, and tables theirs; of more only what is needed to find one's table."""


def seating_paper(source: EventSource) -> PaperText | None:
    """Where there are seats to be found."""
    event, words, seats = source.event, source.words, seats_of(source.event)
    if not any(seats):
        return None
    parts = tuple(_by_name(event, seats, words))
    if len(event.guests) <= _MOST_TICKED:
        parts += (PaperWords(words.say("event.seating.by-table"), tuple(_tables(event, words))),)
    return PaperText(words.say("event.seating.summary", count=len(event.guests)), parts)


def _by_name(event: Event, seats: tuple[str, ...], words: Catalogue) -> Iterator[EventPart]:
    """Under each first letter the names as the cards have them, without regard to accents."""
    plain = [_plain(guest.name) for guest in event.guests]
    by_letter: dict[str, list[int]] = {}
    for number in sorted(range(len(plain)), key=plain.__getitem__):
        by_letter.setdefault(plain[number][:1].upper(), []).append(number)
    for letter, numbers in by_letter.items():
        if len(event.guests) <= _MOST_TICKED:
            yield Ticks(
                letter, tuple(Tick(event.guests[one].name, _where(event, one, seats, words)) for one in numbers)
            )
        else:
            told = [
                words.say("event.seating.at", name=event.guests[one].name, where=_where(event, one, seats, words))
                for one in numbers
            ]
            between = words.say("event.seating.between")
            yield PaperWords(letter, tuple(between.join(some) for some in batched(told, _TOGETHER)))


def _plain(name: str) -> str:
    apart = unicodedata.normalize("NFKD", name.casefold())
    return "".join(one for one in apart if not unicodedata.combining(one)).lstrip("\"'(‘“").strip()


def _where(event: Event, number: int, seats: tuple[str, ...], words: Catalogue) -> str:
    """The table, and the project where there are several."""
    recipe = event.guests[number].recipe
    several = len(event.makings) > 1
    made = event.makings[recipe].title if several and recipe is not None else ""
    unknown = words.say("event.seating.unknown") if several and recipe is None else ""
    return ", ".join(filter(None, (table_called(seats[number], words), made, unknown)))


def _tables(event: Event, words: Catalogue) -> Iterator[str]:
    for table in event.tables:
        names = [event.guests[number].name for number in table.guests]
        if more := table.people - len(names):
            names.append(words.say("event.seating.more", count=more))
        title = event.makings[table.recipe].title
        yield words.say(
            "event.seating.table", table=table_called(table.name, words), title=title, names=words.listed(names)
        )
