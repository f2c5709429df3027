"""A tutorial in a library as a browser shows it: from a file and from a plain server, quiet, still, like one alone."""

from __future__ import annotations

import functools
import io
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from PIL import Image, ImageChops
from playwright.sync_api import Browser, Page

from workbench.browser_checks import violations
from workbench.command_line import HANG
from workbench.demo_pages import THEMES
from workbench.long import LONG, every

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
FRAMES = "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"
ALL_COME = """async () => { for (const one of document.images) one.loading = 'eager';
    await document.fonts.ready; await Promise.all([...document.images].map(one => one.decode())); }"""


class _Plain(SimpleHTTPRequestHandler):
    """A plain static server; pictures wait until they may `come`."""

    come = threading.Event()

    def do_GET(self) -> None:
        if self.path == "/favicon.ico":
            self.send_response(204)
            self.end_headers()
            return
        if "photos/" in self.path or "drawings/" in self.path:
            assert self.come.wait(HANG)
        super().do_GET()

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - as the class it stands on has it
        """Tells nobody."""


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    context = chromium.new_context(viewport={"width": 1280, "height": 900})
    yield context.new_page()
    context.close()


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The address of a folder on a server."""
    with ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(_Plain, directory=str(folder))) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_address[1]}"
        server.shutdown()


def in_turn[T](one: T, other: T) -> list[tuple[str, T]]:
    """Each look with one of two; on a long run, with both."""
    return [(look, way) for n, look in enumerate(THEMES) for m, way in enumerate((one, other)) if LONG or m == n % 2]


@pytest.mark.parametrize(("theme", "way"), in_turn("file", "http"))
def test_it_is_dressed_and_quiet_from_a_file_and_from_a_server(
    chromium: Browser, libraries: Path, theme: str, way: str
) -> None:
    context = chromium.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    said: list[str] = []
    asked: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    _Plain.come.set()
    with served(libraries / theme) as address:
        home = address if way == "http" else (libraries / theme).as_uri()
        page.goto(f"{home}/birdhouse/tutorial.html")
        page.evaluate(ALL_COME)
        loaded = page.evaluate(
            "() => [...document.fonts].filter(face => face.status === 'loaded').map(face => face.family)"
        )
        moved = page.locator(".moves input").count()
        page.check("input[value=metric]")
    context.close()
    assert said == [] and loaded and moved == 1
    assert all(one.startswith((home + "/", "data:")) for one in asked)
    assert any("assets/" in one for one in asked) and any(".webp" in one for one in asked)


def test_the_policy_stops_what_is_put_into_the_page_and_what_is_elsewhere(page: Page, libraries: Path) -> None:
    file = libraries / "harbour" / "birdhouse" / "harmed.html"
    text = (file.parent / "tutorial.html").read_text(encoding="utf-8")
    harm = '<script>document.title = "taken"</script><img id="far" src="http://127.0.0.1:9/far.png">'
    file.write_text(text.replace("</body>", f"{harm}</body>"), encoding="utf-8")
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.goto(file.as_uri())
    assert page.title() == "Birdhouse favour box"
    assert sum("Content Security Policy" in one for one in said) == 2
    file.unlink()


@pytest.mark.parametrize("width", every((360, 800, 1280, 1700), 2))
@pytest.mark.parametrize("theme", THEMES)
def test_the_sizes_it_tells_are_those_it_shows(page: Page, libraries: Path, theme: str, width: int) -> None:
    """A browser gives as the width of a picture of several files what `sizes` says it will be."""
    page.set_viewport_size({"width": width, "height": 900})
    page.goto((libraries / theme / "birdhouse" / "tutorial.html").as_uri())
    page.evaluate(ALL_COME)
    found = page.evaluate(
        """() => [...document.querySelectorAll('img[srcset]')].map(one => {
            const box = one.getBoundingClientRect(), style = getComputedStyle(one);
            const across = box.width - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
            const shape = one.getAttribute('width') / one.getAttribute('height');
            const needed = style.objectFit === 'cover' ? Math.max(across, box.height * shape) : across;
            return [one.naturalWidth, needed]; })"""
    )
    assert len(found) == 3
    for told_width, shown in found:
        # Panels that share a row are as wide as their neighbours leave: a fifth more or less chooses the same file.
        slack = 0.2 if theme == "workbench" else 0.03
        assert abs(told_width - shown) <= max(3, slack * shown), (told_width, shown)


@pytest.mark.parametrize(("theme", "width"), in_turn(390, 1280))
def test_nothing_moves_while_pictures_come(chromium: Browser, libraries: Path, theme: str, width: int) -> None:
    """The sum of layout shifts (Layout Instability, W3C draft) from when the page stands in its faces until the last
    picture has come."""
    context = chromium.new_context(viewport={"width": width, "height": 900})
    page = context.new_page()
    page.add_init_script(
        """window.shifts = [];
        new PerformanceObserver(list => list.getEntries().forEach(one => window.shifts.push(one.value)))
            .observe({type: 'layout-shift', buffered: true});"""
    )
    _Plain.come.clear()
    with served(libraries / theme) as address:
        page.goto(f"{address}/birdhouse/tutorial.html", wait_until="commit")
        page.wait_for_selector("footer", state="attached")
        page.wait_for_function("() => document.fonts.status === 'loaded'")
        page.evaluate(FRAMES)
        before = page.evaluate("() => [window.shifts.length, document.querySelector('img').naturalWidth]")
        _Plain.come.set()
        page.evaluate(ALL_COME)
        page.evaluate(FRAMES)
        shifts = page.evaluate("() => window.shifts")
        come = page.evaluate("() => [...document.images].every(one => one.naturalWidth > 0)")
    context.close()
    assert before[1] == 0 and come
    assert shifts[before[0] :] == []


PLACES = """() => [...document.querySelectorAll('h1,h2,h3,.words,.drawing,.facts,td,.thumb,figure')]
    .filter(one => one.checkVisibility()).map(one => { const box = one.getBoundingClientRect();
        return [box.left, box.top + scrollY, box.width, box.height]; })"""


@pytest.mark.parametrize(("theme", "scheme"), in_turn("dark", "light"))
def test_it_looks_as_it_does_alone(page: Page, drawn: Path, built: Path, theme: str, scheme: str) -> None:
    """Every block where it is on a page that stands alone, and the drawings the same to the eye."""
    page.set_viewport_size({"width": 1280, "height": 900})
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    places, pictures = [], []
    for home in (built, drawn):
        page.goto((home / theme / "layered-card" / "tutorial.html").as_uri())
        page.evaluate("() => document.querySelector('.library-home')?.remove()")
        page.evaluate(ALL_COME)
        places.append(page.evaluate(PLACES))
        pictures.append(Image.open(io.BytesIO(page.screenshot(full_page=True))).convert("L"))
    page.emulate_media(color_scheme="null")
    alone, among = places
    assert len(alone) == len(among) > 60
    for one, other in zip(alone, among, strict=True):
        assert all(abs(a - b) < 1 for a, b in zip(one, other, strict=True)), (one, other)
    differs = ImageChops.difference(*pictures).point(lambda value: 255 if value > 60 else 0)
    # Edges of letters and lines, moved by a part of a pixel; a tone or a line of its own makes five times as many.
    assert differs.histogram()[255] < 0.0015 * differs.width * differs.height


@pytest.mark.parametrize("theme", every(THEMES, 2))
def test_it_is_accessible(page: Page, libraries: Path, theme: str) -> None:
    for width in (390, 1280) if LONG else (1280,):
        page.set_viewport_size({"width": width, "height": 900})
        page.goto((libraries / theme / "birdhouse" / "tutorial.html").as_uri())
        found = violations(page, TAGS)
        assert not found, "\n".join(found)


@pytest.mark.parametrize("theme", THEMES)
def test_the_stages_of_a_fold_are_seen_one_at_a_time(page: Page, libraries: Path, theme: str) -> None:
    page.set_viewport_size({"width": 1280, "height": 900})
    page.goto((libraries / theme / "birdhouse" / "tutorial.html").as_uri())
    slider = page.locator(".moves input").first
    slider.scroll_into_view_if_needed()
    shown = []
    for value in ("0", "4", "8"):
        slider.fill(value)
        page.wait_for_function("() => document.querySelectorAll('.stages g.now').length === 1")
        shown.append(page.locator(".moves .stages").first.screenshot())
    assert len(set(shown)) == 3
