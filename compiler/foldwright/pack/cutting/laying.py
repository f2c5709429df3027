"""Patterns as they lie on a sheet: what falls off comes off first, in one piece; rows are as narrow as their parts."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from foldwright.pack.cutting.model import Arrangement, CutLayout, Rectangle, Stock
from foldwright.pack.cutting.patterns import Sketch, in_row


def lay(sketch: Sketch, width: Fraction, height: Fraction, scale: Fraction) -> Rectangle:
    """The sketch in a rectangle at least as large; `scale` is how many of its units go into a millimetre."""
    across, down = Fraction(sketch.width) / scale, Fraction(sketch.height) / scale
    if sketch.row is Arrangement.ACROSS and down < height:
        return _beside(lay(sketch, width, down, scale), Arrangement.DOWN, width, height)
    if sketch.row is Arrangement.DOWN and across < width:
        return _beside(lay(sketch, across, height, scale), Arrangement.ACROSS, width, height)
    if sketch.row is None:
        piece = Rectangle(across, down, kind=sketch.kind)
        strip = _beside(piece, Arrangement.DOWN, across, height)
        return _beside(strip, Arrangement.ACROSS, width, height)
    parts: list[Rectangle] = []
    for one in sketch.parts:
        own = Fraction(one.width if sketch.row is Arrangement.ACROSS else one.height) / scale
        parts.append(lay(one, own, height, scale) if sketch.row is Arrangement.ACROSS else lay(one, width, own, scale))
    return _with_rest(sketch.row, parts, width, height)


def _beside(part: Rectangle, row: Arrangement, width: Fraction, height: Fraction) -> Rectangle:
    """A part with what is left of a rectangle beside it; alone where nothing is left."""
    if (part.width, part.height) == (width, height):
        return part
    return _with_rest(row, [part], width, height)


def _with_rest(row: Arrangement, parts: list[Rectangle], width: Fraction, height: Fraction) -> Rectangle:
    taken = sum((part.along(row) for part in parts), Fraction(0))
    left = (width if row is Arrangement.ACROSS else height) - taken
    if left:
        parts = [*parts, Rectangle(left, height) if row is Arrangement.ACROSS else Rectangle(width, left)]
    return parts[0] if len(parts) == 1 else Rectangle(width, height, row=row, parts=tuple(parts))


def layout(stock: Stock, index: int, sketch: Sketch, copies: int, scale: Fraction) -> CutLayout:
    """So many sheets of a stock cut alike."""
    width, height = stock.room
    return CutLayout(index, lay(sketch, width, height, scale), copies)


def without(sketch: Sketch, kind: int, number: int) -> Sketch | None:
    """The sketch with so many pieces of a kind fewer (as many as there are); None when nothing is left of it."""
    return _without(sketch, kind, iter(range(number)))


def _without(sketch: Sketch, kind: int, fewer: Iterator[int]) -> Sketch | None:
    if sketch.row is None:
        return None if sketch.kind == kind and next(fewer, None) is not None else sketch
    # From the end, so that what is left stays together.
    parts = [part for one in reversed(sketch.parts) if (part := _without(one, kind, fewer))]
    return in_row(sketch.row, parts[::-1]) if parts else None
