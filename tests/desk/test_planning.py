"""An event planned in the browser: the plan follows what is typed, and its folder is the one the command writes."""

from __future__ import annotations

import io
import json
import shutil
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import pytest
from playwright.sync_api import BrowserContext, Locator, Page, expect

from workbench.browser_checks import violations
from workbench.command_line import foldwright
from workbench.demo_pages import TOP
from workbench.desk import OpenDesk, desk
from workbench.long import LONG

AXE = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
STOCK = "kraft card: 6 sheets\njute twine: 2 of 20 yd\n"


def lay_down(folder: Path) -> list[Path]:
    """Two recipes, each with the studio's own facts in its folder."""
    laid = [shutil.copytree(TOP / "recipes" / name, folder / name) for name in ("twine-tag", "layered-card")]
    for recipe in laid:
        shutil.copy(TOP / "recipes" / "studio.yaml", recipe)
    return laid


@pytest.fixture(scope="module", autouse=True)
def recipes(one_desk: OpenDesk) -> Iterator[None]:
    laid = lay_down(one_desk.folder)
    yield
    for recipe in laid:
        shutil.rmtree(recipe)


def planning(opened: OpenDesk, tabs: BrowserContext, query: str = "recipe=twine-tag") -> Page:
    """The page of an event, once its plan is there."""
    page = opened.tab(tabs, f"/plan?{query}")
    expect(page.locator("#state")).to_have_text("The plan is ready. It follows each change.")
    return page


def field(page: Page, name: str) -> Locator:
    """A field, its part of the form unfolded."""
    found = page.locator(f"#event [name='{name}']")
    part = page.locator("#event details", has=page.locator(f"[name='{name}']"))
    if not part.evaluate("part => part.open"):
        part.locator("summary").click()
    return found


def paper(page: Page, slug: str) -> Locator:
    return page.locator(f"#paper-{slug}")


def kit_of(data: bytes) -> dict[str, Any]:
    return dict(json.loads(data))


def test_the_plan_follows_and_the_folder_is_the_one_the_command_writes(
    opened: OpenDesk, tabs: BrowserContext, tmp_path: Path
) -> None:
    page = planning(opened, tabs)
    expect(page.locator("#title")).to_have_text("12 × Gift tag with twine")
    field(page, "for-twine-tag").fill("23")
    field(page, "spare").fill("10%")
    field(page, "helpers").fill("2")
    field(page, "fee").fill("9.50")
    field(page, "cost").fill("hall 40, bags 0.10 each")
    field(page, "stock").fill(STOCK)
    field(page, "on").fill("2027-03-06")
    field(page, "called").fill("Spring Saturday")
    (tmp_path / "shelf.yaml").write_text(STOCK, encoding="utf-8")
    words = ["--for", "23", "--spare", "10%", "--helpers", "2", "--fee", "9.50", "--cost", "hall 40, bags 0.10 each"]
    words += ["--stock", tmp_path / "shelf.yaml", "--on", "2027-03-06", "--called", "Spring Saturday"]
    done = foldwright("kit", opened.folder / "twine-tag", *words, "--out", tmp_path / "out", cwd=tmp_path)
    assert done.status == 0, done.out + done.err
    written = {file.name: file.read_bytes() for file in (tmp_path / "out" / "event-twine-tag").glob("[!.]*")}
    kit = kit_of(written["kit.json"])

    expect(page.locator("#title")).to_have_text("23 × Gift tag with twine")
    sheets = sum(layout["copies"] for one in kit["cutting"] for layout in one["layouts"])
    costs, cutting = paper(page, "costs"), paper(page, "cutting-plan")
    for sum_of in ("used_up", "to_buy"):
        expect(costs.locator("tfoot").first).to_contain_text(kit["costs"][sum_of])
    expect(costs).to_contain_text(kit["costs"]["whole"])
    expect(cutting.locator(".summary")).to_contain_text(f"{sheets} sheets in all")
    expect(paper(page, "the-day")).to_contain_text("23 people")
    # Of the card in stock, none is bought.
    expect(paper(page, "shopping-list").locator("li", has_text="kraft card")).to_contain_text("in stock")

    with page.expect_download() as download:
        page.locator("#download").click()
    packed = zipfile.ZipFile(io.BytesIO(Path(download.value.path()).read_bytes()))
    files = {name.partition("/")[2]: packed.read(name) for name in packed.namelist()}
    assert {name.partition("/")[0] for name in packed.namelist()} == {"event-twine-tag"}
    assert files.keys() == written.keys()
    assert files["kit.json"] == written["kit.json"]
    assert files["shopping.csv"] == written["shopping.csv"]
    assert [name for name in files if files[name] != written[name]] == []


def test_papers_are_seen_as_they_are_printed_and_opened(opened: OpenDesk, tabs: BrowserContext) -> None:
    page = planning(opened, tabs)
    expect(page.locator("#papers-state")).to_have_text("The papers are ready.")
    shown = page.locator("#papers li", has_text="the-day")
    picture = shown.locator("img")
    picture.scroll_into_view_if_needed()
    expect(picture).to_have_js_property("complete", True)
    assert picture.evaluate("one => one.naturalWidth") == 800
    link = shown.locator("a").get_attribute("href")
    answer = tabs.request.get(opened.root + str(link))
    assert answer.headers["content-type"] == "application/pdf" and answer.body().startswith(b"%PDF-")
    assert tabs.request.get(f"{opened.root}/plan/file/..%2f..%2frecipe.md?recipe=twine-tag").status == 404


def test_a_wrong_answer_is_told_at_its_field_and_the_last_plan_stays(opened: OpenDesk, tabs: BrowserContext) -> None:
    page = planning(opened, tabs)
    for name, said, told in (
        ("helpers", "lots", "Write how many people prepare, as a whole number from 1 to 50."),
        ("for-twine-tag", "0", "Write how many kits, as a whole number from 1 to 10000."),
        ("for-twine-tag", "", "Write how many kits, as a whole number from 1 to 10000."),
        ("fee", "a lot", "Write what each person pays, more than zero, such as 12.50."),
        ("labels", "4 x 2000 in", "Write how large a label is"),
        ("stock", "card card card", "Line 1: "),
    ):
        one = field(page, name)
        before = one.input_value()
        one.fill(said)
        expect(one).to_have_attribute("aria-invalid", "true")
        described = str(one.get_attribute("aria-describedby"))
        expect(page.locator(f"#{described} .trouble")).to_contain_text(told)
        expect(page.locator("#state")).to_contain_text("The plan below is the last one that worked.")
        expect(page.locator("#said")).to_contain_text(told)
        expect(page.locator("#title")).to_have_text("12 × Gift tag with twine")
        one.fill(before)
        expect(one).not_to_have_attribute("aria-invalid", "true")
        expect(page.locator("#state")).to_contain_text("The plan is up to date.")


def test_guests_may_be_names_alone_and_say_how_many_kits(opened: OpenDesk, tabs: BrowserContext) -> None:
    page = planning(opened, tabs)
    field(page, "names").fill("Ada Fenn\nBen Rook\n")
    field(page, "for-twine-tag").fill("")
    expect(page.locator("#title")).to_have_text("2 × Gift tag with twine")
    field(page, "names").fill("Name,Table\nAda Fenn,1\nBen Rook,2\n<img src=x onerror=alert(1)>,2\n")
    expect(page.locator("#title")).to_have_text("3 × Gift tag with twine")
    expect(paper(page, "seating")).to_contain_text("Ben Rook")
    expect(paper(page, "seating")).to_contain_text("<img src=x onerror=alert(1)>")
    assert page.locator(".inside img").count() == 0


def test_several_recipes_share_one_plan(opened: OpenDesk, tabs: BrowserContext) -> None:
    page = opened.tab(tabs, "/plan")
    for one in ("Layered greeting card", "Gift tag with twine"):
        page.get_by_label(one).check()
    page.get_by_role("button", name="Plan these").click()
    field(page, "for-twine-tag").fill("5")
    expect(page.locator("#title")).to_have_text("12 × Layered greeting card and 5 × Gift tag with twine")


def test_the_form_is_never_touched_and_what_changed_is_said_once(opened: OpenDesk, tabs: BrowserContext) -> None:
    page = planning(opened, tabs)
    expect(page.locator("#said")).to_contain_text("The plan is ready")
    page.evaluate("""() => {
        window.said = [];
        const place = document.getElementById("said");
        new MutationObserver(() => { if (place.textContent) window.said.push(place.textContent); })
            .observe(place, { childList: true });
    }""")
    place = field(page, "called")
    place.fill("Sprng Saturday")
    place.evaluate("one => one.setSelectionRange(3, 3)")
    page.keyboard.type("i")
    expect(paper(page, "packing")).to_be_visible()
    expect(page.locator("#said")).to_contain_text("The plan is up to date")
    assert place.evaluate("one => [document.activeElement === one, one.value, one.selectionStart]") == [
        True,
        "Spring Saturday",
        4,
    ]
    said = [one for one in page.evaluate("window.said") if one.startswith("The plan")]
    assert len(said) == 1
    inside = paper(page, "the-day").locator(".inside")
    inside.focus()
    field(page, "begins").evaluate(
        "one => { one.value = '15:30'; one.dispatchEvent(new Event('input', {bubbles: true})); }"
    )
    expect(paper(page, "the-day")).to_contain_text("15:30")
    assert inside.evaluate("one => document.activeElement === one")


def test_two_tabs_of_an_event_show_the_same_and_lose_nothing(opened: OpenDesk, tabs: BrowserContext) -> None:
    one, other = planning(opened, tabs), planning(opened, tabs)
    field(one, "for-twine-tag").fill("24")
    expect(field(other, "for-twine-tag")).to_have_value("24")
    expect(other.locator("#title")).to_contain_text("24")
    called = field(other, "called")
    with other.expect_response(lambda got: "Spring Saturday" in (got.request.post_data or "")):
        called.fill("Spring Saturday")
    expect(field(one, "called")).to_have_value("Spring Saturday")
    (file,) = (opened.folder / ".plans").glob("*.json")
    kept = json.loads(file.read_text(encoding="utf-8"))
    assert (kept["for-twine-tag"], kept["called"]) == ("24", "Spring Saturday")


def test_what_was_typed_outlives_a_killed_desk(tmp_path: Path, tabs: BrowserContext) -> None:
    lay_down(tmp_path)
    with desk(tmp_path) as first:
        page = planning(first, tabs)
        field(page, "for-twine-tag").fill("41")
        field(page, "stock").fill("kraft card: 3 sheets\n")
        expect(page.locator("#title")).to_have_text("41 × Gift tag with twine")
        first.kill()
        field(page, "helpers").fill("3")
        expect(page.locator("#state")).to_contain_text("The desk does not answer.")
    with desk(tmp_path) as second:
        page = planning(second, tabs)
        expect(page.locator("#title")).to_have_text("41 × Gift tag with twine")
        expect(field(page, "stock")).to_have_value("kraft card: 3 sheets\n")


def test_the_stock_of_the_studio_is_there_and_a_draft_is_planned(opened: OpenDesk, tabs: BrowserContext) -> None:
    (opened.folder / "stock.yaml").write_text(STOCK, encoding="utf-8")
    recipe = opened.folder / "twine-tag" / "recipe.md"
    text = recipe.read_text(encoding="utf-8").replace("title: Gift tag with twine", "title: Harbour tag")
    draft = recipe.with_name("recipe.draft.md")
    draft.write_text(text, encoding="utf-8")
    page = planning(opened, tabs)
    expect(page.locator("#title")).to_have_text("12 × Harbour tag")
    expect(page.locator("#notes")).to_contain_text("Harbour tag: planned from your draft")
    expect(field(page, "stock")).to_have_value(STOCK)
    field(page, "stock").fill(STOCK + "glue stick: plenty\n")
    expect(page.locator("#state")).to_contain_text("The plan is up to date.")
    draft.unlink()
    assert (opened.folder / "stock.yaml").read_text(encoding="utf-8") == STOCK


def test_only_pages_of_this_desk_may_plan(opened: OpenDesk, tabs: BrowserContext) -> None:
    planning(opened, tabs)
    cookie = "; ".join(f"{one['name']}={one['value']}" for one in tabs.cookies())
    body = json.dumps({"typed": {"for-twine-tag": "9"}}).encode()

    def status(origin: str, path: str = "/plan/follow?recipe=twine-tag") -> int:
        asked = Request(opened.root + path, body, {"cookie": cookie, "origin": origin})
        try:
            return int(urlopen(asked).status)
        except HTTPError as refused:
            with refused:
                return refused.code

    assert status(opened.root) == 200
    assert status("http://example.invalid") == 403
    assert status(opened.root, "/plan/follow?recipe=..%2Ftwine-tag") == 404


def test_everybody_can_use_it(opened: OpenDesk, tabs: BrowserContext) -> None:
    page = opened.tab(tabs, "/plan")
    page.emulate_media(reduced_motion="reduce")
    assert violations(page, AXE) == []
    page.goto("about:blank")
    page = planning(opened, tabs)
    page.locator("#event details").evaluate_all("all => all.forEach(one => { one.open = true; })")
    expect(page.locator("#papers-state")).to_have_text("The papers are ready.")
    for width in (1400, 800, 320):
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        # What is seen in the dark is the same at every width.
        for scheme in ("light", "dark") if LONG or width == 800 else ("light",):
            page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
            assert violations(page, AXE) == [], (width, scheme)
        page.emulate_media(color_scheme="light")
    field(page, "helpers").fill("lots")
    expect(page.locator("#state")).to_contain_text("Something is wrong")
    assert violations(page, AXE) == []
