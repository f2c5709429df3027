"""The fragment: what a blog's sanitiser keeps is what was written; pictures beside it; numbers as plain text."""

from __future__ import annotations

import io
import re

import html5lib
import nh3
import pytest
from msgspec.structs import replace
from PIL import Image

from foldwright.document.model import Readiness
from foldwright.measure.length import System
from foldwright.recipe.words import (
    Break,
    Code,
    Emphasis,
    Items,
    Link,
    Paragraph,
    Preformatted,
    Quote,
    Rule,
    Strong,
    Subheading,
)
from foldwright.render.photos import ReadyPhoto
from foldwright.render.web.fragment import WIDTHS, fragment
from workbench.handmade import birdhouse, plain_drawing, run

PHOTO = {"finished.png": ReadyPhoto(b"not looked at here", "png", 1160, 840)}


def rich():
    """The birdhouse with every kind of words in one step."""
    sheet = birdhouse()
    item = (Paragraph(run("item")),)
    words = (
        Paragraph((Strong(run("bold")), Emphasis(run("slanted")), Break(), Code("a < b & c"))),
        Paragraph((Link("https://harbourstreet.example/?a=1&b=2", run("a link")),)),
        Items(True, (item, (*item, Items(False, (item,))))),
        Quote(item),
        Subheading(3, run("A heading & more")),
        Preformatted("x < y\n  z"),
        Rule(),
    )
    return replace(sheet, steps=(replace(sheet.steps[0], wordings=(words,)), *sheet.steps[1:]))


def tree(html: str) -> str:
    """One serialisation of what a browser reads."""
    parsed = html5lib.parseFragment(html)
    return html5lib.serialize(
        parsed, omit_optional_tags=False, quote_attr_values="always", alphabetical_attributes=True
    )


@pytest.mark.parametrize("at", ["", "https://harbourstreet.example/pictures"])
def test_a_sanitiser_finds_nothing_to_take_away(at):
    html = fragment(rich(), PHOTO, pictures_at=at, draw=plain_drawing).html
    assert tree(nh3.clean(html)) == tree(html)
    html5lib.HTMLParser(strict=True).parseFragment(html)


def test_the_comparison_notices_what_is_taken_away():
    assert tree(nh3.clean('<p style="x">a</p>')) != tree('<p style="x">a</p>')


def test_pictures_are_files_of_two_widths_and_all_are_named():
    made = fragment(birdhouse(), PHOTO, draw=plain_drawing)
    named = set(re.findall(r'(?:src|href)="([^":]+)"', made.html))
    assert named == set(made.files)
    for name, data in made.files.items():
        if name.startswith("photo"):
            continue
        width = Image.open(io.BytesIO(data)).width
        assert width in WIDTHS
        assert name.endswith(f"-{width}.png")
    assert len(made.files) == 1 + 2 * len(WIDTHS)


def test_the_pictures_can_lie_elsewhere():
    html = fragment(birdhouse(), PHOTO, pictures_at="https://a.example/p", draw=plain_drawing).html
    assert re.findall(r'src="([^"]+)"', html)[0] == "https://a.example/p/photo-1.png"
    assert fragment(birdhouse(), PHOTO, pictures_at="/p/", draw=plain_drawing).html.count('src="/p/') == 3


def test_the_size_of_a_picture_is_its_size():
    made = fragment(birdhouse(), {}, draw=plain_drawing)
    for name, width, height in re.findall(r'<img src="([^"]+)"[^>]* width="(\d+)" height="(\d+)"', made.html):
        assert Image.open(io.BytesIO(made.files[name])).size == (int(width), int(height))


def test_numbers_are_plain_text_with_the_other_system_in_brackets():
    html = fragment(birdhouse(), {}, draw=plain_drawing).html
    assert "Cut the charcoal card to 5 × 4\u00a01/4\u00a0in (127 × 107\u00a0mm)." in html
    assert "span" not in html
    metric = fragment(birdhouse(), {}, (System.METRIC,), draw=plain_drawing).html
    assert "Cut the charcoal card to 127 × 107\u00a0mm." in metric
    assert "\u00a0in" not in metric


def test_a_draft_says_so():
    assert (
        "not ready to hand out" in fragment(replace(birdhouse(), standing=Readiness.DRAFT), {}, draw=plain_drawing).html
    )


def test_what_an_author_writes_is_only_text():
    hostile = "<img src=x onerror=alert(1)>"
    sheet = birdhouse()
    sheet = replace(sheet, head=replace(sheet.head, summary=run(hostile), credit=hostile, makes=hostile))
    html = fragment(sheet, {}, draw=plain_drawing).html
    assert hostile not in html
    assert html.count("&lt;img src=x onerror=alert(1)&gt;") == 3


def test_the_same_bytes_every_time():
    assert fragment(birdhouse(), PHOTO, draw=plain_drawing) == fragment(birdhouse(), PHOTO, draw=plain_drawing)
