"""Patterns as they lie on a sheet: what falls off comes off first, in one piece; rows are as narrow as their parts.

Where no pattern is found, sheet after sheet is filled with one kind: always possible, and never the fewest for sure.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction

from foldwright.pack.cutting.model import Arrangement, CutLayout, Cutting, PieceKind, Rectangle, Sides, Stock
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


def gives(cutting: Cutting, kinds: Sequence[PieceKind], stocks: Sequence[Stock]) -> bool:
    """Whether just the wanted pieces come of it, but those told to be missing, from sheets that are there."""
    given: Counter[int] = Counter(dict(cutting.short))
    for number in cutting.too_large:
        given[number] += kinds[number].count
    used: Counter[int] = Counter()
    for one in cutting.layouts:
        whole = one.whole
        if not 0 <= one.stock < len(stocks) or (whole.width, whole.height) != stocks[one.stock].room:
            return False
        used[one.stock] += one.copies
        for kind, sides in whole.laid():
            if not 0 <= kind < len(kinds) or sides not in kinds[kind].ways:
                return False
            given[kind] += one.copies
    there = all(stock.copies is None or used[number] <= stock.copies for number, stock in enumerate(stocks))
    return there and all(given[number] == kind.count for number, kind in enumerate(kinds))


def one_kind_a_sheet(kinds: Sequence[PieceKind], stocks: Sequence[Stock], too_large: Sequence[int]) -> Cutting:
    """Off what is owned, then off the sheets that are cheapest for it."""
    layouts: list[CutLayout] = []
    short: list[tuple[int, int]] = []
    left = [stock.copies for stock in stocks]
    for number, kind in enumerate(kinds):
        wanted = 0 if number in too_large else kind.count
        grids = [(at, way, *_grid(way, stock.room)) for at, stock in enumerate(stocks) for way in kind.ways]
        usable = [grid for grid in grids if grid[2] * grid[3]]
        usable.sort(key=lambda grid: (stocks[grid[0]].copies is None, stocks[grid[0]].cost / (grid[2] * grid[3])))
        for at, way, across, down in usable:
            for each in (across * down, wanted % (across * down)):
                copies = wanted // each if each else 0
                there = left[at]
                if there is not None:
                    copies = min(copies, there)
                    left[at] = there - copies
                if copies:
                    layouts.append(_filled(stocks[at], at, number, way, across, each, copies))
                    wanted -= copies * each
        if wanted:
            short.append((number, wanted))
    cost = sum((one.copies * stocks[one.stock].cost for one in layouts), Fraction(0))
    return Cutting(tuple(layouts), cost, Fraction(0), False, tuple(too_large), tuple(short), counted=True)


def _grid(way: Sides, room: Sides) -> tuple[int, int]:
    return int(max(Fraction(0), room[0]) // way[0]), int(max(Fraction(0), room[1]) // way[1])


def _filled(stock: Stock, at: int, kind: int, way: Sides, across: int, each: int, copies: int) -> CutLayout:
    """So many sheets with rows of the kind, the last row as long as it takes."""
    parts = way[0].denominator * way[1].denominator
    piece = Sketch(int(way[0] * parts), int(way[1] * parts), kind)
    rows = [in_row(Arrangement.ACROSS, [piece] * min(across, each - done)) for done in range(0, each, across)]
    return layout(stock, at, in_row(Arrangement.DOWN, rows), copies, Fraction(parts))
