"""Facts: a word and its value, one a line or several on one line between commas."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cached_property

from msgspec import Struct

from foldwright.recipe.facts.complaints import Complaints, nearest, slips
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.signs import without_signs
from foldwright.recipe.facts.structure import Node

_BETWEEN_WORDS = re.compile(r"[\s_-]+")
_COMMA = re.compile(r"(?<![0-9]),|,(?![0-9])")
"""A comma between two digits is a decimal comma (or one of thousands, which `measure` asks about)."""
_BRACKETS = {"{": "}", "[": "]"}
_A_WORD = re.compile(r"[^\s:]+:?")
_SLIP = 1
"""A word so many slips of the keys from a known one can hardly mean another."""


def spellings_in(table: str) -> dict[str, str]:
    """Every spelling in a table, in small letters, to its word: `left: left hand, left-handed; right`."""
    meant = {}
    for entry in table.split(";"):
        word, _, others = " ".join(entry.split()).partition(":")
        for spelling in (word, *filter(None, others.split(","))):
            meant[spelling.strip().casefold()] = word
    return meant


class Known(Struct, frozen=True, dict=True):
    """The words an entry may hold.

    `spellings` has every one in small letters, to the fact's own word; `words` are those, in the order the reference
    lists them. On one line, the first part without a word of its own is the fact `first`; `bare` tells which fact
    another part without a word is, `likely` which facts it might be, as one would type them, by itself and by the first
    part. A fact of `rows` takes in the parts that follow it and begin with no word of the
    list, since it may hold commas itself.
    """

    spellings: Mapping[str, str]
    first: str = ""
    bare: Callable[[str], str] = lambda _text: ""
    likely: Callable[[str, str], tuple[str, ...]] = lambda _text, _first: ()
    rows: frozenset[str] = frozenset()
    unoffered: frozenset[str] = frozenset()
    """Facts that are known only so that they can be told of."""

    @cached_property
    def words(self) -> tuple[str, ...]:
        return tuple(word for word in dict.fromkeys(self.spellings.values()) if word not in self.unoffered)

    @cached_property
    def opening(self) -> re.Pattern[str]:
        """A known word at the beginning of a part, longest first, with or without a colon."""
        words = sorted(self.spellings, key=len, reverse=True)
        joined = "|".join(re.escape(word).replace(r"\ ", r"[\s_-]+") for word in words)
        return re.compile(rf"({joined})(?:\s*:\s*|\s+|$)", re.IGNORECASE)

    @cached_property
    def plain_openings(self) -> frozenset[str]:
        """The spellings of one word that begin no longer one: with a space behind them they need no pattern."""
        several = {spelling.partition(" ")[0] for spelling in self.spellings if " " in spelling}
        return frozenset(spelling for spelling in self.spellings if " " not in spelling and spelling not in several)

    def opened(self, text: str) -> tuple[str, int] | None:
        """The fact whose word a text begins with, and where its value begins."""
        head = text.partition(" ")[0]
        if head in self.plain_openings:
            return self.spellings[head], len(head)
        match = self.opening.match(text)
        return (self.word_of(match[1]) or "", match.end()) if match else None

    def word_of(self, spelling: str) -> str | None:
        """The fact a spelling means, whatever its capitals, hyphens and spaces."""
        known = self.spellings.get(spelling)
        return known or self.spellings.get(" ".join(_BETWEEN_WORDS.split(spelling.strip().lower())))


class Fact(Struct, frozen=True):
    """`word` is the fact's own word, `key` what the author wrote there (of a fact on a shared line, the whole of it).

    `line` is there when the fact stands on a line of its own; `inline` is what a fact on a shared line says.
    """

    word: str
    key: Phrase
    line: Node | None
    inline: Phrase | None = None
    guessed: bool = False
    """Its word is misspelt, which was complained of; what it says is read, so that nothing more follows from that."""

    @property
    def value(self) -> Phrase:
        """All that was said, lines beneath included."""
        if self.inline is not None:
            return self.inline
        return self.line.written if self.line else self.key

    @property
    def typed(self) -> Phrase:
        """The same, but braces and brackets as they stand."""
        return self.line.typed if self.line and self.line.typed else self.value

    @property
    def node(self) -> Node:
        """The fact as a line, whichever way it was written."""
        return self.line or Node(self.key, self.inline)


def gather(node: Node, known: Known, complaints: Complaints) -> dict[str, Fact]:
    """The facts of one entry, from its line and the lines beneath; what is unknown or said twice is complained of."""
    facts: dict[str, Fact] = {}
    own = node.typed if node.items else node.value
    own = without_signs(own, complaints) if own else None
    found = one_line_facts(own, known, complaints) if own and own.text else ()
    said = [*found, *_lines(node.entries, known, complaints)]
    for fact in sorted(said, key=lambda fact: fact.guessed):
        if fact.word in facts and fact.guessed:
            continue
        if fact.word in facts:
            complaints.fault("said-twice", fact.key, word=fact.word, first=facts[fact.word].value.plain)
            continue
        facts.setdefault(fact.word, fact)
    if node.items and not node.typed:
        complaints.fault("no-list-here", node.items[0].whole)
    return facts


def _lines(entries: Iterable[Node], known: Known, complaints: Complaints) -> Iterator[Fact]:
    for entry in entries:
        if entry.key is None:
            yield from _without_colon(entry, known, complaints)
            continue
        word = known.word_of(entry.key.text)
        if word is None:
            near = unknown_word(entry.key, known.words, known.spellings, complaints)
            if near and slips(entry.key.plain.casefold(), near.casefold()) <= _SLIP:
                yield Fact(known.word_of(near) or "", entry.key, entry, guessed=True)
        else:
            yield Fact(word, entry.key, entry)


def _without_colon(entry: Node, known: Known, complaints: Complaints) -> Iterator[Fact]:
    """`makes 1 box`: when the line begins with a known word, what is meant is plain."""
    said = entry.first
    opening = known.opening.match(said.text)
    if opening is None:
        complaints.fault("no-colon", said, known=known.words)
        return
    key = said.part(0, opening.end(1))
    value = said.part(opening.end())
    word = known.word_of(key.text) or ""
    standing = Node(key, value if value.text else None, entry.entries, entry.items)
    if value.text or entry.entries or entry.items:
        complaints.thought("colon-forgotten", said, word=word, value=value.plain)
    yield Fact(word, key, standing)


def unknown_word(said: Phrase, words: Sequence[str], spellings: Iterable[str], complaints: Complaints) -> str:
    """Complain of a word that is none, and name the one it is nearest to, if any."""
    near = nearest(said.plain, words, 0.8) or nearest(said.plain, spellings)
    if near:
        complaints.fault("unknown-word", said, word=said.plain, nearest=near, known=tuple(words))
    else:
        complaints.fault("unknown-word-no-near", said, known=tuple(words))
    return near


def one_line_facts(value: Phrase, known: Known, complaints: Complaints) -> Iterator[Fact]:
    """The facts between the commas of one line."""
    if value.text.count("(") > value.text.count(")"):
        complaints.thought("remark-not-closed", value.part(value.text.rindex("(")))
    parts = [part for part in split_at_commas(unbraced(value, complaints)) if part.text]
    number = 0
    while number < len(parts):
        part = parts[number]
        number += 1
        opened = known.opened(part.text)
        if opened is None:
            word = (known.first if number == 1 and not known.bare(part.plain) else "") or known.bare(part.plain)
            if word:
                yield Fact(word, part, None, part)
            else:
                yield from _unknown_part(part, parts, known, complaints)
            continue
        word, begin = opened
        value_of_part = part.part(begin)
        last = part
        while number < len(parts) and word in known.rows and not _starts_anew(parts[number], known):
            last = parts[number]
            number += 1
        if last is not part:
            value_of_part = value.part(value_of_part.start - value.start, last.end - value.start)
        yield Fact(word, part, None, value_of_part)


def _starts_anew(part: Phrase, known: Known) -> bool:
    """Whether a part begins with a known word, or with what looks like one misspelt."""
    if known.opened(part.text) or known.bare(part.plain):
        return True
    return len(part.text) > 3 and bool(nearest(part.plain.partition(" ")[0], known.spellings, 0.8))


def _unknown_part(part: Phrase, parts: Sequence[Phrase], known: Known, complaints: Complaints) -> Iterator[Fact]:
    """Complain of a part that begins with no known word; what it says is read where it is plain which is meant."""
    if meant := _without_word(part, parts, known):
        first, *others = meant
        facts = {"first": first, "others": tuple(others), "count": len(others)}
        complaints.fault("fact-without-word", part, typed=meant, **facts)
        word, begin = known.opened(first) or ("", 0)
        value = first[begin:].strip()
        if (at := part.text.find(value)) >= 0:
            yield Fact(word, part, None, part.part(at, at + len(value)), guessed=True)
        return
    ends = [match.end() for match in _A_WORD.finditer(part.text)]
    for end in (ends[1:2] or ends[:1]) + ends[:1]:
        said = part.part(0, end)
        near = nearest(said.plain, known.spellings, 0.75)
        if near:
            complaints.fault("unknown-word", part, word=said.plain.rstrip(":"), nearest=near, known=known.words)
            if slips(said.plain.casefold(), near.casefold()) <= _SLIP and end < len(part.text):
                yield Fact(known.word_of(near) or "", part, None, part.part(end), guessed=True)
            return
    complaints.fault("unknown-fact", part, known=known.words)


def _without_word(part: Phrase, parts: Sequence[Phrase], known: Known) -> tuple[str, ...]:
    """The facts a part may be that lacks its word, but those which another part says."""
    told = {opened[0] for one in parts if (opened := known.opened(one.text))} | {known.bare(one.plain) for one in parts}
    likely = known.likely(part.plain, parts[0].plain)
    return tuple(fact for fact in likely if (opened := known.opened(fact)) and opened[0] not in told)


def unbraced(value: Phrase, complaints: Complaints) -> Phrase:
    """`{...}` and `[...]` say no more than the line inside them; one that was never closed is asked about."""
    closing = _BRACKETS.get(value.text[:1])
    if closing is None:
        return value
    if value.text.endswith(closing):
        return _bare_end(value.part(1, -1))
    complaints.thought("bracket-not-closed", value, closing=closing)
    return _bare_end(value.part(1))


def _bare_end(value: Phrase) -> Phrase:
    return value.part(0, -1) if value.text.endswith(",") else value


def split_at_commas(value: Phrase) -> list[Phrase]:
    """The parts between commas; brackets protect the commas inside them, digits on both sides a decimal comma."""
    return value.split_outside_brackets(_COMMA)
