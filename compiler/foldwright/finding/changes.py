"""A change of a text as data: what a mend, an insertion or a measured time does to a recipe."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct


class Change(Struct, frozen=True, order=True):
    """The characters from `start` up to, not including, `end` give way to `new` (0-based offsets into the text)."""

    start: int
    end: int
    new: str


def changed(text: str, changes: Sequence[Change]) -> str:
    """The text after all of the changes; their offsets are those of the text as given, and none overlaps another."""
    parts: list[str] = []
    at = 0
    for change in sorted(changes):
        parts += text[at : change.start], change.new
        at = change.end
    return "".join([*parts, text[at:]])


def moved(offset: int, changes: Sequence[Change]) -> int:
    """Where a character stands after all of the changes; one that is gone, where what took its place begins."""
    at = offset
    for change in sorted(changes):
        if change.end <= offset:
            at += len(change.new) - (change.end - change.start)
        elif change.start < offset:
            at -= offset - change.start
    return at
