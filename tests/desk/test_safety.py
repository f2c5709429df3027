"""Nothing that is written in a recipe runs on the desk: every hostile string in every place, seen in the browser."""

from __future__ import annotations

import json

from playwright.sync_api import Browser, expect

from attacks.hostile import PLACES, RECIPE, WORDS
from workbench.desk import SOON, OpenDesk, browsing
from workbench.long import every

SET = """
text => new Promise((done) => {
  window.other ??= new WebSocket(`ws://${location.host}${location.pathname}/line`);
  const send = () => { window.other.send(JSON.stringify({ do: "text", text })); done(); };
  if (window.other.readyState === 1) send(); else window.other.onopen = send;
})
"""
"""Types a whole text, as another tab would."""
SHOWN = """
before => { const { text, page } = document.querySelector(".bench").dataset; return text !== before && page === text; }
"""
"""Whether a text after that one is there, and its page."""


def test_nothing_in_a_recipe_runs(opened: OpenDesk, slug: str, chromium: Browser) -> None:
    with browsing(chromium) as tabs:
        page = opened.writing(tabs, slug)
        ran: list[str] = []
        asked: list[str] = []
        seen = 0
        page.on("dialog", lambda dialog: (ran.append(dialog.message), dialog.dismiss()))
        page.on("request", lambda request: asked.append(request.url))
        expect.set_options(timeout=SOON)
        for number in every(range(len(WORDS)), 12):
            said = [WORDS[(number + place * 7) % len(WORDS)] for place in range(PLACES)]
            before = page.locator(".bench").get_attribute("data-text")
            page.evaluate(SET, RECIPE.format(*said))
            page.wait_for_function(SHOWN, arg=before)
            seen += page.frame_locator("#tutorial").locator("h1").inner_text() == said[4].strip()
        # Most are words like any others, and stand there as they are.
        assert seen > len(every(range(len(WORDS)), 12)) // 3
        assert ran == []
        assert [url for url in asked if not url.startswith((opened.root, "data:", "blob:"))] == []
        assert page.evaluate("() => document.querySelectorAll('#tutorial, iframe').length") == 1
        assert page.frame_locator("#tutorial").locator("script, iframe, object, embed, form, base, meta").count() == 0
        assert page.evaluate("() => performance.getEntriesByType('navigation').length") == 1


def test_the_page_does_run_what_is_typed_where_it_should_be_refused() -> None:
    """The words do hold what would run, if it were let."""
    assert sum("<script>" in text for text in WORDS) > 5
    assert json.dumps(WORDS).count("onerror") > 5
