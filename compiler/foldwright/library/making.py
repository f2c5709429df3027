"""From entries to a site: everything that lies beside the folders of recipes, and what each tutorial says of others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from msgspec import Struct, field

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
    # A recipe may have a look of its own, and pages that are not listed are dressed as well.
    looks = dict.fromkeys((wish.theme, *(entry.theme for entry in entries if entry.theme)))
    return MadeLibrary(shared_files(looks))
