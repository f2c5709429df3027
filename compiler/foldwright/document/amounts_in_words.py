"""Amounts that stand in running words (`30 ml of varnish`, `250 °F`), set for both unit systems like lengths.

Masses and the large or short units of volume are only believed before `of`: `220 g card` and `2 cups` are none.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from foldwright.document.typeset import Typesetter
from foldwright.document.words import Both, MeasureInWords, Run, Runs, SetMeasure
from foldwright.measure.length import System
from foldwright.measure.numbers import NUMBER, tidy, value_of
from foldwright.measure.portions import in_system, to_degrees
from foldwright.measure.unit_table import UNITS
from foldwright.recipe.words import Text

_VAGUE = frozenset({"l", "cup", "pint", "qt", "gal"})
_BELIEVED = {"temperature": False, "volume": False, "mass": True}
"""What is measured, and whether `of` has to follow."""


def _words() -> dict[bool, dict[str, str]]:
    """Spellings to symbols, by whether `of` has to follow."""
    found: dict[bool, dict[str, str]] = {False: {}, True: {}}
    for symbol, (_, dimension, _, spellings, _) in UNITS.items():
        if dimension in _BELIEVED and symbol != "K":
            found[_BELIEVED[dimension] or symbol in _VAGUE] |= dict.fromkeys(spellings, symbol)
    return found


_WORDS = _words()


def _any_of(spellings: dict[str, str]) -> str:
    longest_first = sorted(spellings, key=len, reverse=True)
    return "|".join(re.escape(spelling).replace(r"\ ", r"\.?\s+") for spelling in longest_first)


_AMOUNT = re.compile(
    rf"(?<![\w.,/-])(?P<number>{NUMBER})\s?-?"
    rf"(?:(?P<sure>{_any_of(_WORDS[False])})|(?P<vague>{_any_of(_WORDS[True])})(?=\s+of\b))(?![\w²³])",
    re.IGNORECASE,
)
_EITHER = re.compile(r"\s*(?:[(/=,]|\bor\b)\s*(?:about\s+|or\s+)?", re.IGNORECASE)
"""Between two amounts of which one is the other in other units: the author has done the work."""


def set_amounts(text: str, setter: Typesetter) -> Runs:
    """The text as runs, with every amount in it said in both systems."""
    runs: list[Run] = []
    at = 0
    for start, end, number, unit in _amounts_in(text):
        said = text[start:end]
        both = Both(*(_phrase(number, unit, said, system, setter) for system in System))
        runs += [Text(text[at:start]), MeasureInWords(both, said)]
        at = end
    return tuple(run for run in (*runs, Text(text[at:])) if run != Text(""))


@lru_cache(maxsize=1024)
def _amounts_in(text: str) -> tuple[tuple[int, int, Fraction, str], ...]:
    found = list(_found(text)) if any(map(str.isnumeric, text)) else []
    double = {
        number
        for number, (one, other) in enumerate(pairwise(found))
        if UNITS[one[3]][2] != UNITS[other[3]][2] and _EITHER.fullmatch(text, one[1], other[0])
    }
    return tuple(one for number, one in enumerate(found) if number not in double and number - 1 not in double)


def _found(text: str) -> Iterator[tuple[int, int, Fraction, str]]:
    for match in _AMOUNT.finditer(tidy(text)):
        number = value_of(match["number"])
        word = " ".join((match["sure"] or match["vague"]).lower().replace(".", " ").split())
        unit = _WORDS[False].get(word) or _WORDS[True][word]
        if isinstance(number, Fraction) and number:
            yield match.start(), match.end(), number, unit


def _phrase(number: Fraction, unit: str, said: str, system: System, setter: Typesetter) -> SetMeasure:
    """As the author wrote it in its own system."""
    _, dimension, group, _, _ = UNITS[unit]
    if group == system.value:
        return SetMeasure.of(said)
    portion = to_degrees(number, unit) if dimension == "temperature" else in_system(number, unit, system)
    return setter.amount(portion.number, portion.unit)
