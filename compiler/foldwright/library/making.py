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
from foldwright.library.findings import about_address, about_listing, about_tags, unhushed
from foldwright.library.insets import insets_of
from foldwright.library.listing import as_of, old_names, unlisted
from foldwright.library.matching import names_there
from foldwright.library.offcuts import same_sheets
from foldwright.library.pages import library_pages
from foldwright.library.shelves import PAGED, Kind, newest_first, shelves_of
from foldwright.measure.length import System
from foldwright.outputs.entry import Entry
from foldwright.recipe.model import Studio
from foldwright.render.web.shared import shared_files

STOCK = "stock.yaml"
"""Findings call the stock list so wherever it lies."""


class LibraryWish(Struct, frozen=True):
    """What a library is made for: the studio, the look's name, the text of its stock list, the day."""

    studio: Studio
    theme: str
    today: date
    stock: str | None = None


class MadeLibrary(Struct, frozen=True):
    """`files` by path under the output folder; `insets` by slug: HTML for a tutorial's place about other recipes.
    `unlisted` are the slugs of the pages that no list leads to.

    `findings` are what only shows where all recipes are together, in their texts and in that of the stock list.
    """

    files: Mapping[str, bytes] = field(default_factory=dict)
    insets: Mapping[str, str] = field(default_factory=dict)
    unlisted: frozenset[str] = frozenset()
    findings: tuple[Finding, ...] = ()


def make_library(entries: Sequence[Entry], wish: LibraryWish) -> MadeLibrary:
    """The library of these recipes. The same entries and wish give the same bytes. Raises ThemeError."""
    entries = as_of(entries, wish.today)
    listed = newest_first(entries)
    words = catalogue(language_of(wish.studio, System.IMPERIAL))
    name, address = wish.studio.name.value if wish.studio.name else "", address_of_library(wish.studio)
    shelf, amiss = read_stock(wish.stock, STOCK) if wish.stock else (Shelf((), STOCK), ())
    there = names_there(listed, shelf) if shelf.lines else ()
    dress = library_dress(listed, there, words, name, address, wish.theme)
    shelves = {kind: shelves_of(listed, kind) for kind in PAGED}
    # A recipe may have a look of its own, and pages that are not listed are dressed as well.
    looks = dict.fromkeys((wish.theme, *(entry.theme for entry in entries if entry.theme)))
    pages = library_pages(listed, shelves, dress)
    files = {**shared_files(looks), **dress.files, **pages, "404.html": dress.lost()}
    names, lost = old_names(entries, {path.partition("/")[0] for path in files})
    files |= beside(listed, names, pages, wish.studio, words)
    told = (*amiss, *lost, *about_listing(entries), *about_tags(listed), *about_address(address))
    insets = insets_of(listed, shelves[Kind.TAG], same_sheets(listed), dress)
    return MadeLibrary(files, insets, unlisted(entries), unhushed(told, entries))
