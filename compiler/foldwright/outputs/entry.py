"""What a library knows of one recipe: enough to list, find and compare it without compiling it again."""

from __future__ import annotations

from msgspec import Struct

from foldwright.document.words import plain
from foldwright.outputs.model import OutputSource


class PictureSize(Struct, frozen=True):
    """A file of the recipe's folder with the picture in one size, in pixels."""

    file: str
    width: int
    height: int


class EntryPicture(Struct, frozen=True):
    """The finished thing for a list: the same picture in sizes, the smallest first, and what it shows."""

    sizes: tuple[PictureSize, ...]
    shows: str


class Need(Struct, frozen=True):
    """A supply by the name it has in the recipe, and what may stand in for it."""

    name: str
    instead: tuple[str, ...] = ()
    optional: bool = False


class Entry(Struct, frozen=True):
    """One recipe as a library lists it; texts are plain and may be empty.

    `slug` is the folder of its pages. `listed` is false for what is built and not shown: a draft, or a recipe whose day
    of publication is not said or has not come.
    """

    slug: str
    title: str
    summary: str = ""
    level: str = ""
    minutes: int = 0
    """Hands-on time for one making and getting ready, rounded up."""
    tags: tuple[str, ...] = ()
    seasons: tuple[str, ...] = ()
    forms: tuple[str, ...] = ()
    papers: tuple[str, ...] = ()
    needs: tuple[Need, ...] = ()
    words: tuple[str, ...] = ()
    picture: EntryPicture | None = None
    published: str = ""
    """The day as ISO 8601 has it."""
    listed: bool = True
    theme: str = ""
    """The look of its page: a name, or the folder of one of the user's own."""


def entry_of(source: OutputSource) -> Entry:
    """The entry of a compiled recipe."""
    head, totals = source.document.head, source.document.totals
    seconds = totals.hands_on.seconds + (totals.get_ready.seconds if totals.get_ready else 0)
    return Entry(
        slug=source.document.slug,
        title=head.title,
        summary=plain(head.summary, source.document.system),
        level=head.level,
        minutes=-(-seconds // 60),
        theme=source.theme,
    )
