"""The page on which a recipe is written, for everybody: axe in every state of it, light and dark, wide and narrow; by
keyboard alone; what is told is told once, and the focus stays where it was."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from workbench.browser_checks import violations
from workbench.command_line import GOOD
from workbench.desk import SOON, OpenDesk, browsing, desk
from workbench.long import every

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
STATES = ("written", "broken", "insert list", "pieces", "photographs", "versions", "card")


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenDesk]:
    folder = tmp_path_factory.mktemp("access") / "recipes"
    (folder / "card").mkdir(parents=True)
    (folder / "card" / "recipe.md").write_text(GOOD, encoding="utf-8")
    expect.set_options(timeout=SOON)
    with desk(folder) as one:
        yield one


@pytest.fixture
def tabs(chromium: Browser) -> Iterator[BrowserContext]:
    with browsing(chromium) as context:
        yield context


def brought_to(page: Page, state: str) -> None:
    """The page in one of its states."""
    match state:
        case "broken":
            page.locator(".cm-line", has_text="measured in").click()
            page.keyboard.press("End")
            page.keyboard.type("k and feet")
            expect(page.locator("#problems li").first).to_be_visible()
        case "insert list":
            page.get_by_role("button", name="Add to the recipe").click()
        case "pieces":
            page.locator("#sheet-pieces .take-up").click()
            page.get_by_role("button", name="Fold it").first.click()
            page.locator(".space > *").first.wait_for()
        case "photographs":
            page.locator("#sheet-steps .take-up").click()
        case "versions":
            page.get_by_role("button", name="Earlier versions").click()
        case "card":
            page.locator("#sheet-card .take-up").click()
            page.locator("#sheet-card .view img").first.wait_for()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_in_any_state(opened: OpenDesk, chromium: Browser, scheme: str) -> None:
    found = {}
    with browsing(chromium, color_scheme=scheme) as tabs:
        for state in STATES if scheme == "light" else every(STATES, 4):
            page = opened.writing(tabs, "card")
            brought_to(page, state)
            found[state] = violations(page, TAGS)
            if state == "broken":
                page.locator(".cm-content").focus()
                # As often as that: the text one began with is not undone.
                for _ in range(5):
                    page.keyboard.press("Control+z")
                expect(page.locator("#problems li")).to_have_count(0)
            page.close()
    assert {state: told for state, told in found.items() if told} == {}


@pytest.mark.parametrize("width", [320, 700, 1000])
def test_nothing_is_wider_than_a_narrow_screen(opened: OpenDesk, tabs: BrowserContext, width: int) -> None:
    page = opened.writing(tabs, "card")
    page.set_viewport_size({"width": width, "height": 700})
    for side in ("text", "table"):
        button = page.locator(f".sides button[data-side={side}]")
        if button.is_visible():
            button.click()
        for sheet in ("tutorial", "pieces", "steps"):
            if page.locator(f"#sheet-{sheet} .take-up").is_visible():
                page.locator(f"#sheet-{sheet} .take-up").click()
            assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth"), (side, sheet)


def test_everything_is_done_by_keyboard(opened: OpenDesk, tabs: BrowserContext) -> None:
    """From the head of the page to each control in turn, and out of the text again."""
    page = opened.writing(tabs, "card")
    page.locator("a.skip").focus()
    reached = []
    for _ in range(60):
        page.keyboard.press("Tab")
        reached.append(page.evaluate(FOCUSED))
    wanted = ("Foldwright desk", "Add to the recipe", "Save", "The text of the recipe", "Tutorial", "Pieces")
    assert [one for one in wanted if one not in reached] == []


FOCUSED = """
() => {
  const one = document.activeElement;
  return one.getAttribute("aria-label") || one.textContent.trim().slice(0, 40) || one.id;
}
"""


def test_a_problem_that_is_mended_hands_the_focus_on_and_is_told_once(opened: OpenDesk, tabs: BrowserContext) -> None:
    page = opened.writing(tabs, "card")
    page.evaluate(LISTEN)
    page.locator(".cm-line", has_text="level: easy").click()
    page.keyboard.press("Home")
    page.keyboard.type("levvel: easy")
    page.keyboard.press("Shift+End")
    page.keyboard.press("Delete")
    expect(page.locator("#problems li").first).to_be_visible()
    mend = page.locator("#problems .mends button").first
    mend.focus()
    page.keyboard.press("Enter")
    expect(page.locator(".cm-line", has_text="level: easy")).to_have_count(1)
    expect(page.locator("#problems li")).to_have_count(0)
    page.wait_for_timeout(1500)
    assert page.evaluate("() => document.activeElement !== document.body")
    told = page.evaluate("() => window.told")
    assert [one for one, after in pairwise(told) if one == after] == []
    assert told.count("1 error") <= 1 and told[-1] == "No problems found"


LISTEN = """
() => {
  window.told = [];
  const region = document.getElementById("said");
  new MutationObserver(() => { if (region.textContent) window.told.push(region.textContent); })
    .observe(region, { childList: true, characterData: true, subtree: true });
}
"""
