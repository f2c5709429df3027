"""What helps while a recipe is written, in the browser: lines put in, words offered and explained, drawings that lead
to their numbers, photographs, times, files to take away; and a disk that will not."""

from __future__ import annotations

import io
import re
import socket
import zipfile
from base64 import b64encode
from collections.abc import Callable
from pathlib import Path
from time import monotonic, sleep

import pytest
from PIL import Image
from playwright.sync_api import BrowserContext, Locator, Page, expect

from foldwright.document.catalogue import catalogue
from workbench.command_line import GOOD, HANG, contents, foldwright, write
from workbench.desk import AS_ONE_WITHOUT_RIGHTS, ROOT, OpenDesk
from workbench.long import every

WITH_MAT = GOOD.replace(
    "    fold: card\n---",
    "    fold: card\n  mat:\n    from: white card\n    size: 3 x 4 in\n    goes on: outside of card\n---",
)


def line(page: Page, words: str) -> Locator:
    return page.locator(".cm-line", has_text=words).first


def behind(page: Page, words: str) -> None:
    """The cursor at the end of the line with these words."""
    line(page, words).click()
    page.keyboard.press("End")


def selected(page: Page, words: str) -> None:
    """Until these words are selected, ready to be typed over."""
    page.wait_for_function(
        # The editor itself takes a moment to know that it has the focus.
        "words => document.querySelector('#text .cm-focused')?.contains(document.activeElement) "
        "&& String(getSelection()) === words",
        arg=words,
    )
    page.wait_for_timeout(100)


def until(what: Callable[[], bool]) -> None:
    """Until it is so; only a hang ends the waiting."""
    began = monotonic()
    while not what():
        assert monotonic() - began < HANG
        sleep(0.02)


def photograph() -> bytes:
    """As a telephone takes it: wide in the file, to be turned upright (Exif 2.3, orientation 6), with a place on it."""
    image = Image.merge("RGB", [Image.effect_noise((300, 200), 60) for _ in "RGB"]).resize((3000, 2000))
    exif, out = Image.Exif(), io.BytesIO()
    exif[0x0112] = 6
    exif.get_ifd(0x8825)[2] = (53.0, 21.0, 0.0)
    image.save(out, "JPEG", exif=exif)
    return out.getvalue()


def steps(page: Page, number: int) -> Locator:
    """The row of a step on the sheet of photographs and times, which is taken up; 0 is the finished thing."""
    page.locator("#sheet-steps .take-up").click()
    return page.locator("#sheet-steps section").nth(number)


def test_the_insert_list_writes_a_line_that_is_well_and_is_typed_over(
    opened: OpenDesk, card: Path, tabs: BrowserContext
) -> None:
    page = opened.writing(tabs, card.name)
    behind(page, "Fold it and rub")
    page.get_by_role("button", name="Add to the recipe").click()
    page.get_by_label("Find").fill("set apart")
    expect(page.locator(".insert:visible")).to_have_count(2)
    page.keyboard.press("Escape")
    expect(page.locator(".insert[data-what=step-time]")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.locator("#put-in")).to_be_hidden()
    expect(page.get_by_role("button", name="Add to the recipe")).to_be_focused()
    page.keyboard.press("Enter")
    for words in ("popup", "pop up", "Pop-up"):
        page.get_by_label("Find").fill(words)
        expect(page.locator(".insert:visible")).to_have_attribute("data-what", "piece-pop-up")
    page.get_by_label("Find").fill("set apart")
    page.locator(".insert[data-what=step-tip]").click()
    selected(page, "Try it on scrap first.")
    page.keyboard.type("Fold away from you.")
    expect(line(page, "tip: Fold away from you.")).to_be_visible()
    expect(page.frame_locator("#tutorial").locator("#step-2")).to_contain_text("Fold away from you.")
    expect(page.locator("#problems-heading")).to_have_text("No problems found")


def test_what_is_offered_is_taken_with_tab_and_never_by_a_new_line(
    opened: OpenDesk, card: Path, tabs: BrowserContext
) -> None:
    write(opened.folder, card.name, WITH_MAT)
    page = opened.writing(tabs, card.name)
    offered = page.locator(".cm-tooltip-autocomplete li")
    behind(page, "goes on:")
    page.keyboard.type(" fr")
    expect(offered.first).to_contain_text("front")
    page.keyboard.press("Tab")
    expect(line(page, "goes on:")).to_have_text("    goes on: outside of card front")
    behind(page, "level: easy")
    page.keyboard.press("Backspace")
    page.keyboard.press("Backspace")
    page.keyboard.type("s")
    expect(offered.first).to_contain_text("easy")
    page.keyboard.press("Enter")
    expect(offered).to_have_count(0)
    expect(line(page, "level:")).to_have_text("level: eas")
    page.keyboard.press("Control+z")
    page.keyboard.type("y")
    expect(line(page, "level:")).to_have_text("level: easy")
    expect(offered).to_have_count(0)


def test_a_word_is_explained_by_key_and_where_the_pointer_rests(
    opened: OpenDesk, card: Path, tabs: BrowserContext
) -> None:
    page = opened.writing(tabs, card.name)
    behind(page, "across: 4 back")
    page.keyboard.press("Home")
    page.keyboard.press("F1")
    expect(page.locator("#entry")).to_contain_text("Each bar | is a score line")
    page.keyboard.press("Escape")
    expect(page.locator(".cm-content")).to_be_focused()
    line(page, "fold: card").hover(position={"x": 60, "y": 8})
    expect(page.locator(".cm-tooltip .entry")).to_contain_text("fold")
    page.keyboard.type("x")
    expect(page.locator(".cm-tooltip .entry")).to_have_count(0)


def test_drawings_lead_to_their_numbers_and_numbers_to_their_drawings(
    opened: OpenDesk, card: Path, tabs: BrowserContext
) -> None:
    page = opened.writing(tabs, card.name)
    page.locator("#sheet-pieces .take-up").click()
    page.locator('.pick[data-mark~="card.across.2"] .pick-reach').first.click()
    selected(page, "4")
    expect(page.locator(".cm-line:has(.is-lit)")).to_have_text("    across: 4 back | 4 front")
    line(page, "across: 4 back").click()
    page.keyboard.press("Home")
    for _ in "across: 4":
        page.keyboard.press("ArrowRight")
    expect(page.locator("#sheet-pieces .lit[data-mark~='card.across.1']").first).to_be_visible()
    expect(page.locator("#sheet-pieces .lit[data-mark~='card.across.2']")).to_have_count(0)
    page.locator('.pick[data-mark~="card.across.2"] .pick-reach').first.click()
    selected(page, "4")
    page.keyboard.type("3 1/2")
    expect(line(page, "across:")).to_have_text("    across: 4 back | 3 1/2 front")
    expect(page.locator(".is-lit")).to_have_count(0)


LABELS = """() => [...document.querySelectorAll("#sheet-pieces .plan svg")].flatMap((drawing) => {
  const texts = [...drawing.querySelectorAll("text")].map((one) => [one.textContent, one.getBoundingClientRect()]);
  return texts.flatMap(([said, a], i) => texts.slice(i + 1)
    .filter(([, b]) => a.left < b.right && b.left < a.right && a.top < b.bottom - 2 && b.top < a.bottom - 2)
    .map(([other]) => `${said} / ${other}`));
})"""


def test_labels_of_a_plan_lie_apart_in_the_letters_of_the_desk(
    opened: OpenDesk, card: Path, tabs: BrowserContext
) -> None:
    narrow = GOOD.replace("4 back | 4 front", "2 top | 1/2 left | 2 bottom | 1/2 right | 2 3/4 more | 1/4 glue flap")
    (card / "recipe.md").write_text(narrow.replace("fold: card\n", ""), encoding="utf-8")
    page = opened.writing(tabs, card.name)
    page.locator("#sheet-pieces .take-up").click()
    text = page.locator("#sheet-pieces .plan svg text", has_text="glue flap").first
    expect(text).to_be_visible()
    page.evaluate("document.fonts.ready.then(() => null)")
    assert text.evaluate("one => getComputedStyle(one).fontFamily").startswith('"Desk Sans"')
    assert page.evaluate(LABELS) == []


def test_how_a_piece_fits_stands_at_its_drawing_and_follows(opened: OpenDesk, card: Path, tabs: BrowserContext) -> None:
    envelope = "  envelope: envelope, use 1, size 5 1/2 x 4 1/2 in\n\ntools:"
    text = GOOD.replace("\ntools:", envelope).replace("    fold: card\n", "    fold: card\n    slides in: envelope\n")
    write(opened.folder, card.name, text)
    page = opened.writing(tabs, card.name)
    page.locator("#sheet-pieces .take-up").click()
    fit = page.locator("#sheet-pieces .fit")
    expect(fit).to_contain_text("1/2 in to spare")
    behind(page, "envelope, use 1")
    for _ in "1/2 in":
        page.keyboard.press("Backspace")
    page.keyboard.type("3/4 in")
    expect(fit).to_contain_text("3/4 in")
    behind(page, "slides in: envelope")
    page.keyboard.press("Shift+Home")
    page.keyboard.press("Delete")
    expect(fit).to_be_hidden()


def test_a_piece_is_folded_by_keyboard(opened: OpenDesk, card: Path, tabs: BrowserContext) -> None:
    page = opened.writing(tabs, card.name)
    page.locator("#sheet-pieces .take-up").click()
    page.get_by_role("button", name="Fold it").press("Enter")
    slider = page.locator("#sheet-pieces input[type=range]")
    expect(slider).to_have_attribute("aria-valuetext", "folded")
    before = page.locator("#sheet-pieces canvas").screenshot()
    slider.press("Home")
    expect(slider).to_have_attribute("aria-valuetext", "flat")
    assert page.locator("#sheet-pieces canvas").screenshot() != before
    page.get_by_role("button", name="Lay it flat").press("Enter")
    expect(slider).to_have_count(0)


@pytest.mark.parametrize("way", every(("dropped", "chosen"), 2))
def test_a_photograph_comes_to_its_step_and_asks_what_it_shows(
    opened: OpenDesk, card: Path, tabs: BrowserContext, way: str
) -> None:
    page = opened.writing(tabs, card.name)
    row = steps(page, 2)
    if way == "chosen":
        file = {"name": "IMG_0001.JPG", "mimeType": "image/jpeg", "buffer": photograph()}
        row.locator("input[type=file]").set_input_files([file])  # type: ignore[list-item]
    else:
        dropped = page.evaluate_handle(DROPPED, b64encode(photograph()).decode())
        row.dispatch_event("drop", {"dataTransfer": dropped})
    selected(page, catalogue().say("desk-keeping.photo-shows"))
    page.keyboard.type("The folded card")
    expect(line(page, "photo shows: The folded card")).to_be_visible()
    expect(line(page, "photo: fold-the-card.jpg")).to_be_visible()
    expect(row).to_contain_text("fold-the-card.jpg")
    expect(page.frame_locator("#tutorial").locator("#step-2 img[alt='The folded card']")).to_have_count(1)
    with Image.open(card / "fold-the-card.jpg") as kept:
        assert kept.size == (1600, 2400)
        assert not kept.getexif()


DROPPED = """
base64 => {
  const bytes = Uint8Array.from(atob(base64), one => one.charCodeAt(0));
  const carried = new DataTransfer();
  carried.items.add(new File([bytes], "IMG_0001.JPG", { type: "image/jpeg" }));
  return carried;
}
"""


def test_a_file_that_is_no_picture_is_told_and_nothing_changes(
    opened: OpenDesk, card: Path, tabs: BrowserContext
) -> None:
    page = opened.writing(tabs, card.name)
    before = contents(card)
    lying = {"name": "sunset.jpg", "mimeType": "image/jpeg", "buffer": b"\xff\xd8\xff<script>alert(1)</script>"}
    steps(page, 1).locator("input[type=file]").set_input_files([lying])  # type: ignore[list-item]
    expect(page.locator("#photo-trouble")).to_have_text(catalogue().say("desk-keeping.photo-unreadable"))
    assert contents(card) == before
    expect(page.locator("#standing")).to_have_text("Saved")


def test_an_upload_that_is_broken_off_leaves_nothing_behind(opened: OpenDesk, card: Path, tabs: BrowserContext) -> None:
    page = opened.writing(tabs, card.name)
    before = contents(card)
    host, port = opened.root.removeprefix("http://").split(":")
    key = "; ".join(f"{one['name']}={one['value']}" for one in tabs.cookies())
    head = (
        f"POST /recipe/{card.name}/photo HTTP/1.1\r\nHost: {host}:{port}\r\nOrigin: {opened.root}\r\nCookie: {key}\r\n"
    )
    with socket.create_connection((host, int(port))) as line_to_it:
        line_to_it.sendall(f"{head}Content-Length: 4000000\r\n\r\n".encode() + photograph()[:100_000])
        sleep(0.2)
    # The same desk goes on: what is typed next is on disk, and nothing else is.
    behind(page, "title: Practice card")
    page.keyboard.type(" still")
    draft = card / "recipe.draft.md"
    until(lambda: draft.exists() and "still" in draft.read_text(encoding="utf-8"))
    now = contents(card)
    assert set(now) - set(before) == {"recipe.draft.md", ".kept/began-from"}


def test_the_timer_writes_each_time_into_the_recipe(opened: OpenDesk, card: Path, tabs: BrowserContext) -> None:
    page = opened.writing(tabs, card.name)
    row = steps(page, 2)
    for times in (1, 2):
        row.get_by_role("button", name="Start the timer").click()
        row.get_by_role("button", name="Stop").click()
        expect(line(page, "measured:")).to_have_text(re.compile(r"^measured: \d+ s" + r", \d+ s" * (times - 1) + "$"))
    expect(row).to_contain_text("measured 2 times")
    expect(page.locator("#problems-heading")).to_have_text("No problems found")


def test_everything_that_is_downloaded_is_what_build_makes(
    opened: OpenDesk, card: Path, tabs: BrowserContext, tmp_path: Path
) -> None:
    sizes = "    fold: card\n\nsizes:\n  large:\n    card:\n      size: 10 x 6 in\n      across: 5 back | 5 front\n---"
    write(
        opened.folder,
        card.name,
        GOOD.replace("    fold: card\n---", sizes).replace(" to 8 x 5 in and score it at 4 in", ""),
    )
    page = opened.writing(tabs, card.name)
    page.locator("#paper").select_option("A4")
    expect(page.locator("#sheet-card .doings a")).to_have_attribute("href", re.compile("a4"))
    with page.expect_download() as coming:
        page.get_by_role("link", name="Download all").click()
    with zipfile.ZipFile(coming.value.path()) as packed:
        downloaded = {name: packed.read(name) for name in packed.namelist()}
    assert foldwright("build", card, "--paper", "A4", "--out", tmp_path / "out", cwd=tmp_path).status == 0
    made = contents(tmp_path / "out")
    # By that list `build` knows which files of a folder are its own.
    for folder in (card.name, f"{card.name}-large"):
        del made[f"{folder}/.made-by-foldwright"]
    assert downloaded == made


def test_an_earlier_version_is_looked_at_and_taken_back_and_undone(
    opened: OpenDesk, card: Path, tabs: BrowserContext
) -> None:
    page = opened.writing(tabs, card.name)
    behind(page, "title: Practice card")
    page.keyboard.type(" two")
    page.keyboard.press("Control+s")
    expect(page.locator("#standing")).to_have_text("Saved")
    page.get_by_role("button", name="Earlier versions").click()
    page.locator("#version-list button").first.click()
    expect(page.locator("#version-text")).to_have_text(GOOD)
    page.get_by_role("button", name="Go back to this version").click()
    expect(page.locator("#title")).to_have_text("Practice card")
    page.keyboard.press("Control+z")
    expect(page.locator("#title")).to_have_text("Practice card two")


@pytest.mark.skipif(ROOT and not AS_ONE_WITHOUT_RIGHTS, reason="root may write, whatever a folder says")
def test_a_folder_that_may_not_be_written_is_told_and_what_is_typed_waits(
    opened: OpenDesk, card: Path, tabs: BrowserContext
) -> None:
    page = opened.writing(tabs, card.name)
    card.chmod(0o555)
    try:
        behind(page, "title: Practice card")
        page.keyboard.type(" waits")
        expect(page.locator("#standing")).to_contain_text("not allowed")
        expect(page.locator("#notice")).to_contain_text("not allowed")
        expect(line(page, "title:")).to_have_text("title: Practice card waits")
    finally:
        card.chmod(0o755)
    draft = card / "recipe.draft.md"
    until(lambda: draft.exists() and "card waits" in draft.read_text(encoding="utf-8"))
    expect(page.locator("#notice")).not_to_contain_text("not allowed")
