"""Where something stands in a text: offsets inside, lines and columns only when shown."""

from __future__ import annotations

from bisect import bisect_right

from msgspec import Struct


class Place(Struct, frozen=True, order=True):
    """A run of characters in one file: `start` up to, not including, `end` (0-based offsets into the decoded text)."""

    file: str
    start: int
    end: int


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
