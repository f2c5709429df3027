"""The pages that are looked at: every demo recipe and a draft, built by the command line in every theme; and a small
made-up library."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from fcntl import LOCK_EX, flock
from pathlib import Path

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page

from workbench.command_line import foldwright
from workbench.demo_pages import DRAFT, THEMES, TOP
from workbench.libraries import entries, made, written

FRAGMENTS_WITH = "harbour"
_STOCK = "kraft card: 6 sheets\ncotton twine: 2 of 20 yd\nwet glue: plenty\n"


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """A folder of output per theme; the fragments, which know no theme, only beside the first.

    It is made once, by whichever worker comes first; the others wait for it.
    """
    if worker_id == "master":
        return _built(tmp_path_factory.mktemp("built"))
    home = tmp_path_factory.getbasetemp().parent / "built"
    home.mkdir(exist_ok=True)
    with (home / "lock").open("w") as lock:
        flock(lock, LOCK_EX)
        if not (home / "done").exists():
            _built(home)
            (home / "done").touch()
    return home / "out"


def _built(home: Path) -> Path:
    recipes = home / "recipes"
    shutil.copytree(TOP / "recipes", recipes)
    (recipes / DRAFT).mkdir()
    text = (recipes / "birdhouse" / "recipe.md").read_text(encoding="utf-8")
    broken = text.replace("3/4 left end | 3 1/2 floor", "3/4 left end | 3 1/4 floor").replace("level:", "levvel:")
    assert broken != text
    (recipes / DRAFT / "recipe.md").write_text(broken, encoding="utf-8")
    for theme in THEMES:
        only = "tutorial,fragment,sheet" if theme == FRAGMENTS_WITH else "tutorial"
        done = foldwright(
            "build", recipes, "--out", home / "out" / theme, "--theme", theme, "--only", only, "--no-library", cwd=home
        )
        # The draft makes it 1; 2 or a traceback would be a failure of the program.
        assert done.status == 1, done.out + done.err
    return home / "out"


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A library in each look."""
    home = tmp_path_factory.mktemp("library")
    for look in THEMES:
        written(made(entries(), look, _STOCK), entries(), home / look)
    return home


@pytest.fixture(scope="module")
def reader(chromium: Browser) -> Iterator[Page]:
    """A page that fails whoever has it complain or ask for anything elsewhere."""
    context = chromium.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    wrong: list[str] = []

    def note(message: ConsoleMessage) -> None:
        # On a server browsers ask for an icon by themselves.
        if message.type in ("error", "warning") and not message.location["url"].endswith("/favicon.ico"):
            wrong.append(message.text)

    page.on("console", note)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("request", lambda request: wrong.append(request.url) if "harbourstreet.example" in request.url else None)
    yield page
    context.close()
    assert not wrong, wrong


@pytest.fixture
def index(reader: Page, library: Path) -> Page:
    """The first page, newly opened from a file, with nothing kept."""
    reader.goto((library / "harbour" / "index.html").as_uri())
    reader.evaluate("localStorage.clear()")
    reader.goto("about:blank")
    reader.goto((library / "harbour" / "index.html").as_uri())
    return reader
