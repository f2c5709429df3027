"""The guests in words: place cards, who sits where, their own labels, and what their diets mean for the kits."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from itertools import batched

from msgspec.structs import replace

from foldwright.document.catalogue import Catalogue
from foldwright.event.document.model import (
    CardText,
    EventPart,
    LabelText,
    PaperTable,
    PaperText,
    PaperWords,
    Tick,
    Ticks,
)
from foldwright.event.document.writing import EventSource, SectionWriter
from foldwright.event.plan.diets import DietCheck, check_diets, perhaps_eaten
from foldwright.event.plan.planning import Event
from foldwright.recipe.hazards import allergens_named, contents_unsaid


def seats_of(event: Event) -> tuple[str, ...]:
    """The table of each guest; empty where everybody may sit anywhere: one project, and a list without tables."""
    seated = {number: table.name for table in event.tables for number in table.guests}
    fixed = len(event.makings) > 1 or any(guest.table for guest in event.guests)
    return tuple(guest.table or (seated.get(number, "") if fixed else "") for number, guest in enumerate(event.guests))


def table_called(name: str, words: Catalogue) -> str:
    """`Table 4` for a number, a table's name as it is."""
    return words.say("event.kits.table", number=name) if name.isdecimal() else name


def place_cards_of(event: Event, words: Catalogue) -> tuple[CardText, ...]:
    """For each guest the name, the table, and what is made where that is not the same for all."""
    seats = seats_of(event)
    return tuple(
        CardText(guest.name, table_called(seats[number], words), _made(event, guest.recipe))
        for number, guest in enumerate(event.guests)
    )


def _made(event: Event, recipe: int | None) -> str:
    if recipe is None or len(event.makings) == 1:
        return ""
    return event.makings[recipe].title


def named_labels(
    event: Event, recipe: int, labels: Iterable[tuple[LabelText, int]], words: Catalogue
) -> Iterator[tuple[LabelText, int]]:
    """The labels of a recipe's bags: one for each guest who makes it, then those for others and spare kits."""
    heeded = {one.guest for one in _checks(event)}
    mine = [number for number, guest in enumerate(event.guests) if guest.recipe == recipe]
    kinds = list(labels)
    for label, count in kinds:
        # Guests beyond the kits that were asked for have a label all the same.
        here = mine if label is kinds[-1][0] else mine[:count]
        mine = mine[len(here) :]
        for number in here:
            sign = words.say("event.guests.sign") if number in heeded else ""
            warning = " ".join(filter(None, (sign, label.warning)))
            yield replace(label, name=event.guests[number].name, warning=warning), 1
        if count > len(here):
            yield label, count - len(here)


# --- allergies and diets ----------------------------------------------------------------------------------------------


def _checks(event: Event) -> tuple[DietCheck, ...]:
    return check_diets(event.guests, [making.recipe for making in event.makings])


def diets_line(event: Event, words: Catalogue) -> str:
    """A line for those who pack and serve; empty without guests, or where there is nothing to eat or to heed."""
    if not event.guests:
        return ""
    if checks := _checks(event):
        return words.say("event.guests.some", count=len(checks), title=words.say("event.guests.title"))
    supplies = [supply for making in event.makings for supply in making.recipe.supplies]
    eaten = any(allergens_named(supply) or contents_unsaid(supply) for supply in supplies)
    return words.say("event.guests.nobody") if eaten else ""


def diets_paper(source: EventSource) -> PaperText | None:
    """The paper of allergies and diets, where anybody has one. Nobody is told to be safe on it."""
    words, checks, told = source.words, _checks(source.event), _Diets(source)
    if not checks:
        return None
    parts: list[EventPart] = [PaperWords("", (words.say("event.guests.rule"), words.say("event.guests.private")))]
    for group in ("change", "ask", "read"):
        rows = tuple(told.row(one) for one in checks if told.group(one) == group)
        if rows:
            parts.append(PaperTable(words.say(f"event.guests.{group}"), told.columns(), rows, ticked=True))
    parts.append(PaperWords(words.say("event.guests.besides"), tuple(told.besides(len(checks)))))
    return PaperText(words.say("event.guests.summary", count=len(checks)), tuple(parts))


class _Diets(SectionWriter):
    """What is to be said of each guest with a diet."""

    section = "guests"

    def __init__(self, source: EventSource) -> None:
        super().__init__(source)
        self._seats = seats_of(source.event)

    def columns(self) -> tuple[str, ...]:
        return self._columns("guest", "table", "said", "kit", "do")

    def group(self, one: DietCheck) -> str:
        """`change`: something comes out of the bag. `ask`: something is not known. `read`: nothing named meets it."""
        if one.met:
            return "change"
        unknown = one.said.left or one.said.ask or one.unsaid or (one.said.others and one.food)
        return "ask" if unknown or (len(one.recipes) > 1 and one.food) else "read"

    def row(self, one: DietCheck) -> tuple[str, ...]:
        guest = self._event.guests[one.guest]
        table = table_called(self._seats[one.guest], self._words)
        return guest.name, table, self._said(one), self._kit(one), " ".join(self._to_do(one))

    def _said(self, one: DietCheck) -> str:
        avoided = self._avoided((*one.said.allergens, *one.said.others))
        told = avoided and avoided.casefold() != one.written.casefold()
        return self._say("read-as", said=one.written, avoided=avoided) if told else one.written

    def _avoided(self, names: Sequence[str]) -> str:
        return self._words.listed([self._words.say(f"event.avoid.{name}") for name in names])

    def _kit(self, one: DietCheck) -> str:
        found = []
        for met in one.met:
            key = "contains" if met.what else "by-name"
            said = self._say(f"{key}", supply=met.supply, what=met.what)
            if len(self._event.makings) > 1:
                said = self._say("of", title=_made(self._event, met.recipe), said=said)
            found.append(said)
        if one.unsaid:
            found.append(self._say("unsaid", supplies=one.unsaid))
        if not found:
            perhaps = any(perhaps_eaten(self._event.makings[recipe].recipe) for recipe in one.recipes)
            key = "none-named" if one.food else "no-food-known" if perhaps else "no-food"
            found.append(self._say(f"{key}"))
        return "; ".join(found)

    def _to_do(self, one: DietCheck) -> Iterator[str]:
        words, said = self._words, one.said
        if len(one.recipes) > 1:
            yield self._say("do-which")
        if one.met:
            yield self._say("do-without", supplies=tuple(dict.fromkeys(met.supply for met in one.met)))
        if said.left:
            yield self._say("do-ask-words", things=said.left)
        if said.ask:
            diets = tuple(words.say(f"event.avoid.{each.name}") for each in said.avoided if each.ask)
            yield self._say("do-ask", diets=diets)
        if one.food:
            others = self._avoided(said.others)
            key = "do-read-for" if others else "do-read"
            yield words.say(
                f"event.guests.{key}", supplies=tuple(dict.fromkeys((*one.food, *one.unsaid))), things=others
            )
        elif not one.met:
            yield self._say("do-no-food")

    def besides(self, heeded: int) -> Iterator[str]:
        """Those of whom nothing is written, and things of which it is not known whether they are eaten."""
        if silent := len(self._event.guests) - heeded:
            yield self._say("silent", count=silent)
        if (nameless := self._event.people - len(self._event.guests)) > 0:
            yield self._say("nameless", count=nameless)
        perhaps = [one for making in self._event.makings for one in perhaps_eaten(making.recipe)]
        if perhaps:
            yield self._say("perhaps", supplies=tuple(dict.fromkeys(perhaps)))


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
