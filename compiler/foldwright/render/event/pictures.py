"""Pictures for an event as SVG: a sheet with its cuts, and a timeline with a lane for each helper."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from html import escape

from foldwright.pack.cutting.model import Part, Row
from foldwright.render.letter_widths import width_of
from foldwright.sheet.event.model import Lanes, SheetPicture

_INK, _SOFT, _OFFCUT, _PAPER = "#1c2b33", "#51626a", "#e9e7e0", "#ffffff"
_TINTS = ("#dbe9ee", "#f4e3cf", "#dfead6", "#ecdfea", "#f3ecc8", "#d9e0f0", "#f2dcd8", "#d8ebe6")
"""Eight tints of one lightness; the words in them carry the meaning, never the colour alone."""
_FACE = "Foldwright Sans"
_TEXT = 2.6
"""Millimetres: about 7 1/2 points."""
_LEAST_TEXT = 1.7


def sheet_picture(picture: SheetPicture, wide: float, high: float) -> tuple[str, float, float]:
    """The sheet as large as goes into so many millimetres, with the width and height it takes."""
    margin = 4.6
    scale = min((wide - margin) / float(picture.width), (high - margin) / float(picture.height))
    drawn = _Sheet(picture, scale, margin)
    width, height = float(picture.width) * scale + margin + 0.3, float(picture.height) * scale + margin + 0.3
    body = "".join(drawn.body())
    return _svg(width, height, body, picture.describes), width, height


class _Sheet:
    def __init__(self, picture: SheetPicture, scale: float, margin: float) -> None:
        self._picture, self._scale, self._left = picture, scale, margin

    def body(self) -> Iterator[str]:
        picture, scale = self._picture, self._scale
        width, height = float(picture.width) * scale, float(picture.height) * scale
        top = 0.2
        yield _box(self._left, top, width, height, _OFFCUT, 0.35)
        trim = float(picture.trim) * scale
        yield from self._part(picture.whole, self._left + trim, top + trim)
        across, down = picture.sides
        yield _words(across, self._left + width / 2, top + height + 3.4, _TEXT, _SOFT)
        middle = top + height / 2
        yield _words(down, 3.0, middle, _TEXT, _SOFT, turned=True)

    def _part(self, part: Part, left: float, top: float) -> Iterator[str]:
        width, height = float(part.width) * self._scale, float(part.height) * self._scale
        if part.kind is not None:
            yield _box(left, top, width, height, _TINTS[part.kind % len(_TINTS)], 0.2)
            yield from self._name(self._picture.names[part.kind], left, top, width, height)
            return
        if part.is_offcut:
            yield _box(left, top, width, height, _OFFCUT, 0.2)
            return
        at = Fraction(0)
        for one in part.parts:
            moved = float(at) * self._scale
            yield from self._part(
                one, left + (moved if part.row is Row.ACROSS else 0.0), top + (moved if part.row is Row.DOWN else 0.0)
            )
            at += one.width if part.row is Row.ACROSS else one.height

    @staticmethod
    def _name(name: str, left: float, top: float, width: float, height: float) -> Iterator[str]:
        """The name in letters that go in, upright if they can be; none where they would be too small to read."""
        em = max(width_of(name), 0.1)
        flat, turned = (
            min(_TEXT, (long - 1.0) / em, short * 0.8) for long, short in ((width, height), (height, width))
        )
        size = max(flat, turned)
        if size >= _LEAST_TEXT:
            middle = left + width / 2, top + height / 2
            yield _words(name, *middle, size, _INK, turned=turned > flat, middle=True)


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


def _box(left: float, top: float, width: float, height: float, fill: str, line: float, dashed: bool = False) -> str:
    dashes = ' stroke-dasharray=".8 .6"' if dashed else ""
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
    turn = f' transform="rotate(-90 {x:.2f} {y:.2f})"' if turned else ""
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:.2f}" fill="{fill}" text-anchor="{anchor}"{turn}>'
        f"{escape(text)}</text>"
    )
