"""Every guillotine pattern at once: the best one for given values of the pieces, on every size of sheet.

Gilmore and Gomory (1965, from memory): a rectangle is worth as much as its best single piece, or the two parts a
straight cut makes of it. Only cuts at sums of sides of pieces need be tried (Herz 1972, from memory). Values and sizes
are whole numbers, so that the tables are exact, and what follows from them is a proof.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.pack.cutting.model import Arrangement

if TYPE_CHECKING:
    import numpy

    type Table = numpy.ndarray[tuple[int, int], numpy.dtype[numpy.int64]]
    type Line = numpy.ndarray[tuple[int], numpy.dtype[numpy.int64]]

MOST_PLACES = 420
"""Places for a cut along one side: more take longer than a second, and are left to the packing solver."""


class TooFineError(Exception):
    """There are too many places for a cut to try them all."""


class Sketch(Struct, frozen=True):
    """A pattern before it lies on a sheet: a piece (`kind`), or a row of sketches; sizes are the least it takes."""

    width: int
    height: int
    kind: int = -1
    row: Arrangement | None = None
    parts: tuple[Sketch, ...] = ()

    def count(self, kinds: int) -> tuple[int, ...]:
        """How many of each kind there are in it."""
        if self.kind >= 0:
            return tuple(int(kind == self.kind) for kind in range(kinds))
        sums = [part.count(kinds) for part in self.parts]
        return tuple(map(sum, zip(*sums, strict=True)))


def in_row(row: Arrangement, parts: Sequence[Sketch]) -> Sketch:
    """Sketches side by side, or one below the other; like ones next to each other, the largest first."""
    if len(parts) == 1:
        return parts[0]
    flat = [inner for part in parts for inner in (part.parts if part.row is row else (part,))]
    widths, heights = [part.width for part in flat], [part.height for part in flat]
    flat.sort(key=lambda part: (-part.width * part.height, -part.width, part.kind, repr(part)))
    if row is Arrangement.ACROSS:
        return Sketch(sum(widths), max(heights), row=row, parts=tuple(flat))
    return Sketch(max(widths), sum(heights), row=row, parts=tuple(flat))


COARSE = 200
"""Places along each side where the true ones are too many."""

type Way = tuple[int, int, int]
"""A kind, and its size across and down as it lies."""


class Patterns:
    """The tables for some kinds of piece and some sizes of sheet; `best` fills them for given values."""

    def __init__(
        self, ways: Sequence[Way], rooms: Sequence[tuple[int, int]], grid: tuple[int, int] = (1, 1), lower: bool = False
    ) -> None:
        """On a `grid` (across, down) coarser than one, sides are rounded up to it, so that patterns go on their sheets.

        With `lower` they are rounded down: such patterns may not go, but those that do are worth no more. Raises
        TooFineError.
        """
        self.lower = lower
        self._true_ways, self._true_rooms = ways, rooms
        self._rooms = [(width // grid[0], height // grid[1]) for width, height in rooms]
        self._ways: list[Way] = [
            (kind, self._rounded(width, 0, grid[0]), self._rounded(height, 1, grid[1])) for kind, width, height in ways
        ]
        ways, rooms = self._ways, self._rooms
        self._xs = places_of({way[1] for way in ways}, {room[0] for room in rooms})
        self._ys = places_of({way[2] for way in ways}, {room[1] for room in rooms})
        self._cuts = {Arrangement.ACROSS: cuts_at(self._xs), Arrangement.DOWN: cuts_at(self._ys)}

    def _rounded(self, side: int, axis: int, grid: int) -> int:
        """Up, though never over the sheet it goes on by itself; or down."""
        widest = max((room[axis] // grid for room in self._true_rooms if room[axis] >= side), default=0)
        return max(1, side // grid) if self.lower else min(-(-side // grid), max(1, widest))

    def goes(self, sketch: Sketch, room: int) -> bool:
        """Whether a pattern goes on a sheet by its true sides."""
        width, height = self._true_rooms[room]
        return self.lower or (sketch.width <= width and sketch.height <= height)

    def best(self, values: Sequence[int]) -> Filled:
        """The tables for what a piece of each kind is worth."""
        import numpy as np

        single = np.zeros((len(self._xs), len(self._ys)), dtype=np.int64)
        for kind, width, height in self._ways:
            at = int(np.searchsorted(self._xs, width)), int(np.searchsorted(self._ys, height))
            view = single[at[0] :, at[1] :]
            np.maximum(view, values[kind], out=view)
        chains = [self._chain(single, row) for row in (Arrangement.DOWN, Arrangement.ACROSS)]
        return Filled(self, tuple(values), chains)

    def _chain(self, single: Table, row: Arrangement) -> list[tuple[Arrangement, Table]]:
        """The tables for more and more stages, until two in a row change nothing; the first is of single pieces."""
        tables = [(row.other, single)]
        idle = 0
        while idle < 2:
            fuller = self._rows(tables[-1][1], row)
            idle = idle + 1 if (fuller == tables[-1][1]).all() else 0
            tables.append((row, fuller))
            row = row.other
        return tables

    def _rows(self, table: Table, row: Arrangement) -> Table:
        """The best row of parts that are each worth what `table` says, for every size."""
        import numpy as np

        parts = table if row is Arrangement.ACROSS else table.T
        best = parts.copy()
        for at, (first, rest) in enumerate(self._cuts[row]):
            if len(first):
                np.maximum(best[at], (parts[first] + best[rest]).max(axis=0), out=best[at])
        return best if row is Arrangement.ACROSS else best.T

    def room_at(self, room: int) -> tuple[int, int]:
        """Where in the tables a sheet stands."""
        import numpy as np

        width, height = self._rooms[room]
        across = int(np.searchsorted(self._xs, width, "right")) - 1
        return across, int(np.searchsorted(self._ys, height, "right")) - 1

    def sketch(
        self, tables: Sequence[tuple[Arrangement, Table]], values: Sequence[int], at: tuple[int, int]
    ) -> Sketch | None:
        """The pattern behind a number in the last of the tables; None where that is nothing."""
        *fewer, (row, table) = tables
        value = int(table[at])
        if value == 0:
            return None
        if not fewer:
            return self._single(values, value, at)
        if int(fewer[-1][1][at]) == value:
            return self.sketch(fewer, values, at)
        parts: list[Sketch] = []
        while int(fewer[-1][1][at]) != value:
            first, at = self._parted(fewer[-1][1], table, row, at)
            if part := self.sketch(fewer, values, first):
                parts.append(part)
            value = int(table[at])
        if last := self.sketch(fewer, values, at):
            parts.append(last)
        return in_row(row, parts)

    def _single(self, values: Sequence[int], value: int, at: tuple[int, int]) -> Sketch:
        width, height = self._xs[at[0]], self._ys[at[1]]
        kind, across, down = next(
            true
            for true, way in zip(self._true_ways, self._ways, strict=True)
            if values[way[0]] == value and way[1] <= width and way[2] <= height
        )
        return Sketch(across, down, kind)

    def _parted(
        self, parts: Table, table: Table, row: Arrangement, at: tuple[int, int]
    ) -> tuple[tuple[int, int], tuple[int, int]]:
        """Where the first part of a row and its rest stand."""
        along, beside = at if row is Arrangement.ACROSS else at[::-1]
        firsts, rests = self._cuts[row][along]
        if row is Arrangement.DOWN:
            parts, table = parts.T, table.T
        found = int((parts[firsts, beside] + table[rests, beside] == table[along, beside]).argmax())
        first, rest = (int(firsts[found]), beside), (int(rests[found]), beside)
        return (first, rest) if row is Arrangement.ACROSS else (first[::-1], rest[::-1])


class Filled:
    """The tables for one set of values."""

    def __init__(
        self, patterns: Patterns, values: tuple[int, ...], chains: list[list[tuple[Arrangement, Table]]]
    ) -> None:
        self._patterns = patterns
        self._values = values
        self._chains = chains

    def value(self, room: int) -> int:
        """What the best pattern of any number of stages is worth on a sheet."""
        at = self._patterns.room_at(room)
        return max(int(chain[-1][1][at]) for chain in self._chains)

    def everywhere(self) -> Table:
        """What the best pattern of any number of stages is worth on every size, the largest last."""
        import numpy as np

        return np.maximum(*(chain[-1][1] for chain in self._chains))

    def patterns(self, room: int, stages: int | None) -> list[Sketch]:
        """The best patterns of at most so many stages (None: of any number), the cuts beginning either way."""
        at = self._patterns.room_at(room)
        found = []
        for chain in self._chains:
            tables = chain if stages is None else chain[: stages + 1]
            if sketch := self._patterns.sketch(tables, self._values, at):
                found.append(sketch)
        return list(dict.fromkeys(found))


def places_of(sides: set[int], rooms: set[int]) -> list[int]:
    """All sums of sides, up to the widest sheet. Raises TooFineError."""
    widest = max(rooms)
    reached, fresh = {0}, {0}
    while fresh:
        fresh = {at + side for at in fresh for side in sides if at + side <= widest} - reached
        reached |= fresh
        if len(reached) > MOST_PLACES:
            raise TooFineError
    return sorted(reached)


def cuts_at(places: list[int]) -> list[tuple[Line, Line]]:
    """For each place, where the shorter part of a cut may end, and where the rest then stands."""
    import numpy as np

    line = np.array(places, dtype=np.int64)
    found = []
    for at, place in enumerate(places):
        first = np.arange(1, at + 1)[2 * line[1 : at + 1] <= place]
        rest = np.searchsorted(line, place - line[first], "right") - 1
        found.append((first, rest))
    return found
