"""The words of a recipe cut at their headings: what stands before the first, then a chapter for each `##`.

Plain line work, done before any Markdown is read, so that one unclosed block cannot swallow the rest of a recipe.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from foldwright.recipe.complaints import Complaints, nearest
from foldwright.recipe.phrase import Phrase
from foldwright.recipe.sections import section_kind


@dataclass(frozen=True, slots=True)
class Chapter:
    """`title` is the text of its `##` line, empty before the first; `facts` and `words` may be empty too."""

    title: Phrase
    facts: Phrase
    words: Phrase


_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|$)")
_HEADING = re.compile(r" {0,3}(?P<marks>##?)(?:[ \t]+|(?<=##)(?=[^\W\d_])|$)(?P<text>.*?)(?:[ \t]+#+)?[ \t]*$")
_FENCE = re.compile(r" {0,3}(?P<marks>`{3,}|~{3,})[ \t]*(?P<info>[^`]*?)[ \t]*$")
_FACT = re.compile(r" {0,3}(?P<word>[A-Za-z](?:[A-Za-z ]{0,20}[A-Za-z])?)[ \t]*:(?!//)")
_MORE_OF_A_FACT = re.compile(r"(?: {2,}|\t)\S|[ \t]*#")


@dataclass(frozen=True, slots=True)
class _Line:
    text: str
    start: int
    end: int
    """After its line end."""


@dataclass(frozen=True, slots=True)
class _Fence:
    line: int
    marks: str
    info: str

    @property
    def holds_facts(self) -> bool:
        return self.info.casefold().split()[:1] == ["step"]

    def closed_by(self, later: _Fence) -> bool:
        return later.marks.startswith(self.marks) and not later.info


def read_chapters(text: str, file: str, offset: int, known: Sequence[str], complaints: Complaints) -> list[Chapter]:
    """Cut the words that begin at `offset`; `known` are the words that may begin a line of facts beneath a heading."""
    lines = [_Line(found[0].rstrip("\r\n"), found.start(), found.end()) for found in _LINE.finditer(text) if found[0]]
    fences = _closed_fences(lines)
    headings = list(_headings(lines, fences))
    # A recipe whose steps all begin with a single # is understood, and asked to use two.
    marks = "##" if any(found["marks"] == "##" for _, found in headings) else "#"
    cut = _Cutter(text, file, offset, known, complaints)
    chapters: list[Chapter] = []
    title: Phrase | None = None
    first = 0
    for number, found in headings:
        phrase = cut.phrase(lines[number].start + found.start("text"), lines[number].start + found.end("text"))
        if found["marks"] == "#":
            complaints.thought("single-number-sign", phrase, is_step=marks == "#")
        if found["marks"] != marks:
            continue
        chapters.append(cut.chapter(title, lines[first:number]))
        title, first = phrase, number + 1
    chapters.append(cut.chapter(title, lines[first:]))
    return chapters


def _headings(lines: list[_Line], fences: dict[int, int]) -> Iterator[tuple[int, re.Match[str]]]:
    """Lines that begin with `#` or `##`, outside of blocks between fences."""
    number = 0
    while number < len(lines):
        text = lines[number].text
        number = fences.get(number, number)
        if "#" in text and (found := _HEADING.match(text)):
            yield number, found
        number += 1


def _closed_fences(lines: list[_Line]) -> dict[int, int]:
    """The line of each opening fence that is closed, to the line that closes it.

    A block of facts holds no `##` line: one that seems to lacks its closing fence.
    """
    fences = [fence for number, line in enumerate(lines) if (fence := _fence(number, line.text))]
    steps = [number for number, line in enumerate(lines) if line.text.lstrip().startswith("##")]
    closing: dict[int, int] = {}
    # Marks as long as one that was never closed are not closed either; without this, many would be slow.
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


def _before(fences: list[_Fence], first: int, limit: int) -> Iterator[_Fence]:
    for number in range(first, len(fences)):
        if fences[number].line >= limit:
            return
        yield fences[number]


def _fence(number: int, text: str) -> _Fence | None:
    if "```" not in text and "~~~" not in text:
        return None
    found = _FENCE.match(text)
    return _Fence(number, found["marks"], found["info"]) if found else None


class _Cutter:
    """Tells the facts of a chapter from its words."""

    def __init__(self, text: str, file: str, offset: int, known: Sequence[str], complaints: Complaints) -> None:
        self._text = text
        self._file = file
        self._offset = offset
        self._known = frozenset(known)
        self._complaints = complaints

    def phrase(self, start: int, end: int) -> Phrase:
        return Phrase(self._text[start:end], self._file, self._offset + start)

    def chapter(self, title: Phrase | None, lines: list[_Line]) -> Chapter:
        """What stands between one heading and the next; `title` is None before the first."""
        if not lines:
            nothing = Phrase("", self._file, title.end if title else self._offset)
            return Chapter(title or nothing, nothing, nothing)
        blocks = [fence for number, line in enumerate(lines) if (fence := _fence(number, line.text))]
        block = next((fence for fence in blocks if fence.holds_facts), None)
        if block:
            return self._with_block(title, lines, block, blocks)
        first = next((number for number, line in enumerate(lines) if line.text.strip()), len(lines))
        after = first
        if title is not None and section_kind(title.text) is None:
            after = self._end_of_facts(lines, first, plain=True)
        return self._cut(title, lines, (first, first, after, after))

    def _with_block(self, title: Phrase | None, lines: list[_Line], block: _Fence, blocks: list[_Fence]) -> Chapter:
        end = next((fence.line for fence in blocks if fence.line > block.line and block.closed_by(fence)), None)
        opening = lines[block.line]
        if end is None:
            self._complaints.fault(
                "step-block-not-closed", self.phrase(opening.start, opening.start + len(opening.text))
            )
            after = self._end_of_facts(lines, block.line + 1, plain=False)
            return self._cut(title, lines, (block.line, block.line + 1, after, after))
        second = next((fence for fence in blocks if fence.line > end and fence.holds_facts), None)
        if second:
            line = lines[second.line]
            self._complaints.fault("second-step-block", self.phrase(line.start, line.start + len(line.text)))
        return self._cut(title, lines, (block.line, block.line + 1, end, end + 1))

    def _end_of_facts(self, lines: list[_Line], first: int, plain: bool) -> int:
        """The number of the first line that is no fact; `plain` lines need a word that is known, or nearly."""
        after = first
        for number in range(first, len(lines)):
            text = lines[number].text
            found = _FACT.match(text)
            if found and (not plain or self._is_known(found["word"])):
                after = number + 1
            elif not (after > first and after == number and _MORE_OF_A_FACT.match(text)):
                break
            else:
                after = number + 1
        return after

    def _is_known(self, word: str) -> bool:
        plain = " ".join(word.casefold().split())
        return plain in self._known or (word[0].islower() and bool(nearest(plain, self._known)))

    def _cut(self, title: Phrase | None, lines: list[_Line], cuts: tuple[int, int, int, int]) -> Chapter:
        """The chapter when line numbers say where its block, its facts, the end of them, and the words after begin.

        Words may stand before the block too; then it is blanked, so that all words keep their places.
        """
        starts = [line.start for line in lines] + [lines[-1].end]
        block, first, after, rest = (starts[number] for number in cuts)
        words = self.phrase(rest, starts[-1])
        before = self._text[starts[0] : block]
        if before.strip():
            blank = re.sub(r"[^\r\n]", " ", self._text[block:rest])
            words = Phrase(before + blank + words.text, self._file, self._offset + starts[0])
        return Chapter(title or self.phrase(0, 0), self.phrase(first, after), words)
