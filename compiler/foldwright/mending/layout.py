"""Where things stand in the facts: the lines of an entry, the top, a section; and what adds to them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cached_property, lru_cache

from msgspec import Struct

from foldwright.finding.changes import Change
from foldwright.recipe.facts.source import split
from foldwright.recipe.reading import RECIPE_WORDS, SECTIONS

_LINE = re.compile(r"^(?P<blank>[^\S\n]*)(?P<said>[^\s#][^\n]*)$", re.MULTILINE)
"""A line that says something: no remark alone, and not empty."""
_REMARK = re.compile(r"(?:[^\S\n]{2,}|\t)#[^\n]*$|[^\S\n]+$")
_WORD = re.compile(r"(?:-[^\S\n]+)?(?P<word>[^:\n]*?)\s*:(?=\s|$)[^\S\n]*")
_DASH = re.compile(r"-[^\S\n]+")
_TAB = 4
"""Columns, as most editors show it; deeper than the two spaces most recipes are pushed in by."""


class FactRow(Struct, frozen=True):
    """A line of the facts: where its first character stands, where it ends without a remark and with it."""

    start: int
    end: int
    line_end: int
    blank: str
    said: str
    """Without its remark."""

    @property
    def indent(self) -> int:
        return len(self.blank.expandtabs(_TAB))

    @property
    def line_start(self) -> int:
        return self.start - len(self.blank)

    @property
    def word(self) -> str:
        """What stands before its colon; empty when it has none."""
        found = _WORD.match(self.said)
        return found["word"] if found else ""

    @property
    def value(self) -> str:
        """What stands after its colon, or all of it."""
        found = _WORD.match(self.said)
        return self.said[found.end() :] if found else self.said


class FactRows:
    """The lines of the facts at the top of a recipe, in their order."""

    def __init__(self, text: str) -> None:
        parts = split(text)
        self.end = parts.front_offset + len(parts.front)
        self.rows = list(_rows(parts.front, parts.front_offset))
        self.plain = bool(self.rows) and self.rows[0].said[0] not in "{["
        """Not in braces as a whole."""

    def at(self, offset: int) -> int | None:
        """The number of the line that holds an offset."""
        numbers = (number for number, row in enumerate(self.rows) if row.line_start <= offset <= row.end)
        return next(numbers, None)

    def below(self, number: int) -> list[FactRow]:
        """The lines that stand under a line."""
        top = self.rows[number]
        below: list[FactRow] = []
        for row in self.rows[number + 1 :]:
            level = row.indent == top.indent and _DASH.match(row.said) and not _DASH.match(top.said) and not top.value
            if row.indent <= top.indent and not level:
                break
            below.append(row)
        return below

    def chain(self, number: int) -> list[int]:
        """The line and those it stands under, the outermost first."""
        chain = [number]
        for above in range(number - 1, -1, -1):
            if self.rows[above].indent < self.rows[chain[0]].indent:
                chain.insert(0, above)
        return chain

    def entry(self, offset: int) -> int | None:
        """The line that begins the supply or piece which a place belongs to, be it one that a size changes."""
        number = self.at(offset)
        chain = self.chain(number) if number is not None else []
        depth = 2 if chain and RECIPE_WORDS.word_of(self.rows[chain[0]].word) == "sizes" else 1
        return chain[depth] if len(chain) > depth else None

    def extent(self, offset: int) -> tuple[int, int]:
        """From the name of the entry that a place belongs to, to the end of its last line; nothing without one."""
        number = self.entry(offset)
        if number is None:
            return offset, offset
        return self.rows[number].start, (self.below(number) or [self.rows[number]])[-1].end

    def top(self, word: str) -> int | None:
        """The line of a fact of the whole, by its own word."""
        return self._tops.get(word)

    @cached_property
    def _tops(self) -> Mapping[str, int]:
        outermost = min((row.indent for row in self.rows), default=0)
        numbers = reversed([number for number, row in enumerate(self.rows) if row.indent == outermost])
        words = ((RECIPE_WORDS.word_of(self.rows[number].word), number) for number in numbers)
        return {word: number for word, number in words if word}

    def with_fact(self, offset: int, fact: str) -> Change | None:
        """A fact (`flaps: joined to front and back`) added to the entry that a place belongs to."""
        number = self.entry(offset)
        if number is None:
            return None
        row, below = self.rows[number], self.below(number)
        word = fact.partition(":")[0]
        if re.search(rf"\b{word}\b", row.value) or any(one.word == word for one in below):
            # What it says there could not be read, and is told of.
            return None
        if below:
            return _after(below[-1], f"\n{below[0].blank}{fact}") if below[-1].said[0] not in "}]" else None
        if not row.value:
            return _after(row, f"\n{row.blank}  {fact}")
        inline = ", " + fact.replace(":", "", 1)
        inside = 1 if row.value.endswith("}") else 0
        return Change(row.end - inside, row.end - inside, inline) if row.value[-1] not in "\"']" else None

    def with_top(self, line: str) -> Change | None:
        """A fact of the whole: in the place of what the recipe says so far, or on a line of its own."""
        if not self.plain:
            return None
        word, _, value = line.partition(": ")
        number = self.top(word)
        if number is not None and not self.below(number) and (row := self.rows[number]).value:
            return Change(row.end - len(row.value), row.end, value)
        if number is not None:
            return None
        first = min((found for section in SECTIONS if (found := self.top(section)) is not None), default=None)
        if first is None:
            return _after(self.rows[-1], f"\n{self.rows[0].blank}{line}")
        row = self.rows[first]
        return Change(row.line_start, row.line_start, f"{row.blank}{line}\n")

    def with_named(self, word: str, name: str) -> Change | None:
        """A name added to a list of names (`tools:`, `hush:`), which is begun where there is none."""
        if not self.plain:
            return None
        number = self.top(word)
        if number is None:
            return self.with_top(f"{word}: {name}")
        row, below = self.rows[number], self.below(number)
        last = below[-1] if below else row
        if last.said[-1] in "\"'}":
            return None
        if last.said[-1] == "]":
            return Change(last.end - 1, last.end - 1, f", {name}")
        if row.value or (len(below) == 1 and "," in below[0].said):
            return Change(last.end, last.end, f", {name}")
        dash = _DASH.match(below[0].said) if below else None
        blank = below[0].blank if below else row.blank + "  "
        return _after(last, f"\n{blank}{dash[0] if dash else ''}{name}")


@lru_cache(maxsize=4)
def fact_rows(text: str) -> FactRows:
    """The lines of a text, which has many findings as a rule: gone through once."""
    return FactRows(text)


def _rows(front: str, offset: int) -> Iterator[FactRow]:
    for line in _LINE.finditer(front):
        remark = _REMARK.search(line["said"])
        said = line["said"][: remark.start()] if remark else line["said"]
        start = offset + line.start("said")
        yield FactRow(start, start + len(said), offset + line.end(), line["blank"], said)


def _after(row: FactRow, new: str) -> Change:
    return Change(row.line_end, row.line_end, new)
