"""The room: nothing without the phrase, nothing but looking with it, nothing of the desk at all, and no prices."""

from __future__ import annotations

import asyncio
import io
import json
import re
import shutil
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from urllib.error import HTTPError
from urllib.request import HTTPCookieProcessor, Request, build_opener

import pytest
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Page, expect
from starlette.types import ASGIApp, Message

from foldwright.desk.desk import Desk
from foldwright.desk.paper_workers import PaperWorker
from foldwright.desk.phrases import WORDS
from foldwright.desk.planning.pages import routes
from foldwright.desk.planning.plans import Plans
from foldwright.desk.room import Room, ShownEvent, ShownPaper
from foldwright.desk.tablets import room_app
from foldwright.event.document.day import Moment
from foldwright.render.paper.page_pictures import PagePicture
from workbench.browser_checks import violations
from workbench.demo_pages import TOP
from workbench.desk import OpenDesk, browsing, desk

AXE = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
HOST = "192.0.2.7:8000"


def a_room() -> Room:
    async def pictures(file: str) -> tuple[PagePicture, ...]:
        return (PagePicture(1, 1, file.encode()),)

    room = Room()
    papers = (ShownPaper("the-day.pdf", "The day"),)
    room.events["tag"] = ShownEvent(1, "12 tags", "", (Moment(36000, "", "Fold"),), b"<p>lists</p>", papers, pictures)
    return room


class Visitor:
    """Somebody in the network who asks the room's application."""

    def __init__(self, app: ASGIApp, address: str = "192.0.2.9") -> None:
        self._app, self._address, self.cookie = app, address, ""

    def ask(self, path: str, method: str = "GET", body: bytes = b"", **headers: str) -> tuple[int, dict[str, str], str]:
        """The status, the headers and the text of the answer."""
        asked = self._ask(path, method, body, {"host": HOST, "cookie": self.cookie, **headers})
        # In a thread of its own: where a browser is open, this one has a loop already.
        with ThreadPoolExecutor(1) as threads:
            return threads.submit(asyncio.run, asked).result()

    def say(self, phrase: str, origin: str = f"http://{HOST}") -> int:
        """Send the form; a cookie that comes back is kept."""
        status, headers, _ = self.ask("/enter", "POST", f"phrase={phrase.replace(' ', '+')}".encode(), origin=origin)
        self.cookie = headers.get("set-cookie", "").partition(";")[0] or self.cookie
        return status

    async def _ask(
        self, path: str, method: str, body: bytes, headers: dict[str, str]
    ) -> tuple[int, dict[str, str], str]:
        answers: list[Message] = []
        scope: dict[str, Any] = {
            "type": "http",
            "asgi": {"version": "3.0"},
            "http_version": "1.1",
            "method": method,
            "scheme": "http",
            "path": path,
            "raw_path": path.encode(),
            "query_string": b"",
            "root_path": "",
            "headers": [(name.encode(), value.encode()) for name, value in headers.items()],
            "client": (self._address, 4000),
            "server": ("192.0.2.7", 8000),
        }

        async def receive() -> Message:
            return {"type": "http.request", "body": body, "more_body": False}

        async def send(message: Message) -> None:
            answers.append(message)

        await self._app(scope, receive, send)
        said = {name.decode(): value.decode() for name, value in answers[0]["headers"]}
        whole = b"".join(one.get("body", b"") for one in answers[1:])
        return answers[0]["status"], said, whole.decode("utf-8", "replace")


INSIDE = [
    "/event/tag",
    "/event/tag/number",
    "/event/tag/lists",
    "/event/tag/papers",
    "/event/tag/picture/the-day.pdf/1",
]


def addresses_of_the_desk(folder: Path) -> list[str]:
    """All that planning answers at, and the other parts of the desk."""
    of_plans = [route.path for route in routes(Plans(Desk(folder), PaperWorker())) if hasattr(route, "path")]
    others = ["/recipe/tag", "/recipe/tag/line", "/begin", "/static/plan.js", "/editor/index.js", "/three/index.js"]
    return [path.replace("{file}", "kit.json") for path in (*of_plans, *others)]


def test_nothing_is_seen_without_the_phrase(tmp_path: Path) -> None:
    room = a_room()
    visitor = Visitor(room_app(room, 8000))
    for path in (*INSIDE, *addresses_of_the_desk(tmp_path)):
        status, _, text = visitor.ask(path)
        assert status in (403, 404), path
        assert "12 tags" not in text and "lists</p>" not in text
    status, headers, text = visitor.ask("/")
    assert status == 200 and "12 tags" not in text and room.phrase not in text
    assert "default-src 'none'" in headers["content-security-policy"]
    # Neither the desk's key nor a made-up token opens it.
    key = Desk(tmp_path).key
    for cookie in (f"foldwright-desk-8000={key}", f"foldwright-room-8000={key}", "foldwright-room-8000=", "x"):
        visitor.cookie = cookie
        assert visitor.ask("/event/tag")[0] == 403
    assert visitor.ask("/event/tag?key=" + room.token)[0] == 403


def test_who_says_the_phrase_may_look_and_nothing_else(tmp_path: Path) -> None:
    room = a_room()
    visitor = Visitor(room_app(room, 8000))
    assert visitor.say(room.phrase.upper()) == 303
    for path in INSIDE:
        assert visitor.ask(path)[0] == 200, path
    for path in addresses_of_the_desk(tmp_path):
        assert visitor.ask(path)[0] == 404, path
        for method in ("POST", "PUT", "DELETE", "PATCH", "OPTIONS"):
            assert visitor.ask(path, method, origin=f"http://{HOST}")[0] == 405
    for path in (
        "/event/tag/picture/costs.pdf/1",
        "/event/tag/picture/the-day.pdf/2",
        "/event/other",
        "/static/plan.js",
    ):
        assert visitor.ask(path)[0] == 404
    del room.events["tag"]
    assert visitor.ask("/event/tag")[0] == 404


def test_the_phrase_is_taken_from_our_own_form_alone() -> None:
    room = a_room()
    visitor = Visitor(room_app(room, 8000))
    for origin in ("http://example.invalid", "null", f"https://{HOST}", ""):
        assert visitor.say(room.phrase, origin) == 405
    assert visitor.ask("/enter", "POST", b"phrase=" + b"a" * 4096, origin=f"http://{HOST}")[0] == 403
    assert visitor.ask("/event/tag")[0] == 403


def test_wrong_phrases_are_limited_and_nobody_is_locked_out_for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("foldwright.desk.tablets._SLOW", 0)
    room, now = a_room(), [0.0]
    app = room_app(room, 8000, lambda: now[0])
    guesser, other = Visitor(app), Visitor(app, "192.0.2.10")
    tried = [guesser.say("apple apple apple apple") for _ in range(20)]
    assert tried.count(403) == 5 and tried[5:] == [429] * 15
    # Not even the right one is looked at then; somebody else in the room gets in all the same.
    assert guesser.say(room.phrase) == 429
    assert other.say(room.phrase) == 303
    now[0] += 3600
    tried = [guesser.say("apple apple apple apple") for _ in range(20)]
    assert tried.count(403) == 5
    now[0] += 11
    assert guesser.say(room.phrase) == 303


def test_phrases_are_words_that_can_be_told_apart() -> None:
    assert len(set(WORDS)) == 256
    assert all(re.fullmatch("[a-z]{3,9}", word) for word in WORDS)
    phrases = {Room().phrase for _ in range(50)}
    assert len(phrases) == 50 and all(len(one.split()) == 4 for one in phrases)
    room = Room()
    assert room.is_phrase(" " + room.phrase.replace(" ", "-").title() + ". ")
    assert not room.is_phrase("") and not room.is_phrase(room.phrase.rpartition(" ")[0])


# --- with a browser ---------------------------------------------------------------------------------------------------


def listening(process: int) -> set[str]:
    """The addresses at which a process listens, as the system knows them (proc(5)): hexadecimal, in its own order."""
    sockets = {link.readlink().name for link in Path(f"/proc/{process}/fd").iterdir() if link.is_symlink()}
    rows = [line.split() for line in Path("/proc/net/tcp").read_text().splitlines()[1:]]
    return {row[1].partition(":")[0] for row in rows if row[3] == "0A" and f"socket:[{row[9]}]" in sockets}


def test_only_where_it_is_asked_for_does_anything_listen_to_the_network(opened: OpenDesk, tmp_path: Path) -> None:
    assert listening(opened.process.pid) == {"0100007F", "00000000"}
    shutil.copytree(TOP / "recipes" / "twine-tag", tmp_path / "recipes" / "twine-tag")
    with desk(tmp_path / "recipes") as unshared:
        assert listening(unshared.process.pid) == {"0100007F"}
        assert answered(unshared, "/plan/follow?recipe=twine-tag") == 200
        assert answered(unshared, "/plan/show?recipe=twine-tag") == 404


def answered(desk: OpenDesk, path: str) -> int:
    """How a desk answers a plan that one of its own pages sends."""
    with_cookie = build_opener(HTTPCookieProcessor())
    with with_cookie.open(desk.address):
        pass
    sent = Request(desk.root + path, json.dumps({"typed": {"for-twine-tag": "9"}}).encode(), {"origin": desk.root})
    try:
        with with_cookie.open(sent) as answer:
            return int(answer.status)
    except HTTPError as refused:
        with refused:
            return refused.code


def told_of_room(opened: OpenDesk) -> tuple[str, str]:
    """The address and the phrase that the terminal shows; this machine is asked for as itself."""
    assert opened.process.stdout is not None
    lines = []
    for line in opened.process.stdout:
        lines.append(line)
        if "phrase:" in line:
            break
    port = re.search(r"http://[0-9.]+:([0-9]+)/", "".join(lines))
    assert port
    return f"http://127.0.0.1:{port[1]}/", lines[-1].partition("phrase:")[2].strip()


def entered(page: Page, address: str, phrase: str) -> None:
    page.goto(address)
    page.get_by_label("Pass phrase").fill("wrong words")
    page.get_by_role("button").click()
    expect(page.get_by_role("alert")).to_contain_text("That is not the pass phrase.")
    page.get_by_label("Pass phrase").fill(phrase)
    page.get_by_role("button").click()


def test_a_plan_is_shown_on_a_tablet_and_follows(opened: OpenDesk, tabs: BrowserContext, chromium: Browser) -> None:
    tag = shutil.copytree(TOP / "recipes" / "twine-tag", opened.folder / "twine-tag")
    shutil.copy(TOP / "recipes" / "studio.yaml", tag)
    with browsing(chromium, timezone_id="UTC") as tablet:
        address, phrase = told_of_room(opened)
        plan = opened.tab(tabs, "/plan?recipe=twine-tag")
        expect(plan.locator(".on-tablets")).to_contain_text(phrase)
        page = tablet.new_page()
        # However slow the machine is, the tablet stays in this minute.
        page.clock.set_fixed_time(datetime(2027, 3, 6, 14, 10, 30, tzinfo=UTC))
        entered(page, address, phrase)
        expect(page.locator("main")).to_contain_text("Nothing is shown yet.")
        plan.get_by_role("button", name="Show on the tablets").click()
        expect(plan.locator("#show")).to_have_attribute("aria-pressed", "true")
        page.reload()
        page.get_by_role("link", name="12 × Gift tag with twine").click()
        expect(page.locator("#current")).to_contain_text("1. Cut the tag")
        expect(page.locator("#run li[aria-current]")).to_contain_text("14:10")
        assert violations(page, AXE) == []
        # Another plan is there without anybody touching the tablet.
        plan.locator("[name='for-twine-tag']").fill("15")
        expect(plan.locator("#title")).to_have_text("15 × Gift tag with twine")
        expect(page.locator("h1")).to_have_text("15 × Gift tag with twine")
        shown_without_prices(page, address)
        plan.get_by_role("button", name="Show on the tablets").click()
        expect(plan.locator("#show")).to_have_attribute("aria-pressed", "false")
        page.goto(address)
        expect(page.locator("main")).to_contain_text("Nothing is shown yet.")


def shown_without_prices(page: Page, address: str) -> None:
    """Lists and papers are there, and those with prices are not."""
    page.get_by_role("link", name="Papers").click()
    # What is clicked comes in parts: only the whole page tells what is not on it.
    page.wait_for_url("**/papers")
    titles = page.locator("h2").all_text_contents()
    assert "The day" in titles and "Cutting plan" in titles
    assert not [one for one in titles if "ost" in one]
    assert violations(page, AXE) == []
    first = page.locator("img").first.get_attribute("src")
    answer = page.request.get(address.rstrip("/") + str(first))
    with Image.open(io.BytesIO(answer.body())) as image:
        assert image.width == 800
    page.get_by_role("link", name="Lists").click()
    page.wait_for_url("**/lists")
    expect(page.locator("body")).to_contain_text("Cutting plan")
    assert not re.search(r"\$|6\.40", page.locator("body").inner_text())
    page.go_back()
    page.go_back()
