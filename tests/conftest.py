"""What holds for every test. No clock judges any of them: hypothesis may take as long as the machine needs. A usual run
asks the same questions each time, so that what passes here passes elsewhere; a long one makes new ones."""

from __future__ import annotations

import gc
import shutil
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

from workbench.long import LONG, tries

if TYPE_CHECKING:
    from playwright.sync_api import Browser

settings.register_profile(
    "any machine",
    deadline=None,
    derandomize=not LONG,
    max_examples=tries(30, 200),
    suppress_health_check=[HealthCheck.too_slow],
    print_blob=True,
)
settings.load_profile("any machine")


def pytest_collection_finish() -> None:
    """All that is loaded and found by now stays: nobody need look through it for garbage again and again. What is made
    from here on is looked through less often than by default (700): it is much at a time (a reasoned guess)."""
    gc.freeze()
    gc.set_threshold(10_000, 10, 10)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """A browser without a screen."""
    from playwright.sync_api import sync_playwright

    from workbench.command_line import HANG
    from workbench.demo_pages import CHROMIUM_FLAGS

    program = shutil.which("chromium")
    assert program, "compiler/start.py test installs Chromium"
    with sync_playwright() as playwright:
        hang_ms = HANG * 1000.0
        browser = playwright.chromium.launch(executable_path=program, args=CHROMIUM_FLAGS, timeout=hang_ms)
        browser.on("context", lambda context: context.set_default_timeout(hang_ms))
        yield browser
        browser.close()
