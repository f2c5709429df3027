"""Sizes said by another: `1/8 in smaller on every side than base front`, `1/16 in bigger in all than base outside`."""

from __future__ import annotations

import re

from foldwright.measure.length import Length, Unit
from foldwright.measure.reading import read_length
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.known import split_at_commas
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.model import RelativeSize, Said

_RELATIVE = re.compile(
    r"(?P<by>.*?)\s+(?P<turn>smaller|less|narrower|shorter|tighter|bigger|larger|more|wider|longer|looser)\b"
    r"\s*(?P<where>.*?)\s*\bthan\s+(?P<other>.+)",
    re.IGNORECASE | re.DOTALL,
)
_SMALLER = frozenset({"smaller", "less", "narrower", "shorter", "tighter"})
_EVERY_SIDE = re.compile(r"(?:on |at |along )?(?:every|each|all(?: four)?) (?:side|edge)s?", re.IGNORECASE)
_ALL_ROUND = re.compile(r"all a?round", re.IGNORECASE)
_IN_ALL = re.compile(r"in all|in total|altogether|overall", re.IGNORECASE)
_DEPTH = re.compile(
    r"(?P<depth>.+?)\s+(?:deep|high|tall|in depth)|(?:depth|height)\s*:?\s*(?P<named>.+)", re.IGNORECASE
)
_THAN = re.compile(r"\bthan\b", re.IGNORECASE)


def is_relative(text: str) -> bool:
    """Whether a size is given by what another piece measures, such as `1/4 in smaller than base`."""
    return bool(_THAN.search(text))


def read_relative(
    value: Phrase, word: str, complaints: Complaints, unit: Unit | None = None
) -> Said[RelativeSize] | None:
    """Only `on every side` and `in all` are plain; any other wording is asked about, since it may be half or double."""
    first, *further = split_at_commas(value)
    match = _RELATIVE.fullmatch(first.text)
    if match is None:
        complaints.fault("relative-unclear", value, word=word)
        return None
    by = read_length(match["by"], unit)
    if isinstance(by, Unreadable) and by.code == "no-number":
        complaints.fault("relative-unclear", value, word=word)
        return None
    if isinstance(by, Unreadable):
        complaints.unreadable(by, first.part(0, match.end("by")), word=word)
        return None
    sign = -1 if match["turn"].lower() in _SMALLER else 1
    every_side = _which(match, first, by, complaints)
    depth = None
    for part in further:
        deep = _DEPTH.fullmatch(part.text)
        length = read_length(deep["depth"] or deep["named"], unit) if deep else None
        if isinstance(length, Unreadable):
            complaints.unreadable(length, part, word=word)
        elif length is None:
            complaints.fault("relative-rest", part, word=word)
        else:
            depth = length
    other = " ".join(match["other"].split())
    return Said(RelativeSize(by * sign, every_side, other, depth), value.place)


def _which(match: re.Match[str], first: Phrase, by: Length, complaints: Complaints) -> bool:
    """Whether the difference is meant on every side (else in all)."""
    where = " ".join(match["where"].split())
    if _IN_ALL.fullmatch(where):
        return False
    if _EVERY_SIDE.fullmatch(where):
        return True
    said = first.part(match.start("turn"), match.end("where")) if where else first
    double = by * 2
    if _ALL_ROUND.fullmatch(where):
        complaints.thought("all-round", said, by=by, double=double)
    else:
        complaints.fault("every-side-or-in-all", said, by=by, double=double)
    return True
