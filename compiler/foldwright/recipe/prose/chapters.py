"""The words of a recipe cut at their headings: what stands before the first, then a chapter for each `##`.

Plain line work, done before any Markdown is read, so that one unclosed block cannot swallow the rest of a recipe.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence

from msgspec import Struct

from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.words import SectionKind


class Chapter(Struct, frozen=True):
    """`title` is the text of its `##` line, empty before the first; `facts` and `words` may be empty too."""

    title: Phrase
    facts: Phrase
    words: Phrase


_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|$)")
_HEADING = re.compile(r" {0,3}(?P<marks>##?)(?:[ \t]+|(?<=##)(?=[^\W\d_])|$)(?P<text>.*?)(?:[ \t]+#+)?[ \t]*$")
_FENCE = re.compile(r" {0,3}(?P<marks>`{3,}|~{3,})[ \t]*(?P<info>[^`]*?)[ \t]*$")
_FACT = re.compile(r" {0,3}(?P<word>[A-Za-z](?:[A-Za-z ]{0,20}[A-Za-z])?)[ \t]*:(?!//)")
_MORE_OF_A_FACT = re.compile(r"(?: {2,}|\t)\S|[ \t]*#")
_KINDS = {
    "tip": SectionKind.TIPS,
    "note": SectionKind.NOTES,
    "variation": SectionKind.VARIATIONS,
    "for the teacher": SectionKind.TEACHER,
    "for teacher": SectionKind.TEACHER,
    "before you start": SectionKind.BEFORE,
    "before you begin": SectionKind.BEFORE,
}
_ENDS = re.compile(r"^[\s*_]+|[\s*_:.!]+$")


def section_kind(heading: str) -> SectionKind | None:
    """Which section a heading begins; None when it is a step. Capitals, a plural and a colon do not matter."""
    plain = " ".join(_ENDS.sub("", heading).casefold().split())
    return _KINDS.get(plain) or _KINDS.get(plain.removesuffix("s"))


class _BodyLine(Struct, frozen=True):
    text: str
    start: int
    end: int
    """After its line end."""


class _CodeFence(Struct, frozen=True):
    line: int
    marks: str
    info: str

    @property
    def holds_facts(self) -> bool:
        return self.info.casefold().split()[:1] == ["step"]

    def closed_by(self, later: _CodeFence) -> bool:
        return later.marks.startswith(self.marks) and not later.info


def read_chapters(text: str, file: str, offset: int, known: Sequence[str], complaints: Complaints) -> list[Chapter]:
    """Cut the words that begin at `offset`; `known` are the words that may begin a line of facts beneath a heading."""
    cut = _Cutter(text, file, offset, frozenset(known), complaints)
    headings = list(cut.headings())
    # A recipe whose steps all begin with a single # is understood, and asked to use two.
    marks = "##" if any(found["marks"] == "##" for _, found in headings) else "#"
    chapters: list[Chapter] = []
    title: Phrase | None = None
    first = 0
    for number, found in headings:
        said = cut.part_of_line(number, found.start("text"), found.end("text"))
        if found["marks"] == "#":
            complaints.thought("single-number-sign", said, is_step=marks == "#")
        if found["marks"] == marks:
            chapters.append(cut.chapter(title, first, number))
            title, first = said, number + 1
    chapters.append(cut.chapter(title, first, cut.count))
    return chapters


def _lines(text: str) -> list[_BodyLine]:
    lines = (found for found in _LINE.finditer(text) if found[0])
    return [_BodyLine(found[0].rstrip("\r\n"), found.start(), found.end()) for found in lines]


def _fences(lines: list[_BodyLine]) -> list[_CodeFence]:
    found = (
        (number, _FENCE.match(line.text)) for number, line in enumerate(lines) if "`" in line.text or "~" in line.text
    )
    return [_CodeFence(number, fence["marks"], fence["info"]) for number, fence in found if fence]


def _closed(fences: list[_CodeFence], lines: list[_BodyLine]) -> dict[int, int]:
    """The line of each opening fence that is closed, to the line that closes it.

    A block of facts holds no `##` line: one that seems to lacks its closing fence.
    """
    steps = [number for number, line in enumerate(lines) if "##" in line.text and line.text.lstrip().startswith("##")]
    closing: dict[int, int] = {}
    # Marks as long as some that were never closed are not closed either; without this, many would be slow.
    unclosed: dict[str, int] = {}
    free_from = 0
    for at, fence in enumerate(fences):
        if fence.line < free_from or len(fence.marks) >= unclosed.get(fence.marks[0], len(fence.marks) + 1):
            continue
        limit = len(lines)
        if fence.holds_facts and (next_step := bisect_right(steps, fence.line)) < len(steps):
            limit = steps[next_step]
        end = next((later.line for later in _before(fences, at + 1, limit) if fence.closed_by(later)), None)
        if end is not None:
            closing[fence.line] = end
            free_from = end + 1
        elif limit == len(lines):
            unclosed[fence.marks[0]] = len(fence.marks)
    return closing


def _before(fences: list[_CodeFence], first: int, limit: int) -> Iterator[_CodeFence]:
    for number in range(first, len(fences)):
        if fences[number].line >= limit:
            return
        yield fences[number]


class _Cutter:
    """Tells headings, facts and words from one another. Lines are spoken of by their numbers, from nought."""

    def __init__(self, text: str, file: str, offset: int, known: frozenset[str], complaints: Complaints) -> None:
        self._text = text
        self._file = file
        self._offset = offset
        self._known = known
        self._complaints = complaints
        self._lines = _lines(text)
        self._fences = _fences(self._lines)
        self._closed = _closed(self._fences, self._lines)
        self.count = len(self._lines)

    def headings(self) -> Iterator[tuple[int, re.Match[str]]]:
        """Lines that begin with `#` or `##`, outside of blocks between fences."""
        ends = iter(sorted(self._closed.items()))
        opened, closed = next(ends, (self.count, self.count))
        for number, line in enumerate(self._lines):
            if number > closed:
                opened, closed = next(ends, (self.count, self.count))
            if "#" in line.text and not opened <= number <= closed:
                found = _HEADING.match(line.text)
                if found:
                    yield number, found

    def part_of_line(self, number: int, start: int, end: int) -> Phrase:
        line = self._lines[number]
        return self._phrase(line.start + start, line.start + end)

    def chapter(self, title: Phrase | None, first: int, after: int) -> Chapter:
        """What stands in the lines from `first` up to `after`; `title` is None before the first heading."""
        if first == after:
            nothing = Phrase("", self._file, title.end if title else self._offset)
            return Chapter(title or nothing, nothing, nothing)
        fences = self._fences[self._fence_from(first) : self._fence_from(after)]
        block = next((fence for fence in fences if fence.holds_facts), None)
        if block:
            return self._with_block(title, first, after, block, fences)
        begin = first
        while begin < after and not self._lines[begin].text.strip():
            begin += 1
        is_step = title is not None and section_kind(title.text) is None
        end = self._end_of_facts(begin, after, plain=True) if is_step else begin
        return self._cut(title, first, after, (begin, begin, end, end))

    def _fence_from(self, line: int) -> int:
        return bisect_left(self._fences, line, key=lambda fence: fence.line)

    def _with_block(
        self, title: Phrase | None, first: int, after: int, block: _CodeFence, fences: list[_CodeFence]
    ) -> Chapter:
        end = next((fence.line for fence in fences if fence.line > block.line and block.closed_by(fence)), None)
        if end is None:
            self._complaints.fault("step-block-not-closed", self._whole_line(block.line))
            end = self._end_of_facts(block.line + 1, after, plain=False)
            return self._cut(title, first, after, (block.line, block.line + 1, end, end))
        second = next((fence for fence in fences if fence.line > end and fence.holds_facts), None)
        if second:
            self._complaints.fault("second-step-block", self._whole_line(second.line))
        return self._cut(title, first, after, (block.line, block.line + 1, end, end + 1))

    def _end_of_facts(self, first: int, limit: int, plain: bool) -> int:
        """The first line that is no fact; `plain` lines need a word that is known, or nearly."""
        for number in range(first, limit):
            text = self._lines[number].text
            found = _FACT.match(text)
            if found and (not plain or self._is_known(found["word"])):
                continue
            if number == first or not _MORE_OF_A_FACT.match(text):
                return number
        return limit

    def _is_known(self, word: str) -> bool:
        plain = " ".join(word.casefold().split())
        return plain in self._known or (word[0].islower() and bool(nearest(plain, self._known)))

    def _cut(self, title: Phrase | None, first: int, after: int, cuts: tuple[int, int, int, int]) -> Chapter:
        """The chapter, when lines say where its block, its facts, the end of them, and the words after begin.

        Words may stand before the block too; then it is blanked, so that all words keep their places.
        """
        block, facts, facts_end, rest = (self._start_of(number) for number in cuts)
        begin, end = self._start_of(first), self._start_of(after)
        words = self._phrase(rest, end)
        before = self._text[begin:block]
        if before.strip():
            blank = re.sub(r"[^\r\n]", " ", self._text[block:rest])
            words = Phrase(before + blank + words.text, self._file, self._offset + begin)
        return Chapter(title or self._phrase(0, 0), self._phrase(facts, facts_end), words)

    def _start_of(self, number: int) -> int:
        return self._lines[number].start if number < self.count else len(self._text)

    def _whole_line(self, number: int) -> Phrase:
        return self.part_of_line(number, 0, len(self._lines[number].text))

    def _phrase(self, start: int, end: int) -> Phrase:
        return Phrase(self._text[start:end], self._file, self._offset + start)
