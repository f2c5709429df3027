"""The words of a recipe: what stands before the first step, the steps, and the sections that are no steps."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.finding import Finding, Place
from foldwright.memory import Memory
from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.durations import read_duration
from foldwright.recipe.facts.known import Fact, Known, gather, spellings_in
from foldwright.recipe.facts.limits import MOST_STEPS
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.structure import Node, read_structure
from foldwright.recipe.facts.values import choice_of, photo_of, read_with, row_of, said_value, text_of, whole_of, yes_of
from foldwright.recipe.model import Said, Step, Wait, When
from foldwright.recipe.prose.chapters import Chapter, read_chapters, section_kind
from foldwright.recipe.prose.doings import DoingNames, read_doings
from foldwright.recipe.prose.inline import Lines, WordNotes, is_marked, plain_text, read_inline
from foldwright.recipe.prose.markdown import LINE_END, read_line, read_words
from foldwright.recipe.words import Block, Inline, NotMeasured, Paragraph, Section, SectionKind, Strong, Text
from foldwright.vocabulary.names import plain_words

STEP_WORDS = Known(
    spellings_in(
        """do; time; measured; get ready: getting ready, setup, set up; when; wait; within; photo; photo shows; video;
        tip: tips; caution: cautions; short; share; with; optional"""
    )
)
"""What may stand under a step's heading, in the order the reference lists it."""

_USUAL = frozenset({"do", "time"})
"""Most steps say no more than what is done and how long it takes."""
_WHEN = spellings_in("in class: during class; before class: before, done before class")
_SIMPLE = re.compile(
    r"(?P<key>[A-Za-z]+(?: [A-Za-z]+)*): +(?P<value>[^\s#\"'|>{\[&*!](?:[^\t\n\r#]*[^\s#])?) *(?:\n|\Z)"
)
_ONLY_SIMPLE = re.compile(rf"(?:{_SIMPLE.pattern.replace('?P<key>', '?:').replace('?P<value>', '?:')})+")
"""Lines that hold a word, a colon and a value, and nothing else to think about: nearly all of them."""
_MEANWHILE = re.compile(r"\s*,?\s*\b(?:meanwhile|carry on with)\b[\s:]*", re.IGNORECASE)
_COUNTED = re.compile(r"(\S+)\s+(\S.*)", re.DOTALL)
_MOST_SHARED = 1000
_TIP = re.compile(r"(tip|caution):\s*", re.IGNORECASE)


_STEPS: Memory[tuple[tuple[Step, Phrase | None], WordNotes]] = Memory(MOST_STEPS)


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
    intro, *chapters = read_chapters(text, file, body_offset, tuple(STEP_WORDS.spellings), notes.complaints)
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
    made_of = chapter, notes.file, tuple(names.pieces), tuple(names.supplies)
    step, own = _STEPS.of(number, made_of, lambda: _step_alone(number, heading, chapter, names, notes.file))
    notes.complaints.findings += own.complaints.findings
    notes.not_measured += own.not_measured
    return step


def _step_alone(
    number: int, heading: Said[str], chapter: Chapter, names: DoingNames, file: str
) -> tuple[tuple[Step, Phrase | None], WordNotes]:
    """A step, its `meanwhile`, and what was noticed in it."""
    notes = WordNotes(file)
    step, meanwhile = _read_step(number, heading, chapter.facts, names, notes)
    words = read_words(chapter.words.text, chapter.words.start, notes)
    return (_with_own_tips(step, words, chapter.words.place), meanwhile), notes


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


def _read_step(
    number: int, heading: Said[str], lines: Phrase, names: DoingNames, notes: WordNotes
) -> tuple[Step, Phrase | None]:
    """A step without its words, from the lines of its block or the plain ones beneath its heading.

    With it come the words of its `meanwhile`, which can be looked up only when all steps are read.
    """
    if not lines.text.strip():
        return Step(number, heading), None
    complaints = notes.complaints
    facts = gather(Node(None, None, _entries(lines, complaints)), STEP_WORDS, complaints)
    do = text_of(facts.get("do"), complaints)
    doings = read_doings(facts["do"].value, names, complaints) if do else ()
    if facts.keys() <= _USUAL:
        return Step(number, heading, do, doings, _duration(facts.get("time"), complaints)), None
    wait, meanwhile = _wait(facts.get("wait"), complaints)
    step = Step(
        number=number,
        heading=heading,
        do=do,
        doings=doings,
        time=_duration(facts.get("time"), complaints),
        measured=_durations(facts.get("measured"), complaints),
        get_ready=_duration(facts.get("get ready"), complaints),
        when=_when(facts.get("when"), complaints),
        wait=wait,
        within=_duration(facts.get("within"), complaints),
        photo=photo_of(facts, complaints),
        video=text_of(facts.get("video"), complaints),
        tip=_prose(facts.get("tip"), notes),
        caution=_prose(facts.get("caution"), notes),
        short=_prose(facts.get("short"), notes),
        share=_share(facts.get("share"), complaints),
        uses=_uses(facts.get("with"), names, complaints),
        optional=yes_of(facts.get("optional"), complaints),
    )
    return step, meanwhile


def _entries(lines: Phrase, complaints: Complaints) -> tuple[Node, ...]:
    if not _ONLY_SIMPLE.fullmatch(lines.text):
        return read_structure(lines.text, lines.file, lines.start, complaints)
    found = _SIMPLE.finditer(lines.text)
    return tuple(Node(_group(lines, line, "key"), _group(lines, line, "value")) for line in found)


def _group(lines: Phrase, found: re.Match[str], name: str) -> Phrase:
    return Phrase(found[name], lines.file, lines.start + found.start(name))


def _duration(fact: Fact | None, complaints: Complaints) -> Said[int] | None:
    return read_with(said_value(fact, complaints), fact.word if fact else "", read_duration, complaints)


def _durations(fact: Fact | None, complaints: Complaints) -> tuple[Said[int], ...]:
    """`4 min, 3 min 40 s`: one after another; what is none is complained of, and the others count."""
    parts = row_of(said_value(fact, complaints))
    read = (read_with(part, "measured", read_duration, complaints) for part in parts)
    return tuple(one for one in read if one)


def _wait(fact: Fact | None, complaints: Complaints) -> tuple[Said[Wait] | None, Phrase | None]:
    value = said_value(fact, complaints)
    if value is None:
        return None, None
    split = _MEANWHILE.search(value.text)
    seconds = read_with(value.part(0, split.start()) if split else value, "wait", read_duration, complaints)
    meanwhile = value.part(split.end()) if split and split.end() < len(value.text) else None
    return (Said(Wait(seconds.value), value.place) if seconds else None), meanwhile


def _when(fact: Fact | None, complaints: Complaints) -> When:
    said = choice_of(fact, _WHEN, complaints)
    return When(said.value) if said and said.value in _WHEN.values() else When.IN_CLASS


def _prose(fact: Fact | None, notes: WordNotes) -> Said[tuple[Block, ...]] | None:
    if text_of(fact, notes.complaints) is None or fact is None:
        return None
    return Said(read_line(fact.value, notes), fact.value.place)


def _share(fact: Fact | None, complaints: Complaints) -> Said[tuple[int, str]] | None:
    """`3 trimmers`: how many there are, and what."""
    value = said_value(fact, complaints)
    if value is None:
        return None
    counted = _COUNTED.fullmatch(value.text)
    if counted is None:
        complaints.fault("share-unreadable", value)
        return None
    number = whole_of(value.part(0, counted.end(1)), "share", _MOST_SHARED, complaints)
    return Said((number.value, value.part(counted.start(2)).plain), value.place) if number else None


def _uses(fact: Fact | None, names: DoingNames, complaints: Complaints) -> tuple[Said[str], ...]:
    """Supplies and tools in a row. A name that holds `and` is kept whole when the recipe has it."""
    value = said_value(fact, complaints)
    if value is None:
        return ()
    whole = names.supply(value.plain)
    if whole:
        return (Said(whole, value.place),)
    return tuple(Said(names.supply(part.plain) or part.plain, part.place) for part in row_of(value))
