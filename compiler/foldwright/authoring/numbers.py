"""The numbers in something an author said of a piece, each with its place, given out to the lengths they are."""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec import Struct

from foldwright.finding import Place
from foldwright.measure.length import Length, Unit
from foldwright.measure.numbers import NUMBER, tidy
from foldwright.measure.reading import UNIT_WORDS, read_length
from foldwright.measure.spelled import WORD_NUMBER

_UNIT = "|".join(sorted(map(re.escape, UNIT_WORDS), key=len, reverse=True))
_UNIT_AFTER = rf"(?:\s*|-)(?:{_UNIT})(?![a-z])"
_NUMBERS = re.compile(
    r"(?<![\w.,/])(?<!corner )(?<!line )(?<!panel )"
    rf"(?>(?P<two>{NUMBER}{_UNIT_AFTER}\.?,?\s*(?:and\s+)?{NUMBER}){_UNIT_AFTER}"
    rf"|(?P<one>{NUMBER})(?:{_UNIT_AFTER})?"
    rf"|(?P<word>{WORD_NUMBER}){_UNIT_AFTER})"
    r"(?!\s+(?:of|times)\b|\s*(?:°|deg))",
    re.IGNORECASE,
)
"""Two units that make one length first, then a number in figures, then one in words, which needs its unit. How many
there are of something (`6 of`, `5 times`) and degrees are no lengths."""


class SaidNumber(Struct, frozen=True):
    """A number as it is typed, without its unit: where, with its unit if it has one, and the words that follow it."""

    place: Place
    typed: str
    after: str

    def reads(self, unit: Unit) -> Length | None:
        """The length it is, in this unit where it has none of its own; nought is none."""
        read = read_length(self.typed, unit)
        return read if isinstance(read, Length) else None


def numbers_at(text: str, place: Place) -> Iterator[SaidNumber]:
    """Every number of a run of the text, in order."""
    said = tidy(text[place.start : place.end])
    for match in _NUMBERS.finditer(said):
        group = next(name for name in ("two", "one", "word") if match[name])
        start, end = match.span(group)
        where = Place(place.file, place.start + start, place.start + end)
        yield SaidNumber(where, match[0], said[match.end() :])


class NumbersSaid:
    """The numbers of one thing that is said; every one is given out once, in the order in which they stand."""

    def __init__(self, text: str, place: Place) -> None:
        self.all = tuple(numbers_at(text, place))
        self._free = list(self.all)

    def take(self, length: Length, words: str = "") -> Place | None:
        """The next number that is this length, one that the `words` (a pattern) follow before any other."""
        fits = [number for number in self._free if number.reads(length.unit) == length]
        if not fits:
            return None
        follows = re.compile(rf"\s*(?:{words})", re.IGNORECASE)
        found = next((number for number in fits if words and follows.match(number.after)), fits[0])
        self._free.remove(found)
        return found.place
