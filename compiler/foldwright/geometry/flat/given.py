"""What a piece is laid from when its author gives its size or its rows, and whether the two agree."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.geometry.flat.ledger import Ledger
from foldwright.geometry.flat.rows import sum_text
from foldwright.geometry.flat.turned_shapes import wants_finished
from foldwright.measure.length import Length
from foldwright.measure.writing import plain_cross, write_exact
from foldwright.recipe.model import PanelFact, Piece

_NEAR_ENOUGH = 1e-6
"""Millimetres: far less than any author writes."""
SIZED = frozenset({"size", "inside", "across", "down"})
"""Facts that say how large a piece is; its size does not follow where one of them could not be read."""


class Given(Struct, frozen=True):
    """What a piece is laid from: its size (either side may be unknown) and its rows."""

    across: Length | None
    down: Length | None
    row_across: Sequence[PanelFact]
    row_down: Sequence[PanelFact]
    round: bool = False
    guessed: bool = False
    """A side was not said, and is taken to be as long as the other."""


def from_rows(piece: Piece, ledger: Ledger) -> Given | None:
    """Without a size the rows must say it; a side nobody speaks of is guessed so that the piece can be drawn."""
    across, down = known_sum(piece.across), known_sum(piece.down)
    if across is None and down is None:
        said = piece.unread & SIZED or wants_finished(piece)
        if not said and not any((piece.inside, piece.inside_relative, piece.relative)):
            ledger.fault("no-size", piece.name.place, piece=piece.name.value)
        return None
    if (across is None or down is None) and not piece.unread & SIZED:
        side = "across" if across is None else "down"
        ledger.fault("half-a-size", piece.name.place, piece=piece.name.value, side=side)
    return Given(
        None if piece.across else across or down,
        None if piece.down else down or across,
        piece.across,
        piece.down,
        guessed=across is None or down is None,
    )


def known_sum(panels: Sequence[PanelFact]) -> Length | None:
    """The sum of a row without rests; None when there is no row or it cannot be known."""
    said = [panel.length for panel in panels if panel.length is not None]
    if not said or len(said) < len(panels):
        return None
    return Length(sum((length.mm for length in said), Fraction(0)), said[0].unit)


def fits_swapped(piece: Piece, across: Length, down: Length) -> bool:
    """Whether the rows disagree with the size as written and agree with it the other way round."""
    if across == down or not (piece.across or piece.down) or _fits_plainly(piece, across, down):
        return False
    sums = known_sum(piece.across), known_sum(piece.down)
    if any(known is None and panels for known, panels in zip(sums, (piece.across, piece.down), strict=True)):
        return False
    sizes = [(known, size, other) for known, size, other in zip(sums, (across, down), (down, across), strict=True)]
    told = [one for one in sizes if one[0]]
    return any(known != size for known, size, _ in told) and all(known == other for known, _, other in told)


def _fits_plainly(piece: Piece, across: Length, down: Length) -> bool:
    """Whether the rows add up to the size as written, near enough to look no further; exact sums come later."""
    for panels, size in ((piece.across, across), (piece.down, down)):
        total = 0.0
        for panel in panels:
            if panel.length is None:
                return False
            total += float(panel.length.mm)
        if panels and abs(total - float(size.mm)) > _NEAR_ENOUGH:
            return False
    return True


def tell_swapped(piece: Piece, across: Length, down: Length, ledger: Ledger) -> None:
    """Tell that the panels of one side come to the size of the other. The piece has a size."""
    assert piece.size is not None
    sums = [(known_sum(row), row) for row in (piece.across, piece.down)]
    side = "across" if sums[0][0] else "down"
    total, row = sums[0] if sums[0][0] else sums[1]
    one, other = write_exact(across), write_exact(down)
    ledger.misfit(
        "size-the-other-way-round",
        piece.size.place,
        piece=piece.name.value,
        side=side,
        sum_text=sum_text([panel.length for panel in row if panel.length]),
        sum=total,
        size=plain_cross((one, other)),
        swapped=plain_cross((other, one)),
    )
