"""What the tutorial of a recipe says of others: the one before and the one after it, and some that go with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from markupsafe import Markup as Html
from msgspec import Struct

from foldwright.library.dress import LibraryDress
from foldwright.library.made_from import key_of
from foldwright.library.offcuts import SameSheet, same_sheet_words
from foldwright.library.shelves import Shelf
from foldwright.outputs.entry import Entry
from foldwright.outputs.model import PAGE

_ROOT = "../"
_FEW = 3
"""So many recipes of a tag are shown: a row."""


class InsetPart(Struct, frozen=True):
    """Some recipes under a heading; `address` leads to more of them, `says` has what is told of them."""

    heading: str
    cards: Sequence[Html]
    address: str = ""
    says: Sequence[str] = ()


class Neighbour(Struct, frozen=True):
    """The recipe that was published before or after."""

    title: str
    address: str


class PlannedPart(Struct, frozen=True):
    """The same before its cards are set."""

    heading: str
    entries: Sequence[Entry]
    address: str = ""
    says: Sequence[str] = ()


class PlannedInset(Struct, frozen=True):
    """What a tutorial says of others, before it is set."""

    parts: Sequence[PlannedPart]
    newer: Neighbour | None
    older: Neighbour | None

    def key(self, dress: LibraryDress) -> str:
        """A key of all it is made from."""
        parts = [(one.heading, one.address, one.says, [*map(dress.card_key, one.entries)]) for one in self.parts]
        return key_of(dress.key, parts, self.newer, self.older)

    def set(self, dress: LibraryDress) -> str:
        """The HTML for its place in the tutorial."""
        parts = [
            InsetPart(one.heading, [dress.card(entry, _ROOT) for entry in one.entries], one.address, one.says)
            for one in self.parts
        ]
        return dress.inset(parts=parts, newer=self.newer, older=self.older)


def insets_of(
    entries: Sequence[Entry],
    shelves: Sequence[Shelf],
    same_sheet: Mapping[str, Sequence[SameSheet]],
    dress: LibraryDress,
) -> dict[str, PlannedInset]:
    """What each recipe says, by slug. `entries` are those listed, newest first; `shelves` those of their tags."""
    on: dict[str, list[tuple[Shelf, int]]] = {}
    for shelf in sorted(shelves, key=lambda shelf: len(shelf.entries)):
        for place, entry in enumerate(shelf.entries):
            on.setdefault(entry.slug, []).append((shelf, place))
    insets: dict[str, PlannedInset] = {}
    for place, entry in enumerate(entries):
        sheet = same_sheet.get(entry.slug, ())
        known = {entry.slug, *(one.entry.slug for one in sheet)}
        parts = [*_sheet_part(sheet, dress), *_tag_part(on.get(entry.slug, []), known, dress)]
        newer = entries[place - 1] if place else None
        older = entries[place + 1] if place + 1 < len(entries) else None
        insets[entry.slug] = PlannedInset(parts, _neighbour(newer), _neighbour(older))
    return insets


def _neighbour(entry: Entry | None) -> Neighbour | None:
    return Neighbour(entry.title, f"{_ROOT}{entry.slug}/{PAGE}") if entry else None


def _sheet_part(uses: Sequence[SameSheet], dress: LibraryDress) -> list[PlannedPart]:
    entries = [use.entry for use in uses[:_FEW]]
    says = [same_sheet_words(use, dress.words) for use in uses[:_FEW]]
    return [PlannedPart(dress.words.say("library.inset.same-sheet"), entries, says=says)] if entries else []


def _tag_part(on: Sequence[tuple[Shelf, int]], known: set[str], dress: LibraryDress) -> list[PlannedPart]:
    """Some recipes that have a tag in common with it, `known` ones left out: of the tags with most to show the rarest.

    `on` has its shelves, the smallest first, and its place on each.
    """
    shelf, others = max(
        ((shelf, _near(shelf, place, known)) for shelf, place in on), key=lambda row: len(row[1]), default=(None, [])
    )
    if shelf is None or not others:
        return []
    heading = dress.words.say("library.inset.tagged", tag=shelf.name)
    return [PlannedPart(heading, others, f"{_ROOT}{shelf.folder}/index.html")]


def _near(shelf: Shelf, place: int, known: set[str]) -> list[Entry]:
    """Those published before it, then after."""
    near = (*shelf.entries[place + 1 : place + 1 + 2 * _FEW], *shelf.entries[max(0, place - 2 * _FEW) : place][::-1])
    return [one for one in near if one.slug not in known][:_FEW]
