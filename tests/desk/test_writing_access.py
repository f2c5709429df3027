"""The page on which a recipe is written, for everybody: axe in every state of it, light and dark, wide and narrow; by
keyboard alone; what is told is told once, and the focus stays where it was."""

from __future__ import annotations

from itertools import pairwise, product

from playwright.sync_api import BrowserContext, Page, expect

from workbench.browser_checks import violations
from workbench.desk import OpenDesk
from workbench.long import every

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
STATES = ("written", "insert list", "pieces", "photographs", "versions", "card", "broken")
IN_DARK = every(STATES, 3)
"""In these, the dark is looked at as well."""


def brought_to(page: Page, state: str) -> None:
    """The page from the state before into one of its states."""
    match state:
        case "broken":
            page.locator(".cm-line", has_text="measured in").click()
            page.keyboard.press("End")
            page.keyboard.type("k and feet")
            expect(page.locator("#problems li").first).to_be_visible()
        case "insert list":
            page.get_by_role("button", name="Add to the recipe").click()
            expect(page.locator("#put-in")).to_be_visible()
        case "pieces":
            page.keyboard.press("Escape")
            expect(page.locator("#put-in")).to_be_hidden()
            page.locator("#sheet-pieces .take-up").click()
            page.get_by_role("button", name="Fold it").first.click()
            page.locator(".space > *").first.wait_for()
        case "photographs":
            page.locator("#sheet-steps .take-up").click()
        case "versions":
            page.get_by_role("button", name="Earlier versions").click()
            expect(page.get_by_role("dialog")).to_be_visible()
        case "card":
            page.keyboard.press("Escape")
            expect(page.get_by_role("dialog")).to_have_count(0)
            page.locator("#sheet-card .take-up").click()
            page.locator("#sheet-card .view img").first.wait_for()


def test_axe_finds_nothing_in_any_state(opened: OpenDesk, slug: str, tabs: BrowserContext) -> None:
    found = {}
    page = opened.writing(tabs, slug)
    for state in STATES:
        brought_to(page, state)
        for scheme in ("light", "dark") if state in IN_DARK else ("light",):
            # Colours that are still on their way from one scheme to the other are nobody's.
            page.emulate_media(color_scheme=scheme, reduced_motion="reduce")  # type: ignore[arg-type]
            found[state, scheme] = violations(page, TAGS)
        page.emulate_media(color_scheme="light", reduced_motion="null")
    assert {state: told for state, told in found.items() if told} == {}


def test_nothing_is_wider_than_a_narrow_screen(opened: OpenDesk, slug: str, tabs: BrowserContext) -> None:
    page = opened.writing(tabs, slug)
    for width, side in product((1000, 700, 320), ("text", "table")):
        page.set_viewport_size({"width": width, "height": 700})
        button = page.locator(f".sides button[data-side={side}]")
        if button.is_visible():
            button.click()
        for sheet in ("tutorial", "pieces", "steps"):
            if page.locator(f"#sheet-{sheet} .take-up").is_visible():
                page.locator(f"#sheet-{sheet} .take-up").click()
            assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth"), (width, side, sheet)


def test_everything_is_done_by_keyboard(opened: OpenDesk, slug: str, tabs: BrowserContext) -> None:
    """From the head of the page to each control in turn, and out of the text again."""
    page = opened.writing(tabs, slug)
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


def test_a_problem_that_is_mended_hands_the_focus_on_and_is_told_once(
    opened: OpenDesk, slug: str, tabs: BrowserContext
) -> None:
    page = opened.writing(tabs, slug)
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
