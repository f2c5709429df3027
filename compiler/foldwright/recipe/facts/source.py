"""From the bytes of a file to its text: UTF-8 and nothing else, one kind of line end, not too much of it."""

from __future__ import annotations

from foldwright.finding import Finding, Place, Strength
from foldwright.recipe.facts.limits import MOST_BYTES

_BYTE_ORDER_MARK = "\ufeff"
_MARKS_OF_UTF_16 = (b"\xff\xfe", b"\xfe\xff")
_KIBIBYTE = 1024


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
