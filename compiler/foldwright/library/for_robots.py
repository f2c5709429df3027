"""What search engines read of a library: a map of its pages (sitemaps.org), `robots.txt` (RFC 9309), and the list of
its projects as schema.org data.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import batched
from typing import Any
from urllib.parse import urlsplit
from xml.sax.saxutils import escape

from foldwright.library.listing import updated
from foldwright.outputs.entry import Entry
from foldwright.outputs.model import PAGE
from foldwright.recipe.facts.web import as_uri

SITEMAP, ROBOTS = "sitemap.xml", "robots.txt"
_NAMESPACE = "http://www.sitemaps.org/schemas/sitemap/0.9"
_MOST = 50_000
"""Addresses in one map (sitemaps.org)."""


def addresses_of(entries: Sequence[Entry], pages: Sequence[str], address: str) -> dict[str, str]:
    """Every page that is to be found, with the day of its last change (empty: nobody says): the index, the other
    `pages` by their paths, and the listed projects, newest first.
    """
    newest = max(map(updated, entries), default="")
    shelves = sorted(page.removesuffix("index.html") for page in pages if page != "index.html")
    return {
        address: newest,
        **{f"{address}{page}": "" for page in shelves},
        **{entry.address: updated(entry) for entry in entries},
    }


def sitemap(days: Mapping[str, str], address: str) -> dict[str, bytes]:
    """The map, in several files where there are very many pages."""
    maps = [_file("urlset", "url", part) for part in batched(days.items(), _MOST)]
    if len(maps) == 1:
        return {SITEMAP: maps[0]}
    files = {f"sitemap-{number}.xml": data for number, data in enumerate(maps, 1)}
    return {SITEMAP: _file("sitemapindex", "sitemap", [(f"{address}{name}", "") for name in files]), **files}


def _file(whole: str, part: str, rows: Sequence[tuple[str, str]]) -> bytes:
    lines = ['<?xml version="1.0" encoding="UTF-8"?>', f'<{whole} xmlns="{_NAMESPACE}">']
    for address, day in rows:
        changed = f"<lastmod>{day}</lastmod>" if day else ""
        lines.append(f"<{part}><loc>{escape(as_uri(address))}</loc>{changed}</{part}>")
    return "\n".join([*lines, f"</{whole}>", ""]).encode("utf-8")


def robots(address: str) -> dict[str, bytes]:
    """Everybody may look at all of it. Crawlers ask for this file at the root of a host alone."""
    if urlsplit(address).path != "/":
        return {}
    return {ROBOTS: f"User-agent: *\nAllow: /\n\nSitemap: {as_uri(address)}{SITEMAP}\n".encode()}


def item_list(entries: Sequence[Entry], title: str, root: str = "", before: int = 0) -> dict[str, Any]:
    """The projects in the order of the page, after schema.org: ItemList, ListItem. So many stand `before` them.

    Without the studio's address those of the projects are relative: `root` leads to the library's folder.
    """
    return {
        "@context": "https://schema.org",
        "@type": "ItemList",
        "name": title,
        "numberOfItems": len(entries),
        "itemListOrder": "https://schema.org/ItemListOrderDescending",
        "itemListElement": [
            {
                "@type": "ListItem",
                "position": place,
                "name": entry.title,
                "url": entry.address or f"{root}{entry.slug}/{PAGE}",
            }
            for place, entry in enumerate(entries, before + 1)
        ],
    }
