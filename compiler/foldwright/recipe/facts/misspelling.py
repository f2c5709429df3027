"""Which known name a misspelt one was meant to be: near enough that nobody can have meant another word.

A slip is a letter too few, too many, another one, or two changed about. Short words stand close together in English
(`ball` and `wall`, `back` and `pack`): they may not differ by another letter, nor any word by its first, and the
shortest only by one doubled or two changed about.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from foldwright.recipe.facts.complaints import slips
from foldwright.vocabulary.names import plain_words

_SHORTEST = 3
_SHORT, _LONG = 4, 8
"""Up to so many letters a word is short; from so many on it may have two slips (common practice, no source)."""


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
