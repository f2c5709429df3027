"""A layout as it is worked at the trimmer: rows cut so that the stop is set seldom, ragged edges left to fall off.

Of a sheet with ragged edges two that meet are squared up by eye, without the stop. Everything is measured from those;
the edges that face them fall off last, as part of what is beyond.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from foldwright.pack.cutting.model import Arrangement, Rectangle


def as_worked(whole: Rectangle, trim: Fraction, step: Fraction) -> Rectangle:
    """The tree of the cuts. `whole` is the room between all four edges, `trim` how far in each is ragged.

    What comes back is as large as the sheet when its two edges are squared up. `step` is the finest mark on the scale
    of the stop, in millimetres.
    """
    part = plain(whole)
    if not trim:
        return part
    first = part.row or Arrangement.ACROSS
    return _ragged(_ragged(part, first, trim, step), first.other, trim, step)


def plain(part: Rectangle) -> Rectangle:
    """Alike columns side by side in a row below others are cut as rows too: one setting of the stop less."""
    if part.row is None:
        return part
    inner: list[Rectangle] = []
    for one in map(plain, part.parts):
        grid = _turned(one) if one.row is part.row.other else one
        inner += grid.parts if grid.row is part.row else [grid]
    return _in_row(part.row, inner)


def extent(part: Rectangle, row: Arrangement) -> Fraction:
    """How far a part reaches, in millimetres, the way its row runs."""
    return part.width if row is Arrangement.ACROSS else part.height


def _turned(part: Rectangle) -> Rectangle:
    """Columns of pieces as rows, in the same places, where all columns are alike; what falls off comes last."""
    first = part.parts[0]
    if part.row is None or first.row is not part.row.other or any(one != other for one, other in pairwise(part.parts)):
        return part
    last = first.parts[-1]
    if any(one.kind is None for one in first.parts if one is not last) or last.row is not None:
        return part
    return _in_row(part.row.other, [_in_row(part.row, [one] * len(part.parts)) for one in first.parts])


def _in_row(row: Arrangement, parts: list[Rectangle]) -> Rectangle:
    """A row of parts; rows that run the same way become one, and so does waste that lies together."""
    flat = [inner for part in parts for inner in (part.parts if part.row is row else (part,))]
    long = sum((extent(part, row) for part in flat), Fraction(0))
    width, height = (long, flat[0].height) if row is Arrangement.ACROSS else (flat[0].width, long)
    if all(part.is_offcut for part in flat):
        return Rectangle(width, height)
    return Rectangle(width, height, row=row, parts=tuple(flat))


def _ragged(part: Rectangle, row: Arrangement, trim: Fraction, step: Fraction) -> Rectangle:
    """The part with so much more of waste at its far end."""
    waste = Rectangle(trim, part.height) if row is Arrangement.ACROSS else Rectangle(part.width, trim)
    longer = (
        (part.width + waste.width, part.height)
        if row is Arrangement.ACROSS
        else (part.width, part.height + waste.height)
    )
    if part.is_offcut:
        return Rectangle(*longer)
    if part.row is row and part.parts[-1].is_offcut:
        return Rectangle(*longer, row=row, parts=(*part.parts[:-1], _ragged(part.parts[-1], row, trim, step)))
    if part.row is row.other and (_full(part, row) <= 1 or extent(part, row) % step):
        return Rectangle(*longer, row=part.row, parts=tuple(_ragged(one, row, trim, step) for one in part.parts))
    return _in_row(row, [part, waste])


def _full(part: Rectangle, row: Arrangement) -> int:
    """How many of its parts would need a cut of their own to lose a ragged end."""
    return sum(not _ends_in_waste(one, row) for one in part.parts)


def _ends_in_waste(part: Rectangle, row: Arrangement) -> bool:
    if part.row is row:
        return part.parts[-1].is_offcut
    return part.is_offcut or (part.row is not None and not _full(part, row))
