"""Shelves of a library: the recipes that share a tag, a season, a level, a form or a paper, each with an address."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from enum import Enum

from msgspec import Struct

from foldwright.outputs.entry import Entry
from foldwright.recipe.facts.addresses import address_of
from foldwright.vocabulary.levels import LEVELS
from foldwright.vocabulary.seasons import SEASONS


class Kind(Enum):
    """What the recipes of a shelf share; the value is the folder its pages stand in."""

    TAG = "tags"
    SEASON = "seasons"
    LEVEL = "levels"
    FORM = "forms"
    PAPER = "papers"


class Shelf(Struct, frozen=True):
    """`address` is the folder of its pages under that of its kind; `entries` stand in the order they came in."""

    kind: Kind
    name: str
    address: str
    entries: tuple[Entry, ...]

    @property
    def folder(self) -> str:
        return f"{self.kind.value}/{self.address}"


PAGED = (Kind.TAG, Kind.SEASON, Kind.LEVEL)
"""The kinds whose shelves have pages of their own; by the others recipes are filtered."""
_NAMES: dict[Kind, Callable[[Entry], Iterable[str]]] = {
    Kind.TAG: lambda entry: entry.tags,
    Kind.SEASON: lambda entry: entry.seasons,
    Kind.LEVEL: lambda entry: (entry.level,),
    Kind.FORM: lambda entry: entry.forms,
    Kind.PAPER: lambda entry: entry.papers,
}
_KNOWN = {Kind.SEASON: SEASONS, Kind.LEVEL: tuple(level.name for level in LEVELS)}
"""Names with an order of their own; others follow by the alphabet."""


def names_of(entry: Entry, kind: Kind) -> tuple[str, ...]:
    """What it says of itself, each once: names that differ in capital letters alone are one."""
    by_name = {name.casefold(): name for name in _NAMES[kind](entry) if name}
    return tuple(by_name.values())


def newest_first(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Those a library lists. On one day, and without one, they stand by their titles."""
    listed = (entry for entry in entries if entry.listed)
    by_title = sorted(listed, key=lambda entry: (entry.title.casefold(), entry.slug))
    return tuple(sorted(by_title, key=lambda entry: entry.published, reverse=True))


def shelves_of(entries: Sequence[Entry], kind: Kind) -> tuple[Shelf, ...]:
    """The shelves of a kind, in the order in which a page lists them."""
    spelled: dict[str, Counter[str]] = {}
    on: dict[str, list[Entry]] = {}
    for entry in entries:
        for name in names_of(entry, kind):
            spelled.setdefault(name.casefold(), Counter())[name] += 1
            on.setdefault(name.casefold(), []).append(entry)
    order = {name.casefold(): place for place, name in enumerate(_KNOWN.get(kind, ()))}
    keys = sorted(on, key=lambda key: (order.get(key, len(order)), key))
    return tuple(
        Shelf(kind, _usual(spelled[key]), address, tuple(on[key]))
        for key, address in zip(keys, _addresses(keys), strict=True)
    )


def _usual(spellings: Counter[str]) -> str:
    """The spelling that is met most often; of two, the first by the alphabet."""
    return min(spellings, key=lambda name: (-spellings[name], name))


def _addresses(names: Sequence[str]) -> list[str]:
    """An address for each name. Of several that would share one, all but the first get a number."""
    taken: set[str] = set()
    found = []
    for name in names:
        wanted = address = address_of(name) or "other"
        number = 1
        while address in taken:
            number += 1
            address = f"{wanted}-{number}"
        taken.add(address)
        found.append(address)
    return found
