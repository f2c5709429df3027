"""What the headings of a list of guests mean, by the words of many languages in `guest_headings.toml`.

Accents, capital letters and marks between words do not matter.
"""

from __future__ import annotations

import re
import tomllib
import unicodedata
from functools import lru_cache
from pathlib import Path

_BETWEEN_WORDS = re.compile(r"[\s_./#*:()?-]+")


def _plain(text: str) -> str:
    apart = unicodedata.normalize("NFKD", text.casefold())
    return " ".join(_BETWEEN_WORDS.split("".join(one for one in apart if not unicodedata.combining(one)))).strip()


_MEANS = {
    _plain(heading): word
    for word, languages in tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8")).items()
    for headings in languages.values()
    for heading in headings.split(",")
}


@lru_cache(maxsize=1024)
def heading_of(cell: str) -> str:
    """What a column with this heading holds; empty where it is no heading that is known."""
    return _MEANS.get(_plain(cell), "")


def heading_within(cell: str) -> str:
    """What a longer heading asks for, by the one kind of known heading among its words: `Your name`."""
    kinds = {_MEANS[word] for word in _plain(cell).split() if word in _MEANS}
    return kinds.pop() if len(kinds) == 1 else ""
