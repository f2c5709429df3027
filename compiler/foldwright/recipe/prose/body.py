"""The words of a recipe: what stands before the first step, the steps, and the sections that are no steps."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.finding import Finding, Place
from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.limits import MOST_STEPS
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.model import Said, Section, SectionKind, Step, Wait
from foldwright.recipe.prose.chapters import Chapter, read_chapters, section_kind
from foldwright.recipe.prose.doings import DoingNames
from foldwright.recipe.prose.inline import Lines, WordNotes, is_marked, plain_text, read_inline
from foldwright.recipe.prose.markdown import LINE_END, read_words
from foldwright.recipe.prose.step_facts import KNOWN, read_step
from foldwright.recipe.words import Block, Inline, NotMeasured, Paragraph, Strong, Text
from foldwright.vocabulary.names import plain_words

_TIP = re.compile(r"(tip|caution):\s*", re.IGNORECASE)


class ReadBody(Struct, frozen=True):
    """The words of a recipe, read. `not_measured` is what looked like a measure and was passed over, in text order."""

    intro: tuple[Block, ...]
    steps: tuple[Step, ...]
    sections: tuple[Section, ...]
    findings: tuple[Finding, ...]
    not_measured: tuple[NotMeasured, ...] = ()


def read_body(
    text: str, file: str, body_offset: int, piece_names: Sequence[str], supply_names: Sequence[str] = ()
) -> ReadBody:
    """Read the words, `text`, which begin at `body_offset` in the file; the names are those of the facts."""
    notes = WordNotes(file)
    intro, *chapters = read_chapters(text, file, body_offset, tuple(KNOWN.spellings), notes.complaints)
    if intro.facts.text.strip():
        notes.complaints.fault("step-block-without-heading", _first_line(intro.facts))
    intro_words = read_words(intro.words.text, intro.words.start, notes)
    names = DoingNames(piece_names, supply_names)
    steps: list[tuple[Step, Phrase | None]] = []
    sections: list[Section] = []
    for chapter in _no_more_than_allowed(chapters, notes.complaints):
        kind = section_kind(chapter.title.text)
        if kind is None:
            steps.append(_step(len(steps) + 1, chapter, names, notes))
        else:
            sections.append(_section(kind, chapter, notes))
    if not steps:
        notes.complaints.fault("no-steps", Place(file, body_offset, body_offset))
    return ReadBody(
        intro_words,
        _with_meanwhile(steps, notes.complaints),
        tuple(sections),
        tuple(notes.complaints.findings),
        tuple(notes.not_measured),
    )


def _no_more_than_allowed(chapters: list[Chapter], complaints: Complaints) -> list[Chapter]:
    if len(chapters) > MOST_STEPS:
        complaints.fault("too-many-steps", chapters[MOST_STEPS].title, most=MOST_STEPS, count=len(chapters))
    return chapters[:MOST_STEPS]


def _section(kind: SectionKind, chapter: Chapter, notes: WordNotes) -> Section:
    if chapter.facts.text.strip():
        notes.complaints.fault("step-block-in-section", _first_line(chapter.facts), heading=chapter.title.plain)
    return Section(kind, _heading(chapter.title), read_words(chapter.words.text, chapter.words.start, notes))


def _step(number: int, chapter: Chapter, names: DoingNames, notes: WordNotes) -> tuple[Step, Phrase | None]:
    heading = _heading(chapter.title)
    if not heading.value:
        notes.complaints.thought("heading-empty", heading.place, number=number)
    step, meanwhile = read_step(number, heading, chapter.facts, names, notes)
    words = read_words(chapter.words.text, chapter.words.start, notes)
    return _with_own_tips(step, words, chapter.words.place), meanwhile


def _heading(title: Phrase) -> Said[str]:
    """The heading's words without marks; a measure in a heading stays as the author wrote it."""
    if not is_marked(title.text):
        return Said(title.plain, title.place)
    children = read_inline(title.text, Lines((0,), (title.start,)), WordNotes(title.file), {})
    return Said(" ".join(plain_text(children).split()), title.place)


def _first_line(facts: Phrase) -> Phrase:
    return next(facts.part(0).split(LINE_END))


def _with_own_tips(step: Step, words: tuple[Block, ...], place: Place) -> Step:
    """The step with its words. A paragraph that begins `Tip:` or `Caution:` is one, unless the facts have it."""
    found = {"tip": step.tip, "caution": step.caution}
    kept: list[Block] = []
    for block in words:
        word, rest = _opening_word(block)
        if word and found[word] is None:
            found[word] = Said((Paragraph(rest),), place)
        else:
            kept.append(block)
    return replace(step, tip=found["tip"], caution=found["caution"], words=tuple(kept))


def _opening_word(block: Block) -> tuple[str, tuple[Inline, ...]]:
    """`tip` or `caution` and the runs behind its colon; empty for any other paragraph."""
    if not isinstance(block, Paragraph) or not block.children:
        return "", ()
    first, *rest = block.children
    text = first.children[0] if isinstance(first, Strong) and len(first.children) == 1 else first
    opening = _TIP.match(text.text) if isinstance(text, Text) else None
    if opening is None or not isinstance(text, Text):
        return "", ()
    if text is not first and rest and isinstance(rest[0], Text):
        rest[0] = replace(rest[0], text=rest[0].text.lstrip())
    left = text.text[opening.end() :]
    return opening[1].lower(), (*((Text(left),) if left else ()), *rest)


def _with_meanwhile(steps: list[tuple[Step, Phrase | None]], complaints: Complaints) -> tuple[Step, ...]:
    """The steps, each `meanwhile` turned into the heading it names."""
    headings = [step.heading.value for step, _ in steps]
    finished: list[Step] = []
    for step, said in steps:
        if said is not None and step.wait is not None:
            others = [heading for heading in headings if heading != step.heading.value]
            heading = _heading_named(said, others, complaints)
            step = replace(step, wait=replace(step.wait, value=Wait(step.wait.value.seconds, heading)))
        finished.append(step)
    return tuple(finished)


def _heading_named(said: Phrase, headings: Sequence[str], complaints: Complaints) -> str:
    """The heading a name means: the same words, or the only one that has all of them; else empty, and told of."""
    words = plain_words(said.plain)
    same = [heading for heading in headings if plain_words(heading) == words]
    holding = [heading for heading in headings if set(words) <= set(plain_words(heading))]
    if same or (words and len(holding) == 1):
        return (same or holding)[0]
    if len(holding) > 1 and words:
        complaints.fault("meanwhile-unclear", said, headings=tuple(holding))
    elif near := nearest(said.plain, headings, 0.4):
        complaints.fault("meanwhile-unknown-near", said, nearest=near)
    else:
        complaints.fault("meanwhile-unknown", said)
    return ""
