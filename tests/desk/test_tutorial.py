"""The tutorial beside the text: what is new is put in, and who reads it stays where they are. Nothing in it runs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import msgspec
import pytest
from playwright.sync_api import Browser, Frame, Route

from foldwright.desk.writing.pages import PREVIEW
from foldwright.outputs.live import Live
from foldwright.outputs.texts import texts_of
from foldwright.render.web.parts import PageParts, patch
from foldwright.surroundings import Folder
from workbench.demo_pages import TOP

MODULE = (TOP / "compiler" / "foldwright" / "desk" / "static" / "tutorial.js").read_text(encoding="utf-8")
HOST = """<!doctype html><meta charset="utf-8"><iframe id="tutorial" src="/preview" sandbox="allow-same-origin"
 style="width:700px;height:500px"></iframe><script type="module">
import { Tutorial } from "/tutorial.js";
window.tutorial = new Tutorial(document.getElementById("tutorial"));
</script>"""
RECIPE = TOP / "recipes" / "birdhouse"
TEXT = (RECIPE / "recipe.md").read_text(encoding="utf-8")


class Desk:
    """A page with nothing on it but the tutorial, and who compiles for it."""

    def __init__(self, browser: Browser) -> None:
        self._live = Live()
        self._shown: PageParts | None = None
        self.page = browser.new_context().new_page()
        self.page.route("**/*", self._answer)

    def begin(self) -> None:
        """With nothing to be seen yet."""
        self._shown = None
        self.page.goto("http://desk.example/")
        self.page.wait_for_function("window.tutorial")

    def _answer(self, route: Route) -> None:
        path = route.request.url.removeprefix("http://desk.example/")
        style = self._live.style(path.removeprefix("look/"))
        photo = self._live.photo(path.removeprefix("photos/"))
        if path == "preview":
            headers = {"content-security-policy": PREVIEW}
            route.fulfill(
                body="<!doctype html><html><head></head><body></body></html>", headers=headers, content_type="text/html"
            )
        elif path == "tutorial.js":
            route.fulfill(body=MODULE, content_type="text/javascript")
        elif style:
            route.fulfill(body=style, content_type="text/css")
        elif photo:
            route.fulfill(body=photo.data, content_type=f"image/{photo.kind}")
        else:
            route.fulfill(body=HOST, content_type="text/html")

    def show(self, text: str) -> list[str]:
        """Compile a text and put in what is new of it; which parts those were."""
        page = self._live.page(texts_of("birdhouse", text), Folder(RECIPE)).page
        assert page is not None
        changes = patch(self._shown, page)
        self._shown = page
        self.page.evaluate("patch => window.tutorial.show(patch)", msgspec.to_builtins(changes))
        return [part.key for part in changes.parts]

    def wait_for(self, what: str) -> None:
        """Until something is so of the document `inside` the frame, in which nothing may ask for it."""
        inside = "document.getElementById('tutorial').contentDocument"
        self.page.wait_for_function(f"(() => {{ const inside = {inside}; return {what}; }})()")

    @property
    def frame(self) -> Frame:
        found = next(one for one in self.page.frames if one.url.endswith("/preview"))
        found.wait_for_selector("h1")
        return found


@pytest.fixture(scope="module")
def desk(chromium: Browser) -> Iterator[Desk]:
    made = Desk(chromium)
    yield made
    made.page.context.close()


@pytest.fixture
def opened(desk: Desk) -> Desk:
    desk.begin()
    desk.show(TEXT)
    # Letters are fetched once the page is laid out with them: before that, none is missing.
    letters = "inside.body.offsetHeight && inside.fonts.size && inside.fonts.status === 'loaded'"
    desk.wait_for(f"inside.styleSheets.length && inside.querySelector('img').complete && {letters}")
    return desk


def top_of(frame: Frame, selector: str) -> float:
    return float(frame.eval_on_selector(selector, "element => element.getBoundingClientRect().top"))


def test_who_reads_stays_at_the_line_and_at_the_control(opened: Desk) -> None:
    frame = opened.frame
    assert frame.eval_on_selector("img", "image => image.naturalWidth") > 0
    for selector in ("#step-3 .done input", "section.pieces > details > summary"):
        frame.eval_on_selector(selector, "control => control.click()")
    # The page scrolls smoothly to what is focused, and would be on its way yet.
    frame.eval_on_selector("#step-3 .done input", "control => control.focus({ preventScroll: true })")
    frame.eval_on_selector("#step-3", "step => step.scrollIntoView({ behavior: 'instant' })")
    frame.evaluate("window.scrollBy({ top: 120, behavior: 'instant' })")
    before = top_of(frame, "#step-3")
    assert before < 0
    untouched = frame.query_selector("#step-2")
    many = "Hold it to the light. " * 40
    longer = TEXT.replace("A quick, sturdy favour", f"{many}A quick, sturdy favour").replace(
        "With the good side up", "Now, with the good side up"
    )
    assert set(opened.show(longer)) == {"needs", "step-3"}
    assert "Hold it to the light" in frame.inner_text(".intro")
    assert abs(top_of(frame, "#step-3") - before) < 1
    assert frame.evaluate("document.activeElement.matches('#step-3 .done input') && document.activeElement.checked")
    assert frame.evaluate("document.querySelector('section.pieces > details').open")
    assert untouched is not None
    assert untouched.evaluate("element => element.isConnected")


def test_steps_come_and_go(opened: Desk) -> None:
    frame = opened.frame
    opened.show(TEXT.replace("## Tips", "## Admire it\n\nTurn it about.\n\n## Tips"))
    assert frame.inner_text("#step-9 .words") == "Turn it about."
    assert frame.locator(".glance li").count() == frame.locator(".steps > li").count() == 9
    opened.show(TEXT)
    assert frame.locator(".steps > li").count() == 8
    assert frame.locator("template").count() == 0
    assert frame.evaluate("document.documentElement.lang").startswith("en")


def test_the_desk_chooses_the_units(opened: Desk) -> None:
    shown: Any = "[...document.querySelectorAll('#step-1 .u-metric')].some(one => one.checkVisibility())"
    frame = opened.frame
    assert not frame.evaluate(shown)
    opened.page.evaluate("window.tutorial.units('metric')")
    assert frame.evaluate(shown)
    opened.show(TEXT.replace("Cut the charcoal card", "Cut out the charcoal card"))
    assert frame.evaluate(shown)


def test_nothing_in_a_recipe_runs(opened: Desk) -> None:
    asked: list[str] = []
    opened.page.on("request", lambda request: asked.append(request.url))
    bad = "<img src=x onerror=top.ran=1><script>top.ran=1</script><template></template>[go](javascript:top.ran=1)"
    opened.show(TEXT.replace("A quick, sturdy favour", bad).replace("## Tie it shut", f"## {bad}"))
    frame = opened.frame
    assert "<script>" in frame.inner_text(".intro")
    for link in frame.query_selector_all("a[href]:not([href^='#'])"):
        link.evaluate("link => link.click()")
    # Markup that got into a part after all would still find no one to run it.
    opened.page.evaluate(
        "html => window.tutorial.show({ head: null, frame: null, parts: [{ key: 'needs', html }] })",
        f"<div>{bad}<svg onload='top.ran=1'></svg></div>",
    )
    opened.wait_for("inside.querySelector('div img')?.complete")
    assert opened.page.evaluate("window.ran") is None
    assert frame.url.endswith("/preview")
    assert frame.inner_text("h1") == "Birdhouse favour box"
    assert all(url.startswith("http://desk.example/") for url in asked)
