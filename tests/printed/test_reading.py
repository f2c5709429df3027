"""Paper, glyphs and words as read back."""

from __future__ import annotations

import pikepdf
import pytest

from printed.making import add_content, made, spoilt
from printed.reading import UnreadError, paper_complaints, read


def test_the_paper_is_measured_to_a_hundredth_of_a_point() -> None:
    # A6 is 105 by 148 mm (ISO 216), letter paper 8.5 by 11 in (ANSI/ASME Y14.1).
    assert paper_complaints(made(), 105, 148, "mm") == []
    assert paper_complaints(made("<p>x</p>", "@page{size:8.5in 11in}"), 8.5, 11, "in") == []
    assert len(paper_complaints(made(), 105.01, 148, "mm")) == 1
    assert len(paper_complaints(made(), 148, 105, "mm")) == 1


def test_every_page_is_measured() -> None:
    two = made("<p>one</p><p style='break-before:page'>two</p>", "@page:nth(2){size:A7}")
    (complaint,) = paper_complaints(two, 105, 148, "mm")
    assert complaint.startswith("page 2")


def test_cropped_and_turned_pages_are_found() -> None:
    def crop(file: pikepdf.Pdf) -> None:
        file.pages[0].cropbox = [0, 0, 100, 100]

    def turn(file: pikepdf.Pdf) -> None:
        file.pages[0].rotate(90, relative=False)

    assert paper_complaints(spoilt(made(), crop), 105, 148, "mm") == ["page 1: it is cropped"]
    assert paper_complaints(spoilt(made(), turn), 105, 148, "mm") == ["page 1: it is turned"]


def test_words_have_their_places_and_sizes() -> None:
    page = "<body style='margin:0'><p style='position:absolute;left:20mm;top:30mm;font-size:12pt;line-height:1'>Fold it"
    (read_page,) = read(made(page))
    fold, it = read_page.words
    assert (fold.text, it.text) == ("Fold", "it")
    assert [glyph.size for glyph in fold.glyphs] == pytest.approx([12] * 4, abs=0.01)
    # 8 mm of margin and 20 mm, in points of 1/72 in.
    assert fold.glyphs[0].start[0] == pytest.approx(28 / 25.4 * 72, abs=0.01)
    assert 38 / 25.4 * 72 < fold.box.top < fold.box.bottom < 38 / 25.4 * 72 + 15
    assert fold.box.x1 < it.box.x0


@pytest.mark.parametrize("degrees", [0, 37, 90, 180, 200, 270])
def test_the_size_of_type_is_found_however_it_is_turned_and_scaled(degrees: int) -> None:
    drawing = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="60mm" viewBox="0 0 30 30"><title>t</title>'
        f'<text transform="translate(15 15) rotate({degrees})" font-family="Face" font-size="2">Wide</text></svg>'
    )
    (page,) = read(made(drawing))
    assert [word.text for word in page.words] == ["Wide"]
    assert [glyph.size for glyph in page.glyphs] == pytest.approx([4 / 25.4 * 72] * 4, rel=1e-3)


def test_a_fraction_and_a_raised_figure_are_one_word_each_and_neighbours_are_two() -> None:
    words = made(
        "<p>4 <span style='font-feature-settings:\"frac\"'>13/16</span> in<sup style='font-size:8pt'>2</sup>"
        "<span style='position:absolute'>over</span></p>"
    )
    (page,) = read(words)
    assert [word.text for word in page.words[:2]] == ["4", "13/16"]
    assert [word.text for word in page.words[2:]] == ["in", "2", "over"]
    built = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="20mm" viewBox="0 0 80 20"><title>t</title>'
        '<text x="5" y="12" font-family="Face" font-size="6">4<tspan font-size="4" dx=".6" dy="-2">3</tspan>'
        '<tspan font-size="6" dx="-.4" dy="2">/</tspan><tspan font-size="4" dx="-.4" dy=".4">8</tspan> in</text></svg>'
    )
    assert [word.text for word in read(made(built))[0].words] == ["43/8", "in"]


def test_words_drawn_over_each_other_stay_apart() -> None:
    (page,) = read(
        made("<p><span style='position:absolute'>left</span><span style='position:absolute'>bent</span></p>")
    )
    assert sorted(word.text for word in page.words) == ["bent", "left"]


def test_pages_without_content_are_read() -> None:
    (page,) = read(made(""))
    assert (page.glyphs, page.words, page.inks, page.content) == ((), (), (), [])


def test_characters_that_cannot_be_read_are_no_silence() -> None:
    # A font that lacks the letter gives WeasyPrint's own encoding, from which pdfplumber reads nothing.
    with pytest.raises(UnreadError, match="can be read"):
        read(made("<p>boat 漢</p>"))
    assert read(made("<p>boat</p>"))


def test_what_is_no_content_is_told_apart() -> None:
    (page,) = read(made("<div style='background:#ccc;height:30mm'>x</div>"))
    assert [ink.tag for ink in page.inks] == ["Artifact"]
    assert len(page.content) == 1
    (more,) = read(spoilt(made("<p>x</p>"), add_content(b"0 0 1 RG 4 w 50 50 m 90 50 l S")))
    (line,) = more.inks
    assert (line.kind, line.tag) == ("line", "")
    assert line.box.bottom - line.box.top == pytest.approx(4)
