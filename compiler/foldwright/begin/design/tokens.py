"""A sentence about things, taken apart: measures, what is said of a side, what joins or parts, and words.

`a candle, 2 in round x 3 in tall` is the words `a`, `candle`, a comma, a measure, `round`, a cross, a measure, `tall`.
"""

from __future__ import annotations

import re
from enum import Enum
from fractions import Fraction

from msgspec import Struct

from foldwright.measure.length import Length, Unit
from foldwright.measure.numbers import NUMBER, tidy, value_of
from foldwright.measure.reading import UNIT_WORDS, read_length
from foldwright.measure.spelled import HYPHENED_NUMBER
from foldwright.measure.unreadable import Unreadable


class Kind(Enum):
    """What a part of a sentence is."""

    NUMBER = "number"
    """With its unit, if it has one."""
    SIDE = "side"
    """Which side of a thing a number is: its `Side` by name."""
    CROSS = "cross"
    PARTS = "parts"
    """What parts one thing from the next, or one number from the next."""
    NOTHING = "nothing"
    """What may be left out: `of`, `measuring`, a bracket."""
    DOUBT = "doubt"
    EACH = "each"
    WORD = "word"


class Token(Struct, frozen=True):
    """A part of the sentence as it was typed. Of a number, its value and its unit; of a side, its name."""

    kind: Kind
    text: str
    value: Fraction = Fraction(0)
    unit: Unit | None = None
    side: str = ""

    @property
    def length(self) -> Length | None:
        """The measure it is."""
        return Length(self.value * self.unit.mm, self.unit) if self.unit else None


_SIDES = {
    "long": "length",
    "length": "length",
    "in length": "length",
    "wide": "width",
    "width": "width",
    "in width": "width",
    "broad": "width",
    "high": "height",
    "height": "height",
    "in height": "height",
    "tall": "height",
    "deep": "depth",
    "depth": "depth",
    "in depth": "depth",
    "thick": "thickness",
    "thickness": "thickness",
    "in thickness": "thickness",
    "diameter": "diameter",
    "in diameter": "diameter",
    "dia": "diameter",
    "diam": "diameter",
    "round": "diameter",
    "ø": "diameter",
    "⌀": "diameter",
    "across": "across",
    "square": "square",
    "sq": "square",
    "on a side": "edge",
    "per side": "edge",
    "each way": "edge",
    "every way": "edge",
    "on every side": "edge",
    "w": "width",
    "l": "length",
    "h": "height",
    "d": "depth",
}
"""What is said of a number, and which side that makes it."""
_LETTERS = frozenset("wlhd")
_UNIT = "|".join(sorted((re.escape(word) for word in UNIT_WORDS), key=len, reverse=True))
_FULL_UNIT = "|".join(sorted((re.escape(word) for word in UNIT_WORDS if len(word) > 2), key=len, reverse=True))
_NO_UNIT_BEFORE = r"(?! ?(?:the|an|my|our|this|one|total|all)\b)(?! a (?!side))"
"""`5 in a box` is no five inches."""
_AS_UNIT = rf"(?:{_UNIT})(?![a-z0-9]){_NO_UNIT_BEFORE}\.?"
_NUMBER = re.compile(rf"(?P<number>{NUMBER})(?![0-9]|[.,][0-9]|/)(?: ?-? ?(?P<unit>{_AS_UNIT}))?", re.IGNORECASE)
_WEIGHT = re.compile(
    rf"{NUMBER} ?-?(?:kilograms?|kg|grams?|gr|g|ounces?|fl\.? ?oz|oz|pounds?|lbs?|millilitres?|ml|cl|litres?)"
    r"(?![\w/])\.?",
    re.IGNORECASE,
)
"""How heavy something is says nothing of its size."""
_SPELLED = re.compile(
    rf"(?P<number>{HYPHENED_NUMBER})(?:[ -](?P<unit>(?:{_FULL_UNIT})(?![a-z])\.?)|(?= (?:x|by) ))", re.IGNORECASE
)
_SIDE = re.compile(
    rf"(?P<side>{'|'.join(sorted(map(re.escape, _SIDES), key=len, reverse=True))})(?![a-z0-9])\.?", re.IGNORECASE
)
_OTHERS = (
    (Kind.CROSS, re.compile(r"(?:x|by)(?= |[0-9.½¼¾⅓⅔⅛⅜⅝⅞øØ⌀])|\*|×", re.IGNORECASE)),
    (Kind.PARTS, re.compile(r"[,;+&\n]|(?:and|plus|as well as|along with|together with)(?![\w])", re.IGNORECASE)),
    (
        Kind.DOUBT,
        re.compile(r"(?:about|approx(?:imately)?\.?|roughly|around|circa|ca\.|c\.|~|≈)(?![a-z])", re.IGNORECASE),
    ),
    (Kind.EACH, re.compile(r"(?:each|apiece|a piece|every one)(?![a-z])", re.IGNORECASE)),
    (
        Kind.NOTHING,
        re.compile(
            r"[():=@/.!?-]|(?:of|measuring|measures?|sized?|in size|that (?:is|are)|which (?:is|are)|is|are|at|they)"
            r"(?![\w])",
            re.IGNORECASE,
        ),
    ),
)
_LETTER = r"(?:length|width|height|depth|long|wide|high|deep|l|w|h|d)"
_ORDER = re.compile(rf"\(?(?<![a-z]){_LETTER} ?x ?(?:{_LETTER} ?x ?)(?P<last>{_LETTER})(?![a-z])\)?:?", re.IGNORECASE)
_WORD = re.compile(r"[^\W\d_][^\s,;:()+&=]*|[^\s]")
_RUN = re.compile(r"[^\s,;:()+&=]+")


def tokens_of(text: str) -> list[Token] | Unreadable:
    """All of a text; what stands for a number and is none is told."""
    found: list[Token] = []
    said = re.sub(r"[^\S\n]+", " ", tidy(text))
    if order := _ORDER.search(said):
        # `80 x 60 x 20 mm (w x d x h)`: the height is the last number anyway; another order is not.
        if order["last"].casefold() not in ("h", "height", "high"):
            return Unreadable("no-number", (("text", order[0]),))
        said = said.replace(order[0], " ")
    at = 0
    while at < len(said):
        if said[at] == " ":
            at += 1
            continue
        token, end = _next(said, at, found)
        if isinstance(token, Unreadable):
            return token
        found.append(token)
        at = end
    return found


def _next(said: str, at: int, before: list[Token]) -> tuple[Token | Unreadable, int]:
    last = next((token.kind for token in reversed(before) if token.text != "-"), Kind.PARTS)
    starts = at == 0 or not said[at - 1].isalnum()
    if said[at].isdigit() and (match := _WEIGHT.match(said, at)):
        return Token(Kind.NOTHING, match[0]), match.end()
    if (said[at].isdigit() or said[at] in ".½¼¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞") and (match := _NUMBER.match(said, at)):
        return _measure(match)
    if said[at].isdigit():
        return Unreadable("no-number", (("text", _RUN.match(said, at)[0]),)), at  # type: ignore[index]
    if starts and (match := _SPELLED.match(said, at)):
        return _measure(match)
    if (starts or last is Kind.NUMBER) and (match := _SIDE.match(said, at)) and _is_side(match, last):
        return Token(Kind.SIDE, match[0], side=_SIDES[match["side"].casefold()]), match.end()
    for kind, pattern in _OTHERS:
        if (match := pattern.match(said, at)) and (starts or not match[0][0].isalpha() or last is Kind.NUMBER):
            return Token(kind, match[0]), match.end()
    match = _WORD.match(said, at)
    assert match is not None
    return Token(Kind.WORD, match[0]), match.end()


def _measure(match: re.Match[str]) -> tuple[Token | Unreadable, int]:
    value = value_of(match["number"])
    if isinstance(value, Unreadable):
        return value, match.end()
    word = match["unit"]
    if not word:
        return Token(Kind.NUMBER, match[0].strip(" -"), value), match.end("number")
    length = read_length(f"{match['number']} {word}")
    if isinstance(length, Unreadable):
        return length, match.end()
    return Token(Kind.NUMBER, match[0], length.value, length.unit), match.end()


def _is_side(match: re.Match[str], last: Kind) -> bool:
    """`90 mm long`, `length 90 mm`, `80 w`: beside a number; a `round tin`, a `long candle` is called so."""
    after = re.sub(r"^[ :=.]*(?:of |is )?", "", match.string[match.end() :])
    near = after[:1].isdigit() or after[:1] in ".½¼¾⅓⅔⅛⅜⅝⅞"
    if match["side"].casefold() in _LETTERS:
        return near or last is Kind.NUMBER
    return near or last in (Kind.NUMBER, Kind.SIDE) or match["side"] in "øØ⌀"
