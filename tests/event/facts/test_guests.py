"""Lists of guests as spreadsheets write them: every encoding, delimiter and heading, and what is told of slips."""

from __future__ import annotations

import codecs
import csv
import io
import warnings

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.document.findings import tell
from foldwright.event.facts.guests import LONGEST, MOST_GUEST_BYTES, MOST_GUESTS, Guest, GuestsRead, read_guests
from foldwright.event.facts.projects import Offered
from foldwright.finding import Strength
from workbench.long import tries

FILE = "guests.csv"


def guests_of(read: GuestsRead) -> list[tuple[str, str, str]]:
    """Name, table, and what is said besides."""
    guests = read.guests or ()
    return [(one.name, one.table, "; ".join(filter(None, (one.diet, one.note)))) for one in guests]


def told(read: GuestsRead) -> list[tuple[str, int, str]]:
    """Each finding with its line and the words it stands at; each can be told, and says what to do."""
    lines = []
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for finding in read.findings:
            one = tell(finding, {FILE: read.text})
            assert one.says
            assert one.remedy
            assert finding.place is not None
            lines.append((finding.code, one.line, read.text[finding.place.start : finding.place.end]))
    return lines


def read(text: str) -> GuestsRead:
    return read_guests(text.encode(), FILE)


TWO = [("Zoë Okafor", "Lily", ""), ("Ümit Østby", "Rose", "no nuts")]
TEXT = "Name,Table,Diet\nZoë Okafor,Lily,\nÜmit Østby,Rose,no nuts\n"


@pytest.mark.parametrize(
    "data",
    [
        TEXT.encode(),
        codecs.BOM_UTF8 + TEXT.encode(),
        codecs.BOM_UTF16_LE + TEXT.encode("utf-16-le"),
        codecs.BOM_UTF16_BE + TEXT.encode("utf-16-be"),
        TEXT.replace("\n", "\r\n").encode(),
        TEXT.replace("\n", "\r").encode(),
        TEXT.replace(",", ";").encode(),
        TEXT.replace(",", "\t").encode(),
        b"sep=;\r\n" + TEXT.replace(",", ";").encode(),
        ("\n,,\n\n" + TEXT.replace("\n", "\n , ,\n\n")).encode(),
    ],
)
def test_encodings_line_ends_and_delimiters(data: bytes) -> None:
    found = read_guests(data, FILE)
    assert found.findings == ()
    assert guests_of(found) == TWO


def test_windows_1252_is_a_thought_with_an_example() -> None:
    found = read_guests(TEXT.replace("no nuts", "“no” nuts").encode("cp1252"), FILE)
    assert guests_of(found) == [TWO[0], ("Ümit Østby", "Rose", "“no” nuts")]
    assert [one.strength for one in found.findings] == [Strength.THOUGHT]
    assert told(found) == [("guests-windows-1252", 2, "Zoë")]


@pytest.mark.parametrize(
    ("heading", "row", "guest"),
    [
        ("Table,Guest", "Lily,Zoë", ("Zoë", "Lily", "")),
        ("SURNAME;First_Name;Table No.", "Okafor;Zoë;4", ("Zoë Okafor", "4", "")),
        ("First name,Last name", "Zoë,", ("Zoë", "", "")),
        ("email,Full Name,Allergies,Phone,Notes", "z@harbourstreet.example,Zoë,nuts,1,late", ("Zoë", "", "nuts; late")),
        ('"Name","Table #"', '"Okafor, Zoë","the ""long"" one"', ("Okafor, Zoë", 'the "long" one', "")),
        ("Name, Table", 'Zoë, "Lily, Rose"', ("Zoë", "Lily, Rose", "")),
        ("name", "Zoë", ("Zoë", "", "")),
        ("Note\tName", "vegan; no nuts, please\tZoë", ("Zoë", "", "vegan; no nuts, please")),
    ],
)
def test_headings_in_any_order(heading: str, row: str, guest: tuple[str, str, str]) -> None:
    found = read(f"{heading}\n{row}\n")
    assert found.findings == ()
    assert guests_of(found) == [guest]


def test_without_headings_the_first_column_is_the_name_and_the_second_the_table() -> None:
    found = read("Zoë Okafor;Lily\nÜmit Østby;Rose;no nuts, no milk\nThird Guest\n")
    assert found.findings == ()
    assert guests_of(found) == [TWO[0], ("Ümit Østby", "Rose", "no nuts, no milk"), ("Third Guest", "", "")]


def test_names_are_kept_as_typed() -> None:
    names = ["=1+1", "+44", "-Zoë", "@zoë", "O'Neil", "Zoë (2)", "‘Zed’", "山田　太郎", "#1"]
    assert [guest[0] for guest in guests_of(read("name\n" + "\n".join(names)))] == names


def test_marks_without_width_are_taken_out_and_blanks_made_one() -> None:
    found = read('name,table\nZo\u200bë \u202e Okafor,"Lily\nand  Rose"\n')
    assert guests_of(found) == [("Zoë Okafor", "Lily and Rose", "")]


def test_control_characters_are_refused_where_they_stand() -> None:
    found = read("name,table\nZo\x07ë,4\nÜmit\x1b[31m,5\n")
    assert found.guests is None
    places = [
        (finding.code, found.text[finding.place.start : finding.place.end])
        for finding in found.findings
        if finding.place
    ]
    assert places == [("unprintable", "\x07"), ("unprintable", "\x1b")]


@pytest.mark.parametrize(
    ("text", "slips", "names"),
    [
        ("Zoë\n" + "x" * 81 + "\nÜmit\n", [("guests-cell-too-long", 2, "x" * 81)], ["Zoë", "Ümit"]),
        ("name,table\nZoë,4\n,5\nÜmit,6\n", [("guests-no-name", 3, ",5")], ["Zoë", "Ümit"]),
        ('name,table\n"Zoë,4\nÜmit,6\n', [("guests-quote-open", 2, '"')], ["Zoë", "Ümit"]),
        ("name\nZoë\nOkafor, Zoë\n", [("guests-cells-beyond", 3, "Zoë")], ["Zoë", "Okafor"]),
        ("Zoë,1,2,3,,5\n", [("guests-cells-beyond", 1, "3")], ["Zoë"]),
        ("Person,Table\nZoë,4\n", [("guests-name-column", 1, "Person,Table")], ["Zoë"]),
        ("Diet,Table\nvegan,4\n", [("guests-no-name-column", 1, "Diet,Table")], []),
        ("Our feast\n\nName,Table\nZoë,4\n", [("guests-above-headings", 1, "Our feast")], ["Zoë"]),
        ("Zo\N{REPLACEMENT CHARACTER}\n", [("guests-lost-letter", 1, "Zo\N{REPLACEMENT CHARACTER}")],
         ["Zo\N{REPLACEMENT CHARACTER}"]),
        ("Zoë\n" + "x" * 5001 + "\nÜmit", [("guests-line-too-long", 2, "x" * 5000)], ["Zoë", "Ümit"]),
        ("Zoë\nÜm\0it\n", [("guests-not-text", 2, "\0")], []),
        ("", [("guests-none", 1, "")], []),
        ("Name,Table\n,\n", [("guests-none", 1, "")], []),
    ],
)  # fmt: skip
def test_slips_are_told_with_their_line(text: str, slips: list[tuple[str, int, str]], names: list[str]) -> None:
    found = read(text)
    assert told(found) == slips
    assert [guest[0] for guest in guests_of(found)] == names


@pytest.mark.parametrize(
    "data",
    [
        b"PK\x03\x04\x14\x00\x06\x00",  # zip, in which .xlsx and .ods are kept (PKWARE APPNOTE 4.3.7)
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1",  # compound file, in which .xls is kept ([MS-CFB] 2.2)
        codecs.BOM_UTF16_LE + b"Z",
        codecs.BOM_UTF8 + b"Zo\xeb",
        b"Zo\x81",  # no letter of Windows-1252
        b"Zo\xeb\x00",
    ],
)
def test_what_is_no_text_is_refused(data: bytes) -> None:
    found = read_guests(data, FILE)
    assert found.guests is None
    assert told(found) == [("guests-not-text", 1, "")]


def test_names_too_many_and_files_too_large() -> None:
    found = read("".join(f"Zoë {number}\n" for number in range(MOST_GUESTS)))
    assert len(guests_of(found)) == MOST_GUESTS
    assert found.findings == ()
    more = read("name\n" + "".join(f"Zoë {number}\n" for number in range(MOST_GUESTS + 2)))
    assert len(guests_of(more)) == MOST_GUESTS
    assert told(more) == [("guests-too-many", MOST_GUESTS + 2, f"Zoë {MOST_GUESTS}")]
    assert told(read_guests(b"x" * (MOST_GUEST_BYTES + 1), FILE)) == [("guests-too-large", 1, "")]


def test_a_slip_on_every_line_is_told_ten_times_and_counted() -> None:
    found = read("name,table\n" + ",4\n" * 30)
    assert [code for code, _, _ in told(found)] == ["guests-no-name"] * 10 + ["guests-more-of-the-same"]
    assert dict(found.findings[-1].facts) == {"count": 20}


CELLS = st.text(
    st.characters(codec="utf-8", exclude_categories=("C", "Z")) | st.sampled_from([" ", ",", ";", '"']),
    min_size=1, max_size=30,
).map(lambda text: " ".join(text.split())).filter(bool)  # fmt: skip


@settings(max_examples=tries(20, 60))
@given(st.lists(st.tuples(CELLS, CELLS), min_size=1, max_size=8), st.sampled_from([",", ";", "\t"]), st.booleans())
def test_what_the_csv_module_writes_comes_back(rows: list[tuple[str, str]], delimiter: str, every_quote: bool) -> None:
    written = io.StringIO()
    quoting = csv.QUOTE_ALL if every_quote else csv.QUOTE_MINIMAL
    csv.writer(written, delimiter=delimiter, quoting=quoting).writerows([("Name", "Table"), *rows])
    found = read(written.getvalue())
    guests = tuple(Guest(name, table) for name, table in rows)
    assert [one.code for one in found.findings if one.strength is Strength.FAULT] == []
    assert found.guests is not None
    assert found.guests == guests


@settings(max_examples=tries(50, 150))
@given(st.binary(max_size=60) | st.text('",;\n\ta é=', max_size=60).map(str.encode))
def test_no_bytes_are_too_odd(data: bytes) -> None:
    """Whatever the file, every finding can be told at a place in its text, and every name fits a card."""
    found = read_guests(data, FILE, (Offered("a", ("A",)), Offered("e", ("é", "e"), "large")))
    told(found)
    assert all(0 <= one.place.start <= one.place.end <= len(found.text) for one in found.findings if one.place)
    assert all(0 < len(one[0]) <= LONGEST["name"] for one in guests_of(found))
    assert found.guests is not None or found.findings
