"""What lies beside the pages of a library for readers of other kinds: a map, and the way on from old names."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from foldwright.library.for_robots import addresses_of, robots, sitemap
from foldwright.library.listing import OldName, redirects
from foldwright.outputs.entry import Entry
from foldwright.recipe.model import Studio


def beside(
    entries: Sequence[Entry], names: Sequence[OldName], pages: Iterable[str], address: str
) -> Mapping[str, bytes]:
    """The files by path. `entries` are those listed, newest first; `pages` the paths of the library's own pages.

    Without the library's address there are only those that need none.
    """
    files = redirects(names)
    if address:
        files |= sitemap(addresses_of(entries, list(pages), address), address)
        files |= robots(address)
    return files


def address_of_library(studio: Studio) -> str:
    """The address of the library with a slash at its end; empty where the studio has none on the web."""
    said = studio.address.value if studio.address else ""
    return f"{said.rstrip('/')}/" if said.startswith(("http://", "https://")) else ""
