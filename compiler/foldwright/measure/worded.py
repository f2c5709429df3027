"""Numbers in words as a sentence has them: `twenty-five`, `thirteen sixteenths of an`, `two point five`.

Two number words with a blank between may be one number (`twenty five millimetres`), or a count and a size (`twenty five
inch squares`). They are one where the unit is in the plural or one thing is spoken of (`a twenty five inch strip`).
"""

from __future__ import annotations

import re
from fractions import Fraction

from foldwright.measure.numbers import value_of
from foldwright.measure.spelled import (
    BOTTOMS,
    DECIMALS,
    DIGITS,
    HUNDREDS,
    HYPHENED_NUMBER,
    ONE,
    PART,
    TEEN,
    TEN,
    count_of_things,
    whole_of,
)
from foldwright.measure.unreadable import Unreadable

_FINE = "(?:thirty[ -]second|sixty[ -]fourth)"
_ORDINAL = rf"(?:{PART}|second|sixth|seventh|ninth|[a-z]+teenth|[a-z]+tieth|hundredth|thousandth|eleventh|twelfth)s?"
_BELOW = rf"(?:(?:{TEN})-(?:{ONE})|{TEN}|{TEEN}|{ONE})"
_OTHERWISE = rf"(?!-(?:{_ORDINAL}|{ONE}|{TEEN}|{TEN})(?![a-z])|-and-)"
"""Behind a number that is no part of another: `twenty-fifth` is none."""
_WHOLE = rf"(?:{HUNDREDS} and {_BELOW}(?! hundred|[ -]{_ORDINAL}(?![a-z]))|{HUNDREDS}|{_BELOW})(?! hundred)"
_FINE_PART = rf"(?:(?:thirty-second|sixty-fourth)s?(?=[ -]inch| of an? )|{_FINE}s?(?= of an? ))"
"""With a blank only where it says of what: people wait thirty seconds."""
_PARTS = (
    rf"(?:{_BELOW}[ -](?:{PART})s|(?:{_BELOW}[ -](?={_FINE}s)|(?:an?|one)[ -])?{_FINE_PART})"
    r"(?: of)?(?: an?)?"
)
"""Parts of one, with a count of more words than `spelled` joins, or finer ones."""

EIGHTHS = rf"{_BELOW}[ -](?:eighth|sixteenth)s"
"""What a ruler is marked in, more than one."""
_OF_A_ROW = "".join(rf"(?<!\b{word} )" for word in "row column day figure number page picture step week".split())
"""Behind these, the first word may be theirs: `in row twenty five inches are left`."""


def worded(plural: str, unit: str) -> str:
    """The pattern of a number in words in a small-letter text, longest reading first, without groups. `plural` are
    units in the plural, `unit` all of them."""
    blank = rf"(?:{HUNDREDS} {_BELOW}|(?:{HUNDREDS}(?: and)? )?(?:{TEN}) (?:{ONE}))"
    part = rf"(?: and (?:an? |{_BELOW}[ -])?(?:{PART})s?)?"
    return (
        rf"(?!(?!{_FINE_PART})(?:{TEN})-{_ORDINAL}(?![a-z]))"
        rf"(?:{_OF_A_ROW}{blank}{part}(?= (?:{plural})(?![a-z]))"
        rf"|(?<=\ba )(?:{TEN}) (?:{ONE})(?=[ -](?:{unit})(?![a-z]))"
        rf"|(?:{_WHOLE}|zero|nought){DECIMALS}"
        rf"|{_WHOLE} and (?:{_PARTS}|(?:an? |{_BELOW}[ -])?(?:{PART})s?(?: of an?)?)|{_PARTS}"
        rf"|{HYPHENED_NUMBER}{_OTHERWISE}(?! hundred)"
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
_PARTS_ALONE = re.compile(rf"(?:(?:{PART})s|{_FINE}s?)(?![a-z])")
"""Of which the number of them stands before in figures: `5 sixteenths of an inch`."""
_NEAR = 24
"""Characters: none of those words is longer."""


_COUNT_OF = re.compile(rf"(?P<count>{_BELOW}) (?:{PART})", re.IGNORECASE)


def count_of_parts(said: str) -> str:
    """What counts things in `ten quarter-inch strips`; nothing in `three quarter-inch strips`, which is a fraction."""
    found = _COUNT_OF.fullmatch(said)
    if found is None:
        return ""
    top, bottom = whole_of(found["count"].lower()), BOTTOMS[said.split()[-1].lower()]
    return found["count"] if count_of_things(top, bottom) else ""


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
    whole, _, part = words.rpartition(" and ") if re.search(rf"(?:{PART}|second)s?$", words) else (words, "", "")
    if not whole or part:
        return (Fraction(whole_of(whole)) if whole else Fraction(0)) + _part(part)
    ones, point, decimals = whole.partition(" point ")
    digits = "".join(str(DIGITS[word]) for word in decimals.split())
    return whole_of(ones) + (Fraction(int(digits), 10 ** len(digits)) if point else Fraction(0))


def _part(said: str) -> Fraction:
    fine = re.sub("(?<=thirty) (?=second)|(?<=sixty) (?=fourth)", "-", said)
    found = re.fullmatch(rf"(?:(?P<top>.+?)[ -])??(?P<bottom>thirty-second|sixty-fourth|{PART})s?", fine)
    assert found is not None, said
    top = found["top"]
    return Fraction(whole_of(top) if top and top not in ("a", "an") else 1, BOTTOMS[found["bottom"]])
