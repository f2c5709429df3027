"""Addresses on the web, in the letters in which every program takes them."""

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
_APART = re.compile("[ßς]")
"""Letters that names of hosts have since RFC 5892, and that RFC 3490 takes for others."""
_DOTS = re.compile("[.。．｡]")
"""What parts a name of a host (RFC 3490, 3.1)."""
_UNSEEN = re.compile("[\u200c\u200d]")
"""The same, but who reads a name does not see them: one with such letters is taken for none."""


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


def is_home(address: str) -> bool:
    """Whether other addresses may be made by adding to this one: nothing stands behind its path, and no name or
    password of anybody before its host."""
    return bool(as_uri(address)) and not any(mark in address for mark in "?#@")


def _host(place: str) -> str:
    """The name of a host in ASCII (RFC 3490, ToASCII); empty where it cannot be one."""
    name = place if place.endswith("]") else re.sub(r":\d*$", "", place)
    try:
        ascii_name = name if name.isascii() else _in_ascii(name)
    except UnicodeError:
        return ""
    return ascii_name.lower() if _HOST.fullmatch(ascii_name) else ""


def _in_ascii(name: str) -> str:
    """Raises UnicodeError where it is no name."""
    if _UNSEEN.search(name):
        raise UnicodeError(name)
    return ".".join(map(_label_in_ascii, _DOTS.split(name)))


def _label_in_ascii(label: str) -> str:
    """A part of a name. Where both standards know its letters, they write it alike; where they do not, the new one is
    followed, as browsers do."""
    if not _APART.search(label):
        return label.encode("idna").decode("ascii")
    small = unicodedata.normalize("NFC", label.lower())
    return f"xn--{small.encode('punycode').decode('ascii')}"


def _encoded(text: str, safe: str) -> str:
    return quote(_NOT_ENCODED.sub("%25", text), safe=safe)
