"""A sheet with its cuts as SVG: pieces, lettered strips, numbered cuts, waste, and where fence and stop are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from math import inf

from foldwright.event.document.model import SheetPicture
from foldwright.event.plan.cuts import CutLine, Offcut, letters
from foldwright.event.render.marks import (
    INKS,
    LEAST_TEXT,
    TEXT,
    Inks,
    Spot,
    box,
    grid,
    ground,
    hatch,
    line,
    svg,
    texture,
    words,
    wrapped,
)
from foldwright.measure.length import System, Unit
from foldwright.pack.cutting.model import Arrangement
from foldwright.render.drawing.inscriptions import overlap
from foldwright.render.drawing.label import label_of, width_of
from foldwright.render.markup import plain_line
from foldwright.render.themes import Composition

_GRID = {System.IMPERIAL: float(Unit.INCH.mm) / 4, System.METRIC: 5.0}
"""A quarter of an inch, and 5 mm: the ruled ground of a look that has one."""


def sheet_picture(
    picture: SheetPicture,
    wide: float,
    high: float,
    most: float = inf,
    inks: Inks = INKS[Composition.PICTURE_BOOK],
    system: System = System.METRIC,
) -> tuple[str, float, float]:
    """The sheet as large as goes into so many millimetres, at a scale of `most`, with the width and height it takes."""
    drawn = _SheetDrawing(picture, wide, high, most, inks, frozenset())
    body = "".join(drawn.body())
    if in_the_way := drawn.in_the_way():
        drawn = _SheetDrawing(picture, wide, high, most, inks, in_the_way)
        body = "".join(drawn.body())
    ruled = grid(drawn.wide, drawn.high, _GRID[system], inks.grid) if inks.grid else ""
    return svg(drawn.wide, drawn.high, ruled + body, picture.describes), drawn.wide, drawn.high


def one_scale(pictures: Iterable[SheetPicture], wide: float, high: float) -> float:
    """The largest scale at which each of the sheets goes into so many millimetres, so that they can be compared."""
    return min(
        (_SheetDrawing(one, wide, high, inf, INKS[Composition.PICTURE_BOOK], frozenset()).scale for one in pictures),
        default=inf,
    )


_SIDE, _LETTERS, _BAR = 4.4, 4.4, 3.3
"""Margins for the lengths of the sheet's sides, for the letters of its first strips, and for fence and stop."""
_MARK, _MARK_TEXT = 1.65, 2.4
"""Half of a badge with a letter or a number in it."""
_SQUARE = 5.0
_OVER, _PACE = 0.7, 1.1
"""How far a badge may stick out of a thin strip, and how far apart places for it are tried."""
_KEY_LINE = 3.6
_MOST_MARKED = 16
"""Of lines that are cut with one setting of the stop, so many have its number: more only hide what is drawn."""


class _TakenRoom:
    """What is taken of a picture, by squares, so that a place is compared with what is near it alone."""

    def __init__(self) -> None:
        self._near: dict[tuple[int, int], list[Spot]] = {}

    def take(self, spot: Spot) -> None:
        for square in self._squares(spot):
            self._near.setdefault(square, []).append(spot)

    def free(self, spot: Spot) -> bool:
        return not any(overlap(spot, other) for square in self._squares(spot) for other in self._near.get(square, ()))

    @staticmethod
    def _squares(spot: Spot) -> Iterator[tuple[int, int]]:
        left, top, right, bottom = (int(side // _SQUARE) for side in spot)
        return ((x, y) for x in range(left, right + 1) for y in range(top, bottom + 1))


class _SheetDrawing:
    """A sheet with its pieces and offcuts, the letters of its strips and the numbers of its cuts.

    The names of the pieces in `short` stand in the key, to leave room for those.
    """

    def __init__(
        self, picture: SheetPicture, wide: float, high: float, most: float, inks: Inks, short: frozenset[int]
    ) -> None:
        self._picture, self._short, self._inks = picture, short, inks
        self._named: list[tuple[int, Spot]] = []
        self._lettered: Counter[int] = Counter()
        self._all: set[str] = set()
        self._placed: dict[str, list[Spot]] = {}
        self._robbed: dict[str, set[str]] = {}
        self._blocked: dict[str, set[int]] = {}
        first = next((cut for cut in picture.worked.cuts if not cut.trim), None)
        rows = [first.row] if first and picture.worked.strips else []
        self._first = first
        self._beside, self._above = Arrangement.DOWN in rows, Arrangement.ACROSS in rows
        self._bar = _BAR if first else 0.0
        self._left = _SIDE + self._bar + (_LETTERS if self._beside else 0.0)
        self._top = 0.3 + self._bar + (_LETTERS if self._above else _MARK if picture.trim else 0.0)
        right, bottom = 0.3, _SIDE
        self.scale = min(
            (wide - self._left - right) / float(picture.width),
            (high - self._top - bottom) / float(picture.height),
            most,
        )
        self._taken = _TakenRoom()
        self._key = self._in_key()
        self.wide = max(self._left + float(picture.width) * self.scale + right, wide if self._key or inks.grid else 0.0)
        self._under = self._top + float(picture.height) * self.scale + bottom
        self.high = self._under + _KEY_LINE * sum(len(lines) for _, lines in self._key.values())

    def body(self) -> Iterator[str]:
        picture, inks = self._picture, self._inks
        whole = self._spot(Fraction(0), Fraction(0), picture.width, picture.height)
        yield box(whole, inks.paper, inks.ink, 0.35)
        if picture.trim:
            yield from self._waste(whole)
        across, down = ("".join(label_of(plain_line(side)).parts) for side in picture.sides)
        yield words(across, (whole[0] + whole[2]) / 2, whole[3] + 3.4, TEXT, inks.soft)
        yield self._text(down, (0.6, whole[1], 3.4, whole[3]), TEXT, True, inks.soft)
        yield from self._edges(whole)
        yield from self._pieces()
        for one in picture.worked.offcuts:
            yield from self._offcut(one)
        yield from self._small_pieces(each=1)
        yield from self._strips()
        yield from self._numbers()
        yield from self._small_pieces()
        yield from self._said_offcuts()
        yield from self._key_lines()

    def _edges(self, whole: Spot) -> Iterator[str]:
        """Two bars: what the sheet lies against when the first cut is made."""
        if self._first is None:
            return
        left, top, right, bottom = whole
        over, beside = (left, top - _BAR, right, top - 0.35), (left - _BAR, top, left - 0.35, bottom)
        fence, stop = self._picture.fence, self._picture.stop
        for spot, said, turned in (
            (over, fence if self._first.fence_is_top else stop, False),
            (beside, stop if self._first.fence_is_top else fence, True),
        ):
            yield ground(spot, self._inks.ink)
            yield self._text(said, spot, LEAST_TEXT, turned, self._inks.paper)

    def _spot(self, left: Fraction, top: Fraction, width: Fraction, height: Fraction) -> Spot:
        x, y = self._left + float(left) * self.scale, self._top + float(top) * self.scale
        return x, y, x + float(width) * self.scale, y + float(height) * self.scale

    # --- pieces -------------------------------------------------------------------------------------------------------

    def _laid(self) -> Iterator[tuple[int, Spot]]:
        """Every piece with its place."""
        corner = self._picture.trim
        for kind, piece, left, top in reversed(list(self._picture.whole.placed(corner, corner))):
            yield kind, self._spot(left, top, piece.width, piece.height)

    def _in_key(self) -> dict[int, tuple[str, list[str]]]:
        """The pieces too small for their names, by a letter each, with the lines of the key."""
        unfit = {kind for kind, spot in self._laid() if _fitted(self._picture.names[kind], spot) is None}
        small = sorted(unfit | self._short)
        room = float(self._picture.width) * self.scale + self._left - 6.0
        return {
            kind: (letters(number).lower(), wrapped(self._picture.names[kind], max(room, 30.0)))
            for number, kind in enumerate(small)
        }

    def _pieces(self) -> Iterator[str]:
        for kind, spot in self._laid():
            yield from self._tone(kind, spot)
            if kind not in self._key and (fitted := _fitted(self._picture.names[kind], spot)):
                self._named.append((kind, _written(self._picture.names[kind], spot, *fitted)))
                yield self._named_on(self._picture.names[kind], kind, spot, fitted)

    def _tone(self, kind: int, spot: Spot) -> Iterator[str]:
        """A piece: in the tint and with the texture of its kind."""
        yield box(spot, self._tint(kind), self._inks.ink)
        yield texture(kind, spot, self._inks.soft)

    def _tint(self, kind: int) -> str:
        return self._inks.tints[kind % len(self._inks.tints)]

    def _named_on(self, name: str, kind: int, spot: Spot, fitted: tuple[float, bool]) -> str:
        """A name on a piece, on a plain ground, so that no texture runs through it."""
        left, top, right, bottom = _written(name, spot, *fitted)
        plain = max(left - 0.5, spot[0] + 0.1), max(top - 0.2, spot[1] + 0.1)
        clear = *plain, min(right + 0.5, spot[2] - 0.1), min(bottom + 0.2, spot[3] - 0.1)
        return ground(clear, self._tint(kind)) + self._text(name, spot, *fitted, self._inks.ink)

    def in_the_way(self) -> frozenset[int]:
        """The pieces whose names leave no room where a letter or a number stands nowhere: for it, or for another mark
        that took its place."""
        lost = self._all - self._placed.keys()
        robbers = {other for mark in lost for other in self._robbed.get(mark, ())}
        return frozenset(kind for mark in lost | robbers for kind in self._blocked.get(mark, ()))

    def _small_pieces(self, each: int | None = None) -> Iterator[str]:
        """The letters of the key in at most `each` pieces of a kind, where the cuts leave room for them."""
        for kind, spot in self._laid():
            letter = self._key[kind][0] if kind in self._key else ""
            fitted = _fitted(letter, spot) if letter else None
            if (
                fitted
                and (each is None or self._lettered[kind] < each)
                and self._taken.free(_written(letter, spot, *fitted))
            ):
                self._lettered[kind] += 1
                yield self._named_on(letter, kind, spot, fitted)

    def _text(self, said: str, spot: Spot, size: float, turned: bool, fill: str) -> str:
        """Words in the middle of a box; nothing else is written there."""
        self._taken.take(_written(said, spot, size, turned))
        return words(said, (spot[0] + spot[2]) / 2, (spot[1] + spot[3]) / 2, size, fill, turned=turned, middle=True)

    def _key_lines(self) -> Iterator[str]:
        y = self._under + _KEY_LINE - 1.0
        for kind, (letter, lines) in self._key.items():
            spot = (0.2, y - 2.5, 3.6, y + 0.6)
            yield from self._tone(kind, spot)
            yield self._named_on(letter, kind, spot, (LEAST_TEXT, False))
            for one in lines:
                yield words(one, 4.8, y, TEXT, self._inks.ink, anchor="start")
                y += _KEY_LINE

    # --- strips, cuts, offcuts ----------------------------------------------------------------------------------------

    def _strips(self) -> Iterator[str]:
        for strip in self._picture.worked.strips:
            spot = self._spot(strip.left, strip.top, strip.width, strip.height)
            left, top, right, bottom = spot
            if strip.depth > 1:
                places = _from_corner(spot)
            elif self._beside:
                x = self._left - self._bar
                places = [(x - _LETTERS / 2 - 0.3, (top + bottom) / 2)]
                yield line(f"M{x - 0.5:.2f} {top + 0.4:.2f}V{bottom - 0.4:.2f}", self._inks.ink, 0.35)
            else:
                y = self._top - self._bar
                places = [((left + right) / 2, y - _LETTERS / 2 - 0.3)]
                yield line(f"M{left + 0.4:.2f} {y - 0.5:.2f}H{right - 0.4:.2f}", self._inks.ink, 0.35)
            yield from self._badge(strip.name, places, self._inks.ink, self._inks.paper)

    def _numbers(self) -> Iterator[str]:
        by_number: dict[int, list[CutLine]] = {}
        for one in self._picture.worked.lines:
            by_number.setdefault(one.number, []).append(one)
        for one in (shown for alike in by_number.values() for shown in _some(alike)):
            down = one.row is Arrangement.ACROSS
            size = (Fraction(0), one.length) if down else (one.length, Fraction(0))
            left, top, right, bottom = self._spot(one.left, one.top, *size)
            parts = [0.5 + side * step / 20 for step in range(11) for side in (1, -1)]
            places = [(left + (right - left) * part, top + (bottom - top) * part) for part in parts]
            yield from self._badge(str(one.number), places, self._inks.badge, self._inks.signal, round_=_MARK)

    def _badge(
        self, mark: str, places: Sequence[tuple[float, float]], fill: str, ink: str, round_: float = 0.5
    ) -> Iterator[str]:
        """A letter or a number where it covers nothing; none where there is no such place."""
        self._all.add(mark)
        wide = max(_MARK, width_of(mark) * _MARK_TEXT / 2 + 0.5)
        for x, y in places:
            spot = x - wide, y - _MARK, x + wide, y + _MARK
            on_picture = min(spot[:2]) >= 0 and spot[2] <= self.wide and spot[3] <= self.high
            if on_picture and self._taken.free(spot):
                self._taken.take(spot)
                self._placed.setdefault(mark, []).append(spot)
                yield box(spot, fill, self._inks.ink, round_=round_)
                yield words(mark, x, y, _MARK_TEXT, ink, middle=True)
                return
            self._blocked.setdefault(mark, set()).update(kind for kind, name in self._named if overlap(spot, name))
            taken = (other for other, spots in self._placed.items() if any(overlap(spot, one) for one in spots))
            self._robbed.setdefault(mark, set()).update(taken)

    def _offcut(self, one: Offcut) -> Iterator[str]:
        """What is kept is plain, what is waste is hatched."""
        spot = self._spot(one.left, one.top, one.width, one.height)
        yield from (ground(spot, self._inks.paper),) if one.kept else self._waste(spot)
        yield box(spot, "none", self._inks.ink)

    def _waste(self, spot: Spot) -> Iterator[str]:
        yield ground(spot, self._inks.waste)
        yield hatch(spot, self._inks.soft)

    def _said_offcuts(self) -> Iterator[str]:
        """What is kept and what is waste, said where nothing else is written."""
        for one in self._picture.worked.offcuts:
            spot = self._spot(one.left, one.top, one.width, one.height)
            said = self._picture.keep if one.kept else self._picture.waste
            for room in (spot, *_halves(spot)):
                fitted = _fitted(said, room)
                if fitted and self._taken.free(place := _written(said, room, *fitted)):
                    clear = place[0] - 0.4, place[1] - 0.1, place[2] + 0.4, place[3] + 0.1
                    yield ground(clear, self._inks.paper if one.kept else self._inks.waste)
                    yield self._text(said, room, *fitted, self._inks.ink)
                    break


def _some[T](alike: Sequence[T]) -> Iterator[T]:
    """All of a few things that are alike; of many so many as tell what all are, evenly among them."""
    step = max(1.0, len(alike) / _MOST_MARKED)
    yield from (alike[int(number * step)] for number in range(min(len(alike), _MOST_MARKED)))


def _halves(spot: Spot) -> tuple[Spot, Spot]:
    left, top, right, bottom = spot
    if right - left > bottom - top:
        return (left, top, (left + right) / 2, bottom), ((left + right) / 2, top, right, bottom)
    return (left, top, right, (top + bottom) / 2), (left, (top + bottom) / 2, right, bottom)


def _written(said: str, spot: Spot, size: float, turned: bool) -> Spot:
    """The place that words in the middle of a box take."""
    x, y = (spot[0] + spot[2]) / 2, (spot[1] + spot[3]) / 2
    long, short = width_of(said) * size / 2, size * 0.45
    wide, high = (short, long) if turned else (long, short)
    return x - wide, y - high, x + wide, y + high


def _fitted(name: str, spot: Spot) -> tuple[float, bool] | None:
    """The size of letters that go in, and whether they are turned; None where they would be too small to read."""
    em, width, height = max(width_of(name), 0.1), spot[2] - spot[0], spot[3] - spot[1]
    flat, turned = (min(TEXT, (long - 1.0) / em, short * 0.8) for long, short in ((width, height), (height, width)))
    size = flat if flat >= LEAST_TEXT else turned
    return (size, flat < LEAST_TEXT) if size >= LEAST_TEXT else None


def _from_corner(spot: Spot) -> list[tuple[float, float]]:
    """Places for a letter in a strip: its first corner, then along its longer side; over its edges where it is thin."""
    left, top, right, bottom = spot
    wide, high = right - left, bottom - top
    if min(wide, high) < 2 * (_MARK - _OVER):
        return []
    x, y = (min(start + _MARK + 0.35, start + long / 2) for start, long in ((left, wide), (top, high)))
    along = range(int((max(wide, high) - _MARK) / _PACE) + 1)
    return [(x + _PACE * n, y) if wide > high else (x, y + _PACE * n) for n in along]
