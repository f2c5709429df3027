"""Collecting findings while a recipe is read (one slip is noted, and reading goes on), and what a misspelt word means.

A slip of the keys is a letter too few, too many, another one, or two changed about. Short words stand close together in
English (`ball` and `wall`, `back` and `pack`): for a name they may not differ by another letter, nor any word by its
first, and the shortest only by one doubled or two changed about.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from difflib import get_close_matches
from functools import lru_cache

from foldwright.finding import Finding, Place, Strength
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.phrase import Phrase
from foldwright.vocabulary.names import plain_words

_LOOKED_AT = 4
"""How many words that look alike are compared letter by letter."""
_SHORTEST = 3
_SHORT, _LONG = 4, 8
"""Up to so many letters a word is short; from so many on it may have two slips (common practice, no source)."""


class Complaints:
    """What was found so far. A finding about a phrase quotes it as the fact `said`."""

    def __init__(self) -> None:
        self.findings: list[Finding] = []

    def fault(self, code: str, where: Phrase | Place, **facts: object) -> None:
        self._add(code, Strength.FAULT, where, facts)

    def thought(self, code: str, where: Phrase | Place, **facts: object) -> None:
        self._add(code, Strength.THOUGHT, where, facts)

    def unreadable(self, why: Unreadable, where: Phrase, **facts: object) -> None:
        """A value that could not be read, with what `measure` said of it."""
        self._add(why.code, Strength.FAULT, where, {**facts, **dict(why.facts)})

    def _add(self, code: str, strength: Strength, where: Phrase | Place, facts: dict[str, object]) -> None:
        if isinstance(where, Phrase):
            facts = {"said": where.plain, **facts}
            where = where.place
        self.findings.append(Finding.of(code, strength, where, **facts))


def nearest(word: str, known: Iterable[str], closeness: float = 0.6) -> str:
    """The known word most like this one, small and capital letters alike; empty when none is near."""
    return _nearest(word.casefold(), tuple(known), closeness)


@lru_cache(maxsize=2048)
def _nearest(word: str, known: tuple[str, ...], closeness: float) -> str:
    by_small = {name.casefold(): name for name in known}
    close = get_close_matches(word, by_small, _LOOKED_AT, closeness)
    return by_small[min(close, key=lambda one: slips(word, one))] if close else ""


def slips(typed: str, meant: str) -> int:
    """How many slips of the keys lie between two words: a letter too few, too many, another one, or two changed about
    (the optimal string alignment distance).
    """
    rows = [list(range(len(meant) + 1))]
    for i, letter in enumerate(typed, 1):
        row = [i]
        for j, other in enumerate(meant, 1):
            best = min(rows[-1][j] + 1, row[-1] + 1, rows[-1][j - 1] + (letter != other))
            if i > 1 and j > 1 and letter == meant[j - 2] and typed[i - 2] == other:
                best = min(best, rows[-2][j - 2] + 1)
            row.append(best)
        rows.append(row)
    return rows[-1][-1]


def name_meant(said: Sequence[str], known: Iterable[str]) -> str:
    """The known name that some words nearly are (`wal mat`, `wallmat`, `wal` for `wall mat`); empty when none is."""
    words = tuple(word.casefold() for word in said)
    plain = plain_words(" ".join(said))
    best, least = "", 0
    for name in known:
        meant = plain_words(name)
        apart = 0 if plain == meant else min(filter(None, (_apart(words, meant), _apart(plain, meant))), default=0)
        if apart and (not least or apart < least):
            best, least = name, apart
    return best


def _apart(said: tuple[str, ...], name: tuple[str, ...]) -> int:
    """How far apart they are, above nothing; 0 when it is another name."""
    if not said or not name:
        return 0
    together = [_slips_between("".join(said), "".join(name))]
    if len(said) == len(name):
        each = [0 if one == other else _slips_between(one, other) for one, other in zip(said, name, strict=True)]
        together.append(None if None in each else sum(filter(None, each)))
    whole = [2 * apart for apart in together if apart is not None]
    # One word of a longer name: only when nothing is nearer.
    part = [2 * apart + 1 for word in name if len(said) == 1 < len(name) and (apart := _slips_between(said[0], word))]
    return min((*whole, *part), default=0) or (1 if whole else 0)


def _slips_between(typed: str, meant: str) -> int | None:
    """How many slips make one word of the other; None when there are too many for words as long."""
    if min(len(typed), len(meant)) < _SHORTEST:
        return None
    apart = slips(typed, meant)
    if apart > (2 if len(meant) >= _LONG else 1):
        return None
    swapped = sorted(typed) == sorted(meant)
    doubled = any(typed == meant[: at + 1] + meant[at:] for at in range(len(meant)))
    if not apart or swapped or doubled:
        return apart
    another = len(typed) == len(meant)
    if typed[0] != meant[0] or len(meant) <= _SHORTEST or (another and len(meant) <= _SHORT):
        return None
    return apart
