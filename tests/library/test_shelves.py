"""Shelves and pages of a library: what stands together, in which order, at which address."""

from __future__ import annotations

import json
import re
from pathlib import Path

import html5lib
from msgspec.structs import replace

from attacks.hostile import WORDS
from foldwright.library.shelves import Kind, newest_first, shelves_of
from foldwright.outputs.entry import Entry
from workbench.libraries import entries, hostile, made, many

CARD = re.compile(r'<li class="card">')


def tagged(slug: str, *tags: str, published: str = "2026-01-01") -> Entry:
    return Entry(slug=slug, title=slug, tags=tags, published=published)


def test_the_newest_come_first_and_of_one_day_by_title() -> None:
    known = [
        Entry("b", "Box", published="2026-03-01"),
        Entry("t", "Tag", published="2026-11-20"),
        Entry("a", "apple", published="2026-03-01"),
        Entry("n", "No day"),
        Entry("d", "Draft", published="2026-12-01", listed=False),
    ]
    assert [entry.slug for entry in newest_first(known)] == ["t", "a", "b", "n"]


def test_names_that_differ_in_capitals_are_one_shelf_by_its_usual_spelling() -> None:
    known = [tagged("a", "Easter"), tagged("b", "easter", "EASTER"), tagged("c", "Easter")]
    (shelf,) = shelves_of(known, Kind.TAG)
    assert (shelf.name, shelf.folder) == ("Easter", "tags/easter")
    assert [entry.slug for entry in shelf.entries] == ["a", "b", "c"]


def test_shelves_that_would_share_an_address_get_one_each() -> None:
    known = [tagged("a", "crème"), tagged("b", "creme"), tagged("c", "creme-2"), tagged("d", "🎄"), tagged("e", "ברוך")]
    found = {shelf.name: shelf.address for shelf in shelves_of(known, Kind.TAG)}
    assert len(set(found.values())) == 5
    assert found["creme"] == "creme"
    assert found["🎄"] == "christmas-tree"
    assert all(re.fullmatch(r"[^\W_]+(-[^\W_]+)*", address) for address in found.values())


def test_seasons_and_levels_have_the_order_of_the_year_and_of_difficulty() -> None:
    known = [replace(entry, tags=()) for entry in entries()]
    assert [shelf.name for shelf in shelves_of(known, Kind.SEASON)] == [
        "spring",
        "summer",
        "autumn",
        "winter",
        "Easter",
    ]
    assert [shelf.name for shelf in shelves_of(known, Kind.LEVEL)] == ["beginner", "easy", "moderate", "advanced"]


def test_each_page_of_a_long_list_has_twenty_four_and_all_are_there_once() -> None:
    files = made(many(60)).files
    pages = [files[name].decode() for name in ("index.html", "page-2.html", "page-3.html")]
    # One card of the first page is the script's own pattern; the others have no script.
    assert [len(CARD.findall(page)) for page in pages] == [25, 25, 13]
    titles = [title for page in pages for title in re.findall(r'data-slot="title">([^<·]+)</a>', page)]
    assert len(titles) == len(set(titles)) == 60


def test_a_library_without_recipes_says_so() -> None:
    page = made(()).files["index.html"].decode()
    assert "The first project is on its way." in page
    assert 'id="finder"' not in page


def test_before_and_next_go_by_the_day_of_publication() -> None:
    insets = made(entries()).insets
    assert "secret" not in insets
    ways = re.compile(r'rel="(\w+)" class="\w+" href="\.\./([^/]+)/tutorial\.html"')
    order = [entry.slug for entry in newest_first(entries())]
    for place, slug in enumerate(order):
        wanted = {"prev": order[place + 1]} if place + 1 < len(order) else {}
        wanted |= {"next": order[place - 1]} if place else {}
        assert dict(ways.findall(insets[slug])) == wanted, slug


def test_a_tutorial_leads_to_others_with_its_tag_and_never_to_itself() -> None:
    insets = made(entries()).insets
    inset = insets["gable-box"]
    # Both of its tags have others: `favours` has two of them, `boxes` one.
    assert "More projects with the tag “favours”" in inset
    assert 'href="../tags/favours/index.html"' in inset
    for slug, html in insets.items():
        assert f'href="../{slug}/' not in html
    assert "with the tag" not in insets["letter-rack"]


def test_a_look_of_ones_own_changes_lists_and_cards(tmp_path: Path) -> None:
    (tmp_path / "theme.toml").write_text('parent = "almanac"\n', encoding="utf-8")
    (tmp_path / "library.css").write_text(".plum{color:plum}", encoding="utf-8")
    (tmp_path / "library.html").write_text(
        '{% extends "theme/library.html" %}{% block footer %}<p class="plum">Bye</p>{% endblock %}', encoding="utf-8"
    )
    (tmp_path / "library-card.html").write_text(
        '<li class="card"><b data-slot="title">{{ card.title }}</b></li>', encoding="utf-8"
    )
    files = made(entries(), str(tmp_path)).files
    page = files["index.html"].decode()
    assert '<p class="plum">Bye</p>' in page
    assert '<b data-slot="title">Lantern</b>' in page
    (style,) = (data.decode() for name, data in files.items() if re.match(r"assets/library-.*css$", name))
    assert style.endswith(".plum{color:plum}")
    assert "double" in style, "what its parent says comes first"


def test_nothing_an_author_writes_becomes_more_than_words() -> None:
    """Every string of the collection of attacks in every text of an entry."""
    plain, attacked = made(hostile(["word"] * len(WORDS))), made(hostile(WORDS))
    for name in ("index.html", "404.html", "tags/index.html"):
        assert _elements(attacked.files[name]) == _elements(plain.files[name]), name
    (script,) = (data.decode() for name, data in attacked.files.items() if name.startswith("assets/search"))
    # A file of its own, which no parser of HTML looks into: one call, with data.
    call = re.fullmatch(r"foldwrightLibrary\((\{.*\})\);\n", script)
    assert call
    assert [row["title"] for row in json.loads(call[1])["rows"]] == [one.title for one in newest_first(hostile(WORDS))]
    kinds = _elements(plain.insets["recipe-0"].encode())
    for slug, html in attacked.insets.items():
        assert _elements(html.encode()) <= kinds, slug


def _elements(page: bytes) -> set[str]:
    """Every kind of element, and every attribute that would run something."""
    tree = html5lib.parse(page, namespaceHTMLElements=False)
    return {str(one.tag) for one in tree.iter()} | {
        name for one in tree.iter() for name in one.attrib if name[:2] == "on"
    }
