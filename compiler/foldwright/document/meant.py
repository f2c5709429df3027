"""What a measure of the words was taken for, in a few words: `the size of base`, `scores 1 and 2 of lid`."""

from __future__ import annotations

from foldwright.bind.words import Explained
from foldwright.document.catalogue import Catalogue

_TOGETHER = {
    ("understood-size", "understood-size"): "understood-whole-size",
    ("understood-hole-across", "understood-hole-down"): "understood-whole-hole",
}
"""Two lengths of one thing that have a name together."""
_SCORES = "understood-score-"


def tell_meant(explained: Explained, words: Catalogue) -> str:
    """What each length was taken for, said together where several are of one thing."""
    facts = [dict(one.facts) for one in explained.understood]
    codes = tuple(one.code for one in explained.understood)
    one_piece = len({fact.get("piece") for fact in facts}) == 1
    scores = tuple(fact.get("number") for fact in facts)
    if len(set(codes)) == 1 < len(codes) and codes[0].startswith(_SCORES) and one_piece:
        return words.say(f"{codes[0]}.says", **{**facts[0], "number": scores, "count": len(scores)})
    if one_piece and codes in _TOGETHER:
        return words.say(f"{_TOGETHER[codes]}.says", **facts[0])
    told = (words.say(f"{code}.says", **fact) for code, fact in zip(codes, facts, strict=True))
    return words.worded(tuple(dict.fromkeys(told)))
