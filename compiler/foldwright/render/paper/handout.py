"""The handout for a class: its words proofed once, fitted by arithmetic, laid out to confirm, made a PDF."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.in_class import ClassDocument, class_document, whole_document
from foldwright.document.model import Document, PlacedPicture
from foldwright.measure.length import System
from foldwright.render.paper.bound import BoundPlace
from foldwright.render.paper.card import Misfit
from foldwright.render.paper.class_content import ClassContent
from foldwright.render.paper.class_fitting import BOUND, LARGE, USUAL
from foldwright.render.paper.class_press import Press
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.typesetting import Typeset
from foldwright.render.paper.versions import Version
from foldwright.render.photos import ReadyPhoto


class Handout(Struct, frozen=True):
    """A handout that came out: its PDF, how it was set, the pictures there was no room for.

    `sheet` is the one for the class, of which it is made; `left_out` counts steps as the whole sheet does. `notes_mm`
    is how much room there is for notes, on the last page. Lists are whole in any version, if only run together.
    """

    pdf: bytes
    pages: int
    size_pt: float
    document: Document
    version: Version
    left_out: tuple[PlacedPicture, ...]
    notes_mm: float


class Chapter(Struct, frozen=True):
    """A recipe's pages in a book, laid out, and how they were set."""

    laid: Typeset
    size_pt: float
    document: Document
    version: Version
    left_out: tuple[PlacedPicture, ...]


class NoClass(Struct, frozen=True):
    """No step is done in class, so that there is nothing to hand out."""


def handout(
    document: Document,
    system: System,
    theme: str,
    photos: Mapping[str, ReadyPhoto],
    paper: Paper,
    large_print: bool = False,
    most: int = 0,
) -> Handout | Misfit | NoClass:
    """The handout on one paper, or why there is none.

    It has all there is to say, on one sheet where that can be; with `most` it has no more pages than that, and what
    matters least is left out.
    """
    made = class_document(document)
    if made is None:
        return NoClass()
    content, manner = ClassContent(made, system, large_print), LARGE if large_print else USUAL
    out = Press(content, theme, photos, paper, manner, most).pressed()
    if isinstance(out, Misfit):
        return _misfit_of_whole(out, document, made)
    left_out = tuple(map(made.whole, out.left_out))
    pages = len(out.laid.boxes)
    return Handout(out.laid.pdf(), pages, out.size_pt, made.document, out.version, left_out, out.notes_mm)


def chapter(
    document: Document, system: System, theme: str, photos: Mapping[str, ReadyPhoto], paper: Paper, place: BoundPlace
) -> Chapter | Misfit:
    """The pages of a whole recipe in a book, set as a handout is, or why there are none."""
    made = whole_document(document)
    out = Press(ClassContent(made, system), theme, photos, paper, BOUND, 0, place).pressed()
    if isinstance(out, Misfit):
        return _misfit_of_whole(out, document, made)
    return Chapter(out.laid, out.size_pt, document, out.version, out.left_out)


def _misfit_of_whole(out: Misfit, document: Document, made: ClassDocument) -> Misfit:
    """With the blocks called as in the whole sheet."""
    names = _whole_names(document, made)
    missing = tuple(replace(one, block=names.get(one.block, one.block)) for one in out.unprintable)
    long = out.too_long
    too_long = long and replace(
        long,
        too_wide=names.get(long.too_wide, long.too_wide),
        longest=tuple((names.get(block, block), count) for block, count in long.longest),
    )
    return Misfit(missing, too_long)


def _whole_names(document: Document, made: ClassDocument) -> dict[str, str]:
    """The blocks of a handout by the names that they have in the whole sheet."""
    steps = {f"step-{number}": f"step-{whole}" for number, whole in enumerate(made.numbers, 1)}
    sections = {
        f"section-{number}": f"section-{document.sections.index(section)}"
        for number, section in enumerate(made.document.sections)
    }
    return {**steps, **sections, "supplies": "needs", "tools": "needs", "ready": "pieces", "notes": "head"}
