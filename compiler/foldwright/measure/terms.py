"""Numbers in a sentence, each with the unit behind it if it has one, and how they go together: what measures are of."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from foldwright.measure.length import Shape, Unit
from foldwright.measure.numbers import NUMBER, VULGAR, value_of
from foldwright.measure.reading import UNIT_WORDS
from foldwright.measure.unreadable import Unreadable
from foldwright.measure.worded import EIGHTHS, count_of_parts, worded, worded_value

_value = lru_cache(maxsize=4096)(value_of)
"""The same few numbers come again and again."""

_VULGAR = "".join(VULGAR)
_LETTERS = sorted(filter(str.isalpha, UNIT_WORDS), key=len, reverse=True)
_SPELLED_PARTS = tuple(word for word in _LETTERS if len(word) > 3)
_SPELLED_UNIT = f"(?:{'|'.join(_SPELLED_PARTS)})"
_PLURAL_UNIT = "|".join(word for word in _SPELLED_PARTS if word.endswith("s") or word == "feet")
_ONE_UNIT = re.compile(
    rf"[ -](?:{'|'.join(word for word in _SPELLED_PARTS if word not in _PLURAL_UNIT.split('|'))})(?![a-z])"
)
_SHORT_UNIT = "|".join(word for word in _LETTERS if len(word) <= 3)

_FIGURES = re.compile(f"{NUMBER}(?![0-9%°€]|[.,/:][0-9{_VULGAR}])")
_WORDS = re.compile(
    f"(?:{worded(_PLURAL_UNIT, _SPELLED_UNIT)}|an?(?= {_SPELLED_UNIT}(?![a-z]|-and-)))(?![a-z])", re.IGNORECASE
)
_IN_FIGURES = re.compile(f"[0-9{_VULGAR}⁰¹²³⁴-⁹]")
_ONE_AND_A_PART = re.compile(
    r"(?P<unit>inch|foot|yard|(?:centi)?met(?:re|er))[ -]and[ -](?P<part>an?[ -](?:half|quarter|third|eighth)"
    r"|three[ -]quarters)(?![\w/-])",
    re.IGNORECASE,
)
"""`an inch-and-a-half border`; the article belongs to the border."""
_IN_WORDS_TOO = re.compile(
    f"[0-9{_VULGAR}⁰¹²³⁴-⁹]|(?<![\\w'-])(?:{_WORDS.pattern}|{_ONE_AND_A_PART.pattern})", re.IGNORECASE
)

_UNIT = re.compile(
    rf"(?P<gap>[ -]?)(?:(?P<word>{_SPELLED_UNIT})(?![^\W_])|(?P<short>{_SHORT_UNIT})(?![\w']|/[a-z])"
    r"|(?P<mark>''|[\"'])(?!(?![dhlw](?![a-z]))[a-wyz]))",
    re.IGNORECASE,
)
_NOTHING_BEHIND = re.compile(r"[\s.,;:)x]|$")
_ORDINAL = re.compile("(?:ths?|nds?|rds?)(?![^\\W_])")
"""`1/8th of an inch`, `5 7/8ths in`: what is said aloud behind a fraction."""
_PART_OF_A_UNIT = re.compile(rf" (?:of )?an? (?={_SPELLED_UNIT})", re.IGNORECASE)
_ABBREVIATING_STOP = re.compile(r"\.(?= ?[a-z]|[,;:]| [(-] ?)")
_ARTICLE = re.compile("an? ", re.IGNORECASE)
"""In `a quarter-inch border` the article belongs to the border."""
_AND_A_HALF = re.compile(
    rf" and (an? (?:half|quarter|third|eighth)|three quarters|{EIGHTHS}|[1-9][0-9]?/[1-9][0-9]?)(?![\w/-])"
)


class Term(Struct, frozen=True):
    """A number from `start` to `number_end`, its unit up to `end`. `kind` is `word`, `short`, `mark`, or empty."""

    start: int
    number_end: int
    end: int
    value: Fraction | Unreadable
    spelled: bool
    """The number is in words."""
    whole: bool
    """A whole number in figures."""
    unit: Unit | None = None
    kind: str = ""
    bare_in: bool = False
    """The unit is `in`, which may be the little word."""
    hyphenated: bool = False
    abbreviated: bool = False
    """A stop stands behind the unit although the sentence goes on, which it never does behind the little word."""


def starts_in(text: str) -> re.Pattern[str]:
    """What a number of the text may begin with: words count only where some unit is spelled out."""
    low = text.lower()
    return _IN_WORDS_TOO if any(part in low for part in _SPELLED_PARTS) else _IN_FIGURES


def read_term(tidied: str, at: int) -> Term | None:
    """The number that begins at an offset, with its unit when one follows."""
    figures = _FIGURES.match(tidied, at)
    if figures:
        said = figures[0]
        ordinal = _ORDINAL.match(tidied, figures.end()) if "/" in said else None
        end = ordinal.end() if ordinal else figures.end()
        number = Term(at, end, end, _value(said), spelled=False, whole=said.isdigit())
        return _with_unit(tidied, number)
    if one := _ONE_AND_A_PART.match(tidied, at):
        part = value_of(one["part"].replace("-", " ").lower())
        unit, hyphenated = UNIT_WORDS[one["unit"].lower()], "-" in one[0]
        value = part if isinstance(part, Unreadable) else 1 + part
        return Term(at, one.end(), one.end(), value, True, False, unit, "word", hyphenated=hyphenated)
    words = _WORDS.match(tidied, at)
    if not words:
        return None
    said = words[0].lower()
    if (count := count_of_parts(said)) and _ONE_UNIT.match(tidied, words.end()):
        end = at + len(count)
        return Term(at, end, end, worded_value(count), spelled=True, whole=False)
    value = Fraction(1) if said in {"a", "an"} else worded_value(said)
    return _with_unit(tidied, Term(at, words.end(), words.end(), value, spelled=True, whole=False))


def _with_unit(tidied: str, number: Term) -> Term:
    at = number.number_end
    if not number.spelled and (part := _PART_OF_A_UNIT.match(tidied, at)) and _has_a_part(number.value):
        at = part.end() - 1
    found = _UNIT.match(tidied, at)
    if found is None:
        return number
    kind = found.lastgroup or ""
    said = found[kind]
    # Capitals: `3M` and `Step 3 In the hall` hold no unit. Numbers in words need a unit nobody can mistake.
    if kind == "short" and (said in {"M", "In", "iN"} or (number.spelled and said.lower() in {"in", "m", "ins"})):
        return number
    if kind == "mark" and (number.spelled or (found["gap"] and not _stands_apart(tidied, number, found))):
        return number
    end = found.end()
    stop = _ABBREVIATING_STOP.match(tidied, end) if kind == "short" else None
    end = stop.end() if stop else end
    hyphenated = found["gap"] == "-"
    article = _ARTICLE.match(tidied, number.start) if number.spelled and hyphenated else None
    return Term(
        article.end() if article else number.start,
        number.number_end,
        end,
        number.value,
        number.spelled,
        number.whole,
        UNIT_WORDS[said.lower()],
        kind,
        said.lower() == "in",
        hyphenated,
        stop is not None,
    )


def _stands_apart(tidied: str, number: Term, mark: re.Match[str]) -> bool:
    """`3 ¾ "` is three quarters more than three inches; behind a whole number the mark may open a quotation."""
    return mark["gap"] == " " and not number.whole and _NOTHING_BEHIND.match(tidied, mark.end()) is not None


def _has_a_part(value: Fraction | Unreadable) -> bool:
    """`1 3/16 of an inch` is so long; `3 of an inch` are three."""
    return isinstance(value, Fraction) and value.denominator > 1


def and_a_half(tidied: str, term: Term) -> tuple[int, Fraction] | None:
    """What `two inches and a half` adds after its unit: where it ends, and the value of the part in that unit."""
    if term.kind != "word" or term.hyphenated:
        return None
    found = _AND_A_HALF.match(tidied, term.end)
    part = worded_value(found[1]) if found else None
    return (found.end(), part) if found and isinstance(part, Fraction) else None


class Series(Struct, frozen=True):
    """Numbers in a row with what joins them; only the last need have a unit."""

    terms: list[Term]
    kinds: list[str]


def groups_of(series: Series) -> Iterator[tuple[list[Term], Shape]]:
    """The crosses of a series one by one, or its numbers as one list; a range is none of a piece's lengths."""
    terms, kinds = series.terms, series.kinds
    if "range" in kinds:
        return
    if "cross" not in kinds:
        yield terms, Shape.LIST if kinds else Shape.SINGLE
        return
    first = 0
    for number in range(len(terms)):
        if number == len(kinds) or kinds[number] != "cross":
            if 1 < number + 1 - first < 4:
                yield terms[first : number + 1], Shape.CROSS
            first = number + 1


def merge_and_a_half(series: Series) -> tuple[list[Term], list[str]]:
    """`2 and a half inches` is one number, not a list of two."""
    terms, kinds = series.terms, series.kinds
    last = terms[-1]
    if not (kinds and kinds[-1] == "list" and last.spelled and terms[-2].whole and last.unit):
        return terms, kinds
    whole, part = terms[-2].value, last.value
    if isinstance(whole, Unreadable) or isinstance(part, Unreadable) or part >= 1:
        return terms, kinds
    return [*terms[:-2], replace(last, start=terms[-2].start, value=whole + part)], kinds[:-1]


def last_group(terms: list[Term], kinds: list[str]) -> tuple[list[Term], Shape, list[Term]]:
    """The numbers that share the last unit, how they are joined, and those before them left without a unit."""
    # `cut 2, 3 in wide` is one length; `at 2, 4, 6 in` are three.
    if not kinds or (kinds[-1] == "comma" and kinds[-2:] != ["comma", "comma"]):
        return terms[-1:], Shape.SINGLE, []
    if kinds[-1] == "range":
        shape, together, most = Shape.RANGE, {"range"}, 2
    elif kinds[-1] == "cross":
        shape, together, most = Shape.CROSS, {"cross"}, 3
    else:
        shape, together, most = Shape.LIST, {"list", "comma"}, len(terms)
    first = len(terms) - 1
    while first and kinds[first - 1] in together and len(terms) - first < most:
        first -= 1
    if shape is Shape.CROSS and _counted(terms[first:]):
        return terms[first + 1 :], shape, []
    left = terms[:first] if first and kinds[first - 1] != "comma" else []
    return terms[first:], shape, left


def _counted(terms: list[Term]) -> bool:
    """`2 x 5" x 7"` and `2x 5" x 7"` are two of that size: only the lengths have their marks."""
    return len(terms) == 3 and terms[0].whole and not terms[0].unit and all(term.unit for term in terms[1:])
