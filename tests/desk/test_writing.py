"""A recipe is written in the browser: typed, broken, kept, killed, come back to; nothing typed is lost."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from time import monotonic, sleep

from playwright.sync_api import Browser, BrowserContext, Page, expect

from bench import desks
from workbench.command_line import GOOD, HANG, write
from workbench.desk import OpenDesk, browsing, desk


def behind(page: Page, words: str) -> None:
    """The cursor at the end of the line with these words."""
    page.locator(".cm-line", has_text=words).first.click()
    page.keyboard.press("End")


def wait_for(what: Callable[[], bool]) -> None:
    """Until it is so; only a hang ends the waiting."""
    began = monotonic()
    while not what():
        assert monotonic() - began < HANG
        sleep(0.02)


def holds(file: Path, words: str) -> Callable[[], bool]:
    return lambda: file.exists() and words in file.read_text(encoding="utf-8")


def test_what_is_typed_is_seen_at_once_and_on_disk_soon(opened: OpenDesk, slug: str, tabs: BrowserContext) -> None:
    page = opened.writing(tabs, slug)
    behind(page, "title: Practice card")
    page.keyboard.type(" for Ada")
    expect(page.frame_locator("#tutorial").locator("h1")).to_have_text("Practice card for Ada")
    expect(page.locator("#title")).to_have_text("Practice card for Ada")
    draft = opened.folder / slug / "recipe.draft.md"
    wait_for(holds(draft, "title: Practice card for Ada\n"))
    assert draft.read_text(encoding="utf-8") == GOOD.replace("Practice card\n", "Practice card for Ada\n", 1)
    assert (opened.folder / slug / "recipe.md").read_text(encoding="utf-8") == GOOD
    page.keyboard.press("Control+s")
    expect(page.locator("#standing")).to_have_text("Saved")
    assert holds(opened.folder / slug / "recipe.md", "title: Practice card for Ada\n")()
    assert not draft.exists()
    # Undo reaches past a save.
    for _ in range(3):
        page.keyboard.press("Control+z")
    expect(page.locator("#title")).to_have_text("Practice card")
    expect(page.locator("#standing")).to_have_text("Not saved yet. Your draft is kept.")


def test_what_is_typed_is_not_called_saved_and_what_is_taken_back_is(
    opened: OpenDesk, slug: str, tabs: BrowserContext
) -> None:
    page = opened.writing(tabs, slug)
    expect(page.locator("#standing")).to_have_text("Saved")
    page.evaluate("""() => {
        window.stood = [];
        const standing = document.getElementById("standing");
        new MutationObserver(() => window.stood.push(standing.textContent)).observe(standing, { childList: true });
    }""")
    behind(page, "title: Practice card")
    page.keyboard.type("!")
    page.keyboard.press("Backspace")
    page.wait_for_function("() => window.stood.at(-1) === 'Saved'")
    assert page.evaluate("window.stood[0]") == "Keeping a draft …"


def test_it_is_saved_by_key_wherever_one_is(opened: OpenDesk, slug: str, tabs: BrowserContext) -> None:
    page = opened.writing(tabs, slug)
    behind(page, "title: Practice card")
    page.keyboard.type(" for Ada")
    expect(page.locator("#standing")).to_have_text("Not saved yet. Your draft is kept.")
    page.locator("#look").focus()
    page.keyboard.press("Control+s")
    expect(page.locator("#standing")).to_have_text("Saved")
    assert holds(opened.folder / slug / "recipe.md", "title: Practice card for Ada\n")()


def test_the_worst_is_told_first(opened: OpenDesk, slug: str, tabs: BrowserContext) -> None:
    page = opened.writing(tabs, slug)
    behind(page, "level: easy")
    page.keyboard.type("ish")
    behind(page, "across: 4 back")
    page.keyboard.press("Enter")
    page.keyboard.type("hols: round 1/4 in")
    # The suggestion about the level stands further up in the text.
    expect(page.locator("#problems .place").first).to_have_text("Line 20")
    expect(page.locator("#problems .sign").first).to_have_class("sign sign-fault")
    expect(page.locator("#problems .place", has_text="Line 6")).to_be_visible()


def test_each_size_is_seen_and_what_is_wrong_in_one_is_told(opened: OpenDesk, slug: str, tabs: BrowserContext) -> None:
    larger = "sizes:\n  large:\n    card:\n      size: 10 x 7 in\n      across: 5 back | 5 front\n---\n\nA plain"
    (opened.folder / slug / "recipe.md").write_text(GOOD.replace("---\n\nA plain", larger), encoding="utf-8")
    page = opened.writing(tabs, slug)
    cut = page.frame_locator("#tutorial").locator("#step-1 .words")
    expect(cut).to_contain_text("Cut the white card to 8 × 5 in")
    card = page.locator("#sheet-card .view img")
    expect(card).to_have_count(1)
    as_written = card.get_attribute("src")
    page.get_by_label("Size").select_option("large")
    expect(cut).to_contain_text("Cut the white card to 10 × 7 in")
    expect(page.locator("#sheet-pieces .plan svg")).to_contain_text("10")
    expect(card).not_to_have_attribute("src", str(as_written))
    # Seen as written again, the size that is not seen is still looked after.
    page.get_by_label("Size").select_option("as written")
    behind(page, "across: 5 back")
    page.keyboard.type(" | 1 flap")
    expect(cut).to_contain_text("Cut the white card to 8 × 5 in")
    expect(page.locator("#problems")).to_contain_text("In the size “large”: The panels do not add up")
    expect(page.locator("#problems .place").first).to_have_text("Line 25")
    # A size that is gone is shown no more.
    behind(page, "large:")
    page.keyboard.press("Shift+Home")
    page.keyboard.type("broad:")
    expect(page.get_by_label("Size").locator("option")).to_have_text(["as written", "broad"])


def test_papers_are_set_when_one_pauses_and_show_what_was_typed(
    opened: OpenDesk, slug: str, tabs: BrowserContext
) -> None:
    page = opened.writing(tabs, slug)
    card = page.locator("#sheet-card .view img")
    expect(card).to_have_count(1)
    first = card.get_attribute("src")
    assert page.evaluate("src => fetch(src).then(got => got.headers.get('content-type'))", first) == "image/png"
    behind(page, "title: Practice card")
    page.keyboard.type(" again")
    expect(card).not_to_have_attribute("src", first or "")
    page.locator("#sheet-card .take-up").click()
    link = page.locator("#sheet-card .doings a")
    pdf = page.evaluate("href => fetch(href).then(got => got.text())", link.get_attribute("href"))
    assert pdf.startswith("%PDF-")


def test_while_the_text_is_broken_the_last_good_sheets_stay_marked(
    opened: OpenDesk, slug: str, tabs: BrowserContext
) -> None:
    page = opened.writing(tabs, slug)
    expect(page.locator("#sheet-card .view img")).to_have_count(1)
    behind(page, "across: 4 back")
    page.keyboard.press("ControlOrMeta+Shift+ArrowLeft")
    page.keyboard.type("wall")
    page.keyboard.press("Escape")
    behind(page, "size: 8 x 5 in")
    page.keyboard.type("ch and some")
    expect(page.locator("#problems li").first).to_be_visible()
    expect(page.locator("#sheet-card")).to_have_class("sheet stale")
    expect(page.locator("#sheet-card .view img")).to_have_count(1)
    expect(page.locator(".signs .sign-fault").first).to_be_visible()
    line = page.locator("#problems .place").first
    line.click()
    assert page.evaluate("() => document.activeElement.classList.contains('cm-content')")


def test_a_killed_desk_costs_nothing_and_a_tab_finds_the_next_one(
    tmp_path: Path, tabs: BrowserContext, chromium: Browser
) -> None:
    folder = write(tmp_path / "recipes", "card").parent
    with desk(folder) as first:
        page = first.writing(tabs, "card")
        behind(page, "title: Practice card")
        page.keyboard.type(" half a wo")
        wait_for(holds(folder / "card" / "recipe.draft.md", "half a wo"))
        first.kill()
        expect(page.locator("#standing")).to_have_text("The desk does not answer")
        # The tab still has the text, and goes on.
        page.keyboard.type("rd")
        assert "half a word" in page.locator(".cm-content").inner_text()
    with desk(folder, "--port", first.root.rpartition(":")[2]) as second:
        with browsing(chromium) as others:
            again = second.writing(others, "card")
            expect(again.locator("#title")).to_have_text("Practice card half a wo")
            expect(again.locator("#notice")).to_contain_text("your draft")
        # The new key, with which one comes to the first page, lets the same browser in.
        tabs.new_page().goto(second.address)
        expect(page.locator("#title")).to_have_text("Practice card half a word")
        wait_for(holds(folder / "card" / "recipe.draft.md", "half a word"))
    assert (folder / "card" / "recipe.md").read_text(encoding="utf-8") == GOOD


def test_two_tabs_show_one_text(opened: OpenDesk, slug: str, tabs: BrowserContext) -> None:
    one, other = opened.writing(tabs, slug), opened.writing(tabs, slug)
    behind(one, "title: Practice card")
    one.keyboard.type(" here")
    expect(other.locator("#title")).to_have_text("Practice card here")
    behind(other, "title: Practice card here")
    other.keyboard.type(" and there")
    expect(one.locator("#title")).to_have_text("Practice card here and there")
    expect(one.locator(".cm-line", has_text="title:")).to_have_text("title: Practice card here and there")


def test_a_recipe_changed_elsewhere_is_kept_side_by_side(opened: OpenDesk, slug: str, tabs: BrowserContext) -> None:
    page = opened.writing(tabs, slug)
    behind(page, "title: Practice card")
    page.keyboard.type(" mine")
    recipe = opened.folder / slug / "recipe.md"
    theirs = GOOD.replace("title: Practice card", "title: Their card")
    recipe.write_text(theirs, encoding="utf-8")
    page.keyboard.press("Control+s")
    expect(page.locator("#notice")).to_contain_text("Another program has changed")
    assert recipe.read_text(encoding="utf-8") == theirs
    page.locator("#notice button").click()
    expect(page.locator("#outside-mine")).to_contain_text("Practice card mine")
    expect(page.locator("#outside-theirs")).to_contain_text("Their card")
    page.get_by_role("button", name="Go on with the one on disk").click()
    expect(page.locator("#title")).to_have_text("Their card")
    # Mine is among the earlier versions, and comes back.
    page.get_by_role("button", name="Earlier versions").click()
    page.locator("#version-list button").first.click()
    expect(page.locator("#version-text")).to_contain_text("Practice card mine")
    page.get_by_role("button", name="Go back to this version").click()
    expect(page.locator("#title")).to_have_text("Practice card mine")


def test_looks_papers_and_units_are_chosen_for_all_sheets(opened: OpenDesk, slug: str, tabs: BrowserContext) -> None:
    page = opened.writing(tabs, slug)
    page.locator("#units").select_option("metric")
    inside = page.frame_locator("#tutorial")
    expect(inside.locator("#metric")).to_be_checked()
    look = inside.locator('link[rel="stylesheet"]')
    before = look.get_attribute("href")
    page.locator("#look").select_option("workbench")
    # The old look stays until the new one is there.
    expect(look.last).not_to_have_attribute("href", before or "")
    page.locator("#paper").select_option("A5")
    page.locator("#sheet-card .take-up").click()
    expect(page.locator("#sheet-card .doings a")).to_have_attribute("href", re.compile("card-metric-a5"))


def test_what_changes_leave_behind_is_cleared_away(tabs: BrowserContext, tmp_path: Path) -> None:
    """A change leaves a quarter of a megabyte that only a search for garbage finds; what is remembered takes one or two
    at first."""
    with desk(desks.put_down(tmp_path)) as opened:
        # Nobody looks at the page: what the browser makes of it is no matter here.
        first, *_, last = desks.memory(opened, opened.tab(tabs), 50)
    assert last - first < 5, "40 changes would be 10 MB"
