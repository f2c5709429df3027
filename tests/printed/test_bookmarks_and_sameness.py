"""The outline, and two files compared."""

from __future__ import annotations

import pikepdf

from printed.bookmarks import Bookmark, bookmarks
from printed.making import made, spoilt
from printed.same import difference


def test_headings_make_an_outline_with_their_pages() -> None:
    body = "<h1>Boat</h1><h2>Hull</h2><h3>Bow</h3><h2 style='break-before:page'>Sail</h2>"
    hull = Bookmark("Hull", 1, (Bookmark("Bow", 1),))
    assert bookmarks(made(body)) == [Bookmark("Boat", 1, (hull, Bookmark("Sail", 2)))]


def test_a_file_may_have_none() -> None:
    assert bookmarks(made("<p>x</p>")) == []
    assert bookmarks(made("<h1 style='bookmark-level:none'>x</h1>")) == []


def test_the_same_bytes_differ_in_nothing() -> None:
    assert difference(made(), bytes(bytearray(made()))) == ""


def test_the_place_and_the_object_of_a_difference_are_told() -> None:
    told = difference(made(), made(title="Paper hats"))
    assert f"{len(made())} and {len(made(title='Paper hats'))} bytes" in told
    assert "/Metadata" in told.split("different objects: ")[1]
    assert "/Page" not in told.split("different objects: ")[1]


def test_one_file_longer_than_the_other() -> None:
    longer = made() + b"\n"
    assert f"the first different one at {len(made())}" in difference(made(), longer)
    assert difference(made(), longer).endswith("different objects: none")


def test_a_number_changed_in_an_object_is_found() -> None:
    def widen(file: pikepdf.Pdf) -> None:
        file.pages[0].mediabox = [0, 0, 300, 420]

    one, other = spoilt(made(), lambda file: None), spoilt(made(), widen)
    assert "/Page" in difference(one, other).split("different objects: ")[1]


def test_what_is_no_pdf_is_compared_all_the_same() -> None:
    assert difference(b"abc", b"abd") == (
        "3 and 3 bytes, the first different one at 2: b'abc' and b'abd'; different objects: not to be read"
    )
