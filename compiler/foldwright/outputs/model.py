"""What passes through this room: what a build is asked for, what an output is made from, what was made."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from msgspec import Struct, field

from foldwright.document.model import PAGE as PAGE
from foldwright.document.model import Document
from foldwright.finding import Finding
from foldwright.measure.length import System
from foldwright.pipeline import Understood
from foldwright.recipe.model import Recipe
from foldwright.render.paper.papers import Paper
from foldwright.render.photos import ReadyPhoto

if TYPE_CHECKING:
    from foldwright.outputs.paper_notes import Note


class OnPaper(Struct, frozen=True):
    """How cards and handouts are wanted. No `papers` means the usual one of each unit system.

    `up` cards go on a sheet, with a `back` for what is needed; a card that is too long for its paper may go on a
    `larger` one. `large_print` and `pages` are for handouts (0 pages: as many as it takes), `mirror` is for templates,
    `begins` (a time of day in seconds; None for a clock that begins at nought) and `in_class` for run sheets.
    """

    papers: tuple[Paper, ...] = ()
    up: int = 1
    back: bool = False
    larger: bool = False
    large_print: bool = False
    mirror: bool = False
    pages: int = 0
    begins: int | None = None
    in_class: bool = False

    @property
    def large_papers(self) -> tuple[Paper, ...]:
        """Nobody writes notes on a small card, nor cuts out of it: those papers are asked for on account of cards."""
        return tuple(paper for paper in self.papers if not paper.small)


class BuildWish(Struct, frozen=True):
    """Which outputs, in which units, through which theme (empty: the studio's own), where pictures will stand."""

    outputs: tuple[str, ...]
    systems: tuple[System, ...]
    theme: str = ""
    pictures_at: str = ""
    on_paper: OnPaper = OnPaper()
    in_library: bool = False
    """Whether its page stands in a library: it shares style and faces with others there, and leads to them."""


class OutputSource(Struct, frozen=True):
    """All an output is made from. `texts` are the files that findings point into.

    `spelled` is the document again for each unit system, spelled for who reads papers in it.
    """

    document: Document
    spelled: Mapping[System, Document]
    understood: Understood
    photos: Mapping[str, ReadyPhoto]
    theme: str
    wish: BuildWish
    texts: Mapping[str, str]

    @property
    def recipe(self) -> Recipe:
        """The recipe as it was understood."""
        return self.understood.recipe


class MadeFiles(Struct, frozen=True):
    """The files of one output by name, all that was found, and notes of what was chosen for those on paper."""

    files: Mapping[str, bytes] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    notes: tuple[Note, ...] = ()


class Before(Struct, frozen=True):
    """What is there from a build before: the keys of those outputs whose files still stand as they were made.

    `program` is what the program itself is known by; without it nothing is compared, and nothing has a key.
    """

    program: str = ""
    keys: Mapping[str, str] = field(default_factory=dict)


class MadePart(Struct, frozen=True):
    """One output: its files and what was chosen for those on paper. Where it `stays`, its files are there already.

    Files that the same `key` would be made again need not be made; without a key nobody knows that.
    """

    key: str = ""
    files: tuple[str, ...] = ()
    notes: tuple[Note, ...] = ()
    stays: bool = False
