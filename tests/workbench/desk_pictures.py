"""Takes the guide's pictures of the desk: its first page, and a recipe being written. Not a test."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, Page

from workbench.demo_pages import TOP
from workbench.desk import browsing, desk

_SETTLED = """
() => ["card", "handout", "template"].every((kind) => document.querySelector(`#sheet-${kind} .view img`)?.complete)
"""


def take_desk(browser: Browser, beginning: Path, writing: Path) -> None:
    """Both pictures, as files."""
    with tempfile.TemporaryDirectory(prefix="foldwright-desk-") as name:
        folder = Path(name) / "recipes"
        shutil.copytree(TOP / "recipes", folder)
        with desk(folder) as opened, browsing(browser, color_scheme="light") as tabs:
            page = opened.tab(tabs, "/")
            page.wait_for_load_state("networkidle")
            page.screenshot(path=beginning)
            page = opened.writing(tabs, "drawer-box")
            page.wait_for_function(_SETTLED)
            _with_a_panel_lit(page)
            page.screenshot(path=writing)


def _with_a_panel_lit(page: Page) -> None:
    """The pieces picked up, a panel chosen: its number is marked in the text."""
    page.locator("#sheet-pieces .take-up").click()
    page.locator("#sheet-pieces .plan [data-mark]").nth(2).click(force=True)
    page.wait_for_timeout(800)
