"""A finding told. It stands apart from the document so that whoever only tells findings need not load its model."""

from __future__ import annotations

from msgspec import Struct

from foldwright.finding import Strength


class Told(Struct, frozen=True):
    """A finding in words, with its place in the author's file; `line` and `column` count from 1, 0 when unknown."""

    file: str
    line: int
    column: int
    strength: Strength
    code: str
    says: str
    understood: str = ""
    remedy: str = ""
    line_text: str = ""
    said: str = ""
    """The author's own words at that place."""
    where: str = ""
    """The place in words: `recipe.md, line 27`."""
