"""From entries to a site: everything that lies beside the folders of recipes, and what each tutorial says of others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from msgspec import Struct, field

from foldwright.document.catalogue import catalogue
from foldwright.document.spelling import language_of
from foldwright.event.facts.stock import Shelf, read_stock
from foldwright.finding import Finding
from foldwright.library.beside import address_of_library, beside
from foldwright.library.dress import library_dress
from foldwright.library.feed import PlannedFeed, feed_of
from foldwright.library.finder import finder_script
from foldwright.library.findings import about_address, about_listing, about_tags, unhushed
from foldwright.library.insets import insets_of
from foldwright.library.listing import as_of, first_names, old_names, unlisted
from foldwright.library.made_from import MadeFrom
from foldwright.library.matching import names_there
from foldwright.library.offcuts import same_sheets_as
from foldwright.library.pages import PlannedPage, library_pages
from foldwright.library.shelves import PAGED, Kind, newest_first, shelves_of
from foldwright.measure.length import System
from foldwright.outputs.entry import Entry
from foldwright.recipe.model import Studio
from foldwright.render.web.shared import shared_files

STOCK = "stock.yaml"
"""Findings call the stock list so wherever it lies."""
NOTHING_BEFORE = MadeFrom()


class LibraryWish(Struct, frozen=True):
    """What a library is made for: the studio, the look's name, the text of its stock list, the day."""

    studio: Studio
    theme: str
    today: date
    stock: str | None = None


class MadeLibrary(Struct, frozen=True):
    """`files` by path under the output folder; `insets` by slug: HTML for a tutorial's place about other recipes.
    `unlisted` are the slugs of the pages that no list leads to.

    What would come out as it was before is not among them, but named: `same_files`, `same_insets`. `made_from` is for
    the next time. `findings` are what only shows where all recipes are together, in their texts and in that of the
    stock list.
    """

    files: Mapping[str, bytes] = field(default_factory=dict)
    insets: Mapping[str, str] = field(default_factory=dict)
    unlisted: frozenset[str] = frozenset()
    findings: tuple[Finding, ...] = ()
    same_files: frozenset[str] = frozenset()
    same_insets: frozenset[str] = frozenset()
    made_from: MadeFrom = MadeFrom()


def make_library(entries: Sequence[Entry], wish: LibraryWish, before: MadeFrom = NOTHING_BEFORE) -> MadeLibrary:
    """The library of these recipes. The same entries and wish give the same bytes. Raises ThemeError.

    `before` has keys of those pages and insets that stand as this same program made them.
    """
    entries = as_of(entries, wish.today)
    listed = newest_first(entries)
    words = catalogue(language_of(wish.studio, System.IMPERIAL))
    name, address = wish.studio.name.value if wish.studio.name else "", address_of_library(wish.studio)
    shelf, amiss = read_stock(wish.stock, STOCK) if wish.stock else (Shelf((), STOCK), ())
    there = names_there(listed, shelf) if shelf.lines else ()
    shelves = {kind: shelves_of(listed, kind) for kind in Kind}
    dress = library_dress(finder_script(listed, shelves, there, words), words, name, address, wish.theme)
    # A recipe may have a look of its own, and pages that are not listed are dressed as well.
    looks = dict.fromkeys((wish.theme, *(entry.theme for entry in entries if entry.theme)))
    pages = library_pages(listed, {kind: shelves[kind] for kind in PAGED}, dress)
    always = {**shared_files(looks), **dress.files, "404.html": dress.lost()}
    names, lost = old_names(entries, {path.partition("/")[0] for path in (*always, *pages)})
    planned: dict[str, PlannedPage | PlannedFeed] = {
        **pages,
        **feed_of(listed, wish.studio, address, first_names(names)),
    }
    keys = {path: one.key(dress) for path, one in planned.items()}
    same_files = frozenset(path for path, key in keys.items() if before.files.get(path) == key)
    files = {**always, **{path: one.set(dress) for path, one in planned.items() if path not in same_files}}
    files |= beside(listed, names, pages, address)
    sheets, sheets_key, uses = same_sheets_as(listed, before)
    insets = insets_of(listed, shelves[Kind.TAG], sheets, dress)
    inset_keys = {slug: inset.key(dress) for slug, inset in insets.items()}
    same_insets = frozenset(slug for slug, key in inset_keys.items() if before.insets.get(slug) == key)
    told = (*amiss, *lost, *about_listing(entries), *about_tags(listed), *about_address(address))
    return MadeLibrary(
        files=files,
        insets={slug: inset.set(dress) for slug, inset in insets.items() if slug not in same_insets},
        unlisted=unlisted(entries),
        findings=unhushed(told, entries),
        same_files=same_files,
        same_insets=same_insets,
        made_from=MadeFrom(keys, inset_keys, sheets_key, uses),
    )
