"""A layout as numbered cuts in the order of the work: what the stop is set to, what is cut, what falls off.

Of a trimmer, the paper lies with one edge against the fence and one against the stop; the stop is set to a number, and
what lies between it and the blade comes out that long. So every stop is the size of a piece, or of pieces that lie
together. Parts that are alike are cut one after the other, however they came about.

First all the cuts of the sheet, then strip by strip. A part is turned a quarter before it is cut, always the same way:
the edge at the blade comes to the fence, the one at the fence to the stop. So it suffices that of a ragged sheet two
edges are squared up: one sticks out past the blade and is cut off, a quarter turn, the next; after one turn more both
lie where everything is measured from.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import accumulate, groupby, pairwise

from msgspec import Struct
from msgspec.structs import replace

from foldwright.pack.cutting.model import Arrangement, CutLayout, Rectangle, Stock


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
    long = sum((part.along(row) for part in flat), Fraction(0))
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
    if part.row is row.other and (_full(part, row) <= 1 or part.along(row) % step):
        return Rectangle(*longer, row=part.row, parts=tuple(_ragged(one, row, trim, step) for one in part.parts))
    return _in_row(row, [part, waste])


def _full(part: Rectangle, row: Arrangement) -> int:
    """How many of its parts would need a cut of their own to lose a ragged end."""
    return sum(not _ends_in_waste(one, row) for one in part.parts)


def _ends_in_waste(part: Rectangle, row: Arrangement) -> bool:
    if part.row is row:
        return part.parts[-1].is_offcut
    return part.is_offcut or (part.row is not None and not _full(part, row))


KEPT = Fraction(50)
"""An offcut at least so many millimetres (2 in) either way is worth keeping (common practice, no source)."""
SLIVER = Fraction(1)
"""What is thinner, in millimetres, no trimmer takes off for sure (common practice, no source)."""


def worth_keeping(width: Fraction, height: Fraction) -> bool:
    """Whether a rest of so many millimetres each way is put by."""
    return min(width, height) >= KEPT


class CutPart(Struct, frozen=True):
    """Something to cut: the sheet, or the strip that has a letter.

    `squared` counts the edges of the sheet that were cut true by eye, `rest` how much was cut off before: 0 where it is
    whole, 1 for what is left when its first row is off, 2 when the second is off as well.
    """

    letter: str = ""
    squared: int = 0
    rest: int = 0


SHEET = CutPart()


class Left(Struct, frozen=True):
    """What remains of a part when its cuts are made: a piece, another part, an offcut, or nothing of all this."""

    part: CutPart | None = None
    width: Fraction = Fraction(0)
    height: Fraction = Fraction(0)
    piece: int | None = None
    offcut: bool = False

    @property
    def nothing(self) -> bool:
        return self.part is None and self.piece is None and not self.offcut

    @property
    def kept(self) -> bool:
        return self.offcut and worth_keeping(self.width, self.height)

    @property
    def sliver(self) -> bool:
        return self.offcut and min(self.width, self.height) < SLIVER


class NumberedCut(Struct, frozen=True):
    """One setting of the stop: `times` cuts through each of the `count` parts `of` which it is made.

    `row` is the side the stop measures along: across cuts off what is so wide, down what is so high. Every part gives
    `each` of a `part` to go on with, or of the piece that has the number `piece`, and leaves `left`.
    """

    number: int
    of: CutPart
    count: int
    row: Arrangement
    stop: Fraction
    times: int
    each: int
    part: CutPart | None
    width: Fraction
    height: Fraction
    piece: int | None
    left: Left
    fence: Fraction
    """How long the edge is that lies along the fence."""
    turn: bool = False
    """Each part is turned a quarter first, from how it lay when it came off."""
    trim: bool = False
    """It squares up an edge by eye: no stop is set (`stop` is nothing), and what sticks out past the blade is waste."""
    on_scale: bool = True
    """The stop is a number that the scale shows."""

    @property
    def fence_is_top(self) -> bool:
        """The edge along the fence runs across the sheet, as it is drawn."""
        return self.row is Arrangement.ACROSS


class LetteredStrip(Struct, frozen=True):
    """Where a part that has a letter lies on the sheet; `depth` counts the parts it lies in."""

    name: str
    depth: int
    left: Fraction
    top: Fraction
    width: Fraction
    height: Fraction


class CutLine(Struct, frozen=True):
    """Where a numbered cut goes: from a corner (left, top) so long, downwards where it measures across."""

    number: int
    row: Arrangement
    left: Fraction
    top: Fraction
    length: Fraction


class Offcut(Struct, frozen=True):
    """Where something falls off, and whether it is worth keeping."""

    kept: bool
    left: Fraction
    top: Fraction
    width: Fraction
    height: Fraction


class WorkedLayout(Struct, frozen=True):
    """A layout's cuts, and where on the sheet its lettered parts, its numbered cuts and its offcuts are."""

    cuts: tuple[NumberedCut, ...]
    strips: tuple[LetteredStrip, ...]
    lines: tuple[CutLine, ...]
    offcuts: tuple[Offcut, ...]


def work_of(layout: CutLayout, stock: Stock, step: Fraction) -> WorkedLayout:
    """All cuts of the sheets of a layout, numbered from one. `step` is the finest mark on the scale of the stop."""
    work = _Numbering(layout, stock, step)
    return WorkedLayout(tuple(work.cuts), tuple(work.strips), tuple(work.lines), tuple(work.offcuts))


class _Numbering:
    def __init__(self, layout: CutLayout, stock: Stock, step: Fraction) -> None:
        self.cuts: list[NumberedCut] = []
        self.strips: list[LetteredStrip] = []
        self.lines: list[CutLine] = []
        self.offcuts: list[Offcut] = []
        self._step = step
        whole = as_worked(layout.whole, stock.trim, step)
        self._whole, self._lettered = whole, 0
        self._numbers: dict[Rectangle, tuple[int, ...]] = {}
        self._called = {whole: self._squared(whole, stock, layout.copies) if stock.trim else SHEET}
        self._counts = {whole: layout.copies}
        self._cut_all()
        self._draw(whole, stock.trim, stock.trim, 0)

    # --- cutting ------------------------------------------------------------------------------------------------------

    def _squared(self, whole: Rectangle, stock: Stock, count: int) -> CutPart:
        """The two edges that everything is measured from, first the one the first stop measures from."""
        width, height, part = stock.width, stock.height, SHEET
        first = whole.row or Arrangement.ACROSS
        for number, row in enumerate((first, first.other), 1):
            fence = width if row is Arrangement.ACROSS else height
            off = (stock.trim, height) if row is Arrangement.ACROSS else (width, stock.trim)
            width, height = (width - off[0], height) if row is Arrangement.ACROSS else (width, height - off[1])
            squared = CutPart(squared=number)
            waste = Left(None, *off, offcut=True)
            cut = NumberedCut(number, part, count, row, Fraction(0), 1, 1, squared, width, height, None, waste, fence)
            self.cuts.append(replace(cut, turn=number == 2, trim=True))
            part = squared
            corner = (stock.trim, Fraction(0)) if row is Arrangement.ACROSS else (Fraction(0), stock.trim)
            self.lines.append(CutLine(number, row, *corner, stock.height if row is Arrangement.ACROSS else stock.width))
        return part

    def _cut_all(self) -> None:
        """From the sheet inwards, strip by strip; what comes of several parts waits until all of it is there."""
        waiting = [self._whole] if self._whole.row is not None else []
        while waiting:
            at = next(at for at, part in enumerate(waiting) if not any(part in _inside(other) for other in waiting))
            part = waiting.pop(at)
            self._cut_up(part, self._counts.pop(part))
            new = [one for one in dict.fromkeys(part.parts) if one.row is not None and one not in waiting]
            waiting[at:at] = new

    def _part(self, part: Rectangle) -> CutPart | None:
        """Parts to go on with are called A, B, C ... as they come about; pieces and offcuts are none."""
        if part.kind is not None or part.is_offcut:
            return None
        if part not in self._called:
            self._called[part] = CutPart(letters(self._lettered))
            self._lettered += 1
        return self._called[part]

    def _cut_up(self, part: Rectangle, count: int) -> None:
        row = part.row
        assert row is not None
        runs = [(kind, len(list(alike))) for kind, alike in groupby(part.parts)]
        of, (width, height) = self._called[part], (part.width, part.height)
        numbers: list[int] = []
        turn = part is not self._whole or bool(self.cuts)
        for number, (one, each) in enumerate(runs):
            last = number == len(runs) - 1
            if last and one.is_offcut:
                break
            fence = width if row is Arrangement.ACROSS else height
            stop = one.along(row)
            if row is Arrangement.ACROSS:
                width -= each * one.width
            else:
                height -= each * one.height
            # The last of a row needs no cut of its own where nothing is left beside it.
            times = each - (1 if last else 0)
            if times:
                made, size = self._part(one), (one.width, one.height)
                left = self._left(part, runs[number + 1 :], width, height, number)
                nth = len(self.cuts) + 1
                cut = NumberedCut(nth, of, count, row, stop, times, each, made, *size, one.kind, left, fence)
                self.cuts.append(replace(cut, turn=turn and not number, on_scale=not stop % self._step))
                of = left.part or of
            numbers += [len(self.cuts)] * times
            if one.row is not None:
                self._counts[one] = self._counts.get(one, 0) + count * each
        self._numbers[part] = tuple(numbers)

    def _left(
        self, part: Rectangle, rest: list[tuple[Rectangle, int]], width: Fraction, height: Fraction, number: int
    ) -> Left:
        if not rest:
            return Left()
        if len(rest) == 1 and rest[0][1] == 1:
            only = rest[0][0]
            return Left(self._part(only), width, height, only.kind, only.is_offcut)
        return Left(replace(self._called[part], rest=number + 1), width, height)

    # --- drawing ------------------------------------------------------------------------------------------------------

    def _draw(self, part: Rectangle, left: Fraction, top: Fraction, depth: int) -> None:
        """Where everything is: a part's letter, its cuts, then what lies in it."""
        if part.is_offcut:
            kept = worth_keeping(part.width, part.height)
            self.offcuts.append(Offcut(kept, left, top, part.width, part.height))
        if part.row is None:
            return
        if part is not self._whole:
            self.strips.append(LetteredStrip(self._called[part].letter, depth, left, top, part.width, part.height))
        across = part.row is Arrangement.ACROSS
        ends = list(accumulate(one.along(part.row) for one in part.parts))
        for number, end in zip(self._numbers[part], ends, strict=False):
            corner = (left + end, top) if across else (left, top + end)
            self.lines.append(CutLine(number, part.row, *corner, part.height if across else part.width))
        for one, end in zip(part.parts, ends, strict=True):
            begin = end - one.along(part.row)
            self._draw(one, *((left + begin, top) if across else (left, top + begin)), depth + 1)


def _inside(part: Rectangle) -> Iterator[Rectangle]:
    """All parts that lie in a part."""
    for one in part.parts:
        yield one
        yield from _inside(one)


def letters(number: int) -> str:
    """A to Z, then AA, AB ..."""
    name = ""
    number += 1
    while number:
        number, letter = divmod(number - 1, 26)
        name = chr(ord("A") + letter) + name
    return name
