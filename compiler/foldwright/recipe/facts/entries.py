"""Sections that hold entries with names of the author's own: supplies and pieces."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from typing import Protocol

from msgspec.structs import replace

from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.known import Known
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.signs import without_signs
from foldwright.recipe.facts.structure import Node
from foldwright.recipe.model import Said

_LINE_END = re.compile(r"\s*\n\s*")
_COMMA = re.compile(r",(?![0-9])")
_NOTHING = frozenset({"none", "nothing", "-", "no"})


class _Named(Protocol):
    @property
    def name(self) -> Said[str]: ...


def with_entries_pushed_in(
    lines: Iterable[Node], sections: Collection[str], known: Known, complaints: Complaints
) -> tuple[Node, ...]:
    """The lines, those that follow an empty section and are no facts of the recipe made entries of that section."""
    pushed: list[Node] = []
    open_section = ""
    for line in lines:
        word = known.word_of(line.key.text) if line.key else None
        if open_section and word is None and _belongs(line, open_section, known):
            section = pushed[-1]
            if not section.entries:
                complaints.thought("section-not-pushed-in", line.first, section=section.first.plain)
            pushed[-1] = replace(section, entries=(*section.entries, line))
            continue
        pushed.append(line)
        empty = not (line.value or line.entries or line.items)
        open_section = word if word and word in sections and empty else ""
    return tuple(pushed)


def _belongs(line: Node, section: str, known: Known) -> bool:
    """Whether a line can be an entry: a tool has no colon, any other has, and its word is no known one misspelt."""
    if section == "tools":
        return line.key is None
    return line.key is not None and not nearest(line.key.plain, known.spellings, 0.8)


def named_entries(section: Node, complaints: Complaints) -> Iterator[tuple[Phrase, Node]]:
    """Every entry with its name, also those whose name was used before: they are complained of, and checked too."""
    seen: dict[str, Phrase] = {}
    for name, node in _entries(section, complaints):
        first = seen.setdefault(name.plain.casefold(), name)
        if first is not name:
            complaints.fault("name-twice", name, first=first.place)
        yield name, node


def _entries(section: Node, complaints: Complaints) -> Iterator[tuple[Phrase, Node]]:
    own = without_signs(section.value, complaints) if section.value else None
    if own and own.text and own.plain.lower() not in _NOTHING:
        for line in own.split(_LINE_END):
            complaints.fault("no-name", line)
    for entry in section.entries:
        if entry.key is not None:
            yield entry.key, entry
        elif entry.entries:
            complaints.thought("name-without-colon", entry.first)
            yield entry.first, Node(entry.value, None, entry.entries, entry.items)
        else:
            complaints.fault("no-name", entry.first)
    for item in section.items:
        yield from _listed(item)


def _listed(item: Node) -> Iterator[tuple[Phrase, Node]]:
    """An entry after a dash: `- charcoal card: cardstock`, `- name: charcoal card`, or `- charcoal card, cardstock`."""
    first = item.entries[0] if item.entries else None
    if item.value is not None:
        comma = _COMMA.search(item.value.text)
        name = item.value.part(0, comma.start() if comma else None)
        rest = item.value.part(comma.end()) if comma else None
        yield name, Node(name, rest, item.entries, item.items)
    elif first and first.key and first.key.plain.lower() == "name" and first.value:
        yield first.value, Node(first.value, None, item.entries[1:], item.items)
    elif first and first.key:
        yield first.key, Node(first.key, first.value, (*first.entries, *item.entries[1:]), first.items)


def first_of_each[T: _Named](things: Iterable[T]) -> tuple[T, ...]:
    """The things without those whose name was used before."""
    by_name: dict[str, T] = {}
    for thing in things:
        by_name.setdefault(thing.name.value.casefold(), thing)
    return tuple(by_name.values())
