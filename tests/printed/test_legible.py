"""Type that is too small, and words over words, are found; what only comes near is not."""

from __future__ import annotations

import pytest

from printed.legible import overlapping, small_type
from printed.making import made
from printed.reading import read


def drawn(text: str, size: float) -> str:
    """A drawing a millimetre a unit, with one text of `size` points."""
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="30mm" viewBox="0 0 80 30"><title>t</title>'
        f'<text x="5" y="15" font-family="Face" font-size="{size / 72 * 25.4}">{text}</text></svg>'
    )


@pytest.mark.parametrize("size", ["8pt", "8.5pt", "10pt", "14pt"])
def test_type_of_a_size_that_is_allowed(size: str) -> None:
    assert small_type(read(made(f"<p style='font-size:{size}'>Fold <b>it</b> 3 times</p>"))) == []


def test_type_a_little_too_small_is_found_and_named() -> None:
    assert small_type(read(made("<p>Fold <span style='font-size:7.9pt'>it</span> 3 times</p>"))) == [
        "page 1: “it” is set in 7.90 pt, not in 8 pt or more"
    ]
    assert len(small_type(read(made("<p style='font-size:8pt'>ten</p>")), words=9)) == 1


def test_one_small_glyph_in_a_word_is_enough() -> None:
    small = "<p>wo<sup style='font-size:6pt'>r</sup>d</p>"
    assert [complaint.split("”")[0] for complaint in small_type(read(made(small)))] == ["page 1: “r"]


@pytest.mark.parametrize("text", ["7", "120 mm", "3 1/2 in", "12 × 4", "5½", "90°"])
def test_figures_in_a_drawing_may_be_smaller(text: str) -> None:
    assert small_type(read(made(drawn(text, 7.05)))) == []
    assert small_type(read(made(drawn(text, 6.9)))) != []


@pytest.mark.parametrize("text", ["flap", "fold line", "inn"])
def test_words_in_a_drawing_may_not(text: str) -> None:
    assert small_type(read(made(drawn(text, 8.05)))) == []
    assert small_type(read(made(drawn(text, 7.5)))) != []


def test_figures_outside_a_drawing_count_as_words() -> None:
    assert len(small_type(read(made("<p style='font-size:7.5pt'>120 mm</p>")))) == 2


def test_the_figures_of_a_built_fraction_are_let_off_only_when_asked() -> None:
    mm = 25.4 / 72
    built = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="20mm" viewBox="0 0 80 20"><title>t</title>'
        f'<text x="5" y="12" font-family="Face" font-size="{10 * mm}"><tspan font-size="{6 * mm}" dy="-1">3</tspan>/'
        f'<tspan font-size="{6 * mm}" dx="-.4" dy="1">8</tspan></text></svg>'
    )
    assert len(small_type(read(made(built)))) == 1
    assert small_type(read(made(built)), fraction=0.6) == []
    assert len(small_type(read(made(built)), fraction=0.9)) == 1


TEXT = (
    "<p>Fjäll <em>fluff of</em> high {f} <em>f</em>“yjg” <b>Ågj</b> (fyg) 4&#8201;<span style='"
    'font-feature-settings:"frac"\'>1/2</span> in, T. W. AVATAR f’ x<sup style="font-size:8pt">2</sup></p>'
)


@pytest.mark.parametrize("leading", ["1", "1.2", "1.45"])
@pytest.mark.parametrize("size", ["8pt", "14pt"])
def test_ordinary_text_does_not_overlap(leading: str, size: str) -> None:
    pages = read(made(TEXT * 4, f"html{{font-size:{size};line-height:{leading}}} p{{margin:0}}"))
    assert len(pages[0].words) > 40
    assert overlapping(pages) == []


def test_lines_too_close_overlap() -> None:
    assert overlapping(read(made(TEXT * 2, "html{line-height:.6} p{margin:0}"))) != []


def test_words_over_words_are_found_and_named() -> None:
    body = "<p>Thereupon fold.</p><p style='position:absolute;top:2pt;left:3pt'>Score</p>"
    (complaint,) = overlapping(read(made(body)))
    assert complaint.startswith("page 1: “Thereupon” and “Score” lie over one another at ")


def test_the_same_words_twice_in_one_place_are_found() -> None:
    assert len(overlapping(read(made("<p style='position:absolute'>Score</p>" * 2)))) == 1


def test_words_of_a_drawing_overlap_too_and_turned_ones_are_taken_as_they_lie() -> None:
    def labels(*places: str) -> str:
        texts = "".join(f'<text font-family="Face" font-size="4" transform="{place}">across</text>' for place in places)
        size = 'width="60mm" height="60mm" viewBox="0 0 60 60"'
        return f'<svg xmlns="http://www.w3.org/2000/svg" {size}><title>t</title>{texts}</svg>'

    # Two slanted lines side by side: their upright boxes overlap, they do not.
    assert overlapping(read(made(labels("translate(10 10) rotate(45)", "translate(10 17) rotate(45)")))) == []
    assert len(overlapping(read(made(labels("translate(10 10) rotate(45)", "translate(10 12) rotate(45)"))))) == 1
    assert len(overlapping(read(made(labels("translate(10 30)", "translate(15 35) rotate(-90)"))))) == 1


def test_each_page_by_itself() -> None:
    two = "<p>one</p><p style='break-before:page'>two</p>"
    pages = read(made(two))
    assert len(pages) == 2
    assert overlapping(pages) == []
