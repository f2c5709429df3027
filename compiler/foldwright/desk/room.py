"""What the tablets of a room may see: the events that the desk shows them, and the phrase by which they are let in."""

from __future__ import annotations

import re
import secrets
from collections.abc import Awaitable, Callable

from msgspec import Struct

from foldwright.desk.phrases import new_phrase
from foldwright.event.document.day import Moment
from foldwright.render.paper.page_pictures import PagePicture


class ShownPaper(Struct, frozen=True):
    """A paper whose pages may be looked at."""

    file: str
    title: str


class ShownEvent(Struct, frozen=True):
    """An event on the tablets, on its day as ISO 8601 has it (empty: any). `number` counts what was made anew; `lists`
    is the page that belongs to the folder."""

    number: int
    title: str
    day: str
    run: tuple[Moment, ...]
    lists: bytes
    papers: tuple[ShownPaper, ...]
    pictures: Callable[[str], Awaitable[tuple[PagePicture, ...]]]
    """The pages of a paper, drawn when they are first asked for."""


class Room:
    """One room, as long as the desk is open. Who has said the phrase is known by the `token` from then on."""

    def __init__(self) -> None:
        self.phrase = new_phrase()
        self.token = secrets.token_urlsafe(24)
        self.addresses: tuple[str, ...] = ()
        """Under which tablets find it."""
        self.events: dict[str, ShownEvent] = {}

    def is_phrase(self, said: str) -> bool:
        """Whether these are its words, however they are parted and written."""
        return secrets.compare_digest(_words(said).encode(), _words(self.phrase).encode())


def _words(text: str) -> str:
    return " ".join(re.findall(r"\w+", text.casefold()))
