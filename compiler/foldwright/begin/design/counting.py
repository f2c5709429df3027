"""Words that say how many there are: articles, numbers, dozens, pairs, sets."""

from __future__ import annotations

from foldwright.measure.spelled import spelled_value

ARTICLES = frozenset({"a", "an", "the", "my", "our", "some", "his", "her", "their", "your", "this", "these", "another"})
DOZENS = {"dozen": 12, "dozens": 12}
GROUPS = {"pair": 2, "pairs": 2, "couple": 2, "trio": 3}
PIECES = frozenset("pcs pc pieces piece no no. nos off them".split())
"""`12 pcs`, `20 of them`."""
SETS = frozenset({"set", "sets"})
BUNDLES = frozenset({"pack", "packs", "packet", "box", "deck", "bundle", "stack", "bag", "case", "tray"})


def is_count(word: str) -> bool:
    """Whether a word before a name says how many."""
    return word in ARTICLES or word in DOZENS or word == "half" or spelled(word) is not None


def spelled(word: str) -> int | None:
    """`twelve`, `twenty-four`."""
    if word == "hundred":
        return 100
    value = spelled_value(word)
    return int(value) if value and value.denominator == 1 else None
