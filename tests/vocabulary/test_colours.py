"""Words for colours: hue and lightness against the published names (Pillow has a table of them), order by eye."""

from __future__ import annotations

from colorsys import rgb_to_hls
from itertools import pairwise

import pytest
from PIL import ImageColor

from foldwright.vocabulary.colours import COLOURS, contrast, lightness, lit, luminance, paper_words

PUBLISHED = [(one.name, one.tone, ImageColor.colormap[one.published]) for one in COLOURS if one.published]
_GREY = 0.12
"""Saturation below which a hue says nothing."""


def _hls(tone: str) -> tuple[float, float, float]:
    red, green, blue = ImageColor.getrgb(tone)[:3]
    return rgb_to_hls(red / 255, green / 255, blue / 255)


def _tone(text: str) -> str:
    return paper_words(text).tones[0]


@pytest.mark.parametrize(("name", "ours", "published"), PUBLISHED, ids=[name for name, _, _ in PUBLISHED])
def test_the_hue_is_that_of_the_published_colour(name: str, ours: str, published: str) -> None:
    (hue, _, strong), (meant, light, saturated) = _hls(ours), _hls(published)
    if min(strong, saturated) > _GREY and light < 0.97:
        apart = abs(hue - meant)
        assert min(apart, 1 - apart) * 360 <= 32, name


def test_of_two_published_colours_the_lighter_is_the_lighter_of_ours() -> None:
    """Where they differ by more than a quarter of the scale."""
    compared = 0
    for name, ours, published in PUBLISHED:
        for other, theirs, meant in PUBLISHED:
            if lightness(published) - lightness(meant) > 25:
                compared += 1
                assert lightness(ours) > lightness(theirs), (name, other)
    assert compared > 200


@pytest.mark.parametrize("order", ["cream mint sage teal navy charcoal black", "white kraft brown chocolate black"])
def test_papers_go_from_light_to_dark_as_crafters_know_them(order: str) -> None:
    tones = [lightness(_tone(word)) for word in order.split()]
    assert all(one > other for one, other in pairwise(tones))


def test_contrast_is_that_of_wcag() -> None:
    """Worked by hand after WCAG 2.2: black on white is 21, the grey #767676 is the first of 4.5 on white."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)
    assert luminance("#ff0000") == pytest.approx(0.2126)
    assert lightness("#777777") == pytest.approx(50.0, abs=0.1), "middle grey, from a table of CIE L*"


def test_what_is_printed_and_its_colours() -> None:
    assert paper_words("gingham card").pattern == "gingham"
    assert paper_words("navy card with cream spots").tones == (_tone("navy"), _tone("cream"))
    assert paper_words("navy card with cream spots").pattern == "dots"
    assert paper_words("striped paper").pattern == "stripes"
    assert paper_words("leaf green card").pattern == ""
    assert paper_words("strong tape") == paper_words("")


def test_pale_and_dark_change_a_colour() -> None:
    assert lightness(_tone("pale teal card")) > lightness(_tone("teal card")) > lightness(_tone("dark teal card"))


@pytest.mark.parametrize("level", [25, 50, 75, 90])
def test_a_tone_is_made_as_light_as_wanted(level: float) -> None:
    assert lightness(lit(_tone("teal"), level)) == pytest.approx(level, abs=0.6)
