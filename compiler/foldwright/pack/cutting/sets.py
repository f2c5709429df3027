"""How many whole sets of one or two pieces come out of one sheet by straight cuts, however these are mixed.

What area allows is a bound that takes no time, and plain strips often reach it. Where they do not, tables of `patterns`
answer exactly: of one piece, what a sheet is worth; of two, for every size the most of the second beside so many of the
first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import product
from math import lcm
from typing import TYPE_CHECKING

from foldwright.pack.cutting.model import Arrangement, Sides
from foldwright.pack.cutting.patterns import Patterns, TooFineError, cuts_at, places_of

if TYPE_CHECKING:
    import numpy

    type Values = numpy.ndarray[tuple[int, int], numpy.dtype[numpy.int64]]
    type Table = numpy.ndarray[tuple[int, int, int], numpy.dtype[numpy.int16]]

_NONE = -10_000
"""There is no way; sums with it stay below nothing."""

type _Whole = tuple[int, int]


def sets_at_most(pieces: Sequence[Sides], sheet: Sides) -> Fraction:
    """More sets than this no sheet gives, by area and by each piece's own sides; a part of one as `sets_on_sheet`."""
    small, large = sorted(sheet)
    if any(min(piece) > small or max(piece) > large for piece in pieces):
        return Fraction(0)
    most = sheet[0] * sheet[1] // sum(across * down for across, down in pieces)
    return Fraction(most) if most else Fraction(1, len(pieces))


@lru_cache(maxsize=4096)
def sets_on_sheet(pieces: tuple[Sides, ...], sheet: Sides) -> Fraction:
    """The most sets, each of one of every piece (one or two); a part of one (1/2) when a set takes two sheets.

    Nought when a piece comes out of no sheet at all. No kerf, no margin, any number of straight cuts either way.
    """
    most = sets_at_most(pieces, sheet)
    whole, room = _in_whole_numbers(pieces, sheet)
    sets = max((_in_strips(strips, wide) for strips, wide in _strips(whole, room)), default=0)
    if sets < most and most >= 1:
        sets = _by_tables(whole, room, int(most), sets)
    return Fraction(sets) if sets else min(most, Fraction(1, len(pieces)))


def _in_whole_numbers(pieces: Sequence[Sides], sheet: Sides) -> tuple[list[_Whole], _Whole]:
    """The same sizes as multiples of what divides them all: whole numbers are ten times as quick as fractions."""
    parts = lcm(*(side.denominator for sides in (*pieces, sheet) for side in sides))
    whole = [(int(across * parts), int(down * parts)) for across, down in (*pieces, sheet)]
    return whole[:-1], whole[-1]


# --- plain strips -----------------------------------------------------------------------------------------------------

type _Strip = tuple[int, int]
"""How many of a piece lie in a strip, and how wide the strip is."""


def _strips(pieces: Sequence[_Whole], sheet: _Whole) -> Iterator[tuple[list[_Strip], int]]:
    """For each way the strips may run and each way the pieces may lie in them: the strips, and the room for them."""
    for along, room in (sheet, sheet[::-1]):
        for turned in product((False, True), repeat=len(pieces)):
            strips = [
                (along // (down if turn else across), across if turn else down)
                for (across, down), turn in zip(pieces, turned, strict=True)
            ]
            if all(number for number, _ in strips):
                yield strips, room


def _in_strips(strips: Sequence[_Strip], room: int) -> int:
    sets = 0
    # One more set is tried until there is no room for its strips.
    while sum(-(-(sets + 1) // number) * wide for number, wide in strips) <= room:
        sets += 1
    return sets


# --- tables -----------------------------------------------------------------------------------------------------------


def _by_tables(pieces: Sequence[_Whole], sheet: _Whole, most: int, found: int) -> int:
    """Exactly how many, between those found and the most there can be; those found where the tables are too fine."""
    ways = [
        (kind, *way)
        for kind, piece in enumerate(pieces)
        for way in dict.fromkeys((piece, piece[::-1]))
        if way[0] <= sheet[0] and way[1] <= sheet[1]
    ]
    try:
        patterns = Patterns(ways, [sheet])
    except TooFineError:
        return found
    if len(pieces) == 1:
        return patterns.best([1]).value(0)
    # No pattern of both covers more of the sheet than the best; and one cut may part the first kind from the second.
    areas = [across * down for across, down in pieces]
    both = _BothKinds(ways, sheet, min(most, patterns.best(areas).value(0) // sum(areas)))
    one, other = (patterns.best(values).everywhere() for values in ([1, 0], [0, 1]))
    found = max(found, both.parted(one, other), both.parted(other, one))
    return both.sets() if found < both.most else found


class _BothKinds:
    """For every size and every number of the first piece, the most of the second that come out beside them."""

    def __init__(self, ways: Sequence[tuple[int, int, int]], sheet: _Whole, most: int) -> None:
        """Numbers beyond `most` are of no use. Raises TooFineError."""
        self._ways, self.most = ways, most
        self._xs = places_of({way[1] for way in ways}, {sheet[0]})
        self._ys = places_of({way[2] for way in ways}, {sheet[1]})
        self._cuts = {Arrangement.ACROSS: cuts_at(self._xs), Arrangement.DOWN: cuts_at(self._ys)}

    def parted(self, one: Values, other: Values) -> int:
        """The sets there are when a first cut has all of one kind on its shorter side; most of each kind by size."""
        counts = [0]
        for row, ends in ((Arrangement.ACROSS, (one[:, -1], other[:, -1])), (Arrangement.DOWN, (one[-1], other[-1]))):
            first, rest = self._cuts[row][-1]
            counts += [min(pair) for pair in zip(ends[0][first].tolist(), ends[1][rest].tolist(), strict=True)]
        return max(counts)

    def sets(self) -> int:
        """As many as there are of both."""
        import numpy as np

        table, idle, row = self._single(), 0, Arrangement.DOWN
        # Rows of rows, their direction changed each time, until two in a row change nothing.
        while idle < 2:
            fuller = self._rows(table, row)
            idle = idle + 1 if (fuller == table).all() else 0
            table, row = fuller, row.other
        whole = np.minimum(table[-1, -1], np.arange(self.most + 1))
        return int(whole.max())

    def _single(self) -> Table:
        import numpy as np

        table = np.full((len(self._xs), len(self._ys), self.most + 1), _NONE, dtype=np.int16)
        table[:, :, 0] = 0
        for kind, width, height in self._ways:
            view = table[int(np.searchsorted(self._xs, width)) :, int(np.searchsorted(self._ys, height)) :]
            if kind:
                view[:, :, 0] = 1
            else:
                view[:, :, 1] = np.maximum(view[:, :, 1], 0)
        return table

    def _rows(self, table: Table, row: Arrangement) -> Table:
        """The best row of two or more parts, for every size."""
        import numpy as np

        parts = table if row is Arrangement.ACROSS else table.swapaxes(0, 1)
        best = parts.copy()
        for at, (first, rest) in enumerate(self._cuts[row]):
            if not len(first):
                continue
            ones, others = parts[first], best[rest]
            # Of the first piece, no more than come out of the shorter part of any cut.
            reach = int((ones >= 0).any(axis=(0, 1)).sum())
            for number in range(reach):
                both = ones[:, :, number : number + 1] + others[:, :, : self.most + 1 - number]
                np.maximum(best[at][:, number:], both.max(axis=0), out=best[at][:, number:])
        np.minimum(best, self.most, out=best)
        return best if row is Arrangement.ACROSS else best.swapaxes(0, 1)
