"""A list of guests as bytes to rows of cells: encodings, delimiters and quotes (comma-separated values, RFC 4180)."""

from __future__ import annotations

import codecs
import csv
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import chain, takewhile

from msgspec import Struct

from foldwright.event.facts.guest_headings import heading_of
from foldwright.finding import Finding, Place, Strength

MOST_GUEST_BYTES = 4 * 1024 * 1024
LINES_ABOVE = 5
"""Among so many the headings are looked for."""
LINES_LOOKED_AT = 200
_MOST_LINES = 20
"""Of one cell; more is a quote that was never closed."""
_LONGEST_LINE = 5000
"""Characters; all the lines of a cell together are fewer than the csv module reads."""
_MOST_TOLD = 10
"""Findings of one kind; what is wrong with a whole column is wrong on every line."""

_MARKS = ((codecs.BOM_UTF8, "utf-8"), (codecs.BOM_UTF16_LE, "utf-16-le"), (codecs.BOM_UTF16_BE, "utf-16-be"))
_OTHER_PROGRAMS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"%PDF", b"{\\rtf")
"""How the own files of spreadsheets and word processors begin (zip and OLE archives, PDF, RTF)."""
_DELIMITERS = ("\t", ";", ",")
_NAMED_DELIMITER = re.compile(r'"?sep=(?P<mark>[,;\t])"?,*\n?', re.IGNORECASE)
"""The first line with which Excel names the delimiter; it is no guest."""
_BLANKS = re.compile(r"[ \t\n\u2028\u2029]+")
_UNSEEN = re.compile("[\u200b\u200e\u200f\u202a-\u202e\u2060\u2066-\u2069\ufeff]")
"""Marks without width that turn the writing round or hide in copied text."""
_LETTERS = re.compile(r"\S*[^\x00-\x7f]\S*")


class GuestFindings:
    """What was found so far, by where it stands; of each kind only the first few, and how many more."""

    def __init__(self, file: str) -> None:
        self._file = file
        self._found: list[Finding] = []
        self._count: Counter[str] = Counter()
        self.any_fault = False

    def fault(self, code: str, start: int, end: int, **facts: object) -> None:
        self.any_fault = True
        self._add(code, Strength.FAULT, Place(self._file, start, end), facts)

    def thought(self, code: str, start: int, end: int, **facts: object) -> None:
        self._add(code, Strength.THOUGHT, Place(self._file, start, end), facts)

    def once(self, code: str, start: int, end: int, **facts: object) -> None:
        """A thought that is not told again."""
        if not self._count[code]:
            self.thought(code, start, end, **facts)

    def _add(self, code: str, strength: Strength, place: Place, facts: dict[str, object]) -> None:
        self._count[code] += 1
        if self._count[code] <= _MOST_TOLD:
            self._found.append(Finding.of(code, strength, place, **facts))

    @property
    def findings(self) -> tuple[Finding, ...]:
        more = sum(count - _MOST_TOLD for count in self._count.values() if count > _MOST_TOLD)
        found = sorted(self._found, key=lambda finding: finding.place.start if finding.place else 0)
        if more:
            strength = Strength.FAULT if self.any_fault else Strength.THOUGHT
            found.append(Finding.of("guests-more-of-the-same", strength, Place(self._file, 0, 0), count=more))
        return tuple(found)


# --- from bytes to text ---------------------------------------------------------------------------------------------


def decoded(data: bytes, told: GuestFindings) -> str | None:
    """The text with line ends of one character, or None and why it is no text."""
    if len(data) > MOST_GUEST_BYTES:
        told.fault("guests-too-large", 0, 0, most=MOST_GUEST_BYTES // 1024**2)
        return None
    if data.startswith(_OTHER_PROGRAMS):
        told.fault("guests-not-text", 0, 0)
        return None
    mark, encoding = next((pair for pair in _MARKS if data.startswith(pair[0])), (b"", ""))
    try:
        return _plain_ends(data[len(mark) :].decode(encoding or "utf-8"))
    except UnicodeDecodeError:
        if not encoding and b"\0" not in data:
            return _western(data, told)
        told.fault("guests-not-text", 0, 0)
        return None


def _western(data: bytes, told: GuestFindings) -> str | None:
    """Taken for Windows-1252, in which older spreadsheets of western Europe and America write."""
    try:
        text = _plain_ends(data.decode("cp1252"))
    except UnicodeDecodeError:
        told.fault("guests-not-text", 0, 0)
        return None
    if letters := _LETTERS.search(text):
        told.thought("guests-windows-1252", letters.start(), letters.end(), example=letters[0].strip('",;\t')[:40])
    return text


def _plain_ends(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


# --- from text to rows ----------------------------------------------------------------------------------------------


class GuestRow(Struct, frozen=True):
    """The cells of one guest, cleaned, and the offsets its line or lines reach from and to."""

    cells: tuple[str, ...]
    start: int
    end: int


def rows_of(text: str, told: GuestFindings) -> Iterator[GuestRow]:
    """The rows in which something stands. A quote that is never closed spoils only its own line."""
    lines = [line + "\n" for line in text.split("\n")]
    named = _NAMED_DELIMITER.fullmatch(lines[0])
    delimiter = named["mark"] if named else _delimiter(lines)
    at = offset = 0
    while at < len(lines):
        if lines[at].isspace():
            offset += len(lines[at])
            at += 1
            continue
        most = _MOST_LINES if '"' in lines[at] else 1
        given = list(takewhile(lambda line: len(line) <= _LONGEST_LINE, lines[at : at + most]))
        cells, used = _read_row(given, delimiter) if given else ([], 1)
        if not given:
            told.fault("guests-line-too-long", offset, offset + _LONGEST_LINE, most=_LONGEST_LINE)
        elif used > len(given):
            quote = offset + given[0].rindex('"')
            told.fault("guests-quote-open", quote, quote + 1)
            cells, used = _read_row([given[0].replace('"', "")], delimiter)
        length = sum(map(len, lines[at : at + used]))
        row = GuestRow(tuple(map(_cleaned, cells)), offset, offset + length - 1)
        if any(row.cells) and not (named and at == 0):
            yield row
        at += used
        offset += length


def _read_row(lines: Sequence[str], delimiter: str) -> tuple[list[str], int]:
    """The cells of the first row and how many lines it took: more than there are when a quote stays open."""
    reader = csv.reader(chain(lines, ("\n",)), delimiter=delimiter, skipinitialspace=True)
    return next(reader), reader.line_num


def _delimiter(lines: Sequence[str]) -> str:
    """The one that parts headings from each other; else the one that stands in most lines."""
    said = [line[:_LONGEST_LINE] for line in lines[:LINES_LOOKED_AT] if line.strip()]
    for line in said[:LINES_ABOVE]:
        for delimiter in _DELIMITERS:
            if len(set(filter(None, map(heading_of, map(_cleaned, _read_row([line], delimiter)[0]))))) > 1:
                return delimiter
    counts = {mark: [len(_read_row([line], mark)[0]) for line in said] for mark in _DELIMITERS}
    return max(_DELIMITERS, key=lambda mark: (sum(count > 1 for count in counts[mark]), sum(counts[mark])))


def _cleaned(cell: str) -> str:
    """The cell on one line, without marks that cannot be seen."""
    return _BLANKS.sub(" ", _UNSEEN.sub("", cell)).strip()
