"""The facts as a tree: which line stands under which, as YAML says.

Our part is done line by line, before: values are put into quotes, so that none can be taken for a number, a date, an
anchor or a tag, and uneven indents are mended. PyYAML does the rest: the nesting, and the author's own quotes, braces
and brackets. Every word and value keeps its place.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from msgspec import Struct, field
from msgspec.structs import replace

from foldwright.finding import Place
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.indents import even_lines
from foldwright.recipe.facts.limits import MOST_FACTS
from foldwright.recipe.facts.lines import QUOTED, FactLine, ValueKind, flow_from
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.signs import told_of_signs
from foldwright.recipe.facts.unprintable import told_of_unprintable

_NO_WORD = "~"
"""Stands for the word before the colon where there is none. The author's are in quotes, so none is taken for it."""
_OWN = "="
"""The word for what stands on the line itself when more stands below it: YAML 1.1's own sign for a default value."""
_BELOW = "<<"
"""The word for the list below a line that has a value."""
_LINE_ENDS = str.maketrans(dict.fromkeys("\n\r\x85\u2028\u2029\ufeff", " "))
"""What ends a line in YAML 1.1, and the mark it lets stand only at the beginning."""

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
        key = [replace(self.key, text=self.key.text + ":")] if self.key else []
        own = [self.value] if self.value else []
        return [*key, *own, *self._below()]

    def _below(self) -> list[Phrase]:
        return [phrase for node in (*self.entries, *self.items) for phrase in node._phrases()]


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
    reader = _NodeReader(_quoted(lines), complaints)
    entries = reader.node(None, reader.composed).entries
    # Braces round the whole of it say no more than the lines inside.
    return entries[0].entries if entries and entries[0].typed and not entries[0].key else entries


class _QuotedText(Struct):
    """`places` has every word, value and opening bracket by the offset at which it begins in the YAML."""

    parts: list[str] = field(default_factory=list)
    length: int = 0
    places: dict[int, Phrase] = field(default_factory=dict)

    @property
    def yaml(self) -> str:
        return "".join(self.parts)

    def add(self, text: str) -> None:
        self.parts.append(text)
        self.length += len(text)

    def text(self, phrase: Phrase) -> None:
        """A run of text as it stands."""
        self.places[self.length] = phrase
        text = phrase.text if phrase.text.isprintable() else phrase.text.translate(_LINE_ENDS)
        self.add("'" + text.replace("'", "''") + "'")

    def verbatim(self, phrase: Phrase) -> None:
        """A string that the author put into quotes."""
        self.places[self.length] = phrase
        self.add(phrase.text)

    def value(self, line: FactLine) -> None:
        if line.value is None:
            return
        if line.kind is ValueKind.TEXT:
            self.text(line.value)
        elif line.kind is ValueKind.QUOTED:
            self.verbatim(line.value)
        else:
            self._flow(line.value)

    def word(self, line: FactLine) -> None:
        if line.key is None:
            self.add(_NO_WORD)
        elif QUOTED.fullmatch(line.key.text):
            self.verbatim(line.key)
        else:
            self.text(line.key)
        self.add(":")

    def _flow(self, whole: Phrase) -> None:
        for token in flow_from(whole.text, 0) or ():
            phrase = whole.part(token.start, token.end)
            if token.kind == "plain":
                self.text(phrase)
            elif token.kind == "quoted":
                self.verbatim(phrase)
            elif token.kind == "open":
                self.places[self.length] = phrase
                self.add(phrase.text[0])
            else:
                self.add(phrase.text + " ")


def _quoted(lines: Sequence[FactLine]) -> _QuotedText:
    """The lines, whose indents fit together, as YAML."""
    written = _QuotedText()
    for number, line in enumerate(lines):
        following = lines[number + 1] if number + 1 < len(lines) else None
        written.add(" " * line.indent + "-".ljust(line.dash) if line.dash else " " * line.indent)
        written.word(line)
        if following is None or not _stands_below(following, line):
            written.add(" ")
            written.value(line)
        elif line.value is not None:
            written.add("\n" + " " * following.indent + _OWN + ": ")
            written.value(line)
            if following.dash:
                written.add("\n" + " " * following.indent + _BELOW + ":")
        written.add("\n")
    return written


def _stands_below(following: FactLine, line: FactLine) -> bool:
    """Dashes may stand right under the word they belong to."""
    return following.indent >= line.column if following.dash else following.indent > line.column


class _NodeReader:
    """From YAML's nodes to ours. Marks of YAML's nodes are offsets in what was written for it."""

    def __init__(self, written: _QuotedText, complaints: Complaints) -> None:
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
            if sign == _OWN:
                own = self._phrase(said) if said.id == "scalar" else self._written.places[said.start_mark.index]
            elif sign == _BELOW:
                items = self.node(None, said).items
            else:
                entry = self.node(None if sign == _NO_WORD else self._phrase(word), said)
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
