"""A library in a browser: valid, accessible, found and filtered by keyboard, from a file and from a plain server."""

from __future__ import annotations

import functools
import re
import shutil
import threading
from collections.abc import Iterator
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from random import Random
from urllib.parse import unquote, urljoin, urlsplit

import html5lib
import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, expect

from attacks.hostile import WORDS
from foldwright.event.facts.stock import read_stock
from foldwright.library.matching import Match, what_can_be_made
from foldwright.library.searching import words_in
from foldwright.library.shelves import newest_first
from foldwright.outputs.entry import Entry
from workbench.browser_checks import complaints, told, violations
from workbench.command_line import foldwright
from workbench.demo_pages import TOP
from workbench.libraries import ADDRESS, entries, hostile, made, many, written
from workbench.long import tries

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
LOOKS = ("harbour", "almanac", "workbench")
STOCK = "kraft card: 6 sheets\ncotton twine: 2 of 20 yd\nwet glue: plenty\n"


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A library in each look."""
    home = tmp_path_factory.mktemp("library")
    for look in LOOKS:
        written(made(entries(), look, STOCK), entries(), home / look)
    return home


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
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
def index(page: Page, library: Path) -> Page:
    """The first page, newly opened from a file, with nothing kept."""
    page.goto((library / "harbour" / "index.html").as_uri())
    page.evaluate("localStorage.clear()")
    page.goto("about:blank")
    page.goto((library / "harbour" / "index.html").as_uri())
    return page


def titles(page: Page) -> list[str]:
    """The titles of the cards that are seen."""
    return [text for text in page.locator(".cards:visible h3").all_inner_texts() if text]


# --- pages ------------------------------------------------------------------------------------------------------------


def test_every_page_is_valid(library: Path) -> None:
    pages = [*library.glob("harbour/*.html"), *library.glob("harbour/tags/**/index.html")]
    assert {"index.html", "404.html"} <= {page.name for page in pages}
    assert len(pages) > 10
    found = complaints(*pages)
    assert not found, told(found)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("look", LOOKS)
def test_every_kind_of_page_is_accessible_in_every_look(page: Page, library: Path, look: str, scheme: str) -> None:
    page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    asked = "index.html#q=box&level=easy&home=1"
    for path in ("index.html", asked, "tags/favours/index.html", "tags/index.html", "404.html"):
        page.goto(f"{library.as_uri()}/{look}/{path}")
        if path == asked:
            expect(page.locator("#found")).to_be_visible()
        found = violations(page, TAGS)
        assert not found, f"{path}: " + "\n".join(found)
    page.emulate_media(color_scheme="light")


@pytest.mark.parametrize("look", LOOKS)
def test_a_narrow_phone_shows_all_of_it(page: Page, library: Path, look: str) -> None:
    """WCAG 2.2, 1.4.10: 320 pixels wide, nothing to be pushed sideways."""
    page.set_viewport_size({"width": 320, "height": 640})
    for path in ("index.html", "index.html#q=box&home=1&tag=favours", "seasons/spring/index.html", "404.html"):
        page.goto(f"{library.as_uri()}/{look}/{path}")
        if "#" in path:
            expect(page.locator("#found")).to_be_visible()
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, path
    page.set_viewport_size({"width": 1280, "height": 900})


def test_without_a_script_every_recipe_can_be_reached(chromium: Browser, library: Path) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((library / "harbour" / "index.html").as_uri())
    assert titles(page) == [entry.title for entry in newest_first(entries())]
    assert not page.locator("#finder").is_visible()
    page.get_by_role("link", name="favours", exact=True).click()
    assert sorted(titles(page)) == ["Birdhouse favour box", "Crème brûlée box", "Gable box"]
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


def test_it_searches_on_a_plain_server_too(page: Page, served: str) -> None:
    page.goto(f"{served}/#q=basket")
    expect(page.locator("#found-count")).to_have_text("1 project found")
    page.locator("#found a").click()
    assert page.url == f"{served}/birds-nest-basket/tutorial.html"


# --- finding ----------------------------------------------------------------------------------------------------------


def test_search_by_keyboard_and_back(index: Page) -> None:
    assert len(titles(index)) == 12
    index.get_by_label("Find a project").focus()
    index.keyboard.type("box")
    expect(index.locator("#found-count")).to_have_text("4 projects found")
    # In the title first, then the newest.
    assert titles(index) == ["Gable box", "Drawer box", "Crème brûlée box", "Birdhouse favour box"]
    expect(index.get_by_role("status")).to_have_text("4 projects found")
    assert index.url.endswith("#q=box")
    index.keyboard.press("Enter")
    assert index.evaluate("document.activeElement.id") == "found-count"
    index.keyboard.press("Tab")
    index.keyboard.press("Tab")
    index.keyboard.press("Enter")
    expect(index).to_have_url(re.compile("/gable-box/tutorial.html$"))
    index.go_back()
    expect(index.locator("#found-count")).to_have_text("4 projects found")
    assert index.get_by_label("Find a project").input_value() == "box"
    index.go_back()
    expect(index.locator("#found")).to_be_hidden()
    assert len(titles(index)) == 12
    assert index.get_by_label("Find a project").input_value() == ""


def test_accents_apostrophes_and_beginnings_are_found(index: Page) -> None:
    field = index.get_by_label("Find a project")
    for text, found in [
        ("creme", ["Crème brûlée box"]),
        ("BIRD'S", ["Bird’s nest basket"]),
        ("cr bru", ["Crème brûlée box"]),
        ("zzz", []),
    ]:
        field.fill(text)
        expect(index.locator("#found-count")).not_to_be_empty()
        assert titles(index) == found, text
    expect(index.locator("#found-count")).to_contain_text("No project fits")


def test_filters_are_counted_combined_kept_and_cleared(index: Page) -> None:
    index.locator("#filters summary").press("Enter")
    level = index.get_by_label("Level")
    expect(level.locator("option")).to_have_text(["Any", "beginner (3)", "easy (4)", "moderate (3)", "advanced (1)"])
    level.select_option("easy")
    expect(index.locator("#found-count")).to_have_text("4 projects found")
    # Of the easy ones: 25, 30, 35 and 40 minutes.
    expect(index.get_by_label("Time").locator("option")).to_have_text(
        ["Any", "up to 15 min (0)", "up to 30 min (2)", "up to 1 h (4)", "up to 2 h (4)"], use_inner_text=False
    )
    index.get_by_label("Time").select_option("30")
    assert titles(index) == ["Concertina booklet", "Birdhouse favour box"]
    index.get_by_label("Tag").select_option("wedding")
    assert titles(index) == ["Birdhouse favour box"]
    assert {*index.url.partition("#")[2].split("&")} == {"level=easy", "up-to=30", "tag=wedding"}
    index.reload()
    expect(index.locator("#found-count")).to_have_text("1 project found")
    assert index.get_by_label("Level").input_value() == "easy"
    index.go_back()
    expect(index.locator("#found-count")).to_have_text("2 projects found")
    index.get_by_role("button", name="Show all projects").click()
    assert len(titles(index)) == 12
    assert "#" not in index.url


def test_what_has_no_time_is_in_no_limit(index: Page) -> None:
    index.goto(index.url + "#up-to=15")
    expect(index.locator("#found-count")).to_have_text("1 project found")
    assert titles(index) == ["Twine tag"]


def test_a_shelf_leads_to_the_search_of_the_same(page: Page, library: Path) -> None:
    page.goto((library / "harbour" / "seasons" / "spring" / "index.html").as_uri())
    own = titles(page)
    page.get_by_role("link", name="Search and filter these").click()
    expect(page.locator("#found-count")).to_have_text("3 projects found")
    assert titles(page) == own


def test_odd_addresses_do_no_harm(index: Page) -> None:
    start = index.url
    for odd in ("#tag=no-such-tag", "#up-to=7", "#level=__proto__", "#q=%20%E0%A4", "#=&=", "#projects"):
        index.goto("about:blank")
        index.goto(start + odd)
        assert len(titles(index)) == 12, odd
        index.get_by_label("Find a project").fill("basket")
        expect(index.locator("#found-count")).to_have_text("1 project found")


# --- the same as reckoned otherwise -----------------------------------------------------------------------------------

FOUND = """queries => queries.map(query => {
  const field = document.getElementById("q");
  field.value = query;
  field.dispatchEvent(new Event("input"));
  let more = document.getElementById("more");
  while (!more.hidden) { more.click(); }
  if (document.getElementById("found").hidden) { return null; }
  return [...document.querySelectorAll("#found-cards h3")].map(title => title.textContent);
})"""


def plainly_found(known: list[Entry], query: str) -> set[str]:
    """Those in which every word of the query begins some word: gone through one by one."""

    def words(entry: Entry) -> set[str]:
        needs = [name for need in entry.needs for name in (need.name, *need.instead)]
        texts = (entry.title, entry.summary, entry.level, *entry.tags, *entry.seasons, *entry.forms, *entry.papers)
        return {word for text in (*texts, *needs, *entry.words) for word in words_in(text)}

    return {
        entry.title
        for entry in known
        if all(any(word.startswith(one) for word in words(entry)) for one in words_in(query))
    }


def test_the_browser_finds_exactly_what_a_plain_search_finds(index: Page) -> None:
    """Random beginnings of words of the library, whole words, several of them, and some that are nowhere."""
    known = [entry for entry in entries() if entry.listed]
    random = Random(21)
    every = sorted(
        {word for entry in known for word in words_in(f"{entry.title} {entry.summary} {' '.join(entry.tags)}")}
    )
    queries = []
    for _ in range(tries(150, 3000)):
        words = [word[: random.randint(1, len(word))] for word in random.sample(every, random.choice((1, 1, 2, 3)))]
        queries.append(" ".join(random.choice((str.upper, str.title, str))(word) for word in words))
    queries += ["zz", "box zz", "CRÈME", "star’s", "kraft twine", "wet", "sleeve moderate"]
    index.get_by_label("Find a project").fill("b")
    expect(index.locator("#found")).to_be_visible()
    for query, found in zip(queries, index.evaluate(FOUND, queries), strict=True):
        assert len(found) == len(set(found)), query
        assert set(found) == plainly_found(known, query), query


def test_both_fold_letters_alike(page: Page, tmp_path: Path) -> None:
    """Python's tables of Unicode and the browser's, over letters with accents and of other scripts."""
    ranges = (
        range(0xA0, 0x250),
        range(0x370, 0x600),
        range(0x900, 0xE00),
        range(0x1E00, 0x2000),
        range(0xFB00, 0xFF70),
    )
    letters = [letter for row in ranges for letter in map(chr, row) if letter.isalnum()]
    letters = Random(5).sample(letters, min(len(letters), tries(200, 3000)))
    known = [Entry(slug=f"letter-{ord(letter)}", title=f"a{letter}b", published="2026-01-01") for letter in letters]
    page.goto((written(made(known), known, tmp_path) / "index.html").as_uri())
    page.get_by_label("Find a project").fill("a")
    expect(page.locator("#found")).to_be_visible()
    queries = [entry.title for entry in known]
    for query, found in zip(queries, page.evaluate(FOUND, queries), strict=True):
        assert query in found
        assert set(found) == plainly_found(known, query), query


STANDS = """ticks => ticks.map(ticked => {
  for (const box of document.querySelectorAll("#supplies input")) {
    if (box.checked !== ticked.includes(box.parentElement.textContent)) { box.click(); }
  }
  return [...document.querySelectorAll("#found-cards li")].map(card =>
    [card.querySelector("h3").textContent, card.querySelector("[data-slot=lacks]").textContent]);
})"""


def told_of(match: Match) -> str:
    """In the page's words, which name no amounts."""
    lacking = ", ".join(one.need.name for one in match.lacking)
    first = f"Still to get: {lacking}." if lacking else "You can make it now."
    return " ".join([first, *(f"Use {one.by} in place of {one.need.name}, if you like." for one in match.standing_in)])


def test_what_can_be_made_is_what_the_shelf_says(index: Page) -> None:
    """The reckoning by the studio's list, where there is plenty of each thing, and the browser's by ticks."""
    known = newest_first(entries())
    index.locator("#at-home summary").click()
    expect(index.locator("#found")).to_be_visible()
    names = index.locator("#supplies label").all_inner_texts()
    assert {"kraft card", "satin ribbon", "wet glue"} <= set(names)
    random = Random(8)
    ticks = [[], names, *(random.sample(names, random.randint(1, len(names) - 1)) for _ in range(tries(20, 200)))]
    for ticked, seen in zip(ticks, index.evaluate(STANDS, ticks), strict=True):
        shelf, findings = read_stock("\n".join(f"{name}: plenty" for name in ticked) or "nothing: 1", "stock.yaml")
        assert not findings
        matches = what_can_be_made(known, shelf)
        # Which of several of a kind stands in is the affair of neither.
        assert {title: _without_other(text) for title, text in seen} == {
            match.entry.title: _without_other(told_of(match)) for match in matches
        }
        order = {match.entry.title: (len(match.lacking), len(match.standing_in)) for match in matches}
        assert [order[title] for title, _ in seen] == sorted(order.values())


def _without_other(text: str) -> str:
    return re.sub(r"Use .*? in place", "Use another in place", text)


def test_the_studios_own_shelf_is_where_ticks_begin_and_they_are_kept(index: Page) -> None:
    index.locator("#at-home summary").click()
    expect(index.locator("#found-count")).to_have_text("12 projects found")
    ticked = index.locator("#supplies li:has(:checked)")
    # Those that most recipes need come first.
    expect(ticked).to_have_text(["wet glue", "cotton twine", "kraft card"])
    assert {"Twine tag", "Gable box", "Seed packet", "Concertina booklet"} <= set(titles(index)[:8])
    index.get_by_label("cotton twine").uncheck()
    index.get_by_label("vellum").check()
    index.reload()
    expect(ticked).to_have_text(["wet glue", "kraft card", "vellum"])
    index.get_by_label("Find a supply").fill("gla")
    expect(index.locator("#supplies li")).to_have_count(0)
    index.get_by_label("Find a supply").fill("TWI")
    expect(index.locator("#supplies li")).to_have_text(["cotton twine"])
    index.get_by_role("button", name="Start from our own stock").click()
    index.get_by_label("Find a supply").fill("")
    expect(ticked).to_have_text(["wet glue", "cotton twine", "kraft card"])
    index.go_back()
    expect(index.locator("#found")).to_be_hidden()


def test_odd_words_are_words_in_the_browser_too(page: Page, tmp_path: Path) -> None:
    """Every string of the collection of attacks, found and shown; the page fails whoever has a script of it run."""
    known = hostile(WORDS)
    page.on("dialog", lambda dialog: pytest.fail(dialog.message))
    page.goto((written(made(known), known, tmp_path) / "index.html").as_uri() + "#home=1")
    expect(page.locator("#found")).to_be_visible()
    page.locator("#filters summary").click()
    field = page.get_by_label("Find a project")
    field.fill("alert")
    expect(page.locator("#found-count")).not_to_have_text(f"{len(known)} projects found")
    (found,) = page.evaluate(FOUND, ["alert"])
    assert {" ".join(title.split()) for title in found} == {
        " ".join(title.split()) for title in plainly_found([*known], "alert")
    }
    assert len(found) > 40
    for kind in ("script:not([src])", "iframe", "object", "form:not(#finder)", "[onload]", "[onerror]"):
        assert page.locator(f"body {kind}").count() == 0, kind
    options = page.get_by_label("Tag").locator("option").all_text_contents()
    assert any("<script>alert(1)</script>" in option for option in options)


def test_addresses_hold_nothing_but_what_was_asked(index: Page) -> None:
    index.get_by_label("Find a project").fill("  <b>&#x  ")
    expect(index).to_have_url(re.compile(r"#q=%3Cb%3E%26%23x$"))
    assert index.locator("#found b").count() == 0
