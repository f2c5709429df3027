"""Prose as sentences of plain words, with every measure standing as one word of its own."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from msgspec import Struct

from foldwright.recipe.words import Block, Break, Code, Inline, Measure, Text, flat_runs, lines_of

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
    for line in lines_of(blocks):
        yield from _of_line(line)


def hold_a_measure(blocks: Iterable[Block]) -> bool:
    """Whether there is anything to bind at all; most stretches of words have no measure."""
    return any(isinstance(run, Measure) for line in lines_of(blocks) for run in flat_runs(line))


def _of_line(line: Iterable[Inline]) -> Iterator[Sentence]:
    pieces: list[str] = []
    measures: list[Measure] = []
    for run in flat_runs(line):
        match run:
            case Text():
                pieces.append(run.text)
            case Measure():
                pieces.append(f" {MARK} ")
                measures.append(run)
            case Break():
                pieces.append(" ")
            case Code():
                pieces.append(" ; ")
    start = used = 0
    tokens = _WORD.findall("".join(pieces).casefold())
    for end in [*(at for at, token in enumerate(tokens) if token in _END), len(tokens)]:
        words = tuple(tokens[start:end])
        start = end + 1
        if words:
            count = words.count(MARK)
            yield Sentence(words, tuple(measures[used : used + count]))
            used += count


def words_of(text: str) -> tuple[str, ...]:
    """A text's words in small letters, and its commas, colons, brackets and dashes."""
    return tuple(token for token in _WORD.findall(text.casefold()) if token not in _END)
