"""What is the matter with a text or with a call, as plain data; the wording lives in `document`."""

from __future__ import annotations

from bisect import bisect_right
from enum import IntEnum

from msgspec import Struct

from foldwright.finding.changes import Change


class Place(Struct, frozen=True, order=True):
    """A run of characters in one file: `start` up to, not including, `end` (0-based offsets into the decoded text)."""

    file: str
    start: int
    end: int


class Said[T](Struct, frozen=True):
    """A value and where the author said it."""

    value: T
    place: Place


class LineTable:
    """Turns offsets into lines and columns, both counted from one."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._starts = [0]
        for number, character in enumerate(text):
            if character == "\n":
                self._starts.append(number + 1)

    def line_and_column(self, offset: int) -> tuple[int, int]:
        line = bisect_right(self._starts, offset)
        return line, offset - self._starts[line - 1] + 1

    def line(self, number: int) -> str:
        """The text of a line (counted from one), without its line end."""
        start = self._starts[number - 1]
        end = self._text.find("\n", start)
        return self._text[start:] if end < 0 else self._text[start:end]

    def between(self, start: int, end: int) -> str:
        """The author's own words from one offset to another, on one line."""
        return " ".join(self._text[start:end].split())


class Strength(IntEnum):
    """How much a finding matters; a larger number is stronger."""

    THOUGHT = 1
    """Worth a look; the author may hush it."""
    MISFIT = 2
    """Something will not fit, or two numbers disagree."""
    FAULT = 3
    """The compiler cannot go on with this part."""


class Mend(Struct, frozen=True):
    """One way to put a finding right: changes of the text it stands in, made together."""

    changes: tuple[Change, ...]
    hides: bool = False
    """It puts nothing right, but has the finding not told again."""


class Finding(Struct, frozen=True):
    """`code` is a stable kebab-case name; `facts` fill the slots of its message in the catalogue.

    A fact's value is a str, int, Fraction, Length, Printed, or a tuple of those. `mends` are ways to put it right, the
    likeliest first; none where the author must say what was meant.
    """

    code: str
    strength: Strength
    place: Place | None
    facts: tuple[tuple[str, object], ...] = ()
    mends: tuple[Mend, ...] = ()

    @classmethod
    def of(cls, code: str, strength: Strength, place: Place | None, **facts: object) -> Finding:
        return cls(code, strength, place, tuple(facts.items()))


class Wrong(Struct, frozen=True):
    """What is the matter with a call, rather than with a text: the name of a message and what goes into it."""

    message: str
    facts: tuple[tuple[str, object], ...] = ()

    @classmethod
    def of(cls, message: str, **facts: object) -> Wrong:
        return cls(message, tuple(facts.items()))
