"""The plans and the folded piece in Chromium, on a bare page of their own: picked up by pointer and by key."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from functools import cache, partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from importlib.util import find_spec
from pathlib import Path
from threading import Thread

import msgspec
import pytest
from playwright.sync_api import Browser, Page

from foldwright import desk
from foldwright.authoring.frames import folded_frames, folded_picture
from foldwright.authoring.plans import piece_plans
from foldwright.desk.desk import script_words
from foldwright.measure.length import System
from foldwright.render.drawing.pens import STYLES
from workbench.browser_checks import violations
from workbench.command_line import HANG
from workbench.compiled import RECIPES, compiled
from workbench.demo_pages import CHROMIUM_FLAGS

IN_SOFTWARE = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader"]
HEAD = """<!doctype html><html lang="en"><meta charset="utf-8"><title>Pieces</title>
<style>:root{{color-scheme:light dark}}{styles}</style><link rel="stylesheet" href="/static/{name}.css">"""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A folder with the two pages, the scripts and three.js, served on this machine."""
    home = tmp_path_factory.mktemp("site")
    (home / "static").symlink_to(Path(next(iter(desk.__path__))) / "static")
    wheel = find_spec("nicegui")
    assert wheel and wheel.origin
    (home / "three").symlink_to(Path(wheel.origin).parent / "elements" / "scene" / "dist")
    (home / "plans.html").write_text(plans_page(), encoding="utf-8")
    (home / "folded.html").write_text(folded_page(), encoding="utf-8")
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(home)))
    Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()


class Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        pass


@cache
def birdhouse():
    text = (RECIPES / "birdhouse" / "recipe.md").read_text(encoding="utf-8")
    document, checked = compiled(text, "birdhouse")
    return text, document, checked.understood


def fold_words() -> dict[str, str]:
    return {name.removeprefix("desk-fold."): text for name, text in script_words("desk-fold").items()}


def plans_page() -> str:
    text, document, known = birdhouse()
    drawn = "".join(plan.svg for plan in piece_plans(known, document, text, System.IMPERIAL))
    script = """import { plansIn } from "/static/plans.js";
        window.chosen = []; window.plans = plansIn(document.querySelector(".plans"));
        addEventListener("mark-chosen", (event) => chosen.push(event.detail.mark));"""
    head = HEAD.format(styles=STYLES, name="plans")
    body = f'<main><h1>Plans</h1><div class="plans drawing">{drawn}</div></main>'
    return f'{head}{body}<script type="module">{script}</script>'


def folded_page() -> str:
    _, _, known = birdhouse()
    pieces = {name: folded_frames(known, name) for name in ("base", "wrapper")}
    script = f"""window.pieces = {msgspec.json.encode(pieces).decode()};
        window.words = {json.dumps(fold_words())}; window.picture = {json.dumps(folded_picture(known, "base"))};
        window.hands = await import("/static/folded.js");"""
    head = HEAD.format(styles="", name="folded")
    return f'{head}<main><h1>Piece</h1><div id="piece"></div></main><script type="module">{script}</script>'


@pytest.fixture(scope="module")
def in_space(chromium: Browser) -> Iterator[Browser]:
    """A second browser, which draws in space without a graphics card."""
    flags = [flag for flag in CHROMIUM_FLAGS if flag != "--disable-gpu"] + IN_SOFTWARE
    program = shutil.which("chromium")
    browser = chromium.browser_type.launch(executable_path=program, args=flags, timeout=HANG * 1000.0)
    yield browser
    browser.close()


@pytest.fixture
def page(in_space: Browser) -> Iterator[Page]:
    context = in_space.new_context(viewport={"width": 900, "height": 800}, reduced_motion="reduce")
    context.set_default_timeout(HANG * 1000.0)
    shown = context.new_page()
    troubles: list[str] = []
    shown.on("pageerror", lambda trouble: troubles.append(str(trouble)))
    yield shown
    assert not troubles
    context.close()


def test_parts_of_a_plan_are_picked_and_lit(page: Page, site: str) -> None:
    page.goto(f"{site}/plans.html")
    page.wait_for_function("window.plans")
    floor = page.locator('.pick[data-mark~="base.across.2"]').first
    floor.locator(".pick-reach").click()
    floor.locator(".pick-reach").click()
    assert page.evaluate("chosen") == ["base.across.2", "base.down.2"]
    # A sheet without folds leads to its size wherever it is picked up.
    page.evaluate("chosen.length = 2")
    page.locator('.pick[data-mark^="wrapper.outline"] .pick-reach').click()
    assert page.evaluate("chosen.pop()") == "wrapper.outline"
    # A figure leads to its own number; by keyboard every part is reached in turn.
    page.locator('.pick-plate[data-mark="base.across"]').click()
    hole = page.locator('[data-mark^="birdhouse-front.hole.1 "]')
    hole.focus()
    page.keyboard.press("Enter")
    assert page.evaluate("chosen.slice(2)") == ["base.across", "birdhouse-front.hole.1"]
    assert hole.get_attribute("aria-label") == "hole 1, 1 in"
    assert floor.get_attribute("aria-label") == "floor, 3 1/2 in, 3/4 in"
    page.keyboard.press("Shift+Tab")
    assert page.evaluate("document.activeElement.dataset.mark") == "birdhouse-front.hole.1.top.middle"

    lit = "[...document.querySelectorAll('.lit')].map(one => one.dataset.mark)"
    page.evaluate("window.fresh = document.querySelector('.plans').innerHTML; plans.light('base.across.2')")
    assert page.evaluate(lit) == ["base.across.2 base.down.2", "base.across.2"]
    # What is drawn anew while one types is lit as before, and what is lit goes out.
    page.evaluate("document.querySelector('.plans').innerHTML = fresh")
    page.wait_for_function("document.querySelector('.lit')")
    assert page.evaluate(lit) == ["base.across.2 base.down.2", "base.across.2"]
    assert not violations(page, ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "best-practice"])
    page.evaluate("plans.light()")
    assert page.evaluate(lit) == []


def test_a_piece_is_turned_and_folded_and_lets_go_of_all_it_held(page: Page, site: str) -> None:
    page.goto(f"{site}/folded.html")
    page.wait_for_function("window.hands")
    page.evaluate(
        "async () => { window.held = await hands.takeUp(document.querySelector('#piece'), pieces.base, words) }"
    )
    canvas, slider = page.locator("canvas"), page.locator("input[type=range]")
    seen = [canvas.screenshot()]

    def changed(act) -> None:
        """What is done is seen."""
        act()
        page.evaluate("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
        now = canvas.screenshot()
        assert now not in seen
        seen.append(now)

    assert slider.get_attribute("aria-valuetext") == "folded"
    changed(lambda: slider.fill("50"))
    assert slider.get_attribute("aria-valuetext") == "half folded"
    assert "half folded" in (canvas.get_attribute("aria-label") or "")
    canvas.focus()
    changed(lambda: page.keyboard.press("ArrowLeft"))
    changed(lambda: page.keyboard.press("ArrowDown"))
    changed(lambda: page.keyboard.press("+"))
    changed(lambda: page.get_by_role("button", name=fold_words()["other-side"]).click())
    # Who has no keys and cannot draw a finger over the piece has a button for each way.
    for way in ("left", "down", "nearer"):
        changed(page.get_by_role("button", name=fold_words()[f"turn-{way}"]).click)
    canvas.hover()
    page.mouse.down()
    changed(lambda: page.mouse.move(300, 200))
    page.mouse.up()
    assert not violations(page, ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "best-practice"])

    # The next piece in its stead, a thousand times: no more is held than before.
    before = page.evaluate("held.held()")
    after = page.evaluate(
        """async () => {
            for (let times = 0; times < 1000; times++) held.show(times % 2 ? pieces.wrapper : pieces.base);
            held.show(pieces.base);
            await new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)));
            return held.held();
        }"""
    )
    assert before == after > 0
    page.evaluate("held.show(pieces.wrapper)")
    assert not slider.is_visible()
    assert "stays flat" in (canvas.get_attribute("aria-label") or "")
    page.evaluate("held.dispose()")
    assert page.locator("#piece").inner_html() == ""
    assert page.evaluate("held.held()") == 0


def test_two_fingers_bring_a_piece_nearer_and_one_turns_it(page: Page, site: str) -> None:
    page.goto(f"{site}/folded.html")
    page.wait_for_function("window.hands")
    page.evaluate("hands.takeUp(document.querySelector('#piece'), pieces.base, words)")
    canvas = page.locator("canvas")
    touch = page.context.new_cdp_session(page)
    touch.send("Emulation.setTouchEmulationEnabled", {"enabled": True, "maxTouchPoints": 2})

    def drawn() -> bytes:
        page.evaluate("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
        return canvas.screenshot()

    def fingers(kind: str, *places: tuple[int, int]) -> None:
        points = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(places)]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    canvas.focus()
    before = drawn()
    page.keyboard.press("+")
    nearer = drawn()
    page.keyboard.press("-")
    assert drawn() == before != nearer
    # A tenth farther apart is one press of the key.
    fingers("touchStart", (200, 200), (290, 200))
    fingers("touchMove", (200, 200), (300, 200))
    fingers("touchEnd")
    assert drawn() == nearer
    fingers("touchStart", (200, 200))
    fingers("touchMove", (260, 220))
    fingers("touchEnd")
    assert drawn() != nearer


def test_a_browser_without_space_shows_the_picture(page: Page, site: str) -> None:
    page.add_init_script("HTMLCanvasElement.prototype.getContext = () => null")
    page.goto(f"{site}/folded.html")
    page.wait_for_function("window.hands")
    page.evaluate("hands.takeUp(document.querySelector('#piece'), pieces.base, words, picture)")
    assert page.locator("#piece svg path").count() > 5
    assert page.locator("#piece").inner_text().strip() == fold_words()["no-pictures"]
