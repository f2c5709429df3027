"""A layout as numbered cuts in the order of the work: what the stop is set to, what is cut, what falls off.

Of a trimmer, the stop is set to a number and the part between stop and blade comes out that long. Parts that are alike
are cut one after the other, however they came about, so that the stop is set once for all of them.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import groupby

from msgspec import Struct

from foldwright.pack.cutting.model import Layout, Part, Row, Stock

KEPT = Fraction(50)
"""An offcut at least so many millimetres (2 in) either way is worth keeping (common practice, no source)."""


class Left(Struct, frozen=True):
    """What remains of a part when its cuts are made: nothing (empty `name`), a piece, another part, or an offcut."""

    name: str = ""
    width: Fraction = Fraction(0)
    height: Fraction = Fraction(0)
    piece: int | None = None
    offcut: bool = False

    @property
    def kept(self) -> bool:
        return self.offcut and min(self.width, self.height) >= KEPT


class Cut(Struct, frozen=True):
    """One setting of the stop: `times` cuts through each of `count` parts called `of`.

    `row` is the side the stop measures along: across cuts off what is so wide, down what is so high. Every part gives
    `each` of what is called `name` (a piece, if `piece` is its index) and leaves `left`.
    """

    number: int
    of: str
    count: int
    row: Row
    stop: Fraction
    times: int
    each: int
    name: str
    width: Fraction
    height: Fraction
    piece: int | None
    left: Left
    trim: bool = False
    """It takes off a ragged edge: what comes off is waste, and the stop measures what stays."""


def cuts_of(layout: Layout, stock: Stock) -> tuple[Cut, ...]:
    """All cuts of the sheets of a layout, numbered from one."""
    work = _Work(layout, stock)
    return tuple(work.cuts)


class _Work:
    def __init__(self, layout: Layout, stock: Stock) -> None:
        self.cuts: list[Cut] = []
        self._names: dict[Part, str] = {}
        self._counts: dict[Part, int] = {layout.whole: layout.copies}
        sheet = self._trimmed(stock, layout.copies, layout.whole.kind) if stock.trim else "sheet"
        self._names[layout.whole] = sheet
        while waiting := [part for part in self._counts if part.row is not None and part.kind is None]:
            # What takes the most changes of direction first: nothing like it can come out of what is left.
            part = max(waiting, key=lambda one: (one.stages, one.width * one.height))
            self._cut_up(part, self._counts.pop(part))

    def _trimmed(self, stock: Stock, count: int, piece: int | None) -> str:
        """The four ragged edges, one after the other; where the trimmed sheet is a `piece`, the last gives that."""
        width, height, name = stock.width, stock.height, "sheet"
        for number, row in enumerate((Row.ACROSS, Row.ACROSS, Row.DOWN, Row.DOWN), 1):
            if row is Row.ACROSS:
                width -= stock.trim
            else:
                height -= stock.trim
            stop = width if row is Row.ACROSS else height
            off = (stock.trim, height) if row is Row.ACROSS else (width, stock.trim)
            kind = piece if number == 4 else None
            trimmed = "piece" if kind is not None else f"trimmed sheet {number}"
            left = Left("trim", *off, offcut=True)
            cut = Cut(len(self.cuts) + 1, name, count, row, stop, 1, 1, trimmed, width, height, kind, left, trim=True)
            self.cuts.append(cut)
            name = trimmed
        return name

    def _name(self, part: Part) -> str:
        """Pieces and offcuts are called by what they are; parts to go on with A, B, C ... as they come about."""
        if part.kind is not None:
            return "piece"
        if part.is_offcut:
            return "offcut"
        if part not in self._names:
            self._names[part] = _letters(len(self._names) - 1)
        return self._names[part]

    def _cut_up(self, part: Part, count: int) -> None:
        row = part.row
        assert row is not None
        runs = [(kind, len(list(alike))) for kind, alike in groupby(part.parts)]
        of, width, height = self._names[part], part.width, part.height
        for number, (one, each) in enumerate(runs):
            last = number == len(runs) - 1
            if last and one.is_offcut:
                break
            stop = one.width if row is Row.ACROSS else one.height
            if row is Row.ACROSS:
                width -= each * one.width
            else:
                height -= each * one.height
            left = self._left(part, runs[number + 1 :], width, height, number)
            # The last of a row needs no cut of its own where nothing is left beside it.
            times = each - (1 if last else 0)
            if times:
                self._add(of, count, row, stop, times, each, one, left)
            self._counts[one] = self._counts.get(one, 0) + count * each if one.kind is None else 0
            of = left.name

    def _left(self, part: Part, rest: list[tuple[Part, int]], width: Fraction, height: Fraction, number: int) -> Left:
        if not rest:
            return Left()
        if len(rest) == 1 and rest[0][1] == 1:
            only = rest[0][0]
            return Left(self._name(only), width, height, only.kind, only.is_offcut)
        base = self._names[part]
        return Left(f"{base}, rest" if number == 0 else f"{base}, rest {number + 1}", width, height)

    def _add(self, of: str, count: int, row: Row, stop: Fraction, times: int, each: int, one: Part, left: Left) -> None:
        self.cuts.append(
            Cut(
                len(self.cuts) + 1,
                of,
                count,
                row,
                stop,
                times,
                each,
                self._name(one),
                one.width,
                one.height,
                one.kind,
                left,
            )
        )


def _letters(number: int) -> str:
    """A to Z, then AA, AB ..."""
    name = ""
    number += 1
    while number:
        number, letter = divmod(number - 1, 26)
        name = chr(ord("A") + letter) + name
    return name
