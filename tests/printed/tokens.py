"""The instructions of a page read in one sweep: pdfminer, which goes through them letter by letter, is handed them.

Letter by letter took a third of all that reading takes. What is seldom (strings with escapes, pictures within the
instructions) is left to pdfminer; its own test holds one against the other, instruction by instruction.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from pdfminer import pdfinterp
from pdfminer.pdftypes import stream_value
from pdfminer.psparser import KWD, LIT, PSEOF

_BLANK = rb"\x00\t\n\x0c\r "
_TOKEN = re.compile(
    rb"(?P<blank>[" + _BLANK + rb"]+|%[^\r\n]*)"
    rb"|(?P<whole>[+-]?\d+)(?![^" + _BLANK + rb"\[\]<>/()])"
    rb"|(?P<real>[+-]?(?:\d+\.\d*|\.\d+))(?![^" + _BLANK + rb"\[\]<>/()])"
    rb"|(?P<word>[A-Za-z'\"][A-Za-z0-9'\"*]*)(?![^" + _BLANK + rb"\[\]<>/()])"
    rb"|/(?P<name>[A-Za-z0-9_+.,:-]+)(?![^" + _BLANK + rb"\[\]<>/()])"
    rb"|<(?P<hex>(?:[0-9A-Fa-f]{2})*)>"
    rb"|\((?P<text>[^()\\\r]*)\)"
    rb"|(?P<open>\[|<<)"
    rb"|(?P<close>\]|>>)"
)
_SELDOM = re.compile(rb"(?<![A-Za-z0-9])(?:BI|true|false|null)(?![A-Za-z0-9])")


_MAKES: dict[str, Callable[[bytes], Any]] = {
    "whole": int,
    "real": float,
    "word": KWD,
    "name": lambda name: LIT(name.decode("ascii")),
    "hex": lambda digits: bytes.fromhex(digits.decode("ascii")),
    "text": bytes,
}


class _SeldomError(Exception):
    """Something stands there that is left to pdfminer."""


def objects(data: bytes) -> Iterator[Any]:
    """The operands and operators of a content stream, as pdfminer gives them."""
    held: list[tuple[bytes, list[Any]]] = []
    at = 0
    for match in _TOKEN.finditer(data):
        if match.start() != at:
            raise _SeldomError
        at = match.end()
        kind = match.lastgroup or ""
        if kind == "blank":
            continue
        if kind == "open":
            held.append((match[kind], []))
            continue
        one = _closed(held, match[kind]) if kind == "close" else _MAKES[kind](match[kind])
        if held:
            held[-1][1].append(one)
        else:
            yield one
    if at != len(data) or held:
        raise _SeldomError


def _closed(held: list[tuple[bytes, list[Any]]], end: bytes) -> Any:
    """The row or the dictionary that ends."""
    if not held or (held[-1][0] == b"[") != (end == b"]"):
        raise _SeldomError
    opened, inside = held.pop()
    return inside if opened == b"[" else _dictionary(inside)


def _dictionary(inside: list[Any]) -> dict[str, Any]:
    return {key.name: value for key, value in zip(inside[::2], inside[1::2], strict=True)}


def _swept(data: bytes) -> list[Any] | None:
    """All that is in it; None where that is left to pdfminer."""
    try:
        return None if _SELDOM.search(data) else list(objects(data))
    except _SeldomError:
        return None


class Instructions:
    """Stands in for pdfminer's own parser of content. `swept` says whether it was read here."""

    def __init__(self, streams: Sequence[object]) -> None:
        found = _swept(b"\n".join(stream_value(stream).get_data() for stream in streams))
        self.swept = found is not None
        self._left = iter(found or ())
        self._patient = None if self.swept else PATIENT(streams)

    def nextobject(self) -> tuple[int, Any]:
        if self._patient is not None:
            return self._patient.nextobject()
        for one in self._left:
            return 0, one
        raise PSEOF("all is read")


PATIENT: Any = pdfinterp.PDFContentParser
"""pdfminer's own."""


@contextmanager
def quick() -> Iterator[None]:
    """Within it, pdfminer is handed what it would have read."""
    vars(pdfinterp)["PDFContentParser"] = Instructions
    try:
        yield
    finally:
        vars(pdfinterp)["PDFContentParser"] = PATIENT
