"""From entries to a site: everything that lies beside the folders of recipes, and what each tutorial says of others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from msgspec import Struct, field

from foldwright.document.catalogue import catalogue
from foldwright.document.spelling import language_of
from foldwright.library.dress import library_dress
from foldwright.library.insets import insets_of
from foldwright.library.pages import library_pages
from foldwright.library.shelves import PAGED, Kind, newest_first, shelves_of
from foldwright.measure.length import System
from foldwright.outputs.entry import Entry
from foldwright.recipe.model import Studio
from foldwright.render.web.shared import shared_files


class LibraryWish(Struct, frozen=True):
    """What a library is made for: the studio, the look's name, the text of its stock list, the day."""

    studio: Studio
    theme: str
    today: date
    stock: str | None = None


class MadeLibrary(Struct, frozen=True):
    """`files` by path under the output folder; `insets` by slug: HTML for a tutorial's place about other recipes."""

    files: Mapping[str, bytes] = field(default_factory=dict)
    insets: Mapping[str, str] = field(default_factory=dict)


def make_library(entries: Sequence[Entry], wish: LibraryWish) -> MadeLibrary:
    """The library of these recipes. The same entries and wish give the same bytes. Raises ThemeError."""
    listed = newest_first(entries)
    words = catalogue(language_of(wish.studio, System.IMPERIAL))
    studio, address = (said.value if said else "" for said in (wish.studio.name, wish.studio.address))
    dress = library_dress(listed, (), words, studio, address, wish.theme)
    shelves = {kind: shelves_of(listed, kind) for kind in PAGED}
    # A recipe may have a look of its own, and pages that are not listed are dressed as well.
    looks = dict.fromkeys((wish.theme, *(entry.theme for entry in entries if entry.theme)))
    files = {**shared_files(looks), **dress.files, **library_pages(listed, shelves, dress), "404.html": dress.lost()}
    return MadeLibrary(files, insets_of(listed, shelves[Kind.TAG], {}, dress))
