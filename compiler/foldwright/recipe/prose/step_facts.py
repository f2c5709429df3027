"""The facts beneath a step's heading: what is done, how long it takes, its photograph, its tip."""

from __future__ import annotations

import re

from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.durations import read_duration
from foldwright.recipe.facts.known import Fact, Known, gather, spellings_in
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.structure import Node, read_structure
from foldwright.recipe.facts.values import choice_of, read_with, row_of, said_value, text_of, whole_of, yes_of
from foldwright.recipe.model import Photo, Said, Step, Wait, When
from foldwright.recipe.prose.doings import DoingNames, read_doings
from foldwright.recipe.prose.inline import WordNotes
from foldwright.recipe.prose.markdown import read_line
from foldwright.recipe.words import Block

KNOWN = Known(
    spellings_in(
        """do; time; get ready: getting ready, setup, set up; when; wait; within; photo; photo shows; video;
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


def read_step(
    number: int, heading: Said[str], lines: Phrase, names: DoingNames, notes: WordNotes
) -> tuple[Step, Phrase | None]:
    """A step without its words, from the lines of its block or the plain ones beneath its heading.

    With it come the words of its `meanwhile`, which can be looked up only when all steps are read.
    """
    if not lines.text.strip():
        return Step(number, heading), None
    complaints = notes.complaints
    facts = gather(Node(None, None, _entries(lines, complaints)), KNOWN, complaints)
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
        get_ready=_duration(facts.get("get ready"), complaints),
        when=_when(facts.get("when"), complaints),
        wait=wait,
        within=_duration(facts.get("within"), complaints),
        photo=_photo(facts, complaints),
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


def _photo(facts: dict[str, Fact], complaints: Complaints) -> Photo | None:
    path = text_of(facts.get("photo"), complaints)
    shows = text_of(facts.get("photo shows"), complaints)
    if path is None:
        if shows and "photo" not in facts:
            complaints.thought("photo-shows-without-photo", shows.place)
        return None
    return Photo(path, shows)


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
