"""The page of proposals: accessible, nothing clipped or on top of anything else, at a desk and on a phone."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from workbench.browser_checks import violations
from workbench.demo_pages import THEMES
from workbench.long import LONG

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
OVERLAPS = """() => {
  const found = [];
  for (const row of document.querySelectorAll('.proposals>li')) {
    const parts = [...row.querySelectorAll('h2, .told li, .drawing, figcaption')];
    const boxes = parts.map(e => e.getBoundingClientRect());
    boxes.forEach((a, i) => boxes.slice(i + 1).forEach(b => {
      if (a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1)
        found.push(row.innerText);
    }));
  }
  return found;
}"""


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    page = chromium.new_page()
    yield page
    page.close()


VIEWS = [
    (theme, scheme, width)
    for number, theme in enumerate(THEMES)
    for scheme, width in product(("light", "dark"), (390, 1280))
    if LONG or ((scheme == "light") == (width == 390)) == (number % 2 == 0)
]
"""Each look in the light and in the dark, on a phone and at a desk; on a long run, all of them together."""


@pytest.mark.parametrize(("theme", "scheme", "width"), VIEWS)
def test_it_is_accessible_and_nothing_overlaps(
    page: Page, proposals: Path, theme: str, scheme: str, width: int
) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    page.goto((proposals / f"{theme}.html").as_uri())
    found = violations(page, TAGS)
    assert not found, "\n".join(found)
    assert page.evaluate(OVERLAPS) == []
    assert page.locator(".drawing").count() > 12
