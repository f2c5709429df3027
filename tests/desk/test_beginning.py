"""Five ways to begin, each gone in the browser to a recipe that is written and right."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from foldwright.begin.options import FORMS
from foldwright.desk.beginning.form import GROUPS
from foldwright.outputs.checking import check_texts
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import find_sources
from workbench.browser_checks import violations
from workbench.demo_pages import TOP
from workbench.desk import OpenDesk, browsing
from workbench.long import every

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
PHOTO = TOP / "recipes" / "birdhouse"


@pytest.fixture
def opened(opened: OpenDesk) -> OpenDesk:
    """With a recipe on it already."""
    shutil.copytree(PHOTO, opened.folder / PHOTO.name)
    return opened


def go(page: Page, path: str) -> None:
    page.goto(re.sub(r"(?<=\d)/.*", "", page.url) + path)


def begun(opened: OpenDesk, page: Page, slug: str) -> str:
    """The text of a recipe that was begun: it is whole, nothing in it is wrong, and the cursor is behind its facts."""
    page.wait_for_url(f"**/recipe/{slug}?at=*", wait_until="commit")
    (source,), _ = find_sources([opened.folder / slug])
    texts = read_texts(source)
    found = check_texts(texts, source.surroundings)
    assert [one.code for one in found.findings if one.strength > 1] == []
    assert texts.text is not None
    at = int(page.url.rpartition("=")[2])
    assert texts.text[:at].rstrip().endswith("\n---") and texts.text[at].strip()
    assert not list(opened.folder.glob(".*new*"))
    return texts.text


# --- each way -------------------------------------------------------------------------------------------------------


def test_a_form_is_chosen_by_its_picture_and_its_drawing_follows_what_is_typed(opened: OpenDesk, page: Page) -> None:
    page.get_by_role("link", name="A form").click()
    page.get_by_role("link", name="Tuck box", exact=False).first.click()
    page.get_by_label("Deep").focus()
    expect(page.locator(".side.lit")).to_have_attribute("data-side", "1")
    page.locator('.side[data-side="2"] text').click()
    expect(page.get_by_label("High")).to_be_focused()
    expect(page.locator(".side.lit text")).to_have_text("3 in")
    page.get_by_label("High").fill("4 1/2")
    expect(page.locator('.side[data-side="2"] text')).to_have_text("4 1/2 in")
    expect(page.locator(".side.lit")).to_have_attribute("data-side", "2")
    page.get_by_label("What is it called?").fill("Tall box")
    page.get_by_role("button", name="Begin this recipe").click()
    text = begun(opened, page, "tall-box")
    assert "finished: 2 x 1 1/2 x 4 1/2 in" in text


def test_what_is_wrong_is_said_at_its_field_and_the_drawing_stays(page: Page) -> None:
    go(page, "/begin/form/cone")
    field = page.get_by_label("High")
    field.fill("tall")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#size-1-trouble")).to_contain_text("tall")
    assert "size-1-trouble" in (field.get_attribute("aria-describedby") or "")
    expect(page.locator("#said")).to_contain_text("tall")
    expect(page.locator("#drawing .side")).to_have_count(2)
    expect(field).to_be_focused()


def test_other_units_bring_their_own_suggestion_unless_something_was_typed(page: Page) -> None:
    go(page, "/begin/form/box")
    page.get_by_label("Across").fill("77")
    page.get_by_label("in millimetres").check()
    expect(page.get_by_label("Down")).to_have_value("50")
    expect(page.get_by_label("Across")).to_have_value("77")


def test_nothing_is_written_over_and_no_name_leads_out_of_the_folder(opened: OpenDesk, page: Page) -> None:
    before = (opened.folder / "birdhouse" / "recipe.md").read_bytes()
    go(page, "/begin/form/card")
    for name, said in (("Birdhouse", "birdhouse"), ("", "give it a name")):
        page.get_by_label("What is it called?").fill(name)
        page.get_by_role("button", name="Begin this recipe").click()
        expect(page.locator("#name-trouble")).to_contain_text(said)
        expect(page.locator("#name")).to_be_focused()
    page.get_by_label("What is it called?").fill("../../out of here")
    page.get_by_role("button", name="Begin this recipe").click()
    begun(opened, page, "out-of-here")
    assert (opened.folder / "birdhouse" / "recipe.md").read_bytes() == before


def measured(page: Page, across: list[str], down: list[str]) -> None:
    for side, row in (("across", across), ("down", down)):
        for number, said in enumerate(row, 1):
            page.locator(f"#piece-0-{side}-{number}").fill(said)


def test_a_sample_is_measured_where_it_lies_and_doubt_stands_at_its_panel(opened: OpenDesk, page: Page) -> None:
    page.get_by_role("link", name="I have a sample").click()
    measured(page, ["5/8", "2 7/8", "5/8"], ["1 3/4", "13/16", "1 3/4"])
    page.get_by_role("button", name="Work out the blank").click()
    expect(page.locator("#answer h2")).to_be_visible()
    expect(page.locator("#doubt")).to_contain_text("measure base down again, panel 2")
    expect(page.locator(".doubted input")).to_have_attribute("id", "piece-0-down-2")
    assert "doubt" in (page.locator("#piece-0-down-2").get_attribute("aria-describedby") or "")
    page.get_by_label("What is it called?").fill("Measured box")
    page.get_by_role("button", name="Begin this recipe").click()
    text = begun(opened, page, "measured-box")
    assert "across: 5/8 | 2 7/8 | 5/8\n" in text
    notes = (opened.folder / "measured-box" / "readings.txt").read_text(encoding="utf-8")
    assert "base across: 5/8 | 2 7/8 | 5/8 in" in notes


def test_readings_that_cannot_all_be_true_are_told_where_they_stand(page: Page) -> None:
    go(page, "/begin/sample")
    measured(page, ["20", "60", "20"], ["30", "40", "30"])
    page.get_by_label("in millimetres").check()
    page.locator("#piece-0-across-whole").fill("140")
    page.get_by_role("button", name="Work out the blank").click()
    expect(page.locator("#piece-0-across-whole-trouble")).to_contain_text("cannot all be true")
    expect(page.locator("#piece-0-across-whole")).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#answer h2")).to_contain_text("may be off by")
    page.get_by_role("button", name="Use this blank").click()
    expect(page.locator("#answer h2")).to_contain_text("likeliest blank")
    expect(page.locator("#piece-0-across-whole")).not_to_have_attribute("aria-invalid", "true")


def test_what_is_typed_while_an_answer_is_on_its_way_is_kept(page: Page) -> None:
    go(page, "/begin/sample")
    held: list[Route] = []
    page.route("**/begin/sample", lambda route: held.append(route))
    page.get_by_label("Panels across").select_option("4")
    while not held:
        page.wait_for_timeout(20)
    page.locator("#piece-0-across-1").fill("12")
    held[0].continue_()
    expect(page.locator("#piece-0-across-4")).to_be_visible()
    expect(page.locator("#piece-0-across-1")).to_have_value("12")


def test_panels_running_readings_and_pieces_are_chosen_and_notes_may_be_pasted(opened: OpenDesk, page: Page) -> None:
    go(page, "/begin/sample")
    page.get_by_label("Panels across").select_option("4")
    expect(page.locator("#piece-0-across-4")).to_be_visible()
    page.get_by_label("Measured across").select_option("running")
    expect(page.locator("#piece-0-across-whole")).to_have_count(0)
    page.get_by_role("button", name="Add a piece").click()
    expect(page.locator("#piece-1-name")).to_be_visible()
    page.get_by_role("button", name="Remove base 2").click()
    expect(page.locator("#piece-1-name")).to_have_count(0)
    page.locator("#noted > summary").click()
    page.get_by_label("Your notes").fill("strip across, from the left: 2, 4, 6, 8 in\nstrip down: 3 in\n")
    page.get_by_role("button", name="Work out the blank").click()
    page.get_by_label("What is it called?").fill("Noted strip")
    page.get_by_role("button", name="Begin this recipe").click()
    assert re.search(r"across: (?:4 of 2|2 \| 2 \| 2 \| 2)\n", begun(opened, page, "noted-strip"))


def test_what_goes_inside_brings_proposals_as_pictures_and_one_is_begun(opened: OpenDesk, page: Page) -> None:
    page.get_by_role("link", name="I have something to put in it").click()
    page.get_by_label("How many, of what, and how big?").fill("3 caramels of 1 1/8 x 3/4 x 1/2 in")
    for form in ("tray", "tray with lid"):
        page.get_by_label(form, exact=True).check()
    page.get_by_role("button", name="Show what holds it").click()
    best = page.locator(".proposals .best").first
    expect(best.locator(".badge")).to_have_text("Best tray")
    expect(best.locator("svg")).to_be_visible()
    expect(best.locator("li").first).to_contain_text("from a sheet of")
    best.get_by_role("button").click()
    text = begun(opened, page, "caramel-tray")
    assert "holds: caramel" in text


def test_things_that_cannot_be_read_are_told_at_their_field(page: Page) -> None:
    go(page, "/begin/things")
    page.get_by_label("How many, of what, and how big?").fill("some sweets")
    page.get_by_role("button", name="Show what holds it").click()
    expect(page.locator("#things-trouble")).to_contain_text("How many sweets?")
    expect(page.locator("#things")).to_be_focused()


def test_a_copy_has_the_photographs_and_may_have_another_size(opened: OpenDesk, page: Page) -> None:
    pictures = {file.name: file.read_bytes() for file in PHOTO.iterdir() if file.suffix in (".jpg", ".png")}
    page.get_by_role("link", name=re.compile("again")).first.click()
    page.wait_for_url("**/begin/again/*")
    go(page, "/begin/again/birdhouse")
    page.get_by_label("What is it called?").fill("Big birdhouse")
    with page.expect_response(lambda got: re.search(r"how\W+size", got.request.post_data or "") is not None):
        page.get_by_label("a copy with another size too").check()
    # Nothing is said yet, so nothing is wrong yet.
    page.wait_for_timeout(200)
    expect(page.locator("#sizes [aria-invalid=true]")).to_have_count(0)
    page.get_by_label("How many times as large?").fill("1.5")
    page.get_by_label("What is the size called?").fill("large")
    expect(page.locator("#answer pre")).to_contain_text("large:")
    page.get_by_role("button", name="Begin this recipe").click()
    text = begun(opened, page, "big-birdhouse")
    assert "title: Big birdhouse" in text and "sizes:\n  large:\n" in text
    copied = {file.name: file.read_bytes() for file in (opened.folder / "big-birdhouse").iterdir()}
    assert {name: copied.get(name) for name in pictures} == pictures


def test_a_size_that_cannot_be_made_is_told_with_the_nearest_one_that_can(opened: OpenDesk, page: Page) -> None:
    go(page, "/begin/again/birdhouse")
    page.get_by_label("What is it called?").fill("Tiny birdhouse")
    page.get_by_label("a copy with another size too").check()
    # Three caramels of 1 in do not go into half of 3 1/2 in.
    page.get_by_label("How many times as large?").fill("0.5")
    expect(page.locator("#answer")).to_contain_text("caramel will not fit into the base")
    expect(page.locator("#answer")).to_contain_text(re.compile(r"The smallest scale that works is 0\.7[0-9]\."))
    page.get_by_label("What is the size called?").fill("#1")
    page.get_by_role("button", name="Begin this recipe").click()
    expect(page.locator("#called-trouble")).to_contain_text("A size cannot be called “#1”")
    assert not (opened.folder / "tiny-birdhouse").exists()


def test_an_empty_page_is_a_recipe_too(opened: OpenDesk, page: Page) -> None:
    page.get_by_role("link", name="An empty page").click()
    page.get_by_label("What is it called?").fill("Something 🎁 new")
    page.get_by_role("button", name="Begin this recipe").click()
    page.wait_for_url("**/recipe/something-new?at=*")
    text = (opened.folder / "something-new" / "recipe.md").read_text(encoding="utf-8")
    at = int(page.url.rpartition("=")[2])
    behind = text.encode("utf-16-le")[2 * at :].decode("utf-16-le")
    assert text.startswith("---\ntitle: Something 🎁 new\n") and text.endswith(behind) and "---" not in behind


# --- for everybody --------------------------------------------------------------------------------------------------


def test_a_form_is_begun_by_keyboard_alone(opened: OpenDesk, page: Page) -> None:
    def on_to(wanted: str) -> None:
        for _ in range(120):
            page.keyboard.press("Tab")
            if page.evaluate("wanted => document.activeElement.matches(wanted)", wanted):
                return
        raise AssertionError(f"the keyboard does not come to {wanted}")

    on_to('a[href="/begin/form"]')
    page.keyboard.press("Enter")
    page.wait_for_url("**/begin/form")
    on_to('a[href="/begin/form/gift_bag"]')
    page.keyboard.press("Enter")
    page.wait_for_url("**/begin/form/gift_bag")
    on_to("#size-2")
    page.keyboard.type("4")
    expect(page.locator(".side.lit text")).to_have_text("4 in")
    on_to("#name")
    page.keyboard.type("Keyed bag")
    page.keyboard.press("Enter")
    begun(opened, page, "keyed-bag")


def test_a_form_is_begun_without_scripts(opened: OpenDesk, chromium: Browser) -> None:
    with browsing(chromium, java_script_enabled=False) as context:
        page = opened.tab(context, "/begin/form/prism")
        page.get_by_label("How many sides?").select_option("6")
        page.get_by_role("button", name="Show it").click()
        expect(page.get_by_label("How many sides?")).to_have_value("6")
        page.get_by_label("What is it called?").fill("Plain prism")
        page.get_by_role("button", name="Begin this recipe").click()
        assert "fold: prism, 6 sides" in begun(opened, page, "plain-prism")


def test_every_form_lies_on_the_page_once() -> None:
    shown = [form for group in GROUPS.values() for form in group]
    assert sorted(shown) == sorted(FORMS)


def test_more_than_any_page_sends_is_refused(opened: OpenDesk, page: Page) -> None:
    status = page.evaluate(
        "async () => (await fetch('/begin/things', { method: 'POST', body: 'things=' + 'x'.repeat(400000) })).status"
    )
    assert status == 413


def answered(page: Page) -> None:
    page.get_by_role("button", name="Work out the blank").click()
    expect(page.locator("#answer h2")).to_be_visible()


def doubted(page: Page) -> None:
    measured(page, ["5/8", "2 7/8", "5/8"], ["1 3/4", "13/16", "1 3/4"])
    answered(page)


def contradicted(page: Page) -> None:
    measured(page, ["2", "6", "2"], ["3", "4", "3"])
    page.locator("#piece-0-across-whole").fill("14")
    answered(page)


def odd(page: Page) -> None:
    page.locator("#size-0").fill("odd")
    expect(page.locator("#size-0")).to_have_attribute("aria-invalid", "true")


def proposed(page: Page) -> None:
    page.locator("#things").fill("2 soaps of 80 x 50 x 25 mm")
    page.get_by_label("tray", exact=True).check()
    page.get_by_role("button", name="Show what holds it").click()
    expect(page.locator(".proposals")).to_be_visible()


def sized(page: Page) -> None:
    page.get_by_label("a copy with another size too").check()
    page.locator("#scale").fill("2")
    expect(page.locator("#answer pre")).to_be_visible()


STATES: dict[str, tuple[str, Callable[[Page], None] | None]] = {
    "first": ("/", None),
    "forms": ("/begin/form", None),
    "form": ("/begin/form/hexagonal_box", None),
    "odd": ("/begin/form/box", odd),
    "sample": ("/begin/sample", None),
    "doubted": ("/begin/sample", doubted),
    "contradicted": ("/begin/sample", contradicted),
    "things": ("/begin/things", proposed),
    "old": ("/begin/again", None),
    "sized": ("/begin/again/birdhouse", sized),
    "empty": ("/begin/empty", None),
}


@pytest.mark.parametrize("state", every(tuple(STATES), 4))
def test_every_state_is_accessible_in_light_and_dark_and_fits_a_phone(page: Page, state: str) -> None:
    path, act = STATES[state]
    go(page, path)
    if act:
        act(page)
    for scheme in ("light", "dark"):
        # Colours that are still on their way from one scheme to the other are nobody's.
        page.emulate_media(color_scheme=scheme, reduced_motion="reduce")  # type: ignore[arg-type]
        found = violations(page, TAGS)
        assert not found, "\n".join(found)
    page.set_viewport_size({"width": 320, "height": 800})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
