"""What is cut from what, and the answer: layouts, each a rectangle cut into rows of rectangles."""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum
from fractions import Fraction

from msgspec import Struct

type Sides = tuple[Fraction, Fraction]
"""Across and down, in millimetres, exactly."""


class PieceKind(Struct, frozen=True):
    """Pieces of one size: every way one may lie on a sheet (across, down), and how many are wanted."""

    ways: tuple[Sides, ...]
    count: int


class Stock(Struct, frozen=True):
    """Sheets of one size. `copies` is how many there are (None: as many as are bought), `cost` what each costs.

    Of every sheet `trim` is taken off along all four edges before anything else.
    """

    width: Fraction
    height: Fraction
    cost: Fraction = Fraction(0)
    copies: int | None = None
    trim: Fraction = Fraction(0)

    @property
    def room(self) -> Sides:
        return self.width - 2 * self.trim, self.height - 2 * self.trim

    def holds(self, kind: PieceKind) -> bool:
        """Whether a piece goes on it, some way round."""
        across, down = self.room
        return any(width <= across and height <= down for width, height in kind.ways)


class Arrangement(Enum):
    """How the parts of a rectangle lie: side by side, or one below the other."""

    ACROSS = "across"
    DOWN = "down"

    @property
    def other(self) -> Arrangement:
        return Arrangement.DOWN if self is Arrangement.ACROSS else Arrangement.ACROSS


class Rectangle(Struct, frozen=True):
    """A rectangle of a layout: a piece (`kind` is its index), a row of smaller parts, or what falls off."""

    width: Fraction
    height: Fraction
    kind: int | None = None
    row: Arrangement | None = None
    parts: tuple[Rectangle, ...] = ()

    @property
    def is_offcut(self) -> bool:
        return self.kind is None and self.row is None

    @property
    def stages(self) -> int:
        """How often the direction of the cuts changes, the first direction counted."""
        return 0 if self.row is None else 1 + max(part.stages for part in self.parts)

    def pieces(self) -> tuple[int, ...]:
        """The kinds of all pieces in it."""
        return tuple(kind for kind, _ in self.laid())

    def laid(self) -> tuple[tuple[int, Sides], ...]:
        """The kinds of all pieces in it with their sizes as they lie."""
        return tuple((kind, (piece.width, piece.height)) for kind, piece, _, _ in self.placed(Fraction(0), Fraction(0)))

    def placed(self, left: Fraction, top: Fraction) -> Iterator[tuple[int, Rectangle, Fraction, Fraction]]:
        """All pieces in it, by kind, with the corner of each, where its own lies there."""
        if self.kind is not None:
            yield self.kind, self, left, top
        for part in self.parts:
            yield from part.placed(left, top)
            if self.row is Arrangement.ACROSS:
                left += part.width
            else:
                top += part.height

    def along(self, row: Arrangement) -> Fraction:
        """How far it reaches, in millimetres, the way a row runs."""
        return self.width if row is Arrangement.ACROSS else self.height


class CutLayout(Struct, frozen=True):
    """So many sheets of a stock (its index) cut alike. `whole` is the room of the sheet, trimmed."""

    stock: int
    whole: Rectangle
    copies: int


class Trade(Struct, frozen=True):
    """What a second at the trimmer is worth beside what sheets cost; `most` is what may be spent more at the most."""

    second: Fraction
    most: Fraction | None = None


class Traded(Struct, frozen=True):
    """So many sheets more than the fewest that were found, and so many layouts less."""

    sheets: int
    layouts: int


class Cutting(Struct, frozen=True):
    """All wanted pieces, and no others, cut from sheets.

    `bound` is what the sheets must cost at least, however they are cut; `proven` when no cheaper way can exist.
    `too_large` are the kinds that come out of no sheet, `short` how many of each kind the sheets there are do not give.
    `counted` when no plan was found, and sheet after sheet was filled with one kind instead.
    `traded` when more sheets than the fewest are taken, because that saves work worth more.
    """

    layouts: tuple[CutLayout, ...]
    cost: Fraction
    bound: Fraction
    proven: bool
    too_large: tuple[int, ...] = ()
    short: tuple[tuple[int, int], ...] = ()
    counted: bool = False
    traded: Traded | None = None

    def sheets(self, stock: int) -> int:
        """How many sheets of a stock are used."""
        return sum(layout.copies for layout in self.layouts if layout.stock == stock)


LAYOUT_SECONDS, SETTING_SECONDS = 60, 20
"""To find a layout, read it and count its sheets; to set the stop and check it (common practice, no source)."""


def work_of(layouts: tuple[CutLayout, ...]) -> int:
    """Seconds at the trimmer that depend on the layouts, not on how many sheets of each there are."""
    return sum(LAYOUT_SECONDS + SETTING_SECONDS * len(_settings(layout.whole)) for layout in layouts)


def worth_of(cutting: Cutting, second: Fraction) -> Fraction:
    """Sheets and work together."""
    return cutting.cost + second * work_of(cutting.layouts)


def _settings(part: Rectangle) -> set[tuple[Arrangement, Fraction]]:
    found: set[tuple[Arrangement, Fraction]] = set()
    for one in part.parts:
        if part.row is not None and not one.is_offcut:
            found.add((part.row, one.along(part.row)))
        found |= _settings(one)
    return found
