"""The page of proposals: valid, accessible, nothing clipped or on top of anything else, at a desk and on a phone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from workbench.browser_checks import complaints, told, violations
from workbench.command_line import foldwright
from workbench.demo_pages import THEMES

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
def in_every_look(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("proposals")
    pages = {theme: folder / f"{theme}.html" for theme in THEMES}
    for theme, page in pages.items():
        words = ["3 treats of 1 1/8 x 3/4 x 1/4 in", "--form", "tray,drawer,tuck box", "--html", page, "--theme", theme]
        assert foldwright("design", *words, cwd=folder).status == 0
    return pages


@pytest.fixture(scope="module", params=THEMES)
def proposals(request: pytest.FixtureRequest, in_every_look: dict[str, Path]) -> Path:
    return in_every_look[request.param]


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    page = chromium.new_page()
    yield page
    page.close()


def test_it_is_valid_in_every_look(in_every_look: dict[str, Path]) -> None:
    found = complaints(*in_every_look.values())
    assert not found, told(found)


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_is_accessible_and_nothing_overlaps(page: Page, proposals: Path, width: int, scheme: str) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    page.goto(proposals.as_uri())
    found = violations(page, TAGS)
    assert not found, "\n".join(found)
    assert page.evaluate(OVERLAPS) == []
    assert page.locator(".drawing").count() > 12
