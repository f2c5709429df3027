"""Numbers in words as a sentence has them: `twenty-five`, `thirteen sixteenths of an`, `two point five`.

Two number words with a blank between may be one number (`twenty five millimetres`), or a count and a size (`twenty five
inch squares`). They are one where the unit is in the plural or one thing is spoken of (`a twenty five inch strip`).
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import gcd

from foldwright.measure.numbers import WORD_NUMBER, value_of
from foldwright.measure.unreadable import Unreadable

ONES = {word: value for value, word in enumerate("one two three four five six seven eight nine".split(), start=1)}
TEENS = {
    word: value
    for value, word in enumerate(
        "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split(), start=10
    )
}
TENS = {
    word: value * 10
    for value, word in enumerate("twenty thirty forty fifty sixty seventy eighty ninety".split(), start=2)
}
ONE, TEEN, TEN = ("|".join(words) for words in (ONES, TEENS, TENS))
DIGITS = {**ONES, "zero": 0, "oh": 0, "nought": 0}
DECIMALS = rf"(?: point(?: (?:zero|oh|nought|{ONE}))+)"
_BOTTOMS = {
    "half": 2, "halve": 2, "third": 3, "quarter": 4, "fourth": 4, "fifth": 5, "eighth": 8, "tenth": 10, "sixteenth": 16,
    "thirty-second": 32, "sixty-fourth": 64,
}  # fmt: skip
_PART = "halve|half|third|quarter|fourth|fifth|eighth|tenth|sixteenth"
_FINE = "(?:thirty[ -]second|sixty[ -]fourth)"
_ORDINAL = rf"(?:{_PART}|second|sixth|seventh|ninth|[a-z]+teenth|[a-z]+tieth|hundredth|thousandth|eleventh|twelfth)s?"
_BELOW = rf"(?:(?:{TEN})-(?:{ONE})|{TEN}|{TEEN}|{ONE})"
_HUNDREDS = rf"(?:an?|{ONE}) hundred"
_OTHERWISE = rf"(?!-(?:{_ORDINAL}|{ONE}|{TEEN}|{TEN})(?![a-z])|-and-)"
"""Behind a number that is no part of another: `twenty-fifth` is none."""
_WHOLE = rf"(?:{_HUNDREDS} and {_BELOW}(?! hundred|[ -]{_ORDINAL}(?![a-z]))|{_HUNDREDS}|{_BELOW})(?! hundred)"
_FINE_PART = rf"(?:(?:thirty-second|sixty-fourth)s?(?=[ -]inch| of an? )|{_FINE}s?(?= of an? ))"
"""With a blank only where it says of what: people wait thirty seconds."""
_PARTS = (
    rf"(?:{_BELOW}[ -](?:{_PART})s|(?:{_BELOW}[ -](?={_FINE}s)|(?:an?|one)[ -])?{_FINE_PART})"
    r"(?: of)?(?: an?)?"
)
"""Parts of one, with a count of more words than `numbers` knows, or finer ones."""

EIGHTHS = rf"{_BELOW}[ -](?:eighth|sixteenth)s"
"""What a ruler is marked in, more than one."""


def worded(plural: str, unit: str) -> str:
    """The pattern of a number in words in a small-letter text, longest reading first, without groups. `plural` are
    units in the plural, `unit` all of them."""
    blank = rf"(?:{_HUNDREDS} {_BELOW}|(?:{_HUNDREDS}(?: and)? )?(?:{TEN}) (?:{ONE}))"
    part = rf"(?: and (?:an? |{_BELOW}[ -])?(?:{_PART})s?)?"
    return (
        rf"(?!(?!{_FINE_PART})(?:{TEN})-{_ORDINAL}(?![a-z]))"
        rf"(?:{blank}{part}(?= (?:{plural})(?![a-z]))|(?<=\ba )(?:{TEN}) (?:{ONE})(?=[ -](?:{unit})(?![a-z]))"
        rf"|(?:{_WHOLE}|zero|nought){DECIMALS}"
        rf"|{_WHOLE} and (?:{_PARTS}|(?:an? |{_BELOW}[ -])?(?:{_PART})s?(?: of an?)?)|{_PARTS}"
        rf"|{WORD_NUMBER}{_OTHERWISE}(?! hundred)"
        rf"|{_WHOLE}{_OTHERWISE})"
    )


_ONLY_A_PART = re.compile(
    rf"(?<![a-z])(?:(?P<tens>{TEN}|hundred)|(?:hundred|thousand|million)(?: and)?"
    r"|(?:[0-9]|leave|about|only|exactly|at|by|of|is|to|and) point) $",
    re.IGNORECASE,
)
_A_PART_OF = re.compile(rf"(?<![a-z])(?:{_ORDINAL}|fraction) of $", re.IGNORECASE)
_COUNT = re.compile(rf"(?<![a-z]){_BELOW} $", re.IGNORECASE)
_ONE_FINE = re.compile(rf"(?:sixteenth|{_FINE})(?![a-z])")
"""`three thirty-second inch strips` may be so wide, or three."""
_PARTS_ALONE = re.compile(rf"(?:(?:{_PART})s|{_FINE}s?)(?![a-z])")
"""Of which the number of them stands before in figures: `5 sixteenths of an inch`."""
_NEAR = 24
"""Characters: none of those words is longer."""


_COUNT_OF = re.compile(rf"(?P<count>{_BELOW}) (?:{_PART})", re.IGNORECASE)


def count_of_parts(said: str) -> str:
    """What counts things in `ten quarter-inch strips`; nothing in `three quarter-inch strips`, which is a fraction."""
    found = _COUNT_OF.fullmatch(said)
    top = whole_of(found["count"].lower()) if found else 1
    bottom = _BOTTOMS[said.split()[-1].lower()] if found else 1
    return found["count"] if found and top > 1 and (top > bottom or gcd(top, bottom) > 1) else ""


def only_a_part(text: str, start: int, end: int, hyphenated: bool) -> bool:
    """Whether a number in words, from `start` to `end`, may be only the end of a longer one. A size with a hyphen is
    whole: `twenty five-inch squares`."""
    before, said = text[max(0, start - _NEAR) : start], text[start:end].lower()
    if _A_PART_OF.search(before):
        return said in {"a", "an"}
    if _ONE_FINE.match(said) and _COUNT.search(before):
        return True
    found = _ONLY_A_PART.search(before)
    if found is None:
        return before[-2:-1].isdigit() and before[-1:] in " -" and _PARTS_ALONE.match(said) is not None
    if found["tens"] and found["tens"].lower() != "hundred":
        return not hyphenated and re.match(rf"(?:{ONE})(?![a-z-])", said) is not None
    return not hyphenated and re.match(rf"(?:{_BELOW})(?![a-z])", said) is not None


def worded_value(said: str) -> Fraction | Unreadable:
    """What a number in words comes to, in small letters."""
    known = value_of(said)
    # `sixty-fourth` is no sixty fourths.
    if isinstance(known, Fraction) and not re.search(_FINE, said):
        return known
    words = re.sub(" (?:of )?an?$| of$", "", said)
    whole, _, part = words.rpartition(" and ") if re.search(rf"(?:{_PART}|second)s?$", words) else (words, "", "")
    if not whole or part:
        return (Fraction(whole_of(whole)) if whole else Fraction(0)) + _part(part)
    ones, point, decimals = whole.partition(" point ")
    digits = "".join(str(DIGITS[word]) for word in decimals.split())
    return whole_of(ones) + (Fraction(int(digits), 10 ** len(digits)) if point else Fraction(0))


def _part(said: str) -> Fraction:
    fine = re.sub("(?<=thirty) (?=second)|(?<=sixty) (?=fourth)", "-", said)
    found = re.fullmatch(rf"(?:(?P<top>.+?)[ -])??(?P<bottom>thirty-second|sixty-fourth|{_PART})s?", fine)
    assert found is not None, said
    top = found["top"]
    return Fraction(whole_of(top) if top and top not in ("a", "an") else 1, _BOTTOMS[found["bottom"]])


def whole_of(said: str) -> int:
    """The value of a whole number below a thousand, in small letters."""
    if said in ("zero", "nought"):
        return 0
    before, hundred, rest = said.partition("hundred")
    value = 100 * ONES.get(before.strip(), 1) if hundred else 0
    words = [word for word in re.split("[ -]", rest if hundred else said) if word not in ("", "and")]
    return value + sum({**ONES, **TEENS, **TENS}[word] for word in words)
