"""Who is let in: only who asks by the desk's own name, from its own pages, and knows its key. Asked over plain sockets,
as a browser that some other page has in hand might ask."""

from __future__ import annotations

import http.client
import json
import shutil
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from msgspec import Struct
from websockets.exceptions import ConnectionClosed, InvalidStatus
from websockets.sync.client import ClientConnection, connect

from workbench.command_line import GOOD, HANG, foldwright, write
from workbench.desk import OpenDesk

EVIL = "http://harbourstreet.example"
NAME = "guarded-card"
PATHS = (
    "/",
    f"/recipe/{NAME}",
    f"/recipe/{NAME}/tutorial.html",
    "/static/desk.css",
    "/editor/index.js",
)


class Answered(Struct, frozen=True):
    """What came back."""

    status: int
    headers: dict[str, str]
    body: bytes


class Asker:
    """Asks as plainly as can be. `cookie` is what the key was changed for."""

    def __init__(self, opened: OpenDesk) -> None:
        self.host = opened.root.removeprefix("http://")
        self.key = opened.address.partition("key=")[2]
        answer = self.ask("/?key=" + self.key, cookie="")
        assert answer.status == 303 and answer.headers.get("location") == "/"
        self.cookie = (answer.headers.get("set-cookie") or "").partition(";")[0]
        assert "HttpOnly" in (answer.headers.get("set-cookie") or "")
        assert "samesite=strict" in (answer.headers.get("set-cookie") or "").lower()

    def ask(self, path: str, method: str = "GET", cookie: str | None = None, **headers: str) -> Answered:
        name, _, port = self.host.partition(":")
        with closing(http.client.HTTPConnection(name, int(port), timeout=HANG)) as line:
            line.putrequest(method, path, skip_host=True)
            for header, value in {"host": self.host, **headers}.items():
                line.putheader(header, value)
            if cookie := self.cookie if cookie is None else cookie:
                line.putheader("cookie", cookie)
            line.endheaders()
            answer = line.getresponse()
            told = {header.lower(): value for header, value in answer.getheaders()}
            return Answered(answer.status, told, answer.read())

    def talk(self, origin: str | None, cookie: str | None = None) -> ClientConnection:
        more = {"Cookie": self.cookie if cookie is None else cookie}
        return connect(f"ws://{self.host}/recipe/{NAME}/line", origin=origin, additional_headers=more)  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def asker(one_desk: OpenDesk) -> Iterator[Asker]:
    """At a desk with a recipe on it, and something beside its folder that is nobody's business."""
    secret = one_desk.folder.parent / "secret.md"
    secret.write_text("nobody's business", encoding="utf-8")
    home = write(one_desk.folder, NAME)
    yield Asker(one_desk)
    secret.unlink()
    shutil.rmtree(home)


@pytest.mark.parametrize("path", PATHS)
def test_with_key_and_name_the_pages_are_there_and_without_they_are_not(asker: Asker, path: str) -> None:
    assert asker.ask(path).status == 200
    assert asker.ask(path, origin=f"http://{asker.host}").status == 200
    assert asker.ask(path, cookie="").status == 403
    assert asker.ask(path, cookie=asker.cookie[:-1]).status == 403
    assert asker.ask(path, host="harbourstreet.example").status == 403
    assert asker.ask(path, host=f"harbourstreet.example:{asker.host.partition(':')[2]}").status == 403
    assert asker.ask(path, host=asker.host.replace("127.0.0.1", "127.0.0.1.harbourstreet.example")).status == 403
    assert asker.ask(path, origin=EVIL).status == 403
    assert asker.ask(path, origin="null").status == 403


def test_a_wrong_key_gets_no_cookie_and_a_plain_sentence(asker: Asker) -> None:
    another = "y" if asker.key.endswith("x") else "x"
    answer = asker.ask("/?key=" + asker.key[:-1] + another, cookie="")
    assert answer.status == 403 and answer.headers.get("set-cookie") is None
    assert b"whole address" in answer.body


def test_what_changes_something_must_come_from_our_own_pages(asker: Asker) -> None:
    path = f"/recipe/{NAME}/photo?at=0"
    assert asker.ask(path, "POST").status == 403
    assert asker.ask(path, "POST", origin=EVIL).status == 403
    assert asker.ask(path, "POST", origin=f"http://{asker.host}", **{"content-length": "0"}).status == 200


def test_web_sockets_too(asker: Asker) -> None:
    with asker.talk(f"http://{asker.host}") as line:
        line.send(json.dumps({"do": "here"}))
        assert json.loads(line.recv())["text"] == GOOD
    for origin, cookie in ((None, None), (EVIL, None), ("null", None), (f"http://{asker.host}", "")):
        with pytest.raises(InvalidStatus) as refused:
            asker.talk(origin, cookie)
        assert refused.value.response.status_code == 403


@pytest.mark.parametrize("said", ["", "{", "[]", '{"do": "dance"}', '{"do": 4}', '{"do": "text", "text": 7}'])
def test_what_no_page_of_ours_says_ends_the_talk_and_nothing_else(asker: Asker, said: str) -> None:
    with asker.talk(f"http://{asker.host}") as line:
        line.send(said)
        with pytest.raises(ConnectionClosed):
            line.recv(timeout=HANG)
    assert asker.ask("/").status == 200


@pytest.mark.parametrize(
    "path",
    [
        "/recipe/..",
        "/recipe/%2e%2e",
        "/recipe/..%2f..%2fsecret",
        f"/recipe/{NAME}/..%2f..%2fsecret.md",
        "/static/../desk.py",
        "/static/..%2fdesk.py",
        "/static/%2e%2e/desk.py",
        "/guide/..%2f..%2f__init__.py",
        "/editor/..%2f..%2f..%2f__init__.py",
        f"/recipe/{NAME}/photos/..%2frecipe.md",
        f"/recipe/{NAME}/sheet/card/..%2f..%2f",
        f"/recipe/{NAME}/look/..%2f..%2f",
        f"/recipe/{NAME}/sheet/nothing/0.png",
        "/recipe/nothing",
        "/nothing",
    ],
)
def test_no_path_leads_out_of_the_folder(asker: Asker, path: str) -> None:
    answer = asker.ask(path)
    assert answer.status in (404, 409)
    assert b"nobody" not in answer.body and b"import" not in answer.body


def test_versions_are_no_way_out_either(asker: Asker) -> None:
    with asker.talk(f"http://{asker.host}") as line:
        for name in ("../recipe.md", "../../../secret.md", "/etc/passwd", ""):
            line.send(json.dumps({"do": "version", "what": name, "ask": 1}))
            assert json.loads(line.recv()) == {"text": "", "to": 1}


def test_nothing_may_be_written_into_a_page_and_no_other_site_may_hold_it(asker: Asker) -> None:
    policy = asker.ask(f"/recipe/{NAME}").headers.get("content-security-policy") or ""
    assert "script-src 'self';" in policy and "default-src 'none'" in policy and "frame-ancestors 'self'" in policy
    preview = asker.ask(f"/recipe/{NAME}/preview").headers.get("content-security-policy") or ""
    assert "script" not in preview and "default-src 'none'" in preview and "sandbox" in preview


def test_a_folder_has_one_desk_and_a_port_one_program(opened: OpenDesk, tmp_path: Path) -> None:
    again = foldwright("desk", opened.folder, "--quiet", cwd=opened.folder.parent)
    assert again.status == 1 and opened.address in again.err and "already open" in again.err
    other = tmp_path / "others"
    port = opened.root.rpartition(":")[2]
    taken = foldwright("desk", other, "--quiet", "--port", port, cwd=opened.folder.parent)
    assert taken.status == 1 and f"port {port}" in taken.err
    odd = foldwright("desk", other, "--port", "ninety", cwd=opened.folder.parent)
    assert odd.status == 2 and "not a port" in odd.err
    (tmp_path / "secret.md").touch()
    file = foldwright("desk", tmp_path / "secret.md", cwd=tmp_path)
    assert file.status == 2 and "is a file" in file.err
