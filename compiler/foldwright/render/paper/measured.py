"""Words whose lengths are known: how many lines they make in a column of any width, and so how high they stand.

All lengths are in ems of the block's own type size, so that they hold at every size. Lines are broken as a typesetter
breaks them: as many words on a line as it holds.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

from msgspec import Struct

_HAIR = 1e-4
"""Ems by which a line may seem too long only because lengths were rounded."""


class Word(Struct, frozen=True):
    """What no line end may part: its length, the space that follows it on a line, and whether the line ends with it."""

    length: float
    space: float
    ends_line: bool = False
    text: str = ""


class MeasuredParagraph(Struct, frozen=True, dict=True):
    """Words set in one measure. `inset` is what indents take of the column, `line` the height of one line.

    An `elastic` paragraph's lines open with the page's leading; a heading's do not.
    """

    words: tuple[Word, ...]
    inset: float
    line: float
    elastic: bool

    @cached_property
    def longest(self) -> float:
        return self.inset + max((word.length for word in self.words), default=0.0)

    def lines(self, width: float) -> int:
        """How many lines in a column `width` ems wide."""
        room = width - self.inset + _HAIR
        count, used = 0, 0.0
        fresh = True
        for word in self.words:
            if fresh or used + word.length > room:
                count += 1
                used = 0.0
            used += word.length + word.space
            fresh = word.ends_line
        return count


class Block(Struct, frozen=True, dict=True):
    """Words that stand together in one column. `fixed` is the height of all that is no line: space, rules, padding.

    `parts` are words that may be added to it, by name.
    """

    name: str
    paragraphs: tuple[MeasuredParagraph, ...]
    fixed: float
    parts: Mapping[str, Block] = {}

    def with_parts(self, names: Iterable[str]) -> Block:
        """The block with those of its parts."""
        chosen = [self.parts[name] for name in names]
        paragraphs = (*self.paragraphs, *(paragraph for part in chosen for paragraph in part.paragraphs))
        return Block(self.name, paragraphs, self.fixed + sum(part.fixed for part in chosen))

    @cached_property
    def longest(self) -> float:
        """The narrowest column it can stand in: its longest word with its indent."""
        return max((paragraph.longest for paragraph in self.paragraphs), default=0.0)

    @property
    def indent(self) -> float:
        """What all of it is indented by."""
        return min((paragraph.inset for paragraph in self.paragraphs), default=0.0)

    @property
    def longest_word(self) -> str:
        """That word as it is read."""
        widest = max(self.paragraphs, key=lambda paragraph: paragraph.longest)
        return max(widest.words, key=lambda word: word.length).text

    @property
    def words(self) -> int:
        return sum(len(paragraph.words) for paragraph in self.paragraphs)


class Heights:
    """Heights of blocks by column width, each counted once."""

    def __init__(self) -> None:
        self._counted: dict[tuple[int, float], tuple[float, float]] = {}
        self._blocks: list[Block] = []

    def of(self, block: Block, width: float, leading: float) -> float:
        """The height in ems in a column of `width` ems, lines opened by the factor `leading`."""
        key = id(block), round(width, 4)
        counted = self._counted.get(key)
        if counted is None:
            # Kept, so that no other block comes to have its identity.
            self._blocks.append(block)
            counted = self._counted[key] = _stiff_and_elastic(block.paragraphs, width)
        stiff, elastic = counted
        return block.fixed + stiff + elastic * leading


def _stiff_and_elastic(paragraphs: Sequence[MeasuredParagraph], width: float) -> tuple[float, float]:
    stiff = elastic = 0.0
    for paragraph in paragraphs:
        height = paragraph.lines(width) * paragraph.line
        if paragraph.elastic:
            elastic += height
        else:
            stiff += height
    return stiff, elastic
