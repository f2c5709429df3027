"""Pictures for an event as SVG: a sheet with its cuts, and a timeline with a lane for each helper."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from html import escape

from foldwright.event.document.model import Lanes, SheetPicture
from foldwright.event.plan.cuts import letters
from foldwright.pack.cutting.model import Arrangement
from foldwright.render.drawing.inscriptions import overlap
from foldwright.render.drawing.label import width_of

_INK, _SOFT, _OFFCUT, _PAPER = "#1c2b33", "#51626a", "#e9e7e0", "#ffffff"
_TINTS = ("#dbe9ee", "#f4e3cf", "#dfead6", "#ecdfea", "#f3ecc8", "#d9e0f0", "#f2dcd8", "#d8ebe6")
"""Eight tints of one lightness; the words in them carry the meaning, never the colour alone."""
_FACE = "Foldwright Sans"
_TEXT = 2.6
"""Millimetres: about 7 1/2 points."""
_LEAST_TEXT = 1.7


def sheet_picture(picture: SheetPicture, wide: float, high: float) -> tuple[str, float, float]:
    """The sheet as large as goes into so many millimetres, with the width and height it takes."""
    drawn = _SheetDrawing(picture, wide, high, frozenset())
    body = "".join(drawn.body())
    if in_the_way := drawn.in_the_way():
        drawn = _SheetDrawing(picture, wide, high, in_the_way)
        body = "".join(drawn.body())
    return _svg(drawn.wide, drawn.high, body, picture.describes), drawn.wide, drawn.high


type _Spot = tuple[float, float, float, float]
"""A box on the picture: left, top, right, bottom."""

_SIDE, _LETTERS = 4.4, 4.2
"""Margins for the lengths of the sheet's sides, and for the letters of its first strips."""
_MARK = 1.55
"""Half of a badge with a letter or a number in it."""
_SQUARE = 5.0
_OVER, _PACE = 0.7, 1.1
"""How far a badge may stick out of a thin strip, and how far apart places for it are tried."""
_KEY_LINE = 3.6


class _TakenRoom:
    """What is taken of a picture, by squares, so that a place is compared with what is near it alone."""

    def __init__(self) -> None:
        self._near: dict[tuple[int, int], list[_Spot]] = {}

    def take(self, spot: _Spot) -> None:
        for square in self._squares(spot):
            self._near.setdefault(square, []).append(spot)

    def free(self, spot: _Spot) -> bool:
        return not any(overlap(spot, other) for square in self._squares(spot) for other in self._near.get(square, ()))

    @staticmethod
    def _squares(spot: _Spot) -> Iterator[tuple[int, int]]:
        left, top, right, bottom = (int(side // _SQUARE) for side in spot)
        return ((x, y) for x in range(left, right + 1) for y in range(top, bottom + 1))


class _SheetDrawing:
    """A sheet with its pieces and offcuts, the letters of its strips and the numbers of its cuts.

    The names of the pieces in `short` stand in the key, to leave room for those.
    """

    def __init__(self, picture: SheetPicture, wide: float, high: float, short: frozenset[int]) -> None:
        self._picture, self._short = picture, short
        self._named: list[tuple[int, _Spot]] = []
        self._lettered: Counter[int] = Counter()
        self._placed: set[str] = set()
        self._blocked: dict[str, set[int]] = {}
        rows = [cut.row for cut in picture.worked.cuts if not cut.trim][:1] if picture.worked.strips else []
        self._beside, self._above = Arrangement.DOWN in rows, Arrangement.ACROSS in rows
        self._left = _SIDE + (_LETTERS if self._beside else 0.0)
        self._top = 0.2 + (_LETTERS if self._above else _MARK if picture.trim else 0.0)
        right, bottom = 0.3, _SIDE
        self._scale = min(
            (wide - self._left - right) / float(picture.width), (high - self._top - bottom) / float(picture.height)
        )
        self._taken = _TakenRoom()
        self._key = self._in_key()
        self.wide = max(self._left + float(picture.width) * self._scale + right, wide if self._key else 0.0)
        self._under = self._top + float(picture.height) * self._scale + bottom
        self.high = self._under + _KEY_LINE * sum(len(lines) for _, lines in self._key.values())

    def body(self) -> Iterator[str]:
        picture, scale = self._picture, self._scale
        width, height = float(picture.width) * scale, float(picture.height) * scale
        yield _box(self._left, self._top, width, height, _OFFCUT, 0.35)
        across, down = picture.sides
        yield _words(across, self._left + width / 2, self._top + height + 3.4, _TEXT, _SOFT)
        yield self._text(down, (0.8, self._top, 3.4, self._top + height), _TEXT, True, _SOFT)
        yield from self._pieces()
        for one in picture.worked.offcuts:
            left, top, right, bottom = self._spot(one.left, one.top, one.width, one.height)
            yield _box(left, top, right - left, bottom - top, _OFFCUT, 0.2)
        yield from self._small_pieces(each=1)
        yield from self._strips()
        yield from self._numbers()
        yield from self._small_pieces()
        yield from self._offcuts()
        yield from self._key_lines()

    def _spot(self, left: Fraction, top: Fraction, width: Fraction, height: Fraction) -> _Spot:
        x, y = self._left + float(left) * self._scale, self._top + float(top) * self._scale
        return x, y, x + float(width) * self._scale, y + float(height) * self._scale

    # --- pieces -------------------------------------------------------------------------------------------------------

    def _laid(self) -> Iterator[tuple[int, _Spot]]:
        corner = self._picture.trim
        for kind, piece, left, top in reversed(list(self._picture.whole.placed(corner, corner))):
            yield kind, self._spot(left, top, piece.width, piece.height)

    def _in_key(self) -> dict[int, tuple[str, list[str]]]:
        """The pieces too small for their names, by a letter each, with the lines of the key."""
        unfit = {kind for kind, spot in self._laid() if _fitted(self._picture.names[kind], spot) is None}
        small = sorted(unfit | self._short)
        room = float(self._picture.width) * self._scale + self._left - 6.0
        return {
            kind: (letters(number).lower(), _wrapped(self._picture.names[kind], max(room, 30.0)))
            for number, kind in enumerate(small)
        }

    def _pieces(self) -> Iterator[str]:
        for kind, spot in self._laid():
            left, top, right, bottom = spot
            yield _box(left, top, right - left, bottom - top, _TINTS[kind % len(_TINTS)], 0.2)
            if kind not in self._key and (fitted := _fitted(self._picture.names[kind], spot)):
                self._named.append((kind, _written(self._picture.names[kind], spot, *fitted)))
                yield self._text(self._picture.names[kind], spot, *fitted, _INK)

    def in_the_way(self) -> frozenset[int]:
        """The pieces whose names leave no room for a letter or number that stands nowhere."""
        return frozenset(kind for mark, kinds in self._blocked.items() if mark not in self._placed for kind in kinds)

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
                yield self._text(letter, spot, *fitted, _INK)

    def _text(self, words: str, spot: _Spot, size: float, turned: bool, fill: str) -> str:
        """Words in the middle of a box; nothing else is written there."""
        self._taken.take(_written(words, spot, size, turned))
        return _words(words, (spot[0] + spot[2]) / 2, (spot[1] + spot[3]) / 2, size, fill, turned=turned, middle=True)

    def _key_lines(self) -> Iterator[str]:
        y = self._under + _KEY_LINE - 1.0
        for kind, (letter, lines) in self._key.items():
            yield _box(0.2, y - 2.5, 3.0, 3.0, _TINTS[kind % len(_TINTS)], 0.2)
            yield _words(letter, 1.7, y - 0.2, 2.3, _INK)
            for line in lines:
                yield _words(line, 4.6, y, _TEXT, _INK, anchor="start")
                y += _KEY_LINE

    # --- strips, cuts, offcuts ----------------------------------------------------------------------------------------

    def _strips(self) -> Iterator[str]:
        for strip in self._picture.worked.strips:
            spot = self._spot(strip.left, strip.top, strip.width, strip.height)
            left, top, right, bottom = spot
            if strip.depth > 1:
                places = _from_corner(spot)
            elif self._beside:
                places = [(self._left - _LETTERS / 2, (top + bottom) / 2)]
                yield _bracket((self._left - 0.7, top + 0.4), (self._left - 0.7, bottom - 0.4))
            else:
                places = [((left + right) / 2, self._top - _LETTERS / 2)]
                yield _bracket((left + 0.4, self._top - 0.7), (right - 0.4, self._top - 0.7))
            yield from self._badge(strip.name, places, _INK, _PAPER)

    def _numbers(self) -> Iterator[str]:
        for line in self._picture.worked.lines:
            down = line.row is Arrangement.ACROSS
            size = (Fraction(0), line.length) if down else (line.length, Fraction(0))
            left, top, right, bottom = self._spot(line.left, line.top, *size)
            parts = [0.5 + side * step / 20 for step in range(11) for side in (1, -1)]
            places = [(left + (right - left) * part, top + (bottom - top) * part) for part in parts]
            yield from self._badge(str(line.number), places, _PAPER, _INK)

    def _badge(self, mark: str, places: Sequence[tuple[float, float]], fill: str, ink: str) -> Iterator[str]:
        """A letter or a number where it covers nothing; none where there is no such place."""
        wide = max(_MARK, width_of(mark) * 2.2 / 2 + 0.5)
        for x, y in places:
            spot = x - wide, y - _MARK, x + wide, y + _MARK
            if _inside(spot, (0.0, 0.0, self.wide, self.high)) and self._taken.free(spot):
                self._taken.take(spot)
                self._placed.add(mark)
                yield _box(spot[0], spot[1], 2 * wide, 2 * _MARK, fill, 0.2, round_=_MARK if fill == _PAPER else 0.5)
                yield _words(mark, x, y, 2.2, ink, middle=True)
                return
            self._blocked.setdefault(mark, set()).update(kind for kind, name in self._named if overlap(spot, name))

    def _offcuts(self) -> Iterator[str]:
        """What is kept and what is waste, said where nothing else is written."""
        for one in self._picture.worked.offcuts:
            spot = self._spot(one.left, one.top, one.width, one.height)
            words = self._picture.keep if one.kept else self._picture.waste
            for room in (spot, *_halves(spot)):
                fitted = _fitted(words, room)
                if fitted and self._taken.free(_written(words, room, *fitted)):
                    yield self._text(words, room, *fitted, _SOFT)
                    break


def _halves(spot: _Spot) -> tuple[_Spot, _Spot]:
    left, top, right, bottom = spot
    if right - left > bottom - top:
        return (left, top, (left + right) / 2, bottom), ((left + right) / 2, top, right, bottom)
    return (left, top, right, (top + bottom) / 2), (left, (top + bottom) / 2, right, bottom)


def _written(words: str, spot: _Spot, size: float, turned: bool) -> _Spot:
    """The place that words in the middle of a box take."""
    x, y = (spot[0] + spot[2]) / 2, (spot[1] + spot[3]) / 2
    long, short = width_of(words) * size / 2, size * 0.45
    wide, high = (short, long) if turned else (long, short)
    return x - wide, y - high, x + wide, y + high


def _fitted(name: str, spot: _Spot) -> tuple[float, bool] | None:
    """The size of letters that go in, and whether they are turned; None where they would be too small to read."""
    em, width, height = max(width_of(name), 0.1), spot[2] - spot[0], spot[3] - spot[1]
    flat, turned = (min(_TEXT, (long - 1.0) / em, short * 0.8) for long, short in ((width, height), (height, width)))
    size = max(flat, turned)
    return (size, turned > flat) if size >= _LEAST_TEXT else None


def _from_corner(spot: _Spot) -> list[tuple[float, float]]:
    """Places for a letter in a strip: its first corner, then along its longer side; over its edges where it is thin."""
    left, top, right, bottom = spot
    wide, high = right - left, bottom - top
    if min(wide, high) < 2 * (_MARK - _OVER):
        return []
    x, y = (min(start + _MARK + 0.35, start + long / 2) for start, long in ((left, wide), (top, high)))
    along = range(int((max(wide, high) - _MARK) / _PACE) + 1)
    return [(x + _PACE * n, y) if wide > high else (x, y + _PACE * n) for n in along]


def _inside(one: _Spot, other: _Spot) -> bool:
    return one[0] >= other[0] and one[1] >= other[1] and one[2] <= other[2] and one[3] <= other[3]


def _wrapped(text: str, room: float) -> list[str]:
    """The words in lines no longer than the room."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and width_of(longer) * _TEXT > room:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


# --- the timeline -----------------------------------------------------------------------------------------------------

_LANE, _GAP = 6.0, 1.5


def lanes_picture(lanes: Lanes, wide: float) -> tuple[str, float, float]:
    """The timeline so many millimetres wide, with the width and height it takes."""
    names = max((width_of(name) for name in lanes.names), default=0) * _TEXT + 2.5
    scale = (wide - names - 4) / max(lanes.finish, 1)
    height = len(lanes.lanes) * (_LANE + _GAP) + 6
    body = "".join(_lanes(lanes, names, scale))
    return _svg(wide, height, body, lanes.describes), wide, height


def _lanes(lanes: Lanes, left: float, scale: float) -> Iterator[str]:
    bottom = len(lanes.lanes) * (_LANE + _GAP)
    order = {step: number for number, (step, _) in enumerate(lanes.key)}
    for at, words in lanes.marks:
        x = left + at * scale
        yield f'<path d="M{x:.2f} 0V{bottom:.2f}" stroke="#c9ced1" stroke-width=".2"/>'
        yield _words(words, x, bottom + 3.4, _TEXT, _SOFT)
    for number, (name, spans) in enumerate(zip(lanes.names, lanes.lanes, strict=True)):
        top = number * (_LANE + _GAP)
        yield _words(name, 0, top + _LANE / 2, _TEXT, _INK, middle=True, anchor="start")
        for span in spans:
            width = (span.end - span.start) * scale
            fill = _TINTS[order[span.step] % len(_TINTS)] if span.step else _PAPER
            yield _box(left + span.start * scale, top, width, _LANE, fill, 0.2, dashed=not span.step)
            if span.label and width_of(span.label) * _TEXT + 0.6 < width:
                yield _words(
                    span.label, left + (span.start + span.end) / 2 * scale, top + _LANE / 2, _TEXT, _INK, middle=True
                )


# --- marks ------------------------------------------------------------------------------------------------------------


def _svg(width: float, height: float, body: str, describes: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.2f} {height:.2f}" role="img" '
        f'font-family="{_FACE}"><title>{escape(describes)}</title>{body}</svg>'
    )


def _bracket(start: tuple[float, float], end: tuple[float, float]) -> str:
    return f'<path d="M{start[0]:.2f} {start[1]:.2f}L{end[0]:.2f} {end[1]:.2f}" stroke="{_INK}" stroke-width=".35"/>'


def _box(
    left: float,
    top: float,
    width: float,
    height: float,
    fill: str,
    line: float,
    dashed: bool = False,
    round_: float = 0.0,
) -> str:
    dashes = ' stroke-dasharray=".8 .6"' if dashed else ""
    dashes += f' rx="{round_:.2f}"' if round_ else ""
    return (
        f'<rect x="{left:.2f}" y="{top:.2f}" width="{width:.2f}" height="{height:.2f}" fill="{fill}" '
        f'stroke="{_INK}" stroke-width="{line}"{dashes}/>'
    )


def _words(
    text: str,
    x: float,
    y: float,
    size: float,
    fill: str,
    turned: bool = False,
    middle: bool = False,
    anchor: str = "middle",
) -> str:
    # The middle of a line of small letters stands about a third of their size above the line.
    y += size * 0.34 if middle and not turned else 0.0
    x += size * 0.34 if middle and turned else 0.0
    # A page colours the words of its drawings as it likes, but those on dark ground.
    light = ' class="light"' if fill == _PAPER else ""
    turn = f' transform="rotate(-90 {x:.2f} {y:.2f})"' if turned else ""
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:.2f}" fill="{fill}" text-anchor="{anchor}"{turn}{light}>'
        f"{escape(text)}</text>"
    )
