"""The desk, measured in a real browser: from a key to the new tutorial on the screen, papers after a pause, memory over
thousands of changes, and from the command to the first key."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from shutil import copytree, which

from msgspec import Struct
from playwright.sync_api import Page, sync_playwright

from bench.keystrokes import write_photos
from workbench.demo_pages import CHROMIUM_FLAGS
from workbench.desk import OpenDesk, browsing, desk

RECIPE = Path(__file__).with_name("twenty_steps")
SLUG = "twenty-steps"
STEP = "Fold and tape the lid"
"""A step in the middle, where the cursor is when the page opens."""
WATCH = """
() => {
  const inside = document.getElementById("tutorial").contentDocument;
  window.painted = [];
  let pressed = 0;
  document.addEventListener("keydown", () => { pressed = performance.now(); }, true);
  const painted = new MessageChannel();
  // A frame is drawn after the callback for it; what is posted there comes when it has been.
  painted.port1.onmessage = () => { if (pressed) { window.painted.push(performance.now() - pressed); pressed = 0; } };
  new MutationObserver(() => requestAnimationFrame(() => painted.port2.postMessage(0)))
    .observe(inside, { subtree: true, childList: true, characterData: true });
}
"""


class Typed(Struct, frozen=True):
    """Milliseconds from each key to the tutorial painted, in order of size."""

    milliseconds: tuple[float, ...]

    def share(self, hundredths: int) -> float:
        """As many hundredths of the keys took no longer than that."""
        return self.milliseconds[min(len(self.milliseconds) - 1, len(self.milliseconds) * hundredths // 100)]


def put_down(home: Path) -> Path:
    """The recipe of twenty steps with its photographs, in a folder of recipes."""
    copytree(RECIPE, home / "recipes" / SLUG)
    write_photos(home / "recipes" / SLUG)
    return home / "recipes"


@contextmanager
def at_the_desk(home: Path) -> Iterator[tuple[OpenDesk, Page]]:
    """A desk on the recipe of twenty steps, and the page on which it is written."""
    with sync_playwright() as playwright, desk(put_down(home)) as opened:
        chromium = playwright.chromium.launch(executable_path=which("chromium"), args=CHROMIUM_FLAGS)
        with browsing(chromium) as tabs:
            text = (RECIPE / "recipe.md").read_text(encoding="utf-8")
            page = opened.writing(tabs, f"{SLUG}?at={text.index(STEP)}")
            page.wait_for_function(f"() => ({SOURCES})().every(Boolean)")
            yield opened, page
        chromium.close()


def keys(page: Page, line: str, words: str) -> Typed:
    """Type at the end of a line, each key when the one before has been painted."""
    page.locator(".cm-line", has_text=line).first.click()
    page.keyboard.press("End")
    page.evaluate(WATCH)
    for number, letter in enumerate(words, 1):
        page.keyboard.press("Space" if letter == " " else letter)
        page.wait_for_function("number => window.painted.length >= number", arg=number)
        page.wait_for_timeout(40)
    return Typed(tuple(sorted(page.evaluate("() => window.painted"))))


def papers(page: Page) -> float:
    """Seconds from the last key to the last of the papers that lie there."""
    before = page.evaluate(SOURCES)
    page.keyboard.type(" more")
    began = time.perf_counter()
    page.wait_for_function(f"before => ({SOURCES})().every((src, at) => src && src !== before[at])", arg=before)
    return time.perf_counter() - began


SOURCES = """
() => ["card", "handout", "template"].map((kind) => document.querySelector(`#sheet-${kind} .view img`)?.src ?? "")
"""


def memory(opened: OpenDesk, page: Page, changes: int) -> list[float]:
    """Megabytes that the server holds, a fifth of the changes apart."""
    found = []
    page.evaluate("path => { window.line = new WebSocket(`ws://${location.host}${path}`); }", f"/recipe/{SLUG}/line")
    page.wait_for_function("() => window.line.readyState === 1")
    text = (opened.folder / SLUG / "recipe.md").read_text(encoding="utf-8")
    for number in range(changes):
        page.evaluate(CHANGE, f"{text}\nWord {number} and {number * 7 % 1000}.\n")
        if number % (changes // 5) == changes // 5 - 1:
            found.append(resident(opened.process.pid))
    return found


CHANGE = """
text => new Promise((done) => {
  window.line.onmessage = (event) => { if (JSON.parse(event.data).is === "page") done(); };
  window.line.greeted ?? window.line.send(JSON.stringify({ do: "here" }));
  window.line.greeted = true;
  window.line.send(JSON.stringify({ do: "text", text }));
})
"""


def resident(process: int) -> float:
    """Megabytes (Linux tells it in pages of four kilobytes)."""
    return int(Path(f"/proc/{process}/statm").read_text(encoding="ascii").split()[1]) * 4 / 1024


def first_key(home: Path) -> float:
    """Seconds from the command to a page in which a key is taken, with a browser that is open already."""
    recipes = put_down(home)
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=which("chromium"), args=CHROMIUM_FLAGS)
        with browsing(chromium) as tabs:
            page = tabs.new_page()
            began = time.perf_counter()
            with desk(recipes) as opened:
                page.goto(opened.address.replace("/?key=", f"/recipe/{SLUG}?key="))
                page.locator(".cm-content[contenteditable=true] .cm-line").nth(3).wait_for()
                page.keyboard.press("End")
                page.keyboard.type("x")
                page.wait_for_function("() => document.querySelector('.cm-content').innerText.includes('x')")
                return time.perf_counter() - began
