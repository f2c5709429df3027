"""Words stand out in both schemes, in drawings, too, and no measurement is broken: by what the browser computed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from workbench.demo_pages import PAIRS
from workbench.long import every
from workbench.seen import broken_measures, pale_words

WIDTHS = {"phone": 390, "desk": 1280}


@pytest.fixture(scope="module")
def tab(chromium: Browser) -> Iterator[Page]:
    context = chromium.new_context()
    yield context.new_page()
    context.close()


@pytest.fixture
def page(tab: Page) -> Iterator[Page]:
    tab.set_viewport_size({"width": 1280, "height": 900})
    yield tab
    tab.emulate_media(color_scheme="light")
    tab.goto("about:blank")


DRAWN = "<svg width=200 height=60><rect width=200 height=60 fill='{}' /><text x=9 y=30 {}>Fold</text></svg>"


@pytest.mark.parametrize(
    ("body", "told"),
    [
        ("<p style='color:#777777'>pale</p>", "“pale” stands out from its ground by 4.5 to 1 only"),
        ("<p style='color:rgb(0 0 0/.3)'>thin</p>", "“thin” stands out from its ground by 2.1 to 1 only"),
        ("<div style='background:#333'><p>dark</p></div>", "“dark” stands out from its ground by 1.7 to 1 only"),
        ("<p style='opacity:.3'>faint</p>", "“faint” stands out from its ground by 2.1 to 1 only"),
        (DRAWN.format("#333", ""), "“Fold” stands out from its ground by 1.7 to 1 only"),
        (DRAWN.format("#fff", "fill='#777777'"), "“Fold” stands out from its ground by 4.5 to 1 only"),
    ],
)
def test_pale_words_are_found(page: Page, body: str, told: str) -> None:
    page.set_content(body)
    assert pale_words(page) == [told]


@pytest.mark.parametrize(
    "body",
    [
        "<p style='color:#767676'>well</p>",
        "<p style='color:#949494;font-size:24px'>large</p>",
        "<div style='background:#fffa'><p>on white all the same</p></div>",
        "<p>seen</p><p hidden style='color:#fff'>not there</p>",
        DRAWN.format("#fff", ""),
        DRAWN.format("#333", "stroke='#fff' stroke-width=4 paint-order=stroke"),
    ],
)
def test_words_that_stand_out_are_well(page: Page, body: str) -> None:
    page.set_content(body)
    assert pale_words(page) == []


def test_the_dark_scheme_is_what_the_browser_takes_it_for(page: Page) -> None:
    page.set_content(
        "<style>body{background:#fff;color:#222}@media (prefers-color-scheme:dark){body{background:#111}}</style><p>so"
    )
    assert pale_words(page) == []
    page.emulate_media(color_scheme="dark")
    assert len(pale_words(page)) == 1


@pytest.mark.parametrize("words", ["Cut it to 4 1/2 in", "Cut it to <b>4½</b> <i>in</i>", "Cut 5 × 4 in"])
def test_broken_measures_are_found(page: Page, words: str) -> None:
    page.set_content(f"<p style='width:1px'>{words}</p>")
    assert len(broken_measures(page)) == 1
    page.set_content(f"<p style='width:1px;white-space:nowrap'>{words}</p>")
    assert broken_measures(page) == []


def test_line_ends_before_and_after_measures_are_none(page: Page) -> None:
    page.set_content("<p>Cut it to<br>4 1/2 in<br>across, and<br>3<br>times more.</p>")
    assert broken_measures(page) == []


@pytest.mark.parametrize(("theme", "recipe"), PAIRS)
def test_words_stand_out_in_light_and_dark(page: Page, built: Path, theme: str, recipe: str) -> None:
    page.goto((built / theme / recipe / "tutorial.html").as_uri())
    light = pale_words(page)
    page.emulate_media(color_scheme="dark")
    assert (light, pale_words(page)) == ([], [])


@pytest.mark.parametrize("width", every(tuple(WIDTHS), 2))
@pytest.mark.parametrize(("theme", "recipe"), PAIRS)
def test_no_measurement_is_broken(page: Page, built: Path, theme: str, recipe: str, width: str) -> None:
    page.set_viewport_size({"width": WIDTHS[width], "height": 900})
    page.goto((built / theme / recipe / "tutorial.html").as_uri())
    assert broken_measures(page) == []
    page.check("input[value=metric]")
    assert broken_measures(page) == []
