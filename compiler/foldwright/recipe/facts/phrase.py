"""A run of the author's text that knows where it stands."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from msgspec import Struct

from foldwright.finding import Place


class Phrase(Struct, frozen=True):
    """`text` is the author's, character for character (a remark inside it is blanked), and begins at offset `start`."""

    text: str
    file: str
    start: int

    @property
    def place(self) -> Place:
        return Place(self.file, self.start, self.start + len(self.text))

    @property
    def end(self) -> int:
        return self.start + len(self.text)

    @property
    def plain(self) -> str:
        """The text on one line, its runs of white space made single spaces."""
        return " ".join(self.text.split())

    def part(self, start: int, end: int | None = None) -> Phrase:
        """The characters from `start` up to `end`, without white space around them."""
        whole = self.text[start:end]
        bare = whole.lstrip()
        return Phrase(bare.rstrip(), self.file, self.start + start + len(whole) - len(bare))

    def split(self, pattern: re.Pattern[str]) -> Iterator[Phrase]:
        """The parts between the matches of a pattern, stripped; a part may be empty."""
        start = 0
        for match in pattern.finditer(self.text):
            yield self.part(start, match.start())
            start = match.end()
        yield self.part(start)

    def split_outside_brackets(self, pattern: re.Pattern[str]) -> list[Phrase]:
        """The same, but what stands in round brackets is kept whole; one that is never closed protects nothing."""
        text = self.text
        if "(" not in text or text.count("(") > text.count(")"):
            return list(self.split(pattern))
        parts: list[Phrase] = []
        start = seen = depth = 0
        for match in pattern.finditer(text):
            between = text[seen : match.start()]
            depth = max(depth + between.count("(") - between.count(")"), 0)
            seen = match.start()
            if not depth:
                parts.append(self.part(start, match.start()))
                start = match.end()
        parts.append(self.part(start))
        return parts

    @staticmethod
    def run(phrases: Sequence[Phrase], between: str = "\n") -> Phrase:
        """Phrases of one file put together in order, every character at its own offset where there is room for it."""
        first, *others = phrases
        texts, end = [first.text], first.end
        for phrase in others:
            gap = phrase.start - end
            joint = (" " if texts[-1].endswith(":") else between).ljust(gap)[: max(gap, 0)]
            texts += [joint, phrase.text]
            end += len(joint) + len(phrase.text)
        return Phrase("".join(texts), first.file, first.start)
