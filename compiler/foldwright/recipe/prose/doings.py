"""`do: cut and score base, glue tag to base`: which acts are done to which pieces."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cached_property, lru_cache

from msgspec import Struct, field

from foldwright.recipe.facts.complaints import Complaints, name_meant
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.model import Doing
from foldwright.vocabulary import leading_act, tools_in
from foldwright.vocabulary.names import plain_words

_WORD = re.compile(r"[^\W_]+(?:['’-][^\W_]+)*|[,;]")
_STOPS = frozenset({",", ";"})
_JOINING = frozenset(
    "and to on onto in into with the a an both each all round around inside outside of under over".split()
)
_SMALL = frozenset("up down out off flat shut open together twice again dry carefully by hand eye it them".split())
_PARTS = frozenset(
    """flap end edge corner hole panel wall side score fold line slot window door top bottom middle strip crease
    everything thing piece part box card paper outline template handle tab roof front back rest other""".split()
)
_MOST_WORDS = 200
_LONGEST_NAME = 6
_plain_words = lru_cache(maxsize=4096)(plain_words)


class DoingNames(Struct, frozen=True, dict=True):
    """The names `do:` may use: those of pieces, and those of supplies, which are known but are no pieces."""

    pieces: Sequence[str]
    supplies: Sequence[str] = ()

    @cached_property
    def by_words(self) -> dict[tuple[str, ...], str]:
        """A piece's name by its plain words; of two that read the same, the first."""
        by_words: dict[tuple[str, ...], str] = {}
        for name in self.pieces:
            by_words.setdefault(plain_words(name), name)
        return by_words

    @cached_property
    def longest(self) -> int:
        """How many words the longest name has."""
        return max(map(len, self.by_words), default=0)

    def at_start(self, words: Sequence[tuple[str, ...]]) -> tuple[str, int]:
        """The piece that the first words name, each as plain words, and how many of them that takes; else empty."""
        for size in range(min(self.longest, len(words)), 0, -1):
            name = self.by_words.get(words[0] if size == 1 else sum(words[:size], ()))
            if name is not None:
                return name, size
        return "", 0

    def ending_in(self, word: str) -> tuple[str, ...]:
        plain = plain_words(word)
        return tuple(name for words, name in self.by_words.items() if words[-len(plain) :] == plain)

    def supply(self, name: str) -> str:
        """The supply a name means, a plural or a capital more or less; empty when there is none."""
        plain = plain_words(name)
        return next((supply for supply in self.supplies if plain_words(supply) == plain), "")

    def supply_at_start(self, words: Sequence[str]) -> tuple[str, int]:
        """The supply the first words name, and how many of them that takes: its whole name, or the last word of one."""
        for size in range(min(_LONGEST_NAME, len(words)), 0, -1):
            plain = _plain_words(" ".join(words[:size]))
            whole = [name for name in self.supplies if plain == _plain_words(name)]
            ends = [name for name in self.supplies if size == 1 and plain == _plain_words(name)[-1:]]
            if whole or len(ends) == 1:
                return (whole or ends)[0], size
        return "", 0

    def is_supply(self, word: str) -> bool:
        plain = set(plain_words(word))
        return any(plain <= set(plain_words(name)) for name in self.supplies)


class _Clause(Struct):
    acts: list[str] = field(default_factory=list)
    subjects: list[str] = field(default_factory=list)
    things: list[str] = field(default_factory=list)


def read_doings(value: Phrase, names: DoingNames, complaints: Complaints) -> tuple[Doing, ...]:
    """The acts of a `do:` line, each with its pieces, in the author's order."""
    return _DoingReader(value, names, complaints).read()


class _DoingReader:
    def __init__(self, value: Phrase, names: DoingNames, complaints: Complaints) -> None:
        self._value = value
        self._names = names
        self._complaints = complaints
        self._found = list(_WORD.finditer(value.text))[:_MOST_WORDS]
        self._words = [found[0] for found in self._found]
        self._plain = [_plain_words(word) for word in self._words]
        self._clauses = [_Clause()]

    def read(self) -> tuple[Doing, ...]:
        at = 0
        after_stop = True
        while at < len(self._words):
            word = self._words[at]
            # "Round the corners" begins with an act; "a band round the box" does not.
            begins = after_stop and leading_act(word) is not None
            if word in _STOPS or (word.lower() in _JOINING and not begins):
                after_stop = after_stop or word in _STOPS
                at += 1
                continue
            at += self._one(at, after_stop)
            after_stop = False
        return tuple(
            Doing(act, tuple(dict.fromkeys(clause.subjects)), tuple(dict.fromkeys(clause.things)))
            for clause in self._clauses
            for act in clause.acts
        )

    def _one(self, at: int, after_stop: bool) -> int:
        """Take in the name, act or unknown word that begins here; returns how many words that was."""
        end = self._stop_after(at)
        clause = self._clauses[-1]
        piece, name_size = self._names.at_start(self._plain[at:end])
        act = leading_act(" ".join(self._words[at:end]))
        is_name = piece and clause.acts and act and (name_size > act[1] or not self._piece_follows(at + act[1]))
        if act and not is_name:
            if clause.subjects or clause.things:
                self._clauses.append(clause := _Clause())
            clause.acts.append(act[0].name)
            return act[1]
        if piece:
            clause.subjects.append(piece)
            return name_size
        return self._unknown(at, clause, after_stop)

    def _piece_follows(self, at: int) -> bool:
        return bool(self._names.at_start(self._plain[at : self._stop_after(at)])[0])

    def _stop_after(self, at: int) -> int:
        """Where the next comma is, or a few words on: no name and no act reaches over one."""
        end = min(at + _LONGEST_NAME, len(self._words))
        return next((number for number in range(at, end) if self._words[number] in _STOPS), end)

    def _unknown(self, at: int, clause: _Clause, after_stop: bool) -> int:
        word = self._words[at]
        low = word.lower()
        previous = self._words[at - 1].lower() if at else ","
        named = self._names.ending_in(word)
        if named:
            clause.subjects += named
            return 1
        is_act = not clause.acts or (after_stop and self._piece_follows(at + 1))
        if not is_act and (near := self._meant(at)):
            clause.subjects.append(near[0])
            return near[1]
        thing, size = self._names.supply_at_start(self._words[at : self._stop_after(at)])
        if thing and clause.acts:
            clause.things.append(thing)
            return size
        plain = self._plain[at]
        if low in _SMALL or (plain and plain[0] in _PARTS) or self._names.is_supply(word):
            return 1
        where = self._part(at, 1)
        if is_act:
            self._complaints.thought("unknown-act", where)
            if clause.subjects:
                self._clauses.append(clause := _Clause())
            clause.acts.append(low)
        elif previous in _JOINING or previous in _STOPS or not clause.subjects:
            self._complaints.thought("unknown-piece-in-do", where)
        return 1

    def _meant(self, at: int) -> tuple[str, int] | None:
        """The piece whose misspelt name begins here, and how many words that takes."""
        for size in range(min(self._names.longest, self._stop_after(at) - at), 0, -1):
            said = self._words[at : at + size]
            near = name_meant(said, self._names.pieces)
            if near and not self._is_something_else(said):
                self._complaints.thought("unknown-piece-in-do-near", self._part(at, size), nearest=near)
                return near, size
        return None

    def _is_something_else(self, said: Sequence[str]) -> bool:
        """Whether a word of these joins others or is an act; or stands alone and needs no piece."""
        if any(word.lower() in _JOINING | _SMALL or leading_act(word) for word in said):
            return True
        alone = said[0] if len(said) == 1 else ""
        return bool(alone) and (
            not _PARTS.isdisjoint(_plain_words(alone)) or bool(tools_in(alone)) or self._names.is_supply(alone)
        )

    def _part(self, at: int, size: int) -> Phrase:
        return self._value.part(self._found[at].start(), self._found[at + size - 1].end())
