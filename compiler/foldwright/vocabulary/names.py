"""Finding known names inside an author's words: the longest name wins, plurals and hyphens do not matter."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache

from msgspec import Struct

_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)?")


@lru_cache(maxsize=8192)
def singular(word: str) -> str:
    """The word without its plural ending; applied to both sides of a comparison, so it need not be good English."""
    if len(word) > 4 and word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "sses", "xes")):
        return word[:-2]
    if len(word) > 2 and word.endswith("s") and not word.endswith("ss"):
        return word[:-1]
    return word


@lru_cache(maxsize=2048)
def plain_words(text: str) -> tuple[str, ...]:
    """The words of a text in small letters, singular, without marks: `Foam-Squares` is `foam`, `square`."""
    return tuple(singular(word.replace("’", "'")) for word in _WORD.findall(text.casefold()))


def rows_of(table: str, columns: int) -> Iterator[list[str]]:
    """The rows of one of our own lists, as many cells each: parted by bars, empty where the last are left out.

    A row goes on in lines that are pushed in; a remark stands on a line of its own, after `#`.
    """
    lines = "\n".join(line for line in table.splitlines() if line and not line.startswith("#"))
    for row in lines.replace("\n ", " ").splitlines():
        cells = [" ".join(cell.split()) for cell in row.split("|")]
        yield cells + [""] * (columns - len(cells))


def names_in(cell: str) -> tuple[str, ...]:
    """What stands between the commas of a cell."""
    return tuple(cell.split(", ")) if cell else ()


def spelled_words(text: str) -> tuple[str, ...]:
    """The words of a text as they are spelled, one for each of its plain ones."""
    return tuple(_WORD.findall(text))


class KnownNames[T](Struct, frozen=True):
    """Known names, each a run of words, and what they name. `longest` is the number of words in the longest name."""

    by_words: Mapping[tuple[str, ...], T]
    longest: int

    @classmethod
    def of(cls, named: Iterable[tuple[T, Iterable[str]]]) -> KnownNames[T]:
        """Collect names; the same name for two things is a mistake in our own lists."""
        by_words: dict[tuple[str, ...], T] = {}
        for thing, names in named:
            for name in names:
                words = plain_words(name)
                if by_words.setdefault(words, thing) != thing:
                    raise ValueError(f"{name!r} names two things")
        return cls(by_words, max(map(len, by_words)))

    def all_in(self, text: str) -> tuple[T, ...]:
        """Every thing named in the text, in order, longest names first; none of their words is used twice."""
        return tuple(dict.fromkeys(thing for thing, _ in self.runs_in(plain_words(text)) if thing is not None))

    def runs_in(self, words: tuple[str, ...]) -> Iterator[tuple[T | None, tuple[str, ...]]]:
        """The words one by one, those that are a name together: what they name, or None for one that is of none."""
        at = 0
        while at < len(words):
            for size in range(min(self.longest, len(words) - at), 0, -1):
                thing = self.by_words.get(words[at : at + size])
                if thing is not None:
                    yield thing, words[at : at + size]
                    at += size
                    break
            else:
                yield None, words[at : at + 1]
                at += 1

    def best_in(self, text: str) -> T | None:
        """The thing with the longest name in the text; of two as long, the one that stands later (the noun)."""
        words = plain_words(text)
        for size in range(min(self.longest, len(words)), 0, -1):
            for at in range(len(words) - size, -1, -1):
                thing = self.by_words.get(words[at : at + size])
                if thing is not None:
                    return thing
        return None
