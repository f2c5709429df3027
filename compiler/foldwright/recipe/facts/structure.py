"""The facts as a tree: which line stands under which, as YAML says.

Our part is done line by line, before: values are put into quotes, so that none can be taken for a number, a date, an
anchor or a tag, and uneven indents are mended. PyYAML does the rest: the nesting, and the author's own quotes, braces
and brackets. Every word and value keeps its place.
"""

from __future__ import annotations

from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from foldwright.finding import Place
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.indents import even_lines
from foldwright.recipe.facts.limits import MOST_FACTS
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.quoting import BELOW, NO_WORD, OWN, QuotedText, quoted
from foldwright.recipe.facts.signs import told_of_signs
from foldwright.recipe.facts.unprintable import told_of_unprintable

type _Said = Any
"""A node of YAML's: a word or value, a list, or pairs. PyYAML's own types do not say which has what."""


class Node(Struct, frozen=True):
    """One line and what stands under it: `entries` are lines with a word and a colon, `items` lines with a dash.

    `key` is None for an item and for a line that lacks its colon; such a line's text is its `value`. What stood in
    braces or brackets is there as `typed` too.
    """

    key: Phrase | None
    value: Phrase | None
    entries: tuple[Node, ...] = ()
    items: tuple[Node, ...] = ()
    typed: Phrase | None = None

    @property
    def first(self) -> Phrase:
        """The first words of the line."""
        return self.key or self.value or self.typed or (*self.entries, *self.items)[0].first

    @property
    def written(self) -> Phrase:
        """Everything after the colon, lines beneath included, as one run of text."""
        if self.value is not None and not self.entries and not self.items:
            return self.value
        phrases = self._below() if self.value is None else [self.value, *self._below()]
        return Phrase.run(phrases) if phrases else Phrase("", self.first.file, self.first.end)

    @property
    def whole(self) -> Phrase:
        """The same with the word before the colon."""
        return Phrase.run(self._phrases())

    def _phrases(self) -> list[Phrase]:
        own = [self.value] if self.value else []
        return [*([_with_colon(self.key)] if self.key else []), *own, *self._below()]

    def _below(self) -> list[Phrase]:
        return [phrase for node in (*self.entries, *self.items) for phrase in node._phrases()]


def _with_colon(key: Phrase) -> Phrase:
    return Phrase(key.text + ":", key.file, key.start)


def read_structure(text: str, file: str, offset: int, complaints: Complaints) -> tuple[Node, ...]:
    """The entries at the top of the facts, each with all that stands under it."""
    if len(text) > MOST_FACTS:
        kept = text[: text.rfind("\n", 0, MOST_FACTS) + 1 or MOST_FACTS]
        complaints.fault("too-many-facts", Place(file, offset + len(kept), offset + len(kept)), limit=MOST_FACTS)
        text = kept
    lines = told_of_signs(even_lines(text, file, offset, complaints), complaints)
    for line in lines:
        if line.asked and line.value:
            complaints.thought("one-space-remark", line.value)
    if not lines:
        return ()
    reader = _NodeReader(quoted(lines), complaints)
    entries = reader.node(None, reader.composed).entries
    # Braces round the whole of it say no more than the lines inside.
    return entries[0].entries if entries and entries[0].typed and not entries[0].key else entries


class _NodeReader:
    """From YAML's nodes to ours. Marks of YAML's nodes are offsets in what was written for it."""

    def __init__(self, written: QuotedText, complaints: Complaints) -> None:
        import yaml

        self._written = written
        self._complaints = complaints
        self.composed: _Said = yaml.compose(written.yaml, getattr(yaml, "CSafeLoader", yaml.SafeLoader))

    def node(self, key: Phrase | None, said: _Said) -> Node:
        value = said.value
        typed = self._written.places.get(said.start_mark.index)
        if said.id == "scalar":
            return Node(key, self._phrase(said))
        flow = typed if said.flow_style else None
        if said.id == "sequence":
            items = tuple(item for each in value if (item := self._item(each)) is not None)
            return Node(key, None, (), items, flow)
        if flow and any(_is_nothing(each) for _, each in value):
            # `{cardstock, use 3}` says no more than the line inside.
            return Node(key, flow)
        return self._mapping(key, value, flow)

    def _mapping(self, key: Phrase | None, pairs: list[tuple[_Said, _Said]], flow: Phrase | None) -> Node:
        own: Phrase | None = None
        items: tuple[Node, ...] = ()
        entries = []
        for word, said in pairs:
            sign = "" if word.style else word.value
            if sign == OWN:
                own = self._phrase(said) if said.id == "scalar" else self._written.places[said.start_mark.index]
            elif sign == BELOW:
                items = self.node(None, said).items
            else:
                entry = self.node(None if sign == NO_WORD else self._phrase(word), said)
                entries += [entry] if entry.key or _says_something(entry) else []
        return Node(key, own, tuple(entries), items, flow)

    def _item(self, said: _Said) -> Node | None:
        """A list entry: its own text if it has no word and colon, and the lines that stand level with that text."""
        item = self.node(None, said)
        if item.entries and item.entries[0].key is None:
            first, *others = item.entries
            item = replace(first, entries=(*first.entries, *others))
        return item if _says_something(item) else None

    def _phrase(self, said: _Said) -> Phrase | None:
        """The text of a word or value; None where there is nothing."""
        start: int = said.start_mark.index
        phrase = self._written.places.get(start)
        if phrase is None or said.end_mark.index - start > len(phrase.text):
            # In our own quotes.
            return phrase
        inside = phrase.part(1, -1)
        plain = inside.text.replace("\n", " ")
        if "\\" in plain or phrase.text[0] * 2 in plain:
            # What an escape stands for is shorter than the escape: places behind it are a little early.
            plain = told_of_unprintable(said.value.strip(), inside, self._complaints)
        return replace(inside, text=plain) if plain else None


def _says_something(node: Node) -> bool:
    return bool(node.value or node.entries or node.items)


def _is_nothing(said: _Said) -> bool:
    return bool(said.id == "scalar" and not said.style)
