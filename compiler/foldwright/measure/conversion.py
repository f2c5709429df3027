"""Measures to be said in other units, as a person lines them up: alone, A x B, or a row that adds up to its total.

Rows are written `3/4 | 3 1/2 | 3/4 in`, `5/8 + 2 7/8 + 5/8 = 4 1/8 in` or `5/8, 2 7/8, 5/8, total 4 1/8 in`.
"""

from __future__ import annotations

import re

from msgspec import Struct

from foldwright.measure.length import Length, Shape, Unit
from foldwright.measure.numbers import FRACTION, VULGAR, squeezed
from foldwright.measure.prose import find_measures
from foldwright.measure.reading import read_length, read_lengths_cross
from foldwright.measure.unreadable import Unreadable

_MOST_CHARACTERS = 2000
_MOST_PARTS = 60
"""More panels than the longest concertina has, in one row."""

# A comma parts measures only with a space after it: without one it belongs to a number.
_MEASURES = re.compile(r"\s*(?:;|,\s)\s*")
_GOES_ON = re.compile(
    f"(?: x| by| and| total| all| sum|[-|+=&:;,])\\n|(?<![0-9/.,])[0-9]+\\n{FRACTION}|\\n(?![0-9.{''.join(VULGAR)}])",
    re.IGNORECASE,
)
"""A line ends within a measure behind a joining word, between a whole number and its fraction, and before no number."""
_CUT = "cut"
_NOTHING_ELSE = re.compile(r" (?:an? )?\.?", re.IGNORECASE)
_RANGE = re.compile(r" to | ?- ?", re.IGNORECASE)
_TOTAL = re.compile(
    r"(?:=|\b(?:in )?total:?\s|\bin all:?\s|\bsum:?\s)\s*|,?\s+(?:in all|in total|total)$", re.IGNORECASE
)
_PARTS = re.compile(r"\s*[|+]\s*")
_APART = re.compile(f"{_PARTS.pattern}|{_MEASURES.pattern}")


class TypedMeasure(Struct, frozen=True):
    """One measure as typed. Of a row (Shape.LIST) the `lengths` are its parts, and `total` what they come to."""

    said: str
    shape: Shape
    lengths: tuple[Length, ...]
    total: Length | None = None


def read_measures(text: str) -> tuple[TypedMeasure, ...] | Unreadable:
    """Every measure of a text; with a total said anywhere in it, the whole text is one row.

    A unit covers the bare numbers beside it within a row or a cross, never those of another measure.
    """
    plain = _on_one_line(text)
    if len(plain) > _MOST_CHARACTERS:
        return Unreadable("absurd-number", (("text", plain[:23] + "…"),))
    if _TOTAL.search(plain) or _PARTS.search(plain):
        row = _read_row(plain)
        return row if isinstance(row, Unreadable) else (row,)
    asked: list[TypedMeasure] = []
    for said in filter(None, _MEASURES.split(plain)):
        lengths = read_lengths_cross(said)
        if not isinstance(lengths, Unreadable):
            asked.append(TypedMeasure(said, Shape.SINGLE if len(lengths) == 1 else Shape.CROSS, lengths))
        elif found := _as_in_a_sentence(said):
            asked.append(found)
        else:
            return Unreadable(lengths.code, (*lengths.facts, ("said", said)))
    return tuple(asked) or Unreadable("no-number", (("text", ""),))


def _as_in_a_sentence(said: str) -> TypedMeasure | None:
    """`2 to 2 1/2 in`, `1 in to 2 in`, `an inch and a half`: what a sentence may hold, alone."""
    text = f"{_CUT} {said}"
    found = find_measures(text, frozenset({_CUT})).measures
    if not found or not _NOTHING_ELSE.fullmatch(text[: found[0].start].removeprefix(_CUT) + text[found[-1].end :]):
        return None
    first, *others = found
    if not others and first.shape is not Shape.LIST:
        return TypedMeasure(said, first.shape, first.lengths)
    apart = len(others) == 1 and _RANGE.fullmatch(text[first.end : others[0].start])
    lengths = tuple(length for one in found for length in one.lengths)
    return TypedMeasure(said, Shape.RANGE, lengths) if apart and len(lengths) == 2 else None


def _on_one_line(text: str) -> str:
    """A text without its line ends: a measure may go on in the next line; otherwise that is a measure of its own."""
    first, *lines = [line for line in map(squeezed, text.split("\n")) if line] or [""]
    for line in lines:
        first += (" " if _GOES_ON.search(f"{first}\n{line}") else "; ") + line
    return first


def _read_row(said: str) -> TypedMeasure | Unreadable:
    at_the_end = said.endswith(("all", "total"))
    before, total_said = (_last_apart(said) if at_the_end else _at_total(said)) or (said, "")
    parts = [part for part in _APART.split(before) if part]
    if len(parts) > _MOST_PARTS:
        return Unreadable("too-many-lengths", (("text", said[:23] + "…"), ("count", len(parts))))
    lengths = _covered([*parts, total_said] if total_said else parts)
    if isinstance(lengths, Unreadable):
        return lengths
    stated = lengths.pop() if total_said else None
    if not lengths:
        return Unreadable("no-number", (("text", said),))
    total = stated or sum(lengths[1:], start=lengths[0])
    return TypedMeasure(said, Shape.LIST, tuple(lengths), total)


def _at_total(said: str) -> tuple[str, str] | None:
    match = _TOTAL.search(said)
    return (said[: match.start()], said[match.end() :]) if match else None


def _last_apart(said: str) -> tuple[str, str] | None:
    """`5/8, 2 7/8, 4 1/8 in in all`: the last measure is the total."""
    row = _TOTAL.sub("", said).strip()
    places = list(_APART.finditer(row))
    return (row[: places[-1].start()], row[places[-1].end() :]) if places else None


def _covered(parts: list[str]) -> list[Length] | Unreadable:
    """The lengths of a row; a bare number takes the unit of the next measure that has one, else of the one before."""
    units: list[Unit | None] = []
    for part in parts:
        alone = read_length(part)
        units.append(alone.unit if isinstance(alone, Length) else None)
    lengths: list[Length] = []
    for number, part in enumerate(parts):
        unit = next(filter(None, units[number:]), None) or next(filter(None, reversed(units[:number])), None)
        length = read_length(part, unit)
        if isinstance(length, Unreadable):
            return length
        lengths.append(length)
    return lengths
