"""Pieces that are folded on the page: with the keyboard, without a script, and on paper."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from workbench.demo_pages import THEMES

_SHOWN = """() => [...document.querySelectorAll('.stages')].map(
    one => [...one.children].findIndex(stage => getComputedStyle(stage).display !== 'none'))"""
"""Of every piece, which of its stages is to be seen."""


@pytest.fixture(scope="module", params=[True, False], ids=["with script", "without"])
def page(chromium: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    context = chromium.new_context(
        viewport={"width": 360, "height": 800}, java_script_enabled=request.param, reduced_motion="reduce"
    )
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("theme", THEMES)
def test_a_piece_folds_under_the_arrow_keys_or_stands_folded(page: Page, built: Path, theme: str) -> None:
    page.goto((built / theme / "keepsake-box" / "tutorial.html").as_uri())
    sliders = page.locator("input[type=range]")
    figures = page.locator("figure.shows-made")
    assert figures.count() == 2
    if sliders.count() == 0:
        # Without its script the page shows each piece as it is when it is done, and nothing to pull at.
        for number in range(2):
            assert figures.nth(number).locator("> .drawing").is_visible()
            assert not figures.nth(number).locator(".folding").is_visible()
        return
    assert sliders.count() == 2
    last = page.evaluate(_SHOWN)
    slider = sliders.first
    assert slider.get_attribute("aria-label") == "Fold it yourself: base"
    assert slider.get_attribute("aria-valuetext") == "folded"
    slider.focus()
    page.keyboard.press("Home")
    assert slider.get_attribute("aria-valuetext") == "flat"
    assert page.evaluate(_SHOWN) == [0, last[1]]
    page.keyboard.press("ArrowRight")
    assert slider.get_attribute("aria-valuetext") == "half folded"
    assert page.evaluate(_SHOWN) == [1, last[1]]
    box = slider.bounding_box()
    assert box is not None and box["x"] >= 0 and box["x"] + box["width"] <= 360 and box["height"] >= 24


@pytest.mark.parametrize("theme", THEMES)
def test_on_paper_a_piece_stands_folded(chromium: Browser, built: Path, theme: str) -> None:
    page = chromium.new_page()
    page.goto((built / theme / "birdhouse" / "tutorial.html").as_uri())
    page.emulate_media(media="print")
    figure = page.locator("figure.shows-made").first
    assert figure.locator("> .drawing").is_visible() and not figure.locator(".folding").is_visible()
    page.close()
