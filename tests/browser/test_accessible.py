"""axe-core in headless Chromium: no violation of WCAG 2.2 A and AA, at the width of a phone and of a desk."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from workbench.browser_checks import violations
from workbench.demo_pages import DRAFT, PAIRS, THEMES
from workbench.long import LONG, every

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
WIDTHS = {"phone": 390, "desk": 1280}


PAGES = [*PAIRS, *((theme, DRAFT) for theme in THEMES)]
VIEWS = [
    (width, theme, recipe)
    for number, (theme, recipe) in enumerate(PAGES)
    for place, width in enumerate(WIDTHS)
    if LONG or recipe == "birdhouse" or place == number % len(WIDTHS)
]
"""One recipe at both widths in every theme, the other pages at one each; on a long run, all at both."""


@pytest.fixture(scope="module")
def pages(chromium: Browser) -> Iterator[dict[str, Page]]:
    """A page to be used at each of the widths."""
    contexts = {name: chromium.new_context(viewport={"width": wide, "height": 900}) for name, wide in WIDTHS.items()}
    yield {name: context.new_page() for name, context in contexts.items()}
    for context in contexts.values():
        context.close()


@pytest.mark.parametrize("width", WIDTHS)
def test_the_checker_finds_what_is_wrong(pages: dict[str, Page], width: str) -> None:
    page = pages[width]
    page.set_content("<html><body><img src='data:,'><p style='color:#aaa;background:#fff'>pale</p></body></html>")
    found = violations(page, TAGS)
    for rule in ("image-alt", "html-has-lang", "document-title", "color-contrast"):
        assert any(one.startswith(rule) for one in found), found


@pytest.mark.parametrize(("width", "theme", "recipe"), VIEWS)
def test_every_page_is_accessible(pages: dict[str, Page], built: Path, width: str, theme: str, recipe: str) -> None:
    page = pages[width]
    page.goto((built / theme / recipe / "tutorial.html").as_uri())
    found = violations(page, [*TAGS, "best-practice"])
    assert not found, "\n".join(found)


@pytest.mark.parametrize("width", every(tuple(WIDTHS), 2))
@pytest.mark.parametrize("theme", every(THEMES, 3))
def test_the_dark_dress_is_accessible_too(pages: dict[str, Page], built: Path, width: str, theme: str) -> None:
    """Nothing but colours differs, and `test_seen` sees those of every look in the dark."""
    page = pages[width]
    page.emulate_media(color_scheme="dark")
    page.goto((built / theme / "birdhouse" / "tutorial.html").as_uri())
    found = violations(page, TAGS)
    page.emulate_media(color_scheme="light")
    assert not found, "\n".join(found)


@pytest.mark.parametrize("width", every(tuple(WIDTHS), 2))
@pytest.mark.parametrize("theme", every(THEMES, 3))
def test_each_unit_system_is_accessible(pages: dict[str, Page], built: Path, width: str, theme: str) -> None:
    page = pages[width]
    page.goto((built / theme / "birdhouse" / "tutorial.html").as_uri())
    page.check("input[value=metric]")
    found = violations(page, TAGS)
    assert not found, "\n".join(found)
