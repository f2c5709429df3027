"""The library as an Atom feed (RFC 4287): the newest projects, each under an id that stays when it is renamed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from html import escape

from foldwright.document.catalogue import Catalogue
from foldwright.library.listing import updated
from foldwright.outputs.entry import Entry
from foldwright.recipe.model import Studio

FEED = "feed.xml"
_NEWEST = 30
_NEVER = "1970-01-01"
"""When nothing is published yet."""


def feed(
    entries: Sequence[Entry], studio: Studio, address: str, first_names: Mapping[str, str], words: Catalogue
) -> bytes:
    """The feed. `entries` are those listed, newest first; `address` is the library's, with a slash at its end.

    Nothing in it is of the time at which it is made.
    """
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
