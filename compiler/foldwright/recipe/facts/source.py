"""From the bytes of a file to its text (UTF-8 and nothing else, one kind of line end), and to its facts and words."""

from __future__ import annotations

import re

from msgspec import Struct

from foldwright.finding import Finding, Place, Strength
from foldwright.recipe.facts.limits import MOST_BYTES

_BYTE_ORDER_MARK = "\ufeff"
_MARKS_OF_UTF_16 = (b"\xff\xfe", b"\xfe\xff")
_KIBIBYTE = 1024
_DASHES = r"[^\S\n]*(?:-{3,}|[-–—−]*[–—−][-–—−]*)[^\S\n]*"
_OPENING = re.compile(_DASHES + "$", re.MULTILINE)
"""A line of dashes; a word processor turns three into one long one."""
_CLOSING = re.compile(rf"^(?:{_DASHES}|\.\.\.[^\S\n]*)$", re.MULTILINE)
_FACT_LINE = re.compile(r"(?:[^\S\n]*#[^\n]*\n|\s*\n)*[^\W\d][^\W\d\n]*(?:[ _-][^\W\d\n]+){0,2}:(?:\s|$)")
_BLOCK = re.compile(r"^(?:```|~~~)", re.MULTILINE)
_WORDS_BEGIN = re.compile(r"^(?=#{2,6}[^\S\n]+\S|```|~~~)|(?<=\n)[^\S\n]*\n(?=[^\s#:-][^:\n]*$)", re.MULTILINE)
"""A heading, a block, or prose after an empty line: where the words begin when nothing else says so."""


def decode(data: bytes, file: str) -> tuple[str | None, tuple[Finding, ...]]:
    """The text without a byte order mark and with line ends of one character, or None and why it is no text.

    Offsets of all findings about the file count in the text given back.
    """
    if len(data) > MOST_BYTES:
        return None, (_fault("file-too-large", file, limit=MOST_BYTES // _KIBIBYTE**2),)
    if data.startswith(_MARKS_OF_UTF_16):
        return None, (_fault("file-other-encoding", file, encoding="UTF-16"),)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as slip:
        return None, (_not_utf8(data, slip.start, file),)
    if "\0" in text:
        return None, (_fault("file-no-text", file),)
    text = text.removeprefix(_BYTE_ORDER_MARK)
    return text.replace("\r\n", "\n").replace("\r", "\n"), ()


def _fault(code: str, file: str, **facts: object) -> Finding:
    return Finding.of(code, Strength.FAULT, Place(file, 0, 0), file=file, **facts)


def _not_utf8(data: bytes, at: int, file: str) -> Finding:
    """Says where the first letter stands that is not UTF-8, and what comes before it."""
    before = data[:at].decode("utf-8").replace("\r\n", "\n").replace("\r", "\n")
    line = before.count("\n") + 1
    words = before.rpartition("\n")[2]
    return _fault("file-not-utf8", file, line=line, column=len(words) + 1, before=words[-20:].lstrip())


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
