"""A recipe as a list shows it: its picture, title, level, time, and what it needs, in words ready to place."""

from __future__ import annotations

from markupsafe import Markup as Html
from msgspec import Struct

from foldwright.document.catalogue import Catalogue
from foldwright.document.wording import span_words
from foldwright.outputs.entry import Entry
from foldwright.outputs.model import PAGE


class CardPicture(Struct, frozen=True):
    """Addresses of one picture, its size in pixels, what it shows. `kind` is drawn or photo."""

    source: Html
    sources: Html
    width: int
    height: int
    shows: str
    kind: str


class Card(Struct, frozen=True):
    """One recipe in a list; texts may be empty. `address` leads to its page."""

    address: Html
    title: str
    summary: str
    level: str
    time: str
    needs: str
    picture: CardPicture | None
    lacks: str = ""
    """What there is still to get, of which a browser alone knows."""


def card_of(entry: Entry, root: Html, words: Catalogue) -> Card:
    """The card of an entry, for a page from which `root` leads to the library's folder."""
    return Card(
        address=root + f"{entry.slug}/{PAGE}",
        title=entry.title,
        summary=entry.summary,
        level=entry.level,
        time=time_words(entry.minutes, words),
        needs=needs_words(entry, words),
        picture=_picture(entry, root),
    )


def time_words(minutes: int, words: Catalogue) -> str:
    """`1 h 20 min`; empty where no time is known."""
    return span_words(words, minutes * 60) if minutes else ""


def needs_words(entry: Entry, words: Catalogue) -> str:
    """What it needs, by name; what it can do without is left out."""
    return words.say("list.comma").join(need.name for need in entry.needs if not need.optional)


def _picture(entry: Entry, root: Html) -> CardPicture | None:
    shown = entry.picture
    if shown is None:
        return None
    at = root + f"{entry.slug}/"
    first = shown.sizes[0]
    kind = "drawn" if first.file.endswith(".svg") else "photo"
    several = shown.sizes if len(shown.sizes) > 1 else ()
    sources = Html(", ").join(at + f"{size.file} {size.width}w" for size in several)
    return CardPicture(at + first.file, sources, first.width, first.height, shown.shows, kind)
