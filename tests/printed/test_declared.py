"""What a file must say of itself."""

from __future__ import annotations

from collections.abc import Callable

import pikepdf
import pytest

from printed.declared import declared, declared_complaints
from printed.making import made, spoilt


def test_a_good_file_says_all() -> None:
    assert declared_complaints(made(), title="Paper boat", language="en") == []
    said = declared(made())
    assert (said.part, said.title, said.language, said.dates) == ("1", "Paper boat", "en", ())


def test_another_title_or_language_than_expected() -> None:
    assert declared_complaints(made(), title="Paper hat") == ["the title is 'Paper boat', not 'Paper hat'"]
    assert declared_complaints(made(), language="de") == ["the language is 'en', not 'de'"]


def without(*path: str) -> Callable[[pikepdf.Pdf], object]:
    def change(file: pikepdf.Pdf) -> None:
        holder = file.Root
        for name in path[:-1]:
            holder = holder[name]
        del holder[path[-1]]

    return change


def replaced(old: bytes, new: bytes) -> Callable[[pikepdf.Pdf], object]:
    def change(file: pikepdf.Pdf) -> None:
        packet = file.Root.Metadata.read_bytes()
        assert old in packet
        file.Root.Metadata.write(packet.replace(old, new))

    return change


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        (without("/Lang"), "the file has no language"),
        (without("/MarkInfo"), "the file does not say that it is tagged"),
        (without("/StructTreeRoot"), "there is no structure tree"),
        (without("/ViewerPreferences", "/DisplayDocTitle"), "the title is not to be shown"),
        (replaced(b">Paper boat<", b"><"), "the metadata has no title"),
        (replaced(b'part="1"', b'part="2"'), "the metadata says part 2 of PDF/UA, not 1"),
        (replaced(b'pdfuaid:part="1"', b""), "the metadata says part none of PDF/UA, not 1"),
    ],
)
def test_each_thing_that_is_missing_is_said(change: Callable[[pikepdf.Pdf], object], complaint: str) -> None:
    assert declared_complaints(spoilt(made(), change)) == [complaint]


def test_without_metadata_there_is_neither_part_nor_title() -> None:
    assert declared_complaints(spoilt(made(), without("/Metadata"))) == [
        "the metadata says part none of PDF/UA, not 1",
        "the metadata has no title",
    ]


def test_tags_that_are_suspect() -> None:
    def doubt(file: pikepdf.Pdf) -> None:
        file.Root.MarkInfo.Suspects = True

    assert declared_complaints(spoilt(made(), doubt)) == ["the file says its tags are suspect"]


def test_the_part_as_an_element_is_read_as_well() -> None:
    as_element = replaced(b'pdfuaid:part="1" />', b"><pdfuaid:part>1</pdfuaid:part></rdf:Description>")
    assert declared_complaints(spoilt(made(), as_element)) == []


def test_a_file_that_says_when_it_was_made() -> None:
    def date(file: pikepdf.Pdf) -> None:
        file.docinfo["/CreationDate"] = "D:20260101000000Z"

    assert declared(spoilt(made(), date)).dates == ("D:20260101000000Z",)
