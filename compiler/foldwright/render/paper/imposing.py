"""Several cards on one sheet, to be cut apart along straight lines with a trimmer.

The cards stand upright in a plain grid in the middle of the sheet, edge to edge, so that one cut parts two rows or
two columns; the sheet may lie on its side. All lengths are exact millimetres from the sheet's upper left corner, as
the sheet is printed.

Marks show where to cut, at both ends of each cut. Each lies on its cut, from the sheet's edge inwards, and so is a
card's whole margin away from anything printed on a card. The cuts between the cards come first: those along the edge
take the marks away.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum
from fractions import Fraction

from msgspec import Struct

from foldwright.render.paper.papers import Paper

BLANK_EDGE_MM = Fraction(6)
"""As far from the edge printers at home may print nothing (common practice, no source)."""
MARK_SHOWS_MM = Fraction(3)
"""How much of a mark is seen even then; enough to lay a ruler or a trimmer's rail to (common practice, no source)."""
MARK_MM = BLANK_EDGE_MM + MARK_SHOWS_MM
MARK_WIDTH_MM = 0.1
"""A hairline."""
SLIVER_MM = Fraction(1)
"""So narrow a strip of waste stays on the card, since no trimmer takes it off cleanly (common practice, no source).

Half a sheet of the A series is up to 1/2 mm larger than the next size, which is rounded down.
"""


class FlipEdge(Enum):
    """The edge of the sheet about which it is turned to print its back, as printers' menus call it."""

    LONG = "long"
    SHORT = "short"


class Spot(Struct, frozen=True):
    """Where a card's upper left corner comes to lie, mm."""

    left: Fraction
    top: Fraction


class CropMark(Struct, frozen=True):
    """A straight line from one point to another, upright or level, mm."""

    left: Fraction
    top: Fraction
    right: Fraction
    bottom: Fraction


class Imposition(Struct, frozen=True):
    """Cards on a sheet. `width_mm` and `height_mm` are the sheet's as it is printed: wider than high if `turned`.

    `cells` go row by row. `backs[n]` is where, on the sheet's back, the back of the card at `cells[n]` is printed,
    upright as well: the sheet is turned over from side to side, as a page is, so the columns change places. Printers
    call that flipping on `back_edge`.
    """

    sheet: Paper
    turned: bool
    width_mm: Fraction
    height_mm: Fraction
    across: int
    down: int
    cells: tuple[Spot, ...]
    backs: tuple[Spot, ...]
    back_edge: FlipEdge
    marks: tuple[CropMark, ...]


class _CardRow(Struct, frozen=True):
    """One direction of the grid: `number` cards of `size` in the middle of `extent`, all mm."""

    number: int
    size: Fraction
    extent: Fraction

    @property
    def waste(self) -> Fraction:
        """What is left over at each end; negative if they do not fit."""
        return (self.extent - self.number * self.size) / 2

    @property
    def starts(self) -> tuple[Fraction, ...]:
        return tuple(self.waste + place * self.size for place in range(self.number))

    @property
    def cuts(self) -> tuple[Fraction, ...]:
        between = self.starts[1:]
        return between if self.waste <= SLIVER_MM else (self.waste, *between, self.extent - self.waste)

    @property
    def hidden(self) -> bool:
        """Whether its outer cuts run where a printer may print nothing, so that their marks may be missing."""
        return SLIVER_MM < self.waste < BLANK_EDGE_MM

    @property
    def mark_ends(self) -> tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]:
        """From where to where the marks go that lie along this direction."""
        return (Fraction(0), MARK_MM), (self.extent - MARK_MM, self.extent)


class _CardGrid(Struct, frozen=True):
    turned: bool
    columns: _CardRow
    rows: _CardRow

    @property
    def fits(self) -> bool:
        return self.columns.waste >= 0 and self.rows.waste >= 0

    @property
    def trouble(self) -> tuple[int, int]:
        """What makes one grid worse than another on the same sheet: cuts that may show no marks, then cuts at all."""
        return self.columns.hidden + self.rows.hidden, len(self.columns.cuts) + len(self.rows.cuts)


def impose(card: Paper, up: int, sheets: Sequence[Paper]) -> Imposition | None:
    """`up` cards (1 or more) on the first of these sheets that holds them; None if none does.

    `sheets` are in order of liking (`papers.sheets_for`). Of the grids that fit a sheet, the one with the fewest cuts
    is taken, an upright sheet before one on its side.
    """
    for sheet in sheets:
        if fitting := [grid for grid in _grids(card, up, sheet) if grid.fits]:
            return _imposed(sheet, min(fitting, key=lambda grid: grid.trouble))
    return None


def _grids(card: Paper, up: int, sheet: Paper) -> Iterator[_CardGrid]:
    """Every way to lay out that many, in order of liking where all else is equal."""
    shapes = [(across, up // across) for across in range(1, up + 1) if up % across == 0]
    squarest_first = sorted(shapes, key=lambda shape: (abs(shape[0] - shape[1]), -shape[0]))
    for turned in (False, True):
        width, height = (sheet.height_mm, sheet.width_mm) if turned else (sheet.width_mm, sheet.height_mm)
        for across, down in squarest_first:
            yield _CardGrid(turned, _CardRow(across, card.width_mm, width), _CardRow(down, card.height_mm, height))


def _imposed(sheet: Paper, grid: _CardGrid) -> Imposition:
    columns, rows = grid.columns, grid.rows
    return Imposition(
        sheet=sheet,
        turned=grid.turned,
        width_mm=columns.extent,
        height_mm=rows.extent,
        across=columns.number,
        down=rows.number,
        cells=tuple(Spot(left, top) for top in rows.starts for left in columns.starts),
        backs=tuple(Spot(left, top) for top in rows.starts for left in reversed(columns.starts)),
        # The axis the sheet is turned about stands upright: beside it is the long edge unless the sheet lies.
        back_edge=FlipEdge.SHORT if grid.turned else FlipEdge.LONG,
        marks=tuple(_marks(columns, rows)),
    )


def _marks(columns: _CardRow, rows: _CardRow) -> Iterator[CropMark]:
    for left in columns.cuts:
        for top, bottom in rows.mark_ends:
            yield CropMark(left, top, left, bottom)
    for top in rows.cuts:
        for left, right in columns.mark_ends:
            yield CropMark(left, top, right, top)


def marks_svg(imposition: Imposition) -> str:
    """The marks as a picture of the whole sheet."""
    wide, high = float(imposition.width_mm), float(imposition.height_mm)
    lines = "".join(
        f"M{float(mark.left):.3f} {float(mark.top):.3f}L{float(mark.right):.3f} {float(mark.bottom):.3f}"
        for mark in imposition.marks
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:.3f}mm" height="{high:.3f}mm" '
        f'viewBox="0 0 {wide:.3f} {high:.3f}"><path d="{lines}" fill="none" stroke="#000" '
        f'stroke-width="{MARK_WIDTH_MM}"/></svg>'
    )
