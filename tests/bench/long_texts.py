"""Texts of one thing again and again, and how the work of reading them grows: in calls for the suite, in time here."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from types import FrameType

type Read = Callable[[str], object]
SHORT, LONG = 2_000, 16_000
"""Characters."""
MEASURES = (
    "1", "1 ", "1, ", "1 and ", "1/", "1/2 ", "1 x ", "1 to ", "1-", "1.", '"', "'", '1"', "1' ", "in ", "1 in ",
    "1 in the ", "a ", "an inch and ", "half a ", "one and ", "one ", "\\1 ", "½", ".", "¹", "1 in. ", "1 ft ",
    "\u00a0", "1 and a ", "cut ", "1 in x ", "1⁄", "about ", "2 in each bag ", "the “Box 2” ", "x", "http://1 in ",
    "½ of an ",
)  # fmt: skip
UNENDED = ("[a", "![", "[a](", "*a ", "_a_ ", "`", "<a", "&amp;", "> ", "- ", "[a]: x\n", "1 in ")


def growth_in_calls(read: Read, piece: str) -> float:
    """How many times as many functions, Python's own too, are called for eight times the text; 8 is in proportion."""
    return _calls(read, _text(piece, LONG)) / _calls(read, _text(piece, SHORT))


def growth_in_time(read: Read, pieces: tuple[str, ...]) -> float:
    """How many times as long eight times the text takes, for the piece of which that is most."""
    return max(_seconds(read, _text(piece, LONG)) / max(_seconds(read, _text(piece, SHORT)), 0.002) for piece in pieces)


def _text(piece: str, length: int) -> str:
    return piece * (length // len(piece))


def _calls(read: Read, text: str) -> int:
    counted = 0

    def noted(_frame: FrameType, event: str, _of: object) -> None:
        nonlocal counted
        counted += event in ("call", "c_call")

    before = sys.getprofile()
    sys.setprofile(noted)
    try:
        read(text)
    finally:
        sys.setprofile(before)
    return counted


def _seconds(read: Read, text: str) -> float:
    best = float("inf")
    for _ in range(3):
        started = time.process_time()
        read(text)
        best = min(best, time.process_time() - started)
    return best
