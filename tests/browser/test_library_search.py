"""Searching and filtering a library in a browser: by keyboard, and the same as reckoned otherwise."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from pathlib import Path
from random import Random

import pytest
from playwright.sync_api import Page, expect

from attacks.hostile import WORDS
from foldwright.event.facts.stock import read_stock
from foldwright.library.matching import Match, what_can_be_made
from foldwright.library.searching import words_in
from foldwright.library.shelves import newest_first
from foldwright.outputs.entry import Entry
from workbench.libraries import entries, hostile, made, titles_seen, written
from workbench.long import tries


def test_search_by_keyboard_and_back(index: Page) -> None:
    assert len(titles_seen(index)) == 12
    index.get_by_label("Find a project").focus()
    index.keyboard.type("box")
    expect(index.locator("#found-count")).to_have_text("4 projects found")
    # In the title first, then the newest.
    assert titles_seen(index) == ["Gable box", "Drawer box", "Crème brûlée box", "Birdhouse favour box"]
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
    assert len(titles_seen(index)) == 12
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
        assert titles_seen(index) == found, text
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
    assert titles_seen(index) == ["Concertina booklet", "Birdhouse favour box"]
    index.get_by_label("Tag").select_option("wedding")
    assert titles_seen(index) == ["Birdhouse favour box"]
    assert {*index.url.partition("#")[2].split("&")} == {"level=easy", "up-to=30", "tag=wedding"}
    index.reload()
    expect(index.locator("#found-count")).to_have_text("1 project found")
    assert index.get_by_label("Level").input_value() == "easy"
    index.go_back()
    expect(index.locator("#found-count")).to_have_text("2 projects found")
    index.get_by_role("button", name="Show all projects").click()
    assert len(titles_seen(index)) == 12
    assert "#" not in index.url


def test_what_has_no_time_is_in_no_limit(index: Page) -> None:
    index.goto(index.url + "#up-to=15")
    expect(index.locator("#found-count")).to_have_text("1 project found")
    assert titles_seen(index) == ["Twine tag"]


def test_a_shelf_leads_to_the_search_of_the_same(reader: Page, library: Path) -> None:
    reader.goto((library / "harbour" / "seasons" / "spring" / "index.html").as_uri())
    own = titles_seen(reader)
    reader.get_by_role("link", name="Search and filter these").click()
    expect(reader.locator("#found-count")).to_have_text("3 projects found")
    assert titles_seen(reader) == own


def test_odd_addresses_do_no_harm(index: Page) -> None:
    start = index.url
    for odd in ("#tag=no-such-tag", "#up-to=7", "#level=__proto__", "#q=%20%E0%A4", "#=&=", "#projects"):
        index.goto("about:blank")
        index.goto(start + odd)
        assert len(titles_seen(index)) == 12, odd
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


def test_both_fold_letters_alike(reader: Page, tmp_path: Path) -> None:
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
    reader.goto((written(made(known), known, tmp_path) / "index.html").as_uri())
    reader.get_by_label("Find a project").fill("a")
    expect(reader.locator("#found")).to_be_visible()
    queries = [entry.title for entry in known]
    for query, found in zip(queries, reader.evaluate(FOUND, queries), strict=True):
        assert query in found
        assert set(found) == plainly_found(known, query), query


CHOSEN = """wishes => wishes.map(wish => {
  for (const choice of document.querySelectorAll("#finder select")) {
    choice.value = wish[choice.dataset.facet] || "";
    choice.dispatchEvent(new Event("change"));
  }
  if (document.getElementById("found").hidden) { return null; }
  return [...document.querySelectorAll("#found-cards h3")].map(title => title.textContent);
})"""


def test_filters_leave_exactly_what_has_all_that_was_chosen(index: Page) -> None:
    """Random choices in each filter, of which many go together and many do not."""
    known = newest_first(entries())
    of: dict[str, Callable[[Entry], Sequence[str]]] = {
        "tag": lambda entry: entry.tags,
        "level": lambda entry: (entry.level,),
        "form": lambda entry: entry.forms,
        "season": lambda entry: entry.seasons,
        "paper": lambda entry: entry.papers,
    }
    names = {facet: sorted({name for entry in known for name in said(entry) if name}) for facet, said in of.items()}
    names["up-to"] = ["15", "30", "60", "120"]
    random = Random(13)
    wishes = [{"level": "easy", "up-to": "30"}]
    for _ in range(tries(80, 1000)):
        chosen = random.sample(sorted(names), random.choice((1, 1, 2, 3)))
        wishes.append({facet: random.choice(names[facet]) for facet in chosen})
    index.locator("#filters summary").click()
    expect(index.get_by_label("Level").locator("option")).to_have_count(5)
    for wish, found in zip(wishes, index.evaluate(CHOSEN, wishes), strict=True):
        most = int(wish.get("up-to", 0))
        assert found == [
            entry.title
            for entry in known
            if all(wish[facet] in said(entry) for facet, said in of.items() if facet in wish)
            and (not most or 0 < entry.minutes <= most)
        ], wish


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
    assert {"Twine tag", "Gable box", "Seed packet", "Concertina booklet"} <= set(titles_seen(index)[:8])
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


def test_odd_words_are_words_in_the_browser_too(reader: Page, tmp_path: Path) -> None:
    """Every string of the collection of attacks, found and shown; the page fails whoever has a script of it run."""
    known = hostile(WORDS)
    reader.on("dialog", lambda dialog: pytest.fail(dialog.message))
    reader.goto((written(made(known), known, tmp_path) / "index.html").as_uri() + "#home=1")
    expect(reader.locator("#found")).to_be_visible()
    reader.locator("#filters summary").click()
    field = reader.get_by_label("Find a project")
    field.fill("alert")
    expect(reader.locator("#found-count")).not_to_have_text(f"{len(known)} projects found")
    (found,) = reader.evaluate(FOUND, ["alert"])
    assert {" ".join(title.split()) for title in found} == {
        " ".join(title.split()) for title in plainly_found([*known], "alert")
    }
    assert len(found) > 40
    for kind in ("script:not([src])", "iframe", "object", "form:not(#finder)", "[onload]", "[onerror]"):
        assert reader.locator(f"body {kind}").count() == 0, kind
    options = reader.get_by_label("Tag").locator("option").all_text_contents()
    assert any("<script>alert(1)</script>" in option for option in options)


def test_addresses_hold_nothing_but_what_was_asked(index: Page) -> None:
    index.get_by_label("Find a project").fill("  <b>&#x  ")
    expect(index).to_have_url(re.compile(r"#q=%3Cb%3E%26%23x$"))
    assert index.locator("#found b").count() == 0
