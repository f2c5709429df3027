"""The pages that are looked at: every demo recipe and a draft, built by the command line in every theme."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from demo_pages import CHROMIUM_FLAGS, DRAFT, THEMES, TOP

FRAGMENTS_WITH = "harbour"


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of output per theme; the fragments, which know no theme, only beside the first."""
    recipes = tmp_path_factory.mktemp("source") / "recipes"
    shutil.copytree(TOP / "recipes", recipes)
    (recipes / DRAFT).mkdir()
    text = (recipes / "birdhouse" / "recipe.md").read_text(encoding="utf-8")
    broken = text.replace("3/4 left end | 3 1/2 floor", "3/4 left end | 3 1/4 floor").replace("level:", "levvel:")
    assert broken != text
    (recipes / DRAFT / "recipe.md").write_text(broken, encoding="utf-8")
    out = tmp_path_factory.mktemp("built")
    for theme in THEMES:
        words = [sys.executable, "-m", "foldwright", "build", recipes, "--out", out / theme, "--theme", theme]
        words += ["--only", "tutorial,fragment,sheet" if theme == FRAGMENTS_WITH else "tutorial"]
        done = subprocess.run(words, capture_output=True, text=True, check=False)
        # The draft makes it 1; 2 or a traceback would be a failure of the program.
        assert done.returncode == 1, done.stdout + done.stderr
    return out


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    program = shutil.which("chromium")
    assert program, "compiler/start.py test installs Chromium"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=CHROMIUM_FLAGS)
        yield browser
        browser.close()
