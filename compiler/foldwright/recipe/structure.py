"""The facts as a tree: which line stands under which.

YAML works out the nesting. It is handed the lines' numbers in place of the author's words, so that no word can be
taken for a number, a date, an anchor or a tag, and every place is kept. Uneven indents are mended before, where the
meaning is plain, and named where it is not.
"""

from __future__ import annotations

from typing import NamedTuple

import yaml

from foldwright.finding import Place
from foldwright.recipe.complaints import Complaints
from foldwright.recipe.indents import even_out
from foldwright.recipe.limits import MOST_FACTS
from foldwright.recipe.lines import Line, read_lines
from foldwright.recipe.phrase import Phrase


class Node(NamedTuple):
    """One line and what stands under it: `entries` are lines with a word and a colon, `items` lines with a dash.

    `key` is None for an item and for a line that lacks its colon; such a line's text is its `value`.
    """

    key: Phrase | None
    value: Phrase | None
    entries: tuple[Node, ...] = ()
    items: tuple[Node, ...] = ()

    @property
    def first(self) -> Phrase:
        """The first words of the line."""
        return self.key or self.value or (*self.entries, *self.items)[0].first

    @property
    def written(self) -> Phrase:
        """Everything after the colon, lines beneath included, as one run of text."""
        if self.value is not None and not self.entries and not self.items:
            return self.value
        phrases = self._below() if self.value is None else [self.value, *self._below()]
        return _run(phrases) if phrases else Phrase("", self.first.file, self.first.end)

    @property
    def whole(self) -> Phrase:
        """The same with the word before the colon."""
        return _run(self._phrases())

    def _phrases(self) -> list[Phrase]:
        own = [self.value] if self.value else []
        return [*([_with_colon(self.key)] if self.key else []), *own, *self._below()]

    def _below(self) -> list[Phrase]:
        return [phrase for node in (*self.entries, *self.items) for phrase in node._phrases()]


def _with_colon(key: Phrase) -> Phrase:
    return Phrase(key.text + ":", key.file, key.start)


def _run(phrases: list[Phrase]) -> Phrase:
    """Phrases of one file put together in order, every character at its own offset."""
    if len(phrases) == 1:
        return phrases[0]
    text, start = "", phrases[0].start
    for phrase in phrases:
        gap = phrase.start - start - len(text)
        text += (" " if text.endswith(":") else "\n").ljust(gap)[: max(gap, 0)] + phrase.text
    return Phrase(text, phrases[0].file, start)


def read_structure(text: str, file: str, offset: int, complaints: Complaints) -> tuple[Node, ...]:
    """The entries at the top of the facts, each with all that stands under it."""
    if len(text) > MOST_FACTS:
        kept = text[: text.rfind("\n", 0, MOST_FACTS) + 1]
        complaints.fault("too-many-facts", Place(file, offset + len(kept), offset + len(kept)), limit=MOST_FACTS)
        text = kept
    lines = even_out(read_lines(text, file, offset), complaints)
    for line in lines:
        if line.asked and line.value:
            complaints.thought("one-space-remark", line.value)
    numbers = "".join(
        f"{' ' * line.indent}{'-'.ljust(line.dash) if line.dash else ''}'{number}':\n"
        for number, line in enumerate(lines)
    )
    tree = yaml.compose(numbers, Loader=yaml.CSafeLoader) if numbers else None
    return _entries(tree, lines)


def _entries(tree: yaml.Node | None, lines: list[Line]) -> tuple[Node, ...]:
    if not isinstance(tree, yaml.MappingNode):
        return ()
    return tuple(_node(lines[int(number.value)], below, lines) for number, below in tree.value)


def _node(line: Line, below: yaml.Node, lines: list[Line]) -> Node:
    if not below.value:
        return Node(line.key, line.value)
    return Node(line.key, line.value, _entries(below, lines), _items(below, lines))


def _items(tree: yaml.Node, lines: list[Line]) -> tuple[Node, ...]:
    if not isinstance(tree, yaml.SequenceNode):
        return ()
    return tuple(node for item in tree.value if (node := _item(_entries(item, lines))).value or node.entries)


def _item(entries: tuple[Node, ...]) -> Node:
    """A list entry: its own text if it has no word and colon, and the lines that stand level with that text."""
    first, *others = entries
    if first.key is not None:
        return Node(None, None, entries)
    return Node(None, first.value, (*first.entries, *others), first.items)
