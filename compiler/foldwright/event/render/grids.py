"""How many things of one size go on a paper, and where: labels as their sheets are sold, cards to be cut. All exact."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from foldwright.render.paper.papers import Paper

EDGE = Fraction(5)
"""What printers leave blank at every edge, in millimetres (common practice, no source)."""
LEAST_LABEL, MOST_LABEL = 20, 200
"""Millimetres: a smaller label holds no warning that can be read, a larger one is a sheet."""


class Across(Struct, frozen=True):
    """One direction of a sheet in millimetres. No `count`: as many as go on it; no `margin`: in the middle of it."""

    size: Fraction
    count: int | None = None
    margin: Fraction | None = None
    gap: Fraction = Fraction(0)


class LabelSheet(Struct, frozen=True):
    """A sheet of labels by measure: from its left edge, and from its top."""

    across: Across
    down: Across

    @property
    def die_cut(self) -> bool:
        """Whether the labels are cut already, so that no lines are printed to cut along."""
        return self.across.margin is not None or self.down.margin is not None


class Overhang(Struct, frozen=True):
    """A direction in which a sheet does not go on its paper: what it comes to, and what there is, in millimetres."""

    across: bool
    margin: Fraction
    count: int
    size: Fraction
    gap: Fraction
    total: Fraction
    extent: Fraction


class GridRow(Struct, frozen=True):
    """Where the things of one direction begin."""

    starts: tuple[Fraction, ...]
    size: Fraction


class LabelGrid(Struct, frozen=True):
    """Places of one size on a paper, row by row. All in millimetres."""

    paper: Paper
    columns: GridRow
    rows: GridRow
    lined: bool

    @property
    def width(self) -> Fraction:
        return self.columns.size

    @property
    def height(self) -> Fraction:
        return self.rows.size

    @property
    def places(self) -> tuple[tuple[float, float], ...]:
        """The upper left corners, in the order in which they are filled."""
        return tuple((float(left), float(top)) for top in self.rows.starts for left in self.columns.starts)

    @property
    def page(self) -> tuple[float, float]:
        return float(self.paper.width_mm), float(self.paper.height_mm)


def plain_sheet(width: Fraction, height: Fraction) -> LabelSheet:
    """As many of a size as go on a paper, in the middle of it, with nothing between them."""
    return LabelSheet(Across(width), Across(height))


def grid_of(paper: Paper, sheet: LabelSheet) -> LabelGrid | Overhang:
    """The sheet on a paper, or in which direction it goes over the edge."""
    columns = _row(sheet.across, paper.width_mm, True)
    rows = _row(sheet.down, paper.height_mm, False)
    if isinstance(columns, Overhang):
        return columns
    return rows if isinstance(rows, Overhang) else LabelGrid(paper, columns, rows, not sheet.die_cut)


def _row(wish: Across, extent: Fraction, across: bool) -> GridRow | Overhang:
    step = wish.size + wish.gap
    edge = EDGE if wish.margin is None else wish.margin
    count = max(1, int((extent - 2 * edge + wish.gap) // step)) if wish.count is None else wish.count
    long = count * step - wish.gap
    margin = max(Fraction(0), (extent - long) / 2) if wish.margin is None else wish.margin
    if margin + long > extent:
        return Overhang(across, margin, count, wish.size, wish.gap, margin + long, extent)
    return GridRow(tuple(margin + number * step for number in range(count)), wish.size)
