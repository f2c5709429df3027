"""The pages of a library: all recipes, newest first; those of each tag, season and level; one for addresses that lead
nowhere.

Lists stand in plain HTML, so many recipes to a page, and each page can be reached without a script. The script of the
first list searches and filters all of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import batched
from urllib.parse import urlencode

from markupsafe import Markup as Html
from msgspec import Struct
from msgspec.structs import replace

from foldwright.library.dress import LibraryDress
from foldwright.library.finder import FACETS
from foldwright.library.for_robots import item_list
from foldwright.library.made_from import key_of
from foldwright.library.shelves import Kind, Shelf
from foldwright.outputs.entry import Entry
from foldwright.render.web.howto import json_ld

ON_A_PAGE = 24
"""Cards on a page: whole rows of two, three and four."""
_NAMED = 24
"""So many shelves of a kind are named on the first page, those with most recipes; a page of their own has all."""


_NO_DATA = Html("")


class ShelfLink(Struct, frozen=True):
    """A way to a shelf: its name, where its page is, how many recipes are on it."""

    name: str
    address: str
    count: int


class ShelfGroup(Struct, frozen=True):
    """Shelves of one kind. `every` leads to the page that names them all; empty on that page itself."""

    name: str
    links: Sequence[ShelfLink]
    every: str = ""


class ListPage(Struct, frozen=True, kw_only=True):
    """One page as its template sees it; texts and addresses may be empty.

    `kind` says what the title is the name of. `searched` pages can search the library; on others `wide` leads to where
    the same recipes can be searched.
    """

    path: str
    root: str
    """Leads from the page to the library's folder."""
    title: str
    tab: str
    """What a browser calls the page."""
    canonical: str = ""
    kind: str = ""
    summary: str = ""
    cards: Sequence[Html] = ()
    groups: Sequence[ShelfGroup] = ()
    searched: bool = False
    wide: str = ""
    place: str = ""
    newer: str = ""
    older: str = ""
    data: Html = _NO_DATA
    """The cards as schema.org data."""


class PlannedPage(Struct, frozen=True):
    """A page before it is set: still without cards and data, but with the recipes on it, and how many come `before`."""

    page: ListPage
    entries: Sequence[Entry] = ()
    before: int = 0

    def key(self, dress: LibraryDress) -> str:
        """A key of all it is made from."""
        return key_of(dress.key, self.page, [dress.card_key(entry) for entry in self.entries], self.before)

    def set(self, dress: LibraryDress) -> bytes:
        """The page."""
        page, entries = self.page, self.entries
        data = Html(json_ld(item_list(entries, page.title, page.root, self.before))) if entries else _NO_DATA
        page = replace(page, cards=[dress.card(entry, page.root) for entry in entries], data=data)
        return dress.page(page, page.root, page.data, page.searched)


def library_pages(
    entries: Sequence[Entry], shelves: Mapping[Kind, Sequence[Shelf]], dress: LibraryDress
) -> dict[str, PlannedPage]:
    """The pages by path. `entries` are those listed, newest first; each of `shelves` has pages of its own."""
    pages = [*_all_pages(entries, shelves, dress)]
    for kind, row in shelves.items():
        pages.append(_kind_page(kind, row, dress))
        pages += [page for shelf in row for page in _shelf_pages(shelf, dress)]
    return {planned.page.path: planned for planned in pages}


def _all_pages(
    entries: Sequence[Entry], shelves: Mapping[Kind, Sequence[Shelf]], dress: LibraryDress
) -> Iterator[PlannedPage]:
    say = dress.words.say
    title = dress.studio or say("library.title")
    first = ListPage(
        path="index.html",
        root="",
        title=title,
        tab=title,
        summary=say("library.projects", count=len(entries)) if entries else say("library.none-yet"),
        groups=[_group(kind, row, "", dress, _NAMED) for kind, row in shelves.items() if row],
        searched=bool(entries),
    )
    return _in_parts(first, entries, dress)


def _shelf_pages(shelf: Shelf, dress: LibraryDress) -> Iterator[PlannedPage]:
    facet = next(name for name, kind in FACETS.items() if kind is shelf.kind)
    first = ListPage(
        path=f"{shelf.folder}/index.html",
        root="../../",
        title=shelf.name,
        tab=_tab(shelf.name, dress),
        kind=dress.words.say(f"library.kind.{shelf.kind.value}"),
        summary=dress.words.say("library.on-shelf", count=len(shelf.entries)),
        wide=f"../../index.html#{urlencode({facet: shelf.name})}",
    )
    return _in_parts(first, shelf.entries, dress)


def _kind_page(kind: Kind, shelves: Sequence[Shelf], dress: LibraryDress) -> PlannedPage:
    """A page that names every shelf of a kind."""
    title = dress.words.say(f"library.many.{kind.value}")
    page = ListPage(
        path=f"{kind.value}/index.html",
        root="../",
        title=title,
        tab=_tab(title, dress),
        groups=[_group(kind, shelves, "../", dress, len(shelves))],
    )
    return PlannedPage(replace(page, canonical=_canonical(page.path, dress)))


def _in_parts(first: ListPage, entries: Sequence[Entry], dress: LibraryDress) -> Iterator[PlannedPage]:
    """The pages of a long list: the first, and those it goes on on beside it."""
    folder, _, _ = first.path.rpartition("index.html")
    parts = [*batched(entries, ON_A_PAGE)] or [()]
    names = ["index.html", *(f"page-{number}.html" for number in range(2, len(parts) + 1))]
    say = dress.words.say
    for number, part in enumerate(parts, 1):
        path = folder + names[number - 1]
        page = replace(
            first,
            path=path,
            tab=say("library.named-page", title=first.tab, number=number) if number > 1 else first.tab,
            canonical=_canonical(path, dress),
            place=say("library.page-of", number=number, count=len(parts)) if len(parts) > 1 else "",
            newer=names[number - 2] if number > 1 else "",
            older=names[number] if number < len(parts) else "",
        )
        yield PlannedPage(page, part, (number - 1) * ON_A_PAGE)


def _group(kind: Kind, shelves: Sequence[Shelf], root: str, dress: LibraryDress, most: int) -> ShelfGroup:
    """The `most` shelves with most recipes, in their own order."""
    largest = sorted(shelves, key=lambda shelf: -len(shelf.entries))[:most]
    links = [
        ShelfLink(one.name, f"{root}{one.folder}/index.html", len(one.entries)) for one in shelves if one in largest
    ]
    every = "" if root else f"{kind.value}/index.html"
    return ShelfGroup(dress.words.say(f"library.many.{kind.value}"), links, every)


def _tab(title: str, dress: LibraryDress) -> str:
    return dress.words.say("library.head-of", title=title, studio=dress.studio or dress.words.say("library.title"))


def _canonical(path: str, dress: LibraryDress) -> str:
    """Where the page will lie when it is published under the studio's address."""
    return f"{dress.address}/{path.removesuffix('index.html')}" if dress.address else ""
