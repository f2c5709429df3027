"""axe-core in headless Chromium: no violation of WCAG 2.2 A and AA, at the width of a phone and of a desk."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from workbench.browser_checks import violations
from workbench.demo_pages import DRAFT, PAIRS, THEMES

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
WIDTHS = {"phone": 390, "desk": 1280}


@pytest.fixture(scope="module", params=WIDTHS)
def page(chromium: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    context = chromium.new_context(viewport={"width": WIDTHS[request.param], "height": 900})
    yield context.new_page()
    context.close()


def test_the_checker_finds_what_is_wrong(page: Page) -> None:
    page.set_content("<html><body><img src='data:,'><p style='color:#aaa;background:#fff'>pale</p></body></html>")
    found = violations(page, TAGS)
    for rule in ("image-alt", "html-has-lang", "document-title", "color-contrast"):
        assert any(one.startswith(rule) for one in found), found


@pytest.mark.parametrize(("theme", "recipe"), [*PAIRS, *((theme, DRAFT) for theme in THEMES)])
def test_every_page_is_accessible(page: Page, built: Path, theme: str, recipe: str) -> None:
    page.goto((built / theme / recipe / "tutorial.html").as_uri())
    found = violations(page, [*TAGS, "best-practice"])
    assert not found, "\n".join(found)


@pytest.mark.parametrize("theme", THEMES)
def test_the_dark_dress_is_accessible_too(page: Page, built: Path, theme: str) -> None:
    page.emulate_media(color_scheme="dark")
    page.goto((built / theme / "birdhouse" / "tutorial.html").as_uri())
    found = violations(page, TAGS)
    page.emulate_media(color_scheme="light")
    assert not found, "\n".join(found)


@pytest.mark.parametrize("theme", THEMES)
def test_each_unit_system_is_accessible(page: Page, built: Path, theme: str) -> None:
    page.goto((built / theme / "birdhouse" / "tutorial.html").as_uri())
    page.check("input[value=metric]")
    found = violations(page, TAGS)
    assert not found, "\n".join(found)
