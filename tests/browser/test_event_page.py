"""An event's page for a tablet: accessible, without prices, and its ticks outlast a reload."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from workbench.browser_checks import violations

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    page = chromium.new_page()
    yield page
    page.close()


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
