"""The room's own server, only where it was asked for: events to look at, on tablets that know the pass phrase.

It is another application on another port, and nothing of the desk can be asked of it: no address, no cookie, no key.
The only thing that can be sent in is the phrase.
"""

from __future__ import annotations

import asyncio
import secrets
import socket
import time
from collections.abc import Callable
from contextlib import closing, suppress
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs, quote

from starlette.applications import Starlette
from starlette.datastructures import Headers
from starlette.requests import ClientDisconnect, Request
from starlette.responses import FileResponse, RedirectResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp, Receive, Scope, Send

from foldwright.desk.desk import HERE, page
from foldwright.desk.guarding import with_headers
from foldwright.desk.paper_workers import Overtaken, WorkLost
from foldwright.desk.room import Room, ShownEvent
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.recipe.facts.clocks import write_clock
from foldwright.render.fonts import FACES, font_file

_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
_HEADERS = (
    (b"content-security-policy", _POLICY.encode()),
    # With no referrer at all, browsers would not name the origin of a form either (Fetch, 3.1).
    (b"referrer-policy", b"same-origin"),
    (b"x-content-type-options", b"nosniff"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
)
_OF_LISTS = (
    "default-src 'none'; img-src data:; font-src data:; style-src 'unsafe-inline'; script-src 'unsafe-inline'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""The page of the folder says more strictly itself which style and script it has: what both allow is allowed."""
_OPEN = ("/", "/enter", "/static/", "/faces/")
"""What may be asked for without the phrase: the form, and what it looks like."""
_FILES = ("desk.css", "shared.css", "shared.js", "desk.svg")
_MOST = 1024
"""Bytes of a phrase as it is sent."""
_AT_ONCE, _EACH = 5, 10.0
"""So many phrases an address may try one after the other, and then one every ten seconds: nobody is locked out for
ever, and 32 bits take longer to guess than any event."""
_MOST_ADDRESSES = 2000
_SLOW = 0.5
"""Seconds that a wrong phrase takes."""


def open_room(room: Room) -> socket.socket | Wrong:
    """A socket that listens to the network, on a port that is free; the room knows its addresses from then on."""
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        listening.bind(("0.0.0.0", 0))
        listening.listen(64)
    except OSError:
        listening.close()
        return Wrong.of("desk-no-network")
    room.addresses = tuple(f"http://{one}:{listening.getsockname()[1]}/" for one in _addresses())
    return listening


def _addresses() -> tuple[str, ...]:
    """Those by which this machine is known in its networks."""
    found: dict[str, None] = {}
    with closing(socket.socket(socket.AF_INET, socket.SOCK_DGRAM)) as asking, suppress(OSError):
        # Nothing is sent: the system says which of its addresses it would send from (192.0.2.1: RFC 5737).
        asking.connect(("192.0.2.1", 9))
        found[asking.getsockname()[0]] = None
    with suppress(OSError):
        for *_, address in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET):
            found[str(address[0])] = None
    return tuple(one for one in found if not one.startswith("127.")) or ("127.0.0.1",)


def room_app(room: Room, port: int, clock_of_tries: Callable[[], float] = time.monotonic) -> ASGIApp:
    """Everything that tablets can ask for."""
    pages = _RoomPages(room, f"foldwright-room-{port}", _Tries(clock_of_tries))
    routes = [
        Route("/", pages.first),
        Route("/enter", pages.enter, methods=["POST"]),
        Route("/event/{name}", pages.day),
        Route("/event/{name}/number", pages.number),
        Route("/event/{name}/lists", pages.lists),
        Route("/event/{name}/papers", pages.papers),
        Route("/event/{name}/picture/{file}/{page:int}", pages.picture),
        Route("/static/{file}", _static),
        Mount("/faces", StaticFiles(directory=font_file(FACES["sans"]).parent)),
    ]
    app = Starlette(routes=routes, exception_handlers={404: _missing})
    return _Door(app, pages)


class _Tries:
    """How often an address may still try a phrase. What it may do grows with time, up to a few at once."""

    def __init__(self, now: Callable[[], float]) -> None:
        self._now = now
        self._left: dict[str, tuple[float, float]] = {}

    def may(self, address: str) -> bool:
        """Whether it may try now, which is counted."""
        now = self._now()
        left, since = self._left.pop(address, (float(_AT_ONCE), now))
        left = min(float(_AT_ONCE), left + (now - since) / _EACH)
        may = left >= 1
        self._left[address] = (left - may, now)
        if len(self._left) > _MOST_ADDRESSES:
            self._left.pop(next(iter(self._left)))
        return may


class _RoomPages:
    """What answers at each address."""

    def __init__(self, room: Room, cookie: str, tries: _Tries) -> None:
        self._room, self._cookie, self._tries = room, cookie, tries

    def knows(self, headers: Headers) -> bool:
        """Whether the phrase was said before."""
        try:
            given = SimpleCookie(headers.get("cookie", "")).get(self._cookie)
        except CookieError:
            return False
        return given is not None and secrets.compare_digest(given.value.encode(), self._room.token.encode())

    def ask(self, trouble: str = "", status: int = 403) -> Response:
        """The form for the phrase."""
        return page("shared-enter.html", status, trouble=trouble)

    async def first(self, request: Request) -> Response:
        if not self.knows(request.headers):
            return self.ask(status=200)
        return page("shared.html", events=self._room.events)

    async def enter(self, request: Request) -> Response:
        address = request.client.host if request.client else ""
        if not self._tries.may(address):
            return self.ask(catalogue().say("desk-share.wait"), 429)
        if not self._room.is_phrase(await _phrase(request)):
            await asyncio.sleep(_SLOW)
            return self.ask(catalogue().say("desk-share.wrong"))
        answer = RedirectResponse("/", 303)
        answer.set_cookie(self._cookie, self._room.token, httponly=True, samesite="strict", path="/")
        return answer

    def _event(self, request: Request) -> ShownEvent | None:
        return self._room.events.get(request.path_params["name"])

    async def day(self, request: Request) -> Response:
        event = self._event(request)
        if event is None:
            return page("shared-missing.html", 404)
        words = catalogue().unfilled("desk-share")
        return page("shared-day.html", at=_at(request), event=event, clock=write_clock, words=words)

    async def number(self, request: Request) -> Response:
        """By which a page knows whether it is still the newest."""
        event = self._event(request)
        return Response(str(event.number) if event else "", 200 if event else 404, media_type="text/plain")

    async def lists(self, request: Request) -> Response:
        event = self._event(request)
        if event is None:
            return page("shared-missing.html", 404)
        return Response(event.lists, media_type="text/html", headers={"content-security-policy": _OF_LISTS})

    async def papers(self, request: Request) -> Response:
        event = self._event(request)
        if event is None:
            return page("shared-missing.html", 404)
        with suppress(Overtaken, WorkLost):
            pictures = [(paper, await event.pictures(paper.file)) for paper in event.papers]
            return page("shared-papers.html", at=_at(request), event=event, pictures=pictures)
        return page("shared-missing.html", 503)

    async def picture(self, request: Request) -> Response:
        event, file, number = self._event(request), request.path_params["file"], request.path_params["page"]
        if event is None or all(paper.file != file for paper in event.papers):
            return page("shared-missing.html", 404)
        with suppress(Overtaken, WorkLost):
            pages = await event.pictures(file)
            if 1 <= number <= len(pages):
                return Response(pages[number - 1].png, media_type="image/png")
        return page("shared-missing.html", 404)


class _Door:
    """Before the room's pages: nothing but looking, and saying the phrase from our own form."""

    def __init__(self, app: ASGIApp, pages: _RoomPages) -> None:
        self._app, self._pages = app, pages

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "websocket":
            await receive()
            await send({"type": "websocket.close", "code": 1008})
            return
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        sending = with_headers(send, _HEADERS)
        headers, path = Headers(scope=scope), scope["path"]
        says_phrase = scope["method"] == "POST" and path == "/enter" and _from_own_form(headers)
        if not (says_phrase or scope["method"] in ("GET", "HEAD")):
            await Response(status_code=405)(scope, receive, sending)
        elif self._pages.knows(headers) or path in _OPEN[:2] or path.startswith(_OPEN[2:]):
            await self._app(scope, receive, sending)
        else:
            await self._pages.ask()(scope, receive, sending)


def _at(request: Request) -> str:
    """The address of the event that is asked for."""
    return f"/event/{quote(request.path_params['name'])}"


def _from_own_form(headers: Headers) -> bool:
    """Sent from a page of this address, whatever the machine is called in the network."""
    return headers.get("origin") == f"http://{headers.get('host', '')}"


async def _phrase(request: Request) -> str:
    """What was typed; nothing where more came than a phrase is long."""
    data = bytearray()
    with suppress(ClientDisconnect):
        async for part in request.stream():
            data += part
            if len(data) > _MOST:
                return ""
    return parse_qs(data.decode("utf-8", "replace")).get("phrase", [""])[0]


async def _static(request: Request) -> Response:
    file = request.path_params["file"]
    if file not in _FILES:
        return page("shared-missing.html", 404)
    return FileResponse(HERE / "static" / file, headers={"cache-control": "no-cache"})


async def _missing(_request: Request, _trouble: Exception) -> Response:
    return page("shared-missing.html", 404)
