"""What pictures for sharing say, and what is said of them to who cannot see them."""

from __future__ import annotations

from msgspec import Struct

from foldwright.document.catalogue import catalogue
from foldwright.document.model import Document
from foldwright.document.words import plain
from foldwright.measure.writing import NARROW_SPACE

PREVIEW = "share-1200x630.jpg"
"""The picture that a page names as its own, for whoever links to it. Its name never depends on what it shows."""
_NO_BREAK = "\u00a0"


class ShareStep(Struct, frozen=True):
    """A step of the strip: its number and heading."""

    number: int
    heading: str


class ShareText(Struct, frozen=True):
    """The words of a recipe's pictures; any but the title may be empty."""

    studio: str
    title: str
    facts: tuple[str, ...]
    steps: tuple[ShareStep, ...]

    @property
    def letters(self) -> tuple[str, ...]:
        """Every text that is set."""
        return (self.studio, self.title, *self.facts, *(step.heading for step in self.steps))


def share_text(document: Document) -> ShareText:
    """The words of a recipe's pictures."""
    head, label = document.head, document.labels
    level = f"{label['level-is']} {head.level}" if head.level else ""
    steps = tuple(ShareStep(step.number, _set(plain(step.heading, document.system))) for step in document.steps)
    facts = tuple(_set(text) for text in (document.totals.line, level) if text)
    return ShareText(_set(head.studio), _set(head.title), facts, steps)


def _set(text: str) -> str:
    """With the spaces that every face has."""
    return text.replace(NARROW_SPACE, _NO_BREAK)


def share_words(document: Document, address: str) -> str:
    """What goes beside the pictures, to be pasted where they are put: plain text."""
    words, head = catalogue(document.language), document.head
    summary = plain(head.summary, document.system)
    counted = words.say("share.steps", count=len(document.steps), time=document.totals.line)
    shown = document.photo.shows if document.photo else ""
    if not shown and document.finished:
        shown = document.finished.describes.of(document.system)
    parts = [head.title, " ".join(filter(None, (summary, counted))), shown and words.say("share.shows", what=shown)]
    return "\n\n".join(filter(None, (*parts, address))) + "\n"
