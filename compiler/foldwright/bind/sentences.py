"""Prose as sentences of plain words, with every measure standing as one word of its own."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from msgspec import Struct

from foldwright.recipe.words import (
    Block,
    Break,
    Code,
    Emphasis,
    Inline,
    Items,
    Link,
    Measure,
    Paragraph,
    Preformatted,
    Quote,
    Strong,
    Subheading,
    Text,
)

MARK = "\ufffc"
"""Stands for a measure (the object replacement character of Unicode, which no author types)."""

_END = frozenset(".!?…")
_WORD = re.compile(MARK + r"""|[^\W_]+(?:['’\-][^\W_]+)*|[,;:()–—]|[.!?…](?=["”’)\]]*(?:\s|$))""")


class Sentence(Struct, frozen=True):
    """`words` in small letters, punctuation among them; `measures` are the measures of the `MARK`s in order."""

    words: tuple[str, ...]
    measures: tuple[Measure, ...]

    def places(self) -> Iterator[tuple[int, Measure]]:
        """Where each measure stands among the words."""
        measures = iter(self.measures)
        return ((at, next(measures)) for at, word in enumerate(self.words) if word == MARK)


def sentences(blocks: Iterable[Block]) -> Iterator[Sentence]:
    """The sentences of some blocks in order; code and the text of preformatted blocks say nothing."""
    for block in blocks:
        match block:
            case Paragraph() | Subheading():
                yield from _of_inlines(block.children)
            case Items():
                for item in block.items:
                    yield from sentences(item)
            case Quote():
                yield from sentences(block.children)
            case Preformatted() | _:
                pass


def hold_a_measure(blocks: Iterable[Block]) -> bool:
    """Whether there is anything to bind at all; most stretches of words have no measure."""
    for block in blocks:
        match block:
            case Paragraph() | Subheading():
                if _has_measure(block.children):
                    return True
            case Items():
                if any(hold_a_measure(item) for item in block.items):
                    return True
            case Quote():
                if hold_a_measure(block.children):
                    return True
            case _:
                pass
    return False


def _has_measure(children: tuple[Inline, ...]) -> bool:
    for child in children:
        if isinstance(child, Measure):
            return True
        if isinstance(child, (Emphasis, Strong, Link)) and _has_measure(child.children):
            return True
    return False


def _of_inlines(children: tuple[Inline, ...]) -> Iterator[Sentence]:
    pieces: list[str] = []
    measures: list[Measure] = []
    _flatten(children, pieces, measures)
    start = used = 0
    tokens = _WORD.findall("".join(pieces).casefold())
    for end in [*(at for at, token in enumerate(tokens) if token in _END), len(tokens)]:
        words = tuple(tokens[start:end])
        start = end + 1
        if words:
            count = words.count(MARK)
            yield Sentence(words, tuple(measures[used : used + count]))
            used += count


def _flatten(children: tuple[Inline, ...], pieces: list[str], measures: list[Measure]) -> None:
    for child in children:
        match child:
            case Text():
                pieces.append(child.text)
            case Measure():
                pieces.append(f" {MARK} ")
                measures.append(child)
            case Emphasis() | Strong() | Link():
                _flatten(child.children, pieces, measures)
            case Break():
                pieces.append(" ")
            case Code():
                pieces.append(" ; ")


def words_of(text: str) -> tuple[str, ...]:
    """A text's words in small letters, and its commas, colons, brackets and dashes."""
    return tuple(token for token in _WORD.findall(text.casefold()) if token not in _END)
