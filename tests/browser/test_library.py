"""The pages of a library in a browser: accessible, right on a phone and without a script; all links lead on."""

from __future__ import annotations

import functools
import shutil
import threading
from collections.abc import Iterator
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import unquote, urljoin, urlsplit

import html5lib
import pytest
from playwright.sync_api import Browser, Page, expect

from foldwright.library.shelves import newest_first
from workbench.browser_checks import violations
from workbench.command_line import foldwright
from workbench.demo_pages import THEMES, TOP
from workbench.libraries import ADDRESS, entries, made, many, titles_seen, written
from workbench.long import LONG

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
PAGES = ("index.html", "tags/index.html", "tags/favours/index.html", "404.html")
VIEWS = [
    (look, scheme)
    for number, look in enumerate(THEMES)
    for place, scheme in enumerate(("light", "dark"))
    if LONG or place == number % 2
]
"""Each look in the light or in the dark; in both on a long run."""
ASKED = "index.html#q=box&level=easy&home=1"


# --- pages ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("look", "scheme"), VIEWS)
def test_every_kind_of_page_is_accessible_in_every_look(reader: Page, library: Path, look: str, scheme: str) -> None:
    reader.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    # What is asked for in every look, of the others a page in each; on a long run all.
    for path in (*PAGES, ASKED) if LONG else (PAGES[0], PAGES[1 + THEMES.index(look)], ASKED):
        reader.goto(f"{library.as_uri()}/{look}/{path}")
        if path == ASKED:
            expect(reader.locator("#found")).to_be_visible()
        found = violations(reader, TAGS)
        assert not found, f"{path}: " + "\n".join(found)
    reader.emulate_media(color_scheme="light")


@pytest.mark.parametrize("look", THEMES)
def test_a_narrow_phone_shows_all_of_it(reader: Page, library: Path, look: str) -> None:
    """WCAG 2.2, 1.4.10: 320 pixels wide, nothing to be pushed sideways."""
    reader.set_viewport_size({"width": 320, "height": 640})
    for path in ("index.html", "index.html#q=box&home=1&tag=favours", "seasons/spring/index.html", "404.html"):
        reader.goto(f"{library.as_uri()}/{look}/{path}")
        if "#" in path:
            expect(reader.locator("#found")).to_be_visible()
        assert reader.evaluate("document.documentElement.scrollWidth") <= 320, path
    reader.set_viewport_size({"width": 1280, "height": 900})


def test_without_a_script_every_recipe_can_be_reached(chromium: Browser, library: Path) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((library / "harbour" / "index.html").as_uri())
    assert titles_seen(page) == [entry.title for entry in newest_first(entries())]
    assert not page.locator("#finder").is_visible()
    page.get_by_role("link", name="favours", exact=True).click()
    assert sorted(titles_seen(page)) == ["Birdhouse favour box", "Crème brûlée box", "Gable box"]
    context.close()


# --- links ------------------------------------------------------------------------------------------------------------


def links_of(file: Path) -> set[str]:
    """Every address a page leads to or loads."""
    tree = html5lib.parse(file.read_bytes(), namespaceHTMLElements=False)
    found = {value for one in tree.iter() for name in ("href", "src") if (value := one.get(name))}
    found |= {part.split()[0] for one in tree.iter() for part in (one.get("srcset") or "").split(",") if part.strip()}
    return {one for one in found if not one.startswith(("data:", "#"))}


def crawled(start: Path, root: Path, address: str = ADDRESS) -> set[Path]:
    """All files that can be reached from a page by links, as from a file; each of them is there. Only what is published
    at the library's `address` is followed of whole addresses."""
    seen: set[Path] = set()
    ahead = [start]
    while ahead:
        file = ahead.pop()
        if file in seen:
            continue
        seen.add(file)
        if file.suffix != ".html":
            continue
        for link in links_of(file):
            if link.startswith(address):
                goal = root / unquote(link.removeprefix(address)).lstrip("/")
                goal = goal / "index.html" if goal.is_dir() else goal
            elif link.startswith(("http://", "https://")):
                continue
            else:
                goal = Path(unquote(urlsplit(urljoin(file.as_uri(), link)).path))
            assert goal.is_file(), f"{file}: {link}"
            ahead.append(goal)
    return seen


def test_every_link_leads_to_a_file(library: Path) -> None:
    root = library / "harbour"
    seen = crawled(root / "index.html", root) | crawled(root / "404.html", root)
    recipes = {root / entry.slug / "tutorial.html" for entry in entries() if entry.listed}
    assert recipes <= seen
    assert root / "secret" / "tutorial.html" not in seen
    pages = {file for file in root.rglob("*.html") if file.parent.name != "secret"}
    assert pages <= seen, "a page that nobody can reach"


def test_every_link_of_a_built_library_leads_to_a_file(tmp_path: Path) -> None:
    """As the command line writes it, with the pages of the recipes themselves."""
    names = ("keepsake-box", "twine-tag")
    for name in names:
        shutil.copytree(TOP / "recipes" / name, tmp_path / "recipes" / name)
    shutil.copy(TOP / "recipes" / "studio.yaml", tmp_path / "recipes")
    root = tmp_path / "out"
    assert foldwright("build", tmp_path / "recipes", "--out", root, "--only", "tutorial", cwd=tmp_path).status == 0
    seen = crawled(root / "index.html", root, "https://harbourstreet.example")
    assert {root / name / "tutorial.html" for name in names} <= seen
    assert {"feed.xml"} <= {file.name for file in seen}
    assert any(file.suffix == ".svg" for file in seen)


def test_long_lists_go_on_from_page_to_page(tmp_path: Path) -> None:
    known = many(60)
    root = written(made(known), known, tmp_path)
    assert {file.name for file in root.glob("*.html")} == {"index.html", "page-2.html", "page-3.html", "404.html"}
    seen = crawled(root / "index.html", root)
    assert {root / entry.slug / "tutorial.html" for entry in known} <= seen
    assert (root / "index.html").stat().st_size < 60_000


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *args: object) -> None:
        """Tells nobody."""


@pytest.fixture
def served(library: Path) -> Iterator[str]:
    handler = functools.partial(_Quiet, directory=str(library / "harbour"))
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_address[1]}"
        server.shutdown()


def test_it_searches_on_a_plain_server_too(reader: Page, served: str) -> None:
    reader.goto(f"{served}/#q=basket")
    expect(reader.locator("#found-count")).to_have_text("1 project found")
    reader.locator("#found a").click()
    assert reader.url == f"{served}/birds-nest-basket/tutorial.html"
