"""Numbers of a sentence in a row, and which of them belong together: crosses, lists, ranges."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from foldwright.measure.shape import Shape
from foldwright.measure.terms import Term
from foldwright.measure.unreadable import Unreadable


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
