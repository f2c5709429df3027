"""The baked table of letter widths, against the font itself."""

from __future__ import annotations

from fontTools.ttLib import TTFont

from foldwright.render.drawing.label import LETTER_WIDTHS, width_of
from foldwright.render.fonts import FACES, font_file


def test_every_width_is_the_fonts_own():
    font = TTFont(font_file(FACES["sans"]))
    assert font["head"].unitsPerEm == 1000
    glyphs, metrics = font.getBestCmap(), font["hmtx"]
    assert {letter: metrics[glyphs[ord(letter)]][0] for letter in LETTER_WIDTHS} == LETTER_WIDTHS


def test_the_letters_of_measures_and_names_are_there():
    assert (
        set("0123456789 /.,×Ø?–inmft\u202fabcdefghijklmnopqrstuvwxyzäöüéèñß½¼¾⅛⅜⅝⅞⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉")
        <= LETTER_WIDTHS.keys()
    )
    assert width_of("11") == 2 * width_of("1")
