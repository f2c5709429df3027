"""The address of a page: as people read and type it, and as a machine follows it."""

from __future__ import annotations

import re
import unicodedata
from urllib.parse import quote, urlsplit

_PATH = "/:@!$&'()*+,;=-._~%"
"""What RFC 3986 (3.3) lets stand in a path as it is, and the sign of what is encoded already."""
_QUERY = _PATH + "?"
_NOT_ENCODED = re.compile(r"%(?![0-9A-Fa-f]{2})")
_LABEL = "[A-Za-z0-9](?:[A-Za-z0-9-]*[A-Za-z0-9])?"
_HOST = re.compile(rf"{_LABEL}(?:\.{_LABEL})*\.?|\[[0-9A-Fa-f:.]+\]")


def as_read(address: str) -> str:
    """As it is read and typed: `harbourstreet.example/birdhouse`."""
    return address.removeprefix("https://").removeprefix("http://").rstrip("/")


def as_uri(address: str) -> str:
    """The address in the letters that every program takes (RFC 3987, 3.1); empty where it is none."""
    try:
        parts = urlsplit(unicodedata.normalize("NFC", address))
        host, port = _host(parts.netloc.rpartition("@")[2]), parts.port
    except ValueError:
        return ""
    if parts.scheme not in ("http", "https") or not host:
        return ""
    where = f"{parts.scheme}://{host}{f':{port}' if port else ''}{_encoded(parts.path, _PATH)}"
    query = f"?{_encoded(parts.query, _QUERY)}" if parts.query else ""
    return where + query + (f"#{_encoded(parts.fragment, _QUERY)}" if parts.fragment else "")


def _host(place: str) -> str:
    """The name of a host in ASCII (RFC 3490, ToASCII); empty where it cannot be one."""
    name = place if place.endswith("]") else re.sub(r":\d*$", "", place)
    try:
        ascii_name = name if name.isascii() else name.encode("idna").decode("ascii")
    except UnicodeError:
        return ""
    return ascii_name.lower() if _HOST.fullmatch(ascii_name) else ""


def _encoded(text: str, safe: str) -> str:
    return quote(_NOT_ENCODED.sub("%25", text), safe=safe)
