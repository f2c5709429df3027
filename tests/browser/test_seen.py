"""Words stand out in both schemes, in drawings, too, and no measurement is broken: by what the browser computed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from workbench.demo_pages import PAIRS
from workbench.long import every
from workbench.seen import broken_measures, unclear_words

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
def test_unclear_words_are_found(page: Page, body: str, told: str) -> None:
    page.set_content(body)
    assert unclear_words(page) == [told]


LID = "<p style='position:absolute;margin:0;left:{}px;top:8px;width:20px;height:20px;background:#222;color:#fff'>2</p>"


def test_words_with_something_over_them_are_found(page: Page) -> None:
    words = "<p style='position:absolute;margin:0;left:8px;top:8px;width:60px;overflow:hidden'>12 millimetres</p>"
    page.set_content(words + LID.format(80))
    assert unclear_words(page) == []
    page.set_content(words + LID.format(8))
    assert "“12 millimetres” is covered by “2”" in unclear_words(page)
    page.set_content(LID.format(8) + words)
    assert "“2” is covered by “12 millimetres”" not in unclear_words(page), "what has no ground covers nothing"


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
    assert unclear_words(page) == []


def test_the_dark_scheme_is_what_the_browser_takes_it_for(page: Page) -> None:
    page.set_content(
        "<style>body{background:#fff;color:#222}@media (prefers-color-scheme:dark){body{background:#111}}</style><p>so"
    )
    assert unclear_words(page) == []
    page.emulate_media(color_scheme="dark")
    assert len(unclear_words(page)) == 1


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
    light = unclear_words(page)
    page.emulate_media(color_scheme="dark")
    assert (light, unclear_words(page)) == ([], [])


@pytest.mark.parametrize("width", every(tuple(WIDTHS), 2))
@pytest.mark.parametrize(("theme", "recipe"), PAIRS)
def test_no_measurement_is_broken(page: Page, built: Path, theme: str, recipe: str, width: str) -> None:
    page.set_viewport_size({"width": WIDTHS[width], "height": 900})
    page.goto((built / theme / recipe / "tutorial.html").as_uri())
    assert broken_measures(page) == []
    page.check("input[value=metric]")
    assert broken_measures(page) == []
