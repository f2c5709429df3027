"""Collecting findings while a recipe is read: one slip is noted, and reading goes on."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches
from functools import lru_cache

from foldwright.finding import Finding, Place, Strength
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.phrase import Phrase

_LOOKED_AT = 4
"""How many words that look alike are compared letter by letter."""


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
    return by_small[min(close, key=lambda one: (slips(word, one), abs(len(one) - len(word))))] if close else ""


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
