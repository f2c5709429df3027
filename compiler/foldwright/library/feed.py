"""The library as an Atom feed (RFC 4287): the newest projects, each under an id that stays when it is renamed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from html import escape
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.document.catalogue import Catalogue
from foldwright.library.listing import updated
from foldwright.library.made_from import key_of
from foldwright.outputs.entry import Entry
from foldwright.recipe.facts.addresses import FEED
from foldwright.recipe.model import Studio

if TYPE_CHECKING:
    from foldwright.library.dress import LibraryDress

_NEWEST = 30
_NEVER = "1970-01-01"
"""When nothing is published yet."""


class PlannedFeed(Struct, frozen=True):
    """The feed before it is made. `entries` are those listed, newest first; `address` is the library's, with a slash
    at its end; `first_names` are the oldest of a recipe's names, by slug.
    """

    entries: Sequence[Entry]
    studio: Studio
    address: str
    first_names: Mapping[str, str]

    def key(self, dress: LibraryDress) -> str:
        """A key of all it is made from."""
        newest = self.entries[:_NEWEST]
        author = self.studio.author.value if self.studio.author else ""
        said = [
            (one.slug, self.first_names.get(one.slug, ""), one.title, one.summary, one.address, one.language)
            for one in newest
        ]
        more = [(one.published, updated(one), one.tags, one.seasons, one.picture) for one in newest]
        return key_of(dress.key, author, said, more)

    def set(self, dress: LibraryDress) -> bytes:
        """The feed."""
        return feed(self.entries, self.studio, self.address, self.first_names, dress.words)


def feed_of(
    entries: Sequence[Entry], studio: Studio, address: str, first_names: Mapping[str, str]
) -> dict[str, PlannedFeed]:
    """The feed by its path, where the library has an address. `entries` are those listed, newest first."""
    return {FEED: PlannedFeed(entries, studio, address, first_names)} if address else {}


def feed(
    entries: Sequence[Entry], studio: Studio, address: str, first_names: Mapping[str, str], words: Catalogue
) -> bytes:
    """The feed of the newest of these recipes. Nothing in it is of the time at which it is made."""
    from feedgen.feed import FeedGenerator

    name = studio.name.value if studio.name else words.say("feed.title")
    newest = entries[:_NEWEST]
    made = FeedGenerator()
    made.id(address)
    made.title(name)
    made.author(name=studio.author.value if studio.author else name)
    made.link(href=f"{address}{FEED}", rel="self", type="application/atom+xml")
    made.link(href=address, rel="alternate", type="text/html")
    made.updated(_moment(max(map(updated, newest), default=_NEVER)))
    made.generator("foldwright")
    if newest:
        made.language(newest[0].language)
    for entry in newest:
        one = made.add_entry(order="append")
        one.id(f"{address}{first_names.get(entry.slug, entry.slug)}/")
        one.title(entry.title)
        one.link(href=entry.address, rel="alternate", type="text/html")
        one.published(_moment(entry.published))
        one.updated(_moment(updated(entry)))
        one.summary(entry.summary or entry.title)
        one.category([{"term": term} for term in (*entry.tags, *entry.seasons)])
        one.content(_content(entry, address), type="html")
    data: bytes = made.atom_str(pretty=True)
    return data


def _moment(day: str) -> datetime:
    """The first moment of a day, since a recipe says no more."""
    return datetime.fromisoformat(day).replace(tzinfo=UTC)


def _content(entry: Entry, address: str) -> str:
    """The summary under the photograph. Readers of feeds show no drawings."""
    photographs = [size for size in entry.picture.sizes if size.file.endswith(".jpg")] if entry.picture else []
    words = f"<p>{escape(entry.summary or entry.title)}</p>"
    if not photographs or entry.picture is None:
        return words
    size = photographs[-1]
    source, shows = escape(f"{address}{entry.slug}/{size.file}"), escape(entry.picture.shows)
    return f'<p><img src="{source}" width="{size.width}" height="{size.height}" alt="{shows}"></p>{words}'
