"""Fonts that are not ours, not embedded, or without a glyph, are found."""

from __future__ import annotations

import pikepdf

from printed.faces import face_complaints, faces
from printed.making import FACES, made, spoilt


def fonts_of(file: pikepdf.Pdf) -> list[pikepdf.Object]:
    return [thing for thing in file.objects if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/Font"]


def test_the_names_are_those_within_the_fonts() -> None:
    assert {face.program for face in faces(made())} == FACES
    assert {face.name for face in faces(made())} == {"Face", "Face-Bold", "Face-Italic"}
    assert face_complaints(made(), FACES) == []


def test_a_font_not_allowed_is_named() -> None:
    assert face_complaints(made(), FACES - {"SourceSansPro-It"}) == [
        "Face-Italic (SourceSansPro-It) is none of the fonts allowed"
    ]


def test_a_font_of_the_system_is_found() -> None:
    other = made("<p>Fold <span style='font-family:monospace'>it</span></p>")
    (complaint,) = face_complaints(other, FACES)
    assert "none of the fonts allowed" in complaint


def test_a_character_without_a_glyph_is_found() -> None:
    assert face_complaints(made("<p>boat 漢</p>"), FACES) == ["Face lacks glyphs for some characters"]


def test_a_font_not_embedded_is_found() -> None:
    def take_out(file: pikepdf.Pdf) -> None:
        for font in fonts_of(file):
            if "/FontDescriptor" in font:
                del font.FontDescriptor.FontFile2

    assert face_complaints(spoilt(made("<p>x</p>"), take_out), FACES) == ["Face is not embedded"]


def test_a_type_3_font_and_one_without_characters_are_found() -> None:
    def type_3(file: pikepdf.Pdf) -> None:
        glyphs = pikepdf.Dictionary(square=pikepdf.Stream(file, b"500 0 0 0 500 500 d1 0 0 500 500 re f"))
        facts = {"Type": pikepdf.Name.Font, "Subtype": pikepdf.Name.Type3, "CharProcs": glyphs}
        file.pages[0].Resources.Font["/Sq"] = file.make_indirect(pikepdf.Dictionary(**facts))

    def dumb(file: pikepdf.Pdf) -> None:
        for font in fonts_of(file):
            if "/ToUnicode" in font:
                del font.ToUnicode

    assert "a font is a Type 3 font" in face_complaints(spoilt(made("<p>x</p>"), type_3), FACES)
    assert face_complaints(spoilt(made("<p>x</p>"), dumb), FACES) == [
        "Face does not say which characters its glyphs are"
    ]


def test_a_page_without_words_has_no_fonts() -> None:
    assert faces(made("")) == []
