"""The words of a library, for searching in a browser without a server: which entry each stands in, and where.

A word is found by its beginning, in small letters and without accents. The browser folds what is typed in the same way
(`library.js`), so what is done here is done there: one table of letters serves both.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

from msgspec import Struct

LETTERS = (
    ("ß", "ss"),
    ("æ", "ae"),
    ("œ", "oe"),
    ("ø", "o"),
    ("đ", "d"),
    ("ð", "d"),
    ("þ", "th"),
    ("ł", "l"),
    ("ı", "i"),
    ("ς", "σ"),
)
"""Letters that Unicode takes for letters of their own, and what people type who have no such key."""
_APOSTROPHES = re.compile("['’ʼ]")
_WORD = re.compile(r"[^\W_]+")
_WITHIN = str.maketrans(dict(LETTERS))


class WordIndex(Struct, frozen=True):
    """`words` in the order of their UTF-16 units, as browsers compare texts. Of each, `places` has numbers: how many
    entries on from the last it stands in, times the number of fields, and the first field it stands in there."""

    words: tuple[str, ...]
    places: tuple[tuple[int, ...], ...]


def folded(text: str) -> str:
    """Small letters without accents."""
    if text.isascii():
        return text.lower()
    apart = unicodedata.normalize("NFKD", text).lower()
    return "".join(letter for letter in apart if unicodedata.category(letter)[0] != "M").translate(_WITHIN)


def words_in(text: str) -> list[str]:
    """The words of a text, as they are looked up: runs of letters and numbers."""
    return [word for written in text.split() for word in _words_in(written)]


@lru_cache(maxsize=65536)
def _words_in(written: str) -> tuple[str, ...]:
    """The same of what stands between spaces: recipes use the same words over and over."""
    return tuple(_WORD.findall(folded(_APOSTROPHES.sub("", written))))


def index_of(entries: Iterable[Sequence[str]]) -> WordIndex:
    """The words of entries, each a row of fields: the one that tells most about it first."""
    found: dict[str, list[tuple[int, int]]] = {}
    fields = 1
    for number, row in enumerate(entries):
        fields = len(row)
        first: dict[str, int] = {}
        for field, text in enumerate(row):
            first = {**dict.fromkeys(words_in(text), field), **first}
        for word, field in first.items():
            found.setdefault(word, []).append((number, field))
    words = sorted(found, key=lambda word: word.encode("utf-16-be"))
    return WordIndex(tuple(words), tuple(tuple(_steps(found[word], fields)) for word in words))


def _steps(places: Iterable[tuple[int, int]], fields: int) -> Iterator[int]:
    last = 0
    for number, field in places:
        yield (number - last) * fields + field
        last = number
