"""What stands where in the text of a recipe, however much of it is broken: sections, entries, facts, steps.

The house's own readers of lines and chapters say what is what; what they complain of is of no matter here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.indents import even_lines
from foldwright.recipe.facts.known import Known, one_line_facts
from foldwright.recipe.facts.lines import FactLine, ValueKind
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.source import split
from foldwright.recipe.facts.supplies import SUPPLY_WORDS
from foldwright.recipe.pieces.piece import PIECE_WORDS
from foldwright.recipe.prose.body import STEP_WORDS
from foldwright.recipe.prose.chapters import Chapter, read_chapters, section_kind
from foldwright.recipe.reading import RECIPE_WORDS, SECTIONS
from foldwright.recipe.words import SectionKind

KNOWN_OF = {"supplies": SUPPLY_WORDS, "pieces": PIECE_WORDS}
"""The facts an entry of a section may have."""
_FENCES = ("```", "~~~")

type Span = tuple[int, int]
"""Offsets into the text: from the first up to, not including, the second."""


class FactPlace(Struct, frozen=True):
    """A fact: its `word` as the house has it, and where its value stands.

    `whole` is all of its lines; of one that shares its line with others (`shared`) it is what stands between commas.
    """

    word: str
    whole: Span
    value: Span
    shared: bool = False


class EntryPlace(Struct, frozen=True):
    """A supply, tool, piece or size, in whole lines. `inset` is what the lines of its facts begin with."""

    name: str
    whole: Span
    inset: str
    facts: tuple[FactPlace, ...] = ()

    def fact(self, word: str) -> FactPlace | None:
        """The fact of that word; None where it has none."""
        return next((fact for fact in self.facts if fact.word == word), None)


class SectionPlace(Struct, frozen=True):
    """`supplies:` and all that stands under it, in whole lines. `inset` is what the lines of its entries begin with.

    One that is `closed` is written between braces, so that no line can stand under it.
    """

    word: str
    whole: Span
    inset: str
    entries: tuple[EntryPlace, ...] = ()
    closed: bool = False


class StepPlace(Struct, frozen=True):
    """A step from the line of its heading up to the next heading. `number` counts from 1.

    `block` is where the lines of its facts stand, without the fences about them (`fenced`); None where it has neither.
    """

    number: int
    heading: str
    start: int
    end: int
    block: Span | None
    facts: tuple[FactPlace, ...] = ()
    fenced: bool = False

    def fact(self, word: str) -> FactPlace | None:
        """The fact of that word; None where it has none."""
        return next((fact for fact in self.facts if fact.word == word), None)


class ChapterPlace(Struct, frozen=True):
    """Tips, notes and their like, from the line of the heading up to the next."""

    kind: SectionKind
    start: int
    end: int


class Places(Struct, frozen=True):
    """All places of one text. `front` is where the facts stand, None where the text has none; `body` where the words
    begin."""

    front: Span | None
    body: int
    facts: tuple[FactPlace, ...]
    sections: dict[str, SectionPlace]
    steps: tuple[StepPlace, ...]
    chapters: tuple[ChapterPlace, ...]


def places_of(text: str) -> Places:
    """Everything that stands in a text, by its place."""
    text = with_plain_ends(text)
    parts = split(text)
    front = None if parts.slip == "no-facts" else (parts.front_offset, parts.front_offset + len(parts.front))
    groups = _at_top(_lines(parts.front, parts.front_offset))
    sections = {
        word: _section(word, line, below, text)
        for word, line, below in reversed(groups)
        if word in SECTIONS and (below or line.header or word != "sizes")
    }
    facts = tuple(_fact(word, line, below, text) for word, line, below in groups)
    steps, chapters = _steps_and_chapters(text, parts.body, parts.body_offset)
    return Places(front, parts.body_offset, facts, sections, steps, chapters)


def steps_of(text: str) -> tuple[StepPlace, ...]:
    """The steps of a text, in their order."""
    text = with_plain_ends(text)
    parts = split(text)
    return _steps_and_chapters(text, parts.body, parts.body_offset)[0]


def step_at(text: str, offset: int) -> StepPlace | None:
    """The step an offset stands in, its heading's line included; None in what is no step."""
    return next(
        (step for step in steps_of(text) if step.start <= offset < step.end or step.end == offset == len(text)), None
    )


def with_plain_ends(text: str) -> str:
    """The same text with line ends of one character, every other character at its own offset."""
    return text.replace("\r\n", " \n").replace("\r", "\n") if "\r" in text else text


def line_start(text: str, at: int) -> int:
    """Where the line begins that an offset is on."""
    return text.rfind("\n", 0, at) + 1


def line_after(text: str, at: int) -> int:
    """Where the line after it begins; the end of the text after the last."""
    return text.find("\n", at) + 1 or len(text)


# --- facts ----------------------------------------------------------------------------------------------------------


def _lines(text: str, offset: int) -> list[FactLine]:
    return even_lines(text, "", offset, Complaints())


def _groups(lines: Sequence[FactLine]) -> Iterator[tuple[FactLine, Sequence[FactLine]]]:
    """Each line that stands under no other of them, and those under it."""
    at = 0
    while at < len(lines):
        end = at + 1
        while end < len(lines) and is_below(lines[end].indent, bool(lines[end].dash), lines[at]):
            end += 1
        yield lines[at], lines[at + 1 : end]
        at = end


def is_below(indent: int, dash: bool, above: FactLine) -> bool:
    """Whether a line so far in stands under another. Dashes may stand right under the word they belong to."""
    return indent >= above.indent if dash and not above.dash else indent > above.indent


def _at_top(lines: Sequence[FactLine]) -> list[tuple[str, FactLine, Sequence[FactLine]]]:
    """The facts at the top by their words; entries that were not pushed in stand under their section all the same."""
    found: list[tuple[str, FactLine, Sequence[FactLine]]] = []
    for line, below in _groups(lines):
        word = (RECIPE_WORDS.word_of(line.key.text) or "") if line.key else ""
        if found and not word and line.key and _is_open(*found[-1]):
            word, section, others = found.pop()
            found.append((word, section, [*others, line, *below]))
        else:
            found.append((word, line, below))
    return found


def _is_open(word: str, line: FactLine, below: Sequence[FactLine]) -> bool:
    return word in SECTIONS and line.header and all(one.indent <= line.indent for one in below[:1])


def _section(word: str, line: FactLine, below: Sequence[FactLine], text: str) -> SectionPlace:
    known = KNOWN_OF.get(word)
    entries = tuple(_entry(first, others, known, text) for first, others in _groups(below))
    end = entries[-1].whole[1] if entries else line_after(text, _end_of(line))
    dash = "- " if below and below[0].dash else ""
    inset = (
        _blank_before(below[0], text) + dash
        if below
        else _blank_before(line, text) + ("  - " if word == "tools" else "  ")
    )
    return SectionPlace(word, (_start_of(line, text), end), inset, entries, line.kind is ValueKind.FLOW)


def _entry(line: FactLine, below: Sequence[FactLine], known: Known | None, text: str) -> EntryPlace:
    name = line.key or line.value
    facts = tuple(_facts_of(line, below, known, text)) if known else ()
    inset = _blank_before(below[0], text) if below else " " * line.dash + _blank_before(line, text) + "  "
    last = below[-1] if below else line
    return EntryPlace(
        name.plain if name else "", (_start_of(line, text), line_after(text, _end_of(last))), inset, facts
    )


def _facts_of(line: FactLine, below: Sequence[FactLine], known: Known, text: str) -> Iterator[FactPlace]:
    """Those that share the entry's own line, then those on lines of their own."""
    if line.value and line.key:
        for fact in one_line_facts(line.value, known, Complaints()):
            yield FactPlace(fact.word, (fact.key.start, fact.value.end), (fact.value.start, fact.value.end), True)
    for first, others in _groups(below):
        word = known.word_of(first.key.text) if first.key else None
        yield _fact(word or "", first, others, text)


def _fact(word: str, line: FactLine, below: Sequence[FactLine], text: str) -> FactPlace:
    end = _end_of(below[-1] if below else line)
    begin = _value_start(line, below)
    return FactPlace(word, (_start_of(line, text), line_after(text, end)), (begin, max(begin, end)))


def _value_start(line: FactLine, below: Sequence[FactLine]) -> int:
    if line.value:
        return line.value.start
    return below[0].phrase.start if below else line.phrase.end


def _end_of(line: FactLine) -> int:
    """Where the last of what it says ends."""
    return max(line.phrase.end, line.value.end) if line.value else line.phrase.end


def _start_of(line: FactLine, text: str) -> int:
    return line_start(text, line.phrase.start)


def _blank_before(line: FactLine, text: str) -> str:
    return text[_start_of(line, text) : line.phrase.start]


# --- words ----------------------------------------------------------------------------------------------------------


def _steps_and_chapters(text: str, body: str, offset: int) -> tuple[tuple[StepPlace, ...], tuple[ChapterPlace, ...]]:
    found = read_chapters(body, "", offset, tuple(STEP_WORDS.spellings), Complaints())[1:]
    starts = [line_start(text, chapter.title.start) for chapter in found]
    steps: list[StepPlace] = []
    chapters: list[ChapterPlace] = []
    for chapter, start, end in zip(found, starts, [*starts, len(text)][1:], strict=True):
        kind = section_kind(chapter.title.text)
        if kind is None:
            steps.append(_step(len(steps) + 1, chapter, start, end, text))
        else:
            chapters.append(ChapterPlace(kind, start, end))
    return tuple(steps), tuple(chapters)


def _step(number: int, chapter: Chapter, start: int, end: int, text: str) -> StepPlace:
    facts = tuple(_step_facts(chapter.facts, text))
    fenced = _is_fenced(chapter, text)
    block = (chapter.facts.start, chapter.facts.end) if chapter.facts.text or fenced else None
    return StepPlace(number, chapter.title.plain, start, end, block, facts, fenced)


def _step_facts(lines: Phrase, text: str) -> Iterator[FactPlace]:
    for line, below in _groups(_lines(lines.text, lines.start)):
        word = STEP_WORDS.word_of(line.key.text) if line.key else None
        yield _fact(word or "", line, below, text)


def _is_fenced(chapter: Chapter, text: str) -> bool:
    """Whether a fence opens on the line before the facts, which may be none."""
    before = line_start(text, max(chapter.facts.start - 1, 0))
    return text[before : chapter.facts.start].lstrip(" ").startswith(_FENCES)
