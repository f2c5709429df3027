"""What every paper of an event is written from, and the words it is written in."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from msgspec import Struct

from foldwright.document.catalogue import Catalogue
from foldwright.document.model import Document
from foldwright.event.document.lengths import LengthWriter
from foldwright.event.plan.planning import Event


class EventSource(Struct, frozen=True):
    """A planned event, the documents of its recipes at the event (in the same order), and the catalogue."""

    event: Event
    documents: Sequence[Document]
    words: Catalogue

    @property
    def lengths(self) -> LengthWriter:
        """Writes lengths in the unit of the folder."""
        return LengthWriter(self.event.wishes.system, self.words)


class SectionWriter:
    """Writes with the words of one table of the catalogue: `section` is its name below `event`."""

    section: ClassVar[str]

    def __init__(self, source: EventSource) -> None:
        self._event, self._words, self._lengths = source.event, source.words, source.lengths

    def _say(self, key: str, **facts: object) -> str:
        return self._words.say(f"event.{self.section}.{key}", **facts)

    def _columns(self, *names: str) -> tuple[str, ...]:
        return tuple(self._say(f"column-{name}") for name in names)

    def _recipe(self, number: int) -> str:
        """The title of a recipe."""
        return self._event.makings[number].title
