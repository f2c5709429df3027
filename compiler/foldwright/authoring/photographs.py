"""A photograph put into a recipe: what its file may be called, and the lines that name it and say what it shows."""

from __future__ import annotations

import re
import unicodedata

from msgspec import Struct

from foldwright.authoring.places import FactPlace, Places, Span, places_of, step_at
from foldwright.authoring.setting_facts import set_at_top, set_in_step
from foldwright.finding.changes import Change, changed

_PHOTO, _SHOWS = "photo", "photo shows"
_LONGEST = 40


class PutIn(Struct, frozen=True):
    """Changes of the text, and what is selected in the new one: the words to be typed over."""

    changes: tuple[Change, ...]
    select: Span


def photo_put_in(text: str, at: int | None, name: str, shows: str) -> PutIn:
    """Have the step at an offset show the photograph called `name`; where that is no step, or none, the recipe itself.

    `shows` stands for what is seen on it, until somebody types that. Words that are there stay, and are selected.
    """
    step = None if at is None else step_at(text, at)
    number = step.number if step else 0
    places = places_of(text)
    there = _fact(_facts(places, number), _SHOWS)
    words = text[slice(*there.value)].strip() if there else ""
    said = {_PHOTO: name, **({} if words else {_SHOWS: shows})}
    changes = set_in_step(text, step, said) if step else set_at_top(text, places, said)
    placed = _fact(_facts(places_of(changed(text, changes)), number), _SHOWS)
    return PutIn(changes, placed.value if placed else (0, 0))


def photo_stem(text: str, at: int | None) -> str:
    """What the file of such a photograph may be called, without its ending: `fold-the-lid`."""
    step = None if at is None else step_at(text, at)
    if step:
        return _plain(step.heading) or f"step-{step.number}"
    title = _fact(places_of(text).facts, "title")
    return (_plain(text[slice(*title.value)]) if title else "") or "photo"


def _plain(words: str) -> str:
    """Small letters and figures that every system takes in a name, hyphens between."""
    letters = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode("ascii").lower()
    found = re.findall(r"[a-z0-9]+", letters)
    return "-".join(found)[:_LONGEST].strip("-")


def _facts(places: Places, number: int) -> tuple[FactPlace, ...]:
    """The facts of a step by its number, or of the whole recipe."""
    return next((step.facts for step in places.steps if step.number == number), ()) if number else places.facts


def _fact(facts: tuple[FactPlace, ...], word: str) -> FactPlace | None:
    return next((fact for fact in facts if fact.word == word), None)
