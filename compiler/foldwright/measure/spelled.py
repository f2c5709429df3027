"""The words of numbers and what they come to: `twenty-five`, `a hundred and eight`, `three quarters of an`.

One list and one reader for all: recipes' facts and words, captions, notes, wishes, the stock file, durations.
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import gcd

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
DIGITS = {**ONES, "zero": 0, "oh": 0, "nought": 0}
BOTTOMS = {
    "half": 2, "halve": 2, "third": 3, "quarter": 4, "fourth": 4, "fifth": 5, "eighth": 8, "tenth": 10, "sixteenth": 16,
    "thirty-second": 32, "sixty-fourth": 64,
}  # fmt: skip
ONE, TEEN, TEN = ("|".join(words) for words in (ONES, TEENS, TENS))
HUNDREDS = rf"(?:an?|{ONE}) hundred"
DECIMALS = rf"(?: point(?: (?:zero|oh|nought|{ONE}))+)"
PART = "halve|half|third|quarter|fourth|fifth|eighth|tenth|sixteenth"

_JOINED = rf"(?:(?:{TEN})(?:[ -](?:{ONE}))?|{TEEN}|{ONE})"
_HYPHENED = rf"(?:(?:{TEN})(?:-(?:{ONE}))?|{TEEN}|{ONE})"
_WHOLE = rf"(?:{HUNDREDS}(?:(?: and)? {_JOINED})?|{_JOINED})"


def _number(whole: str, below: str, top: str) -> str:
    # Singular parts of twenty and more are ordinals: `twenty-fifth` is no number of fifths.
    part = rf"(?!(?:{TEN})[ -](?:{PART})(?![a-z]))(?:{below}[ -](?:{PART})s|(?:(?:an?|{top})[ -])?(?:{PART})s?)"
    return rf"(?:{whole} and {part}|{part}(?: of)?(?: an?)?|{whole})"


WORD_NUMBER = _number(_WHOLE, _JOINED, _JOINED)
"""A number in words (`one`, `two and a half`, `three quarters of an`), in tidied lower-case text, without groups."""
HYPHENED_NUMBER = _number(_HYPHENED, _HYPHENED, ONE)
"""The same in sentences, where `twenty five` and `a hundred two` may be so many things of five and two, and `thirteen
sixteenth-inch strips` thirteen: those are for the reader of sentences to tell apart."""

_SAID = re.compile(
    rf"(?P<whole>{_WHOLE}|zero|nought)(?P<decimals>{DECIMALS})?(?: and (?P<more>(?:an? )?[a-z -]+))?"
    r"|(?P<parts>[a-z -]+)"
)
_PARTS = re.compile(
    rf"(?:(?P<top>an?|{_WHOLE})[ -])?"
    rf"(?P<bottom>{PART}|(?:thirty|sixty)-(?:second|fourth)|thirty second(?=s? of)|sixty fourth(?=s? of))"
    r"(?P<many>s?)(?P<of> of(?: an?)?| an?)?"
)


def spelled_value(low: str) -> Fraction | None:
    """What a number in words comes to, in small letters; None where it is none, or may be a count of parts or an
    ordinal: `ten quarter`, `twenty-fifth`, `thirty-second`."""
    said = _SAID.fullmatch(low)
    if said is None:
        return None
    if said["whole"] is None:
        return parts_value(low)
    value = Fraction(whole_of(said["whole"]))
    if said["decimals"]:
        digits = "".join(str(DIGITS[word]) for word in said["decimals"].split()[1:])
        value += Fraction(int(digits), 10 ** len(digits))
    if said["more"] is None:
        return value
    more = None if said["decimals"] else parts_value(said["more"])
    return value + more if more is not None and more < 1 else None


def parts_value(low: str) -> Fraction | None:
    """`three quarters of an`, `a thirty-second of an`."""
    found = _PARTS.fullmatch(low)
    if found is None:
        return None
    bottom = BOTTOMS.get(found["bottom"].replace(" ", "-"))
    if bottom is None or (bottom > max(TEENS.values()) and not (found["top"] or found["of"])):
        return None
    top = found["top"]
    count = whole_of(top) if top and top not in ("a", "an") else 1
    if not count or (not found["many"] and count_of_things(count, bottom)):
        return None
    return Fraction(count, bottom)


def count_of_things(top: int, bottom: int) -> bool:
    """Whether so many parts, said in the singular, are so many things of that size: `ten quarter-inch strips`."""
    return top > 1 and (top > bottom or gcd(top, bottom) > 1)


def whole_of(said: str) -> int:
    """The value of a whole number below a thousand, in small letters."""
    if said in ("zero", "nought"):
        return 0
    before, hundred, rest = said.partition("hundred")
    value = 100 * ONES.get(before.strip(), 1) if hundred else 0
    words = [word for word in re.split("[ -]", rest if hundred else said) if word not in ("", "and")]
    return value + sum({**ONES, **TEENS, **TENS}[word] for word in words)
