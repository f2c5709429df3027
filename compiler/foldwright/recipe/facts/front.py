"""Splitting a recipe into the facts at the top and the words below."""

from __future__ import annotations

import re

from msgspec import Struct

_DASHES = r"[^\S\n]*(?:-{3,}|[-–—−]*[–—−][-–—−]*)[^\S\n]*"
_OPENING = re.compile(_DASHES + "$", re.MULTILINE)
"""A line of dashes; a word processor turns three into one long one."""
_CLOSING = re.compile(rf"^(?:{_DASHES}|\.\.\.[^\S\n]*)$", re.MULTILINE)
_FACT_LINE = re.compile(r"(?:[^\S\n]*#[^\n]*\n|\s*\n)*[^\W\d][^\W\d\n]*(?:[ _-][^\W\d\n]+){0,2}:(?:\s|$)")
_BLOCK = re.compile(r"^(?:```|~~~)", re.MULTILINE)
_WORDS_BEGIN = re.compile(r"^(?=#{2,6}[^\S\n]+\S|```|~~~)|(?<=\n)[^\S\n]*\n(?=[^\s#:-][^:\n]*$)", re.MULTILINE)
"""A heading, a block, or prose after an empty line: where the words begin when nothing else says so."""


class Parts(Struct, frozen=True):
    """Both halves and the offset each begins at.

    `slip` names what was amiss with the lines of dashes: `not-opened`, `not-closed`, `no-facts`, or nothing.
    """

    front: str
    front_offset: int
    body: str
    body_offset: int
    slip: str = ""


def split(text: str) -> Parts:
    """Facts stand between two lines of dashes at the top; one forgotten is made up for where the meaning is plain."""
    first_line = text.rfind("\n", 0, len(text) - len(text.lstrip())) + 1
    opening = _OPENING.match(text, first_line)
    if opening:
        return _facts_from(text, opening.end(), "")
    if _FACT_LINE.match(text, first_line):
        return _facts_from(text, 0, "not-opened")
    return Parts("", 0, text, 0, "no-facts")


def _facts_from(text: str, start: int, slip: str) -> Parts:
    closing = _CLOSING.search(text, start)
    block = _BLOCK.search(text, start)
    # A block above the closing line is in the words: that line is a rule between paragraphs, and the real one missing.
    if closing and not (block and block.start() < closing.start()):
        return Parts(text[start : closing.start()], start, text[closing.end() :], closing.end(), slip)
    begin = _WORDS_BEGIN.search(text, start)
    end = begin.start() if begin else len(text)
    return Parts(text[start:end], start, text[end:], end, "not-closed")
