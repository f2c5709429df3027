"""Reading a length the way a crafter types it: `4 1/8 in`, `4⅛″`, `10,5 cm`, `1 ft 6 in`, `8 1/2 x 11 in`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from difflib import get_close_matches
from fractions import Fraction
from types import MappingProxyType

from foldwright.measure.length import Length, Unit
from foldwright.measure.numbers import NUMBER, squeezed, value_of
from foldwright.measure.spelled import WORD_NUMBER
from foldwright.measure.unreadable import Unreadable

UNIT_WORDS: Mapping[str, Unit] = MappingProxyType({spelling: unit for unit in Unit for spelling in unit.spellings})
"""Every spelling of a unit of length, lower case and without its full stop, to the unit."""

LONGEST_MM = 10_000_000
"""Ten kilometres, longer than any reel of twine; a larger number is a slip of the hand."""
PARTS_OF_A_MILLIMETRE = 1000
"""The shortest length is a thousandth of a millimetre, thinner than any paper."""

_MOST_CHARACTERS = 200
_ONE = re.compile(f"(?P<number>-? ?{NUMBER}) ?-?(?P<unit>[a-z\"']*)\\.?", re.IGNORECASE)
_SPELLED = re.compile(f"(?P<number>{WORD_NUMBER})[ -](?P<unit>[a-z]+)\\.?", re.IGNORECASE)
_LOOSE = re.compile(r"(?P<number>.*?) ?(?P<unit>[a-z]{2,}|['\"]+|(?<=[0-9 ])m)\.?", re.IGNORECASE | re.DOTALL)
_UNITS = "|".join(sorted(UNIT_WORDS, key=len, reverse=True))
_COMPOUND = re.compile(
    f"(?P<first>{NUMBER} ?(?:{_UNITS}))\\.?,? ?(?:and )?(?P<rest>{NUMBER} ?(?:{_UNITS})\\.?)", re.IGNORECASE
)
_CROSS = re.compile(r" +(?:x|by) +|(?<![a-wyz] )x(?= ?[0-9.,½⅓⅔¼¾⅕-⅞⅐⅑⅒])|(?<=[0-9\"'½-⅞] )x(?=[0-9])", re.IGNORECASE)


def read_number(text: str) -> Fraction | Unreadable:
    """The exact value of a number alone (no unit); nought is allowed, anything below it is not."""
    return value_of(squeezed(text))


def read_length(text: str, default: Unit | None = None) -> Length | Unreadable:
    """One length with its unit, or in `default` when it has none; always longer than nothing."""
    return _read_one(squeezed(text), default)


def read_lengths_cross(text: str, default: Unit | None = None) -> tuple[Length, ...] | Unreadable:
    """`A x B unit`, up to three lengths; a unit covers the bare numbers beside it. A length alone comes back alone."""
    whole = squeezed(text)
    if len(whole) > _MOST_CHARACTERS:
        return Unreadable("absurd-number", (("text", whole[:23] + "…"),))
    parts = [part.strip() for part in _CROSS.split(whole)]
    if len(parts) > 3:
        return Unreadable("too-many-lengths", (("text", text.strip()), ("count", len(parts))))
    # From the right, since a unit covers what stands before it; `4 in x 3` is covered from the left.
    unit = default
    lengths: list[Length] = []
    for number, part in reversed(list(enumerate(parts))):
        length = _read_one(part, unit)
        if isinstance(length, Unreadable) and length.code == "no-unit" and number:
            length = _read_one(part, _unit_before(parts[:number]))
        if isinstance(length, Unreadable):
            return length
        unit = length.unit
        lengths.append(length)
    return tuple(reversed(lengths))


def _unit_before(parts: list[str]) -> Unit | None:
    """The unit of the nearest length that has one."""
    for part in reversed(parts):
        length = _read_one(part, None)
        if isinstance(length, Length):
            return length.unit
    return None


def _read_one(whole: str, default: Unit | None) -> Length | Unreadable:
    match = _ONE.fullmatch(whole) if len(whole) <= _MOST_CHARACTERS else None
    if match is None:
        return _read_odd(whole, default)
    unit = _unit_of(match["unit"], default, whole)
    if isinstance(unit, Unreadable):
        return unit
    number = value_of(match["number"])
    return number if isinstance(number, Unreadable) else _sensible(number, unit, whole)


def _unit_of(word: str, default: Unit | None, whole: str) -> Unit | Unreadable:
    if not word:
        return default or Unreadable("no-unit", (("text", whole),))
    unit = UNIT_WORDS.get(word.lower())
    if unit:
        return unit
    nearest = get_close_matches(word.lower(), UNIT_WORDS, 1, 0.6)
    return Unreadable("unknown-unit", (("text", whole), ("word", word), ("nearest", nearest[0] if nearest else "")))


def _sensible(number: Fraction, unit: Unit, whole: str) -> Length | Unreadable:
    mm = number * unit.mm
    # Whole numbers are compared instead of fractions: this runs for every length of a recipe.
    top, bottom = mm.numerator, mm.denominator
    if top == 0:
        return Unreadable("zero-length", (("text", whole),))
    if top * PARTS_OF_A_MILLIMETRE < bottom or top > LONGEST_MM * bottom:
        return Unreadable("absurd-number", (("text", whole),))
    return Length(mm, unit)


def _read_odd(whole: str, default: Unit | None) -> Length | Unreadable:
    """What is no plain number and unit: words, feet and inches, several lengths, or something to complain of."""
    if not whole:
        return Unreadable("no-number", (("text", ""),))
    if len(whole) > _MOST_CHARACTERS:
        return Unreadable("absurd-number", (("text", whole[:23] + "…"),))
    if match := _SPELLED.fullmatch(whole):
        return _read_parts(match["number"], match["unit"], default, whole)
    if match := _COMPOUND.fullmatch(whole):
        return _read_compound(match["first"], match["rest"], whole)
    if len(_CROSS.split(whole)) > 1:
        return Unreadable("one-length-wanted", (("text", whole),))
    match = _LOOSE.fullmatch(whole)
    if match is None or not match["number"]:
        return _read_parts(whole, "", default, whole)
    return _read_parts(match["number"], match["unit"], default, whole)


def _read_parts(number_text: str, unit_word: str, default: Unit | None, whole: str) -> Length | Unreadable:
    """The fault of the number is told before the fault of the unit."""
    number = value_of(number_text.strip())
    if isinstance(number, Unreadable):
        return number
    unit = _unit_of(unit_word, default, whole)
    return unit if isinstance(unit, Unreadable) else _sensible(number, unit, whole)


def _read_compound(first: str, rest: str, whole: str) -> Length | Unreadable:
    """`1 ft 6 in`: a larger unit, then a smaller one of the same system; the sum is in the smaller."""
    large, small = _read_one(first, None), _read_one(rest, None)
    if isinstance(large, Unreadable):
        return large
    if isinstance(small, Unreadable):
        return small
    if large.unit.system is not small.unit.system or small.mm >= large.unit.mm:
        return Unreadable("one-length-wanted", (("text", whole),))
    return Length(large.mm + small.mm, small.unit)
