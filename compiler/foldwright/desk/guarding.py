"""Who may come in: requests that speak to this desk by its own name, from its own pages, and know its key.

A page of another site can make a browser ask anything of 127.0.0.1, by a name of its own even (DNS rebinding). So the
`Host` must be ours, an `Origin` must be ours, and the key must be there: in the address the first time, then in a
cookie that goes to nobody else (`SameSite=Strict`, RFC 6265bis).
"""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers
from starlette.responses import RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from foldwright.desk.desk import page

_OF_A_PAGE = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' blob: data:; "
    "font-src 'self' data:; connect-src 'self'; frame-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'self'"
)
"""What a page of the desk may load: its own scripts and pictures, nothing from elsewhere, nothing written into it. A
policy that a response brings itself, as that of a preview, stands."""
_SAFE = frozenset({"GET", "HEAD"})


class Guard:
    """Stands before the desk's pages. `hosts` are the names by which they are asked for, `host:port`."""

    def __init__(self, app: ASGIApp, key: str, hosts: Iterable[str], port: int) -> None:
        self._app, self._key = app, key
        self._hosts = frozenset(hosts)
        self._cookie = f"foldwright-desk-{port}"
        """Cookies of a machine are shared by all its ports, so that two desks would take each other's."""

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] not in ("http", "websocket"):
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        if not self._from_here(scope, headers):
            await self._refuse(scope, receive, send)
        elif self._knows(headers):
            await self._app(scope, receive, with_headers(send))
        elif scope["type"] == "http" and scope["method"] == "GET" and self._brings_key(scope):
            answer = RedirectResponse(scope["path"], 303)
            answer.set_cookie(self._cookie, self._key, httponly=True, samesite="strict", path="/")
            await answer(scope, receive, with_headers(send))
        else:
            await self._refuse(scope, receive, send)

    def _from_here(self, scope: Scope, headers: Headers) -> bool:
        """Asked for by our own name, and not by a page of somebody else's."""
        if len(headers.getlist("host")) != 1 or headers["host"] not in self._hosts:
            return False
        origin = headers.get("origin")
        if origin is None:
            # Browsers name it for every web socket and all that changes something.
            return scope["type"] == "http" and scope["method"] in _SAFE
        return origin == f"http://{headers['host']}"

    def _knows(self, headers: Headers) -> bool:
        try:
            given = SimpleCookie(headers.get("cookie", "")).get(self._cookie)
        except CookieError:
            return False
        return given is not None and secrets.compare_digest(given.value.encode(), self._key.encode())

    def _brings_key(self, scope: Scope) -> bool:
        given = parse_qs(scope["query_string"].decode("latin-1")).get("key", [""])[0]
        return secrets.compare_digest(given.encode(), self._key.encode())

    async def _refuse(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "websocket":
            await receive()
            await send({"type": "websocket.close", "code": 1008})
        else:
            await page("refused.html", 403)(scope, receive, with_headers(send))


_HEADERS = (
    (b"content-security-policy", _OF_A_PAGE.encode()),
    (b"x-content-type-options", b"nosniff"),
    # With no referrer at all, browsers would not name the origin of a form either (Fetch, 3.1).
    (b"referrer-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
)


def with_headers(send: Send, headers: Iterable[tuple[bytes, bytes]] = _HEADERS) -> Send:
    """The same, with what every answer says to the browser."""

    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            own = list(message.get("headers", []))
            said = {name for name, _ in own}
            for name, value in headers:
                if name not in said:
                    own.append((name, value))
            message = {**message, "headers": own}
        await send(message)

    return sending
