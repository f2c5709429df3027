"""Which page goes where on sheets that are laid in one another, folded in the middle and stapled on the fold."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.render.paper.imposing import MARK_SHOWS_MM
from foldwright.render.paper.papers import Paper, sheets_for

PAGES_OF_SHEET = 4
PAPER_THICKNESS_MM = Fraction(1, 10)
"""Copy paper of 80 g/m2 is about so thick (common practice, no source)."""
MOST_SHEETS = 20
"""What a long stapler goes through and a fold bears, of copy paper (common practice, no source)."""
_MARK_GAP_MM = Fraction(1)
"""Between a mark and the page, so that none stays on it."""
STAPLES = (Fraction(1, 4), Fraction(3, 4))
"""Where staples go, as parts of the fold's length (common practice, no source)."""


class SaddleSide(Struct, frozen=True):
    """One side of a sheet: the numbers of its left and its right page, from 1; 0 is a blank one."""

    left: int
    right: int


class SaddleSheet(Struct, frozen=True):
    """One sheet, the outermost first. `creep_mm` is by how much its pages are moved towards the fold."""

    front: SaddleSide
    back: SaddleSide
    creep_mm: Fraction


def padded(pages: int) -> tuple[int, ...]:
    """The pages in their order with the blanks that are wanting to fill sheets, before the last one: it is the back."""
    blanks = (0,) * (-pages % PAGES_OF_SHEET)
    return (*range(1, pages), *blanks, pages)


def saddle_sheets(pages: int, thickness_mm: Fraction = PAPER_THICKNESS_MM) -> tuple[SaddleSheet, ...]:
    """The sheets of a booklet of so many pages, the outermost first.

    Each sheet is pushed outwards by all that lie around it: by the sum of their thicknesses, so that of n sheets the
    innermost sticks out by (n - 1) x thickness. Its pages are moved towards the fold by as much, so that all outer
    margins are alike once the edge is trimmed. (Common practice, no source.)
    """
    order = padded(pages)
    last = len(order) - 1
    return tuple(
        SaddleSheet(
            SaddleSide(order[last - 2 * at], order[2 * at]),
            SaddleSide(order[2 * at + 1], order[last - 2 * at - 1]),
            at * thickness_mm,
        )
        for at in range(len(order) // PAGES_OF_SHEET)
    )


class SheetLine(Struct, frozen=True):
    """A straight line to cut, fold or staple by, in millimetres from the sheet's upper left corner."""

    left: Fraction
    top: Fraction
    right: Fraction
    bottom: Fraction
    dashed: bool = False


class SaddleFormat(Struct, frozen=True):
    """Two pages side by side on a sheet that lies on its side: where the fold is, and where the pages begin."""

    sheet: Paper
    page: Paper

    @property
    def width_mm(self) -> Fraction:
        return self.sheet.height_mm

    @property
    def height_mm(self) -> Fraction:
        return self.sheet.width_mm

    @property
    def fold_mm(self) -> Fraction:
        return self.width_mm / 2

    @property
    def left_mm(self) -> Fraction:
        return self.fold_mm - self.page.width_mm

    @property
    def top_mm(self) -> Fraction:
        return (self.height_mm - self.page.height_mm) / 2

    @property
    def holds(self) -> bool:
        return self.left_mm >= 0 and self.top_mm >= 0

    @property
    def marks(self) -> tuple[SheetLine, ...]:
        """Outside the pages alone: the fold, their corners, and level with the staples; none where there is no room."""
        left, right = self.left_mm, self.width_mm - self.left_mm
        top, bottom = self.top_mm, self.height_mm - self.top_mm
        found: list[SheetLine] = []
        least = MARK_SHOWS_MM + _MARK_GAP_MM
        if self.top_mm >= least:
            for across, dashed in ((left, False), (self.fold_mm, True), (right, False)):
                found.append(SheetLine(across, Fraction(0), across, top - _MARK_GAP_MM, dashed))
                found.append(SheetLine(across, bottom + _MARK_GAP_MM, across, self.height_mm, dashed))
        if self.left_mm >= least:
            staples = [top + part * self.page.height_mm for part in STAPLES]
            for down in (top, *staples, bottom):
                found.append(SheetLine(Fraction(0), down, left - _MARK_GAP_MM, down, down in staples))
                found.append(SheetLine(right + _MARK_GAP_MM, down, self.width_mm, down, down in staples))
        return tuple(found)


def saddle_format(page: Paper, studio_papers: Sequence[str] = ()) -> SaddleFormat | None:
    """The first sheet, in order of liking, that holds two of these pages side by side; None if none does."""
    every = (SaddleFormat(sheet, page) for sheet in sheets_for(page, studio_papers))
    return next((one for one in every if one.holds), None)
