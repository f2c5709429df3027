"""Contrast by known pairs, words of every kind of ground, and colours that are one in grey."""

from __future__ import annotations

import pytest

from printed.colours import contrast, lost_in_grey, pale_words
from printed.making import made


def test_contrast_of_known_pairs() -> None:
    """Black on white is 21 to 1 by definition; #767676 is the lightest grey that passes on white and #777777 the first
    that does not (Web Content Accessibility Guidelines, understanding 1.4.3; from memory)."""
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21)
    assert contrast((0x76, 0x76, 0x76), (255, 255, 255)) > 4.5
    assert contrast((0x77, 0x77, 0x77), (255, 255, 255)) < 4.5


def words(style: str, size: str = "10pt") -> bytes:
    return made(f"<h1>a</h1><p style='padding:3pt;font-size:{size};{style}'>Gluing</p>")


@pytest.mark.parametrize(
    "style",
    [
        "color:#767676",
        "color:#fff;background:#333",
        "color:#000;background:#ffd84d",
        "color:#5a1a10;background:#fbeee9",
    ],
)
def test_words_that_stand_out(style: str) -> None:
    assert pale_words(words(style)) == []


@pytest.mark.parametrize(
    ("style", "told"),
    [
        ("color:#777777", "4.5"),
        ("color:#fff;background:#ffd84d", "1.4"),
        ("color:#333;background:#444", "1.3"),
        ("color:#ffffff", "1.0"),
    ],
)
def test_words_that_do_not(style: str, told: str) -> None:
    assert pale_words(words(style)) == [f"page 1: “Gluing” stands out from its ground by {told} to 1 only"]


def test_large_words_may_be_paler() -> None:
    assert pale_words(words("color:#949494", "18pt")) == []
    assert pale_words(words("color:#949494", "17.5pt")) != []


def test_words_of_drawings_count_as_well() -> None:
    drawn = """<h1>a</h1>
        <svg xmlns="http://www.w3.org/2000/svg" width="8cm" height="2cm" viewBox="0 0 80 20"><title>t</title>
        <rect width="80" height="20" fill="{}"/><text x="5" y="12" font-family="Face" font-size="5">Glue</text></svg>"""
    assert pale_words(made(drawn.format("#fff"))) == []
    assert len(pale_words(made(drawn.format("#333")))) == 1


def side_by_side(one: str, other: str) -> bytes:
    box = "<span style='display:inline-block;width:2cm;height:2cm;vertical-align:top;background:{}'></span>"
    return made(f"<h1>a</h1><p style='font-size:0'>{box.format(one)}{box.format(other)}</p>")


def test_colours_that_are_one_in_grey_are_found() -> None:
    """Red #ff0000 has a luminance of 0.2126 by definition; #7f7f7f has 0.2122."""
    assert lost_in_grey(side_by_side("#ff0000", "#7f7f7f")) == ["page 1: #7f7f7f and #ff0000 are one in grey"]


@pytest.mark.parametrize(("one", "other"), [("#ff0000", "#ffffff"), ("#7f7f7f", "#858585"), ("#ff0000", "#1f1f1f")])
def test_colours_that_differ_in_grey_or_hardly_differ_are_well(one: str, other: str) -> None:
    assert lost_in_grey(side_by_side(one, other)) == []
