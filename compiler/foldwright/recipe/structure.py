"""The facts as a tree: which line stands under which.

The nesting is that of YAML, whose plain lists and pairs the facts are; but no word is looked into, so that none can be
taken for a number, a date, an anchor or a tag, and every word keeps its place. Uneven indents are mended before, where
the meaning is plain, and named where it is not.
"""

from __future__ import annotations

from msgspec import Struct

from foldwright.finding import Place
from foldwright.recipe.complaints import Complaints
from foldwright.recipe.indents import even_out
from foldwright.recipe.limits import MOST_FACTS
from foldwright.recipe.lines import Line, read_lines
from foldwright.recipe.phrase import Phrase


class Node(Struct, frozen=True):
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
    return _entries(lines, 0, lines[0].column)[0] if lines else ()


def _entries(lines: list[Line], at: int, column: int) -> tuple[tuple[Node, ...], int]:
    """Lines that stand at `column` one after another, the first behind its dash perhaps, and where they end."""
    nodes: list[Node] = []
    while at < len(lines):
        line = lines[at]
        if nodes and (line.dash or line.indent != column):
            break
        below, items, at = _below(lines, at + 1, column)
        nodes.append(Node(line.key, line.value, below, items))
    return tuple(nodes), at


def _below(lines: list[Line], at: int, column: int) -> tuple[tuple[Node, ...], tuple[Node, ...], int]:
    """The entries or the items under a line that stands at `column`; dashes may stand right under it."""
    following = lines[at] if at < len(lines) else None
    if following and following.dash and following.indent >= column:
        items, at = _items(lines, at, following.indent)
        return (), items, at
    if following and not following.dash and following.indent > column:
        entries, at = _entries(lines, at, following.indent)
        return entries, (), at
    return (), (), at


def _items(lines: list[Line], at: int, indent: int) -> tuple[tuple[Node, ...], int]:
    items: list[Node] = []
    while at < len(lines) and lines[at].dash and lines[at].indent == indent:
        entries, at = _entries(lines, at, lines[at].column)
        item = _item(entries)
        if item.value or item.entries:
            items.append(item)
    return tuple(items), at


def _item(entries: tuple[Node, ...]) -> Node:
    """A list entry: its own text if it has no word and colon, and the lines that stand level with that text."""
    first, *others = entries
    if first.key is not None:
        return Node(None, None, entries)
    return Node(None, first.value, (*first.entries, *others), first.items)
