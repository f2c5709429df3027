"""The guests of an event, for place cards: from a table as spreadsheets write it (comma-separated values, RFC 4180)."""

from __future__ import annotations

import codecs
import csv
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import chain, islice, takewhile

from msgspec import Struct

from foldwright.finding import Finding, Place, Strength
from foldwright.recipe.complaints import Complaints
from foldwright.recipe.unprintable import UNPRINTABLE, gated

MOST_GUESTS = 10_000
MOST_GUEST_BYTES = 4 * 1024 * 1024
LONGEST = {"name": 80, "table": 80, "note": 200}
"""Characters that fit on a card."""
_MOST_LINES = 20
"""Of one cell; more is a quote that was never closed."""
_LONGEST_LINE = 5000
"""Characters; all the lines of a cell together are fewer than the csv module reads."""
_LINES_ABOVE = 5
"""Among so many the headings are looked for."""
_LINES_LOOKED_AT = 200
_MOST_TOLD = 10
"""Findings of one kind; what is wrong with a whole column is wrong on every line."""

_MARKS = ((codecs.BOM_UTF8, "utf-8"), (codecs.BOM_UTF16_LE, "utf-16-le"), (codecs.BOM_UTF16_BE, "utf-16-be"))
_OTHER_PROGRAMS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"%PDF", b"{\\rtf")
"""How the own files of spreadsheets and word processors begin (zip and OLE archives, PDF, RTF)."""
_DELIMITERS = ("\t", ";", ",")
_NAMED_DELIMITER = re.compile(r'"?sep=(?P<mark>[,;\t])"?,*\n?', re.IGNORECASE)
"""The first line with which Excel names the delimiter; it is no guest."""
_QUOTED = re.compile(r'"(?:[^"]|"")*"')
_BETWEEN_WORDS = re.compile(r"[\s_./#*:-]+")
_BLANKS = re.compile(r"[ \t\n\u2028\u2029]+")
_UNSEEN = re.compile("[\u200b\u200e\u200f\u202a-\u202e\u2060\u2066-\u2069\ufeff]")
"""Marks without width that turn the writing round or hide in copied text."""
_LETTERS = re.compile(r"\S*[^\x00-\x7f]\S*")

_HEADINGS: Mapping[str, str] = {
    **dict.fromkeys(("name", "names", "guest", "guests", "guest name", "full name", "name on card"), "name"),
    **dict.fromkeys(("first name", "firstname", "forename", "given name", "given names"), "first"),
    **dict.fromkeys(("last name", "lastname", "surname", "family name"), "last"),
    **dict.fromkeys(("table", "tables", "table number", "table no", "table name", "at table"), "table"),
    **dict.fromkeys(("note", "notes", "diet", "diets", "dietary", "dietary needs", "dietary requirements"), "note"),
    **dict.fromkeys(("allergy", "allergies", "allergens", "remark", "remarks", "meal", "menu"), "note"),
}
_WITHOUT_HEADINGS = ("name", "table", "note")


class Guest(Struct, frozen=True):
    """One place at a table, as typed but for runs of blanks. Only the name is never empty."""

    name: str
    table: str = ""
    note: str = ""


class Guests(Struct, frozen=True):
    """In the order of the file; two guests may have the same name."""

    guests: tuple[Guest, ...]


class GuestsRead(Struct, frozen=True):
    """`guests` is None when there are none. Places of `findings` are offsets into `text`, the file decoded."""

    guests: Guests | None
    findings: tuple[Finding, ...]
    text: str = ""


def read_guests(data: bytes, file: str) -> GuestsRead:
    """The guests and all that is the matter with the file. Whatever the bytes, a finding and never an exception."""
    told = _Told(file)
    text = _decoded(data, told)
    if text is None:
        return GuestsRead(None, told.findings)
    if (at := text.find("\0")) >= 0:
        told.fault("guests-not-text", at, at + 1)
        return GuestsRead(None, told.findings, text)
    if UNPRINTABLE.search(text):
        complaints = Complaints()
        gated(text, file, complaints)
        return GuestsRead(None, (*told.findings, *complaints.findings), text)
    guests = _guests(text, told)
    if not guests and not told.any_fault:
        told.fault("guests-none", 0, 0, file=file)
    return GuestsRead(Guests(guests) if guests else None, told.findings, text)


class _Told:
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


def _decoded(data: bytes, told: _Told) -> str | None:
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


def _western(data: bytes, told: _Told) -> str | None:
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


class _Row(Struct, frozen=True):
    """The cells of one guest, cleaned, and the offsets its line or lines reach from and to."""

    cells: tuple[str, ...]
    start: int
    end: int


def _rows(text: str, told: _Told) -> Iterator[_Row]:
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
        row = _Row(tuple(map(_cleaned, cells)), offset, offset + length - 1)
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
    said = [line for line in lines[:_LINES_LOOKED_AT] if line.strip()]
    for line in said[:_LINES_ABOVE]:
        for delimiter in _DELIMITERS:
            if len(_headings(map(_cleaned, line.replace('"', "").split(delimiter)))) > 1:
                return delimiter
    bare = [_QUOTED.sub("", line) for line in said]
    return max(_DELIMITERS, key=lambda mark: (sum(mark in line for line in bare), "".join(bare).count(mark)))


def _cleaned(cell: str) -> str:
    """The cell on one line, without marks that cannot be seen."""
    return _BLANKS.sub(" ", _UNSEEN.sub("", cell)).strip()


# --- from rows to guests --------------------------------------------------------------------------------------------


class _Columns(Struct, frozen=True):
    """Which cells are what: for each of name, first, last, table and note the numbers of its columns, from nought.

    `width` is how many columns there are; what stands beyond them belongs to nothing.
    """

    of: Mapping[str, tuple[int, ...]]
    width: int

    def cells(self, row: _Row, word: str) -> list[str]:
        """What stands in the columns of a word, empty cells left out."""
        numbers = self.of.get(word, ())
        return [row.cells[number] for number in numbers if number < len(row.cells) and row.cells[number]]


def _guests(text: str, told: _Told) -> tuple[Guest, ...]:
    rows = _rows(text, told)
    top = list(islice(rows, _LINES_ABOVE))
    columns, begin = _columns(top, told)
    guests = []
    for number, row in enumerate(chain(top[begin:], rows)):
        if number == MOST_GUESTS:
            told.fault("guests-too-many", row.start, row.end, most=MOST_GUESTS)
            break
        if guest := _guest(row, columns, text, told):
            guests.append(guest)
    return tuple(guests)


def _columns(top: Sequence[_Row], told: _Told) -> tuple[_Columns, int]:
    """What the columns are, and the number of the first row that is a guest."""
    for number, row in enumerate(top):
        headings = _headings(row.cells)
        # Above its headings a table may have a title; below other lines, one heading alone may be a guest.
        if not headings or (number and len(headings) < 2):
            continue
        if number:
            told.thought("guests-above-headings", top[0].start, top[number - 1].end)
        if not headings.keys() & {"name", "first", "last"}:
            headings["name"] = _name_column(row, headings, told)
            if not headings["name"]:
                return _Columns(headings, len(row.cells)), len(top)
        return _Columns(headings, len(row.cells)), number + 1
    return _Columns({word: (number,) for number, word in enumerate(_WITHOUT_HEADINGS)}, len(_WITHOUT_HEADINGS)), 0


def _headings(cells: Iterable[str]) -> dict[str, tuple[int, ...]]:
    """The columns by what their headings mean; of a word other than `note` the first column counts."""
    found: dict[str, tuple[int, ...]] = {}
    for number, cell in enumerate(cells):
        word = _HEADINGS.get(" ".join(_BETWEEN_WORDS.split(cell.casefold())).strip())
        if word and (word == "note" or word not in found):
            found[word] = (*found.get(word, ()), number)
    return found


def _name_column(row: _Row, headings: Mapping[str, tuple[int, ...]], told: _Told) -> tuple[int, ...]:
    """The first column with a heading that is not known is taken for the names."""
    known = set(chain.from_iterable(headings.values()))
    unknown = [number for number, cell in enumerate(row.cells) if cell and number not in known]
    if not unknown:
        told.fault("guests-no-name-column", row.start, row.end)
        return ()
    told.thought("guests-name-column", row.start, row.end, heading=row.cells[unknown[0]])
    return (unknown[0],)


def _guest(row: _Row, columns: _Columns, text: str, told: _Told) -> Guest | None:
    beyond = [cell for cell in row.cells[columns.width :] if cell]
    if beyond:
        told.thought("guests-cells-beyond", *_place_of(beyond[0], row, text), cell=beyond[0][:40])
    name = "".join(columns.cells(row, "name")) or " ".join(columns.cells(row, "first") + columns.cells(row, "last"))
    values = {
        "name": name,
        "table": "".join(columns.cells(row, "table")),
        "note": "; ".join(columns.cells(row, "note")),
    }
    for word, value in values.items():
        if len(value) > LONGEST[word]:
            said = value[:24] + "…"
            told.fault("guests-cell-too-long", *_place_of(value, row, text), word=word, said=said, most=LONGEST[word])
            values[word] = ""
    if "\N{REPLACEMENT CHARACTER}" in name:
        told.thought("guests-lost-letter", *_place_of(name, row, text), said=name[:40])
    if not name:
        told.fault("guests-no-name", row.start, row.end)
    return Guest(**values) if values["name"] else None


def _place_of(cell: str, row: _Row, text: str) -> tuple[int, int]:
    """Where a cell stands in its row; the whole row when it was cleaned or put together."""
    start = text.find(cell, row.start, row.end)
    return (start, start + len(cell)) if start >= 0 else (row.start, row.end)
