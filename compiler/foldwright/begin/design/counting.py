"""Words that say how many there are: articles, numbers, dozens, pairs, sets."""

from __future__ import annotations

ARTICLES = frozenset({"a", "an", "the", "my", "our", "some", "his", "her", "their", "your", "this", "these", "another"})
_NUMBERS = {
    word: value
    for value, word in enumerate(
        "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
        "eighteen nineteen".split(),
        start=1,
    )
} | {
    word: value
    for value, word in zip(
        range(20, 110, 10), "twenty thirty forty fifty sixty seventy eighty ninety hundred".split(), strict=True
    )
}
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
    tens, _, ones = word.partition("-")
    if ones and _NUMBERS.get(tens, 0) >= 20 and _NUMBERS.get(ones, 10) < 10:
        return _NUMBERS[tens] + _NUMBERS[ones]
    return _NUMBERS.get(word)
