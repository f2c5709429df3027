"""An event's page for a tablet: valid, accessible, without prices, and its ticks outlast a reload."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from workbench.browser_checks import complaints, told, violations
from workbench.command_line import foldwright

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
RECIPES = Path(__file__).parents[2] / "recipes"


@pytest.fixture(scope="module")
def event(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("event")
    words = [RECIPES / "birdhouse", RECIPES / "twine-tag", "--for", "12,8", "--helpers", "2", "--out", out]
    assert foldwright("kit", *words, cwd=out).status == 0
    return out / "event-birdhouse-twine-tag" / "event.html"


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    page = chromium.new_page()
    yield page
    page.close()


def test_it_is_valid(event: Path) -> None:
    found = complaints(event)
    assert not found, told(found)


@pytest.mark.parametrize("width", [390, 820])
def test_it_is_accessible_and_goes_into_its_width(page: Page, event: Path, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 1180})
    page.goto(event.as_uri())
    found = violations(page, TAGS)
    assert not found, "\n".join(found)
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_ticks_outlast_a_reload_and_can_be_cleared(page: Page, event: Path) -> None:
    page.goto(event.as_uri())
    boxes = page.locator("input[data-tick]")
    names = [box.get_attribute("data-tick") for box in boxes.all()]
    assert len(names) > 20
    assert len(names) == len(set(names))
    boxes.nth(0).check()
    boxes.nth(7).check()
    page.reload()
    assert [number for number in range(len(names)) if boxes.nth(number).is_checked()] == [0, 7]
    page.locator("#untick").click()
    page.reload()
    assert not any(box.is_checked() for box in boxes.all())


def test_no_price_is_on_it(event: Path) -> None:
    text = event.read_text(encoding="utf-8")
    assert "\u20ac" not in text
    assert "EUR" not in text
