"""The video of a project as a document has it: its chapters, and addresses that open it at a moment.

A moment is said as the W3C's Media Fragments say it (`#t=220`): players of files know that. A page that shows the video
in a way of its own may not.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from pathlib import PurePosixPath
from urllib.parse import urlsplit

from msgspec import Struct

from foldwright.document.catalogue import catalogue
from foldwright.document.model import Document
from foldwright.document.words import plain
from foldwright.recipe.facts.web import as_uri

_MEDIA = frozenset({".mp4", ".m4v", ".mov", ".webm", ".mkv", ".ogg", ".ogv", ".mp3", ".m4a", ".oga", ".opus", ".wav"})
"""Endings of files that a browser's own player opens."""


class Chapter(Struct, frozen=True):
    """A part of the video in seconds. `step` is 0 for what comes before the first; `end` None where nobody knows it."""

    step: int
    title: str
    start: int
    end: int | None


def chapters_of(document: Document) -> tuple[Chapter, ...]:
    """The chapters, the first of them at the beginning; none where no step says its moment."""
    steps = [step for step in document.steps if step.moment is not None]
    starts = [(step.number, plain(step.heading, document.system), step.moment or 0) for step in steps]
    if starts and starts[0][2] > 0:
        starts.insert(0, (0, catalogue(document.language).say("video.opening"), 0))
    ends = [*(after[2] for _, after in pairwise(starts)), document.head.video_seconds or None]
    return tuple(Chapter(*start, end) for start, end in zip(starts, ends, strict=False))


def in_order(chapters: Sequence[Chapter], seconds: int = 0) -> bool:
    """Whether each begins after the one before it, and the last before the video ends, if it is known when."""
    starts = [chapter.start for chapter in chapters]
    return all(before < after for before, after in pairwise(starts)) and not (seconds and starts[-1] >= seconds)


def at_moment(address: str, seconds: int) -> str:
    """The address that opens the video so many seconds from its beginning."""
    head, _, fragment = address.partition("#")
    kept = [part for part in fragment.split("&") if part and not part.startswith("t=")]
    return f"{head}#{'&'.join([*kept, f't={seconds}'])}"


def is_media(address: str) -> bool:
    """Whether an address is of a file that a player opens, and not of a page that shows it."""
    return PurePosixPath(urlsplit(as_uri(address)).path).suffix.lower() in _MEDIA


def is_web_address(text: str) -> bool:
    """Whether a page may lead there."""
    return text.lower().startswith(("https://", "http://"))
