"""The desk by finger, at 400 % zoom, in forced colours, on paper and by keyboard: boxes, colours and names are asked of
the page itself."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from workbench.command_line import GOOD, write
from workbench.desk import OpenDesk

NAME = "card-in-many-ways"
PAGES = (
    *("/", "/begin/form", "/begin/form/box", "/begin/sample", "/begin/things", f"/begin/again/{NAME}", "/plan"),
    f"/plan?recipe={NAME}",
)
BY_FINGER: dict[str, Any] = {
    "viewport": {"width": 390, "height": 844},
    "has_touch": True,
    "is_mobile": True,
}


@pytest.fixture(scope="module", autouse=True)
def recipe(one_desk: OpenDesk) -> Iterator[None]:
    """One for all that only look."""
    home = write(one_desk.folder, NAME)
    yield
    shutil.rmtree(home)


@pytest.fixture(scope="module")
def by_finger(chromium: Browser) -> Iterator[BrowserContext]:
    context = chromium.new_context(**BY_FINGER)
    yield context
    context.close()


def turned_to(page: Page, side: str, sheet: str) -> None:
    """One side of a narrow page, with a sheet picked up."""
    page.locator(f".sides [data-side={side}]").click()
    if side == "table":
        page.locator(f"#sheet-{sheet} .take-up").click()


NARROW = """
() => [...document.querySelectorAll("button, .button, select, textarea, summary, input, .strip a, .lying > li > a")]
  .map((one) => one.matches("[type=checkbox], [type=radio]") ? one.closest("label") : one)
  .filter((one) => one.checkVisibility() && !one.closest("[inert], .unseen") && !one.matches(".unseen"))
  .map((one) => [one.outerHTML.slice(0, 80), one.getBoundingClientRect()])
  .filter(([, box]) => box.width < 44 || box.height < 44)
  .map(([html, box]) => `${html} ${box.width} x ${box.height}`)
"""


def test_what_a_finger_is_put_on_is_as_broad_as_a_finger(opened: OpenDesk, by_finger: BrowserContext) -> None:
    page = opened.tab(by_finger)
    for path in PAGES:
        page.goto(opened.root + path)
        assert page.evaluate(NARROW) == [], path
    page.locator("#papers li").first.wait_for()
    assert page.evaluate(NARROW) == []
    page.goto("about:blank")
    page = opened.writing(by_finger, NAME)
    page.locator("#show-put-in").click()
    assert page.evaluate(NARROW) == []
    for sheet in ("tutorial", "pieces", "steps"):
        turned_to(page, "table", sheet)
        assert page.evaluate(NARROW) == [], sheet
    page.goto("about:blank")


def test_on_a_narrow_screen_what_leads_to_the_text_shows_it(
    opened: OpenDesk, slug: str, by_finger: BrowserContext
) -> None:
    page = opened.writing(by_finger, slug)
    text, content = page.locator(".text-side"), page.locator(".cm-content")
    turned_to(page, "table", "pieces")
    expect(text).not_to_be_visible()
    page.locator("#sheet-pieces .pick").first.dispatch_event("click")
    expect(page.locator(".is-lit").first).to_be_in_viewport()
    expect(content).to_be_focused()
    turned_to(page, "table", "steps")
    page.locator("#show-put-in").click()
    page.locator(".insert").first.click()
    expect(text).to_be_visible()
    expect(content).to_be_focused()
    # What the manual says of a word needs nothing to rest on it.
    page.locator(".cm-line", has_text="level").tap()
    page.get_by_role("button", name="About this word").tap()
    expect(page.locator("#entry .entry")).to_contain_text("level")
    page.goto("about:blank")


SPACED = """
* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; }
p { margin-bottom: 2em !important; }
"""
"""What a reader may ask for without losing anything: WCAG 2.1, success criterion 1.4.12."""
BEYOND = """
() => [...document.querySelectorAll("body *")]
  .filter((one) => one.checkVisibility() && !one.closest(".wide, .inside, .unseen, .skip, svg, .cm-content"))
  .filter((one) => one.getBoundingClientRect().right > innerWidth + 1)
  .map((one) => one.outerHTML.slice(0, 80))
"""


def test_at_400_percent_and_widely_spaced_nothing_is_beyond_the_edge(opened: OpenDesk, tabs: BrowserContext) -> None:
    """A window of 1280 by 1024 pixels, each enlarged to four by four."""
    page = opened.tab(tabs)
    page.set_viewport_size({"width": 320, "height": 256})
    for path in PAGES:
        page.goto(opened.root + path)
        page.add_style_tag(content=SPACED)
        assert page.evaluate(BEYOND) == [], path
    page.goto("about:blank")
    page = opened.writing(tabs, NAME)
    page.add_style_tag(content=SPACED)
    assert page.evaluate(BEYOND) == []
    turned_to(page, "table", "pieces")
    # A sheet that is taken up comes to where it is seen.
    expect(page.locator("#sheet-pieces .take-up")).to_be_in_viewport()
    page.get_by_role("button", name="Fold it").first.click()
    page.locator(".folded").wait_for()
    assert page.evaluate(BEYOND) == []
    assert page.locator("#sheet-pieces .view").evaluate("one => one.scrollWidth <= one.clientWidth")


CHOSEN = """
() => {
  const one = document.body.appendChild(document.createElement("p"));
  one.style.cssText = "forced-color-adjust: none; background: Highlight";
  const ground = getComputedStyle(one).backgroundColor;
  one.remove();
  return ground;
}
"""


def test_in_forced_colours_the_chosen_is_told_and_paper_stays_white(opened: OpenDesk, tabs: BrowserContext) -> None:
    page = opened.writing(tabs, NAME)
    pressed = page.locator("#sheet-pieces .take-up")
    pressed.click()
    for scheme in ("light", "dark"):
        page.emulate_media(forced_colors="active", color_scheme=scheme, reduced_motion="reduce")  # type: ignore[arg-type]
        ground = "one => getComputedStyle(one).backgroundColor"
        assert page.locator("#sheet-pieces .on-paper").first.evaluate(ground) == "rgb(255, 255, 255)"
        chosen = page.evaluate(CHOSEN)
        assert pressed.evaluate(ground) == chosen
        # The focus is another sign than what is pressed.
        page.keyboard.press("Tab")
        page.keyboard.press("Shift+Tab")
        expect(pressed).to_be_focused()
        assert pressed.evaluate("one => getComputedStyle(one).outlineStyle") == "solid"
        selected = "one => getComputedStyle(one, '::selection').backgroundColor"
        assert page.locator(".cm-line").first.evaluate(selected) == chosen


def test_on_paper_are_the_whole_text_or_the_plan_and_no_controls(
    opened: OpenDesk, slug: str, tabs: BrowserContext
) -> None:
    page = opened.writing(tabs, slug)
    page.set_viewport_size({"width": 1280, "height": 300})
    page.emulate_media(color_scheme="dark")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    page.emulate_media(media="print")
    # The editor holds no more lines than fit on the screen.
    assert page.locator("#printed").text_content() == GOOD
    expect(page.locator("#printed")).to_be_visible()
    assert page.locator("button:visible, select:visible").count() == 0
    page.emulate_media(media="null")
    page.goto("about:blank")
    page = opened.tab(tabs, f"/plan?recipe={NAME}")
    page.locator("#papers li").first.wait_for()
    page.emulate_media(media="print")
    expect(page.locator("#paper-shopping-list")).to_be_visible()
    assert page.locator("button:visible, input:visible, .button:visible").count() == 0
    ink = page.evaluate("getComputedStyle(document.documentElement).color")
    assert sum(map(int, re.findall(r"\d+", ink))) < 200


def test_the_printer_is_asked_for_the_paper_itself(opened: OpenDesk, chromium: Browser) -> None:
    context = chromium.new_context()
    # A page without a screen shows no PDF: another page stands in its place, and tells who was asked to print.
    context.add_init_script("window.print = () => { top.asked = location.pathname; };")
    context.route("**/plan/file/**", lambda route: route.fulfill(content_type="text/html", body="<p>A paper.</p>"))
    page = opened.tab(context, f"/plan?recipe={NAME}")
    button = page.get_by_role("button", name=re.compile(r"^Print shopping-list"))
    button.focus()
    page.keyboard.press("Enter")
    page.wait_for_function("window.asked")
    name = (button.get_attribute("aria-label") or "").removeprefix("Print ")
    assert page.evaluate("asked") == f"/plan/file/{name}"
    # The focus is not drawn into the page that nobody sees.
    expect(button).to_be_focused()
    page.keyboard.press("Shift+Tab")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == f"Open {name}"
    context.close()


def test_what_says_the_same_of_many_things_names_its_own(opened: OpenDesk, tabs: BrowserContext) -> None:
    page = opened.writing(tabs, NAME)
    page.locator("#sheet-steps .take-up").click()
    told = re.findall(r'button "(.+)"', page.locator("#sheet-steps .view").aria_snapshot())
    assert len(told) >= 3
    assert len(set(told)) == len(told)
    # The name stands still while the time runs.
    timer = page.get_by_role("button", name="Start the timer").first
    timer.press("Enter")
    stop = page.get_by_role("button", name=re.compile("^Stop the timer 1"))
    expect(stop).to_have_text(re.compile(r"0:0[1-9]"))
    expect(stop).to_be_focused()


def test_what_was_opened_is_left_with_escape(opened: OpenDesk, tabs: BrowserContext) -> None:
    page = opened.writing(tabs, NAME)
    content = page.locator(".cm-content")
    expect(content).to_have_accessible_description(re.compile("Tab leaves the text"))
    # What the manual says, by key and by button: back to where one was.
    page.keyboard.press("F1")
    expect(page.locator("#entry .close")).to_be_focused()
    page.keyboard.press("Escape")
    expect(content).to_be_focused()
    button = page.get_by_role("button", name="About this word")
    button.press("Enter")
    expect(page.locator("#entry")).to_be_visible()
    page.keyboard.press("Escape")
    expect(button).to_be_focused()
    # The list of what can be put in.
    page.get_by_role("button", name="Add to the recipe").press("Enter")
    expect(page.get_by_label("Find")).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.press("Escape")
    expect(page.locator("#put-in")).not_to_be_visible()
    expect(page.get_by_role("button", name="Add to the recipe")).to_be_focused()
    # What rested on a word.
    page.locator(".cm-line", has_text="level").locator(".t-fact").hover()
    expect(page.locator(".cm-tooltip .entry")).to_be_visible()
    content.focus()
    page.keyboard.press("Escape")
    expect(page.locator(".cm-tooltip .entry")).to_have_count(0)
