"""Marks of a ruler in words: what a maker cuts to, and how well somebody could read (`eighths`, `5 mm`, `1/16 in`)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from msgspec import Struct

from foldwright.begin.draft.model import UNITS
from foldwright.begin.recover.model import MakerHabit
from foldwright.measure.length import Length, Unit
from foldwright.measure.numbers import squeezed
from foldwright.measure.reading import UNIT_WORDS, read_length

_PARTS = {
    "half": 2, "halves": 2, "quarter": 4, "fourth": 4, "eighth": 8, "sixteenth": 16, "thirty-second": 32, "tenth": 10,
    "4th": 4, "8th": 8, "16th": 16, "32nd": 32,
}  # fmt: skip
_LEADING = re.compile(
    r"^(?:(?:to|in|on|by|of|the|a|an|nearest|every|multiples|steps|marks|marked|parts|only|always)\s+)+", re.IGNORECASE
)
_TRAILING = re.compile(r"\s+(?:marks?|steps?|parts?|only)$", re.IGNORECASE)
_WHOLE = re.compile(r"(?:whole|full|even|round)\s+(?P<unit>[a-z]+)", re.IGNORECASE)
_PART = re.compile(rf"(?:1 )?(?P<part>{'|'.join(_PARTS)})s?(?:(?: of(?: an?)?)? (?P<unit>[a-z]+))?", re.IGNORECASE)
_OR = re.compile(r"\s+or\s+|,(?![0-9])\s*|\s+and\s+|\s*;\s*", re.IGNORECASE)


class RulerMarks(Struct, frozen=True):
    """A unit, and how far apart the marks are; None where only the unit was said."""

    unit: Unit
    apart: Fraction | None = None


def read_marks(said: str) -> RulerMarks | None:
    """Marks as somebody says them; None when they cannot be understood."""
    plain = _TRAILING.sub("", _LEADING.sub("", squeezed(said).rstrip(".")))
    if unit := UNITS.get(plain.casefold()) or UNIT_WORDS.get(plain.casefold()):
        return RulerMarks(unit)
    if (match := _WHOLE.fullmatch(plain)) and (unit := _unit(match["unit"])):
        return RulerMarks(unit, unit.mm)
    if match := _PART.fullmatch(plain):
        # An eighth of nothing else is one of an inch.
        unit = _unit(match["unit"]) if match["unit"] else Unit.INCH
        return RulerMarks(unit, unit.mm / _PARTS[match["part"].lower()]) if unit else None
    length = read_length(plain, Unit.INCH if "/" in plain else None)
    return RulerMarks(length.unit, length.mm) if isinstance(length, Length) else None


def read_habit(said: str) -> MakerHabit | None:
    """What a maker is known to cut to; None when it cannot be understood."""
    marks = read_marks(said)
    return MakerHabit(marks.unit.system, marks.apart) if marks else None


def read_bounds(said: str, are_marks: bool) -> Iterator[Length]:
    """How far a reading may be off, by `1/32 in or 0.5 mm`: half the distance of marks, or what is said."""
    for part in _OR.split(squeezed(said)):
        marks = read_marks(part)
        if marks is None:
            return
        apart = marks.apart or marks.unit.mm
        yield Length(apart / 2 if are_marks else apart, marks.unit)


def _unit(word: str) -> Unit | None:
    return UNIT_WORDS.get(word.lower()) or UNITS.get(word.lower())
