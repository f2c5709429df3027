"""The pages that are looked at: every demo recipe and a draft, built by the command line in every theme; and a small
made-up library."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from fcntl import LOCK_EX, flock
from pathlib import Path

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page

from workbench.command_line import foldwright
from workbench.demo_pages import DRAFT, IN_EVERY_LOOK, PAIRS, THEMES, TOP
from workbench.libraries import entries, made, written
from workbench.library_pages import library_in, photographed
from workbench.long import LONG
from workbench.single_pages import write_event_page, write_proposals

FRAGMENTS_WITH = "harbour"
_STOCK = "kraft card: 6 sheets\ncotton twine: 2 of 20 yd\nwet glue: plenty\n"


type Once = Callable[[str, Callable[[Path], None]], Path]
"""From a name, and who fills a folder, to the folder."""


@pytest.fixture(scope="session")
def once(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Once:
    """Has a folder made once, by whichever worker comes first; the others wait for it."""
    base = tmp_path_factory.getbasetemp()

    def made(name: str, fill: Callable[[Path], None]) -> Path:
        home = (base if worker_id == "master" else base.parent) / f"once-{name}"
        home.mkdir(exist_ok=True)
        with (home / "lock").open("w") as lock:
            flock(lock, LOCK_EX)
            if not (home / "done").exists():
                fill(home)
                (home / "done").touch()
        return home

    return made


@pytest.fixture(scope="session")
def built(once: Once) -> Path:
    """A folder of output per theme; the fragments, which know no theme, only beside the first."""
    return once("built", _build) / "out"


def _build(home: Path) -> None:
    recipes = home / "recipes"
    shutil.copytree(TOP / "recipes", recipes)
    (recipes / DRAFT).mkdir()
    text = (recipes / "birdhouse" / "recipe.md").read_text(encoding="utf-8")
    broken = text.replace("3/4 left end | 3 1/2 floor", "3/4 left end | 3 1/4 floor").replace("level:", "levvel:")
    assert broken != text
    (recipes / DRAFT / "recipe.md").write_text(broken, encoding="utf-8")
    for theme in THEMES:
        whole = LONG or theme == FRAGMENTS_WITH
        looked_at = {DRAFT, *IN_EVERY_LOOK, *(recipe for look, recipe in PAIRS if look == theme)}
        paths = [recipes] if whole else [recipes / name for name in sorted(looked_at)]
        only = "tutorial,fragment,sheet" if theme == FRAGMENTS_WITH else "tutorial"
        done = foldwright(
            "build", *paths, "--out", home / "out" / theme, "--theme", theme, "--only", only, "--no-library", cwd=home
        )
        # The draft makes it 1; 2 or a traceback would be a failure of the program.
        assert done.status == 1, done.out + done.err


@pytest.fixture(scope="session")
def library(once: Once) -> Path:
    """A library in each look."""

    def fill(home: Path) -> None:
        for look in THEMES:
            written(made(entries(), look, _STOCK), entries(), home / look)

    return once("library", fill)


@pytest.fixture(scope="session")
def libraries(once: Once) -> Path:
    """A library in each look, of one recipe with photographs."""

    def fill(home: Path) -> None:
        recipes = photographed(home / "recipes")
        for theme in THEMES:
            library_in(home / theme, recipes, theme)

    return once("libraries", fill)


@pytest.fixture(scope="session")
def drawn(once: Once) -> Path:
    """The same of a recipe with every kind of drawing and a print, which has none."""

    def fill(home: Path) -> None:
        for theme in THEMES:
            library_in(home / theme, TOP / "recipes" / "layered-card", theme)

    return once("drawn", fill)


@pytest.fixture(scope="session")
def event(once: Once) -> Path:
    """The page of an event."""
    return once("event", lambda home: write_event_page(home / "event.html")) / "event.html"


@pytest.fixture(scope="session")
def proposals(once: Once) -> Path:
    """A page of proposals in each look."""
    return once("proposals", write_proposals)


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
