"""Offsets between here and the browser: Python counts characters, JavaScript counts units of UTF-16."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from foldwright.finding.changes import Change


class Offsets:
    """The offsets of one text, both ways. Most texts have no character beyond U+FFFF, and nothing to reckon."""

    def __init__(self, text: str) -> None:
        self._far = [] if text.isascii() else [at for at, sign in enumerate(text) if ord(sign) > 0xFFFF]
        self._far_there = [at + before for before, at in enumerate(self._far)]

    def there(self, offset: int) -> int:
        """An offset of ours as the browser counts."""
        return offset + bisect_right(self._far, offset - 1)

    def here(self, offset: int) -> int:
        """An offset of the browser's as we count; one that falls within a character is taken to its start."""
        return offset - bisect_right(self._far_there, offset - 1)

    def changes(self, changes: Sequence[Change]) -> list[dict[str, object]]:
        """Changes of the text as the browser makes them."""
        return [{"start": self.there(one.start), "end": self.there(one.end), "new": one.new} for one in changes]
