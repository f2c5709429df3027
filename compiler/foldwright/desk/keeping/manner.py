"""How the bytes of a recipe's file are written: a mark before the first letter or none, and one kind of line end."""

from __future__ import annotations

import codecs

from msgspec import Struct

_ENDS = ("\r\n", "\r", "\n")


class Manner(Struct, frozen=True):
    """A file written anew keeps the manner of the one it takes the place of."""

    marked: bool = False
    """Whether it begins with a byte order mark."""
    line_end: str = "\n"

    def bytes_of(self, text: str) -> bytes:
        """The text as a file. What no file can hold gives way to a sign for it."""
        written = plain(text).replace("\n", self.line_end).replace("\0", "\N{REPLACEMENT CHARACTER}")
        return codecs.BOM_UTF8 * self.marked + written.encode("utf-8", "replace")


def manner_of(data: bytes) -> Manner:
    """The manner of a file; of several kinds of line end the one that most lines have."""
    text = data.decode("utf-8", "replace")
    counts = dict.fromkeys(_ENDS, 0)
    counts["\r\n"] = text.count("\r\n")
    counts["\r"], counts["\n"] = (text.count(end) - counts["\r\n"] for end in ("\r", "\n"))
    most = max(counts.values())
    line_end = "\n" if counts["\n"] == most else next(end for end in _ENDS if counts[end] == most)
    return Manner(data.startswith(codecs.BOM_UTF8), line_end)


def plain(text: str) -> str:
    """The text with line ends of one character, as the house has it."""
    return text.replace("\r\n", "\n").replace("\r", "\n")
