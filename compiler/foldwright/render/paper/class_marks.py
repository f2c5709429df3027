"""What is drawn on a handout without being read out: lines for notes, page numbers, a title block, a grid."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from foldwright.document.model import Document
from foldwright.measure.length import System
from foldwright.render.drawing.label import width_of
from foldwright.render.paper.papers import Paper
from foldwright.render.units import MM_PER_INCH, MM_PER_POINT

_DESCENT = 0.25
"""Ems from the line that letters stand on to the foot of the page's text: the faces' descenders reach less far."""
_GRID_MM = {System.IMPERIAL: MM_PER_INCH / 4, System.METRIC: 5.0}
_STROKE = 0.35
_LINE, _PAD = 1.45, 0.6
"""Ems from line to line of a title block, and on both sides of what stands in a cell of it."""


def ruled(width: float, lines: int, apart: float) -> str:
    """Lines to write on, as an SVG."""
    strokes = "".join(f"M0 {(number + 1) * apart - 0.2:.3f}h{width:.3f}" for number in range(lines))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.3f} {lines * apart:.3f}" '
        f'preserveAspectRatio="none"><path d="{strokes}" stroke="#8c8c8c" stroke-width=".2"/></svg>'
    )


def grid(width: float, height: float, system: System) -> str:
    """Squares of a quarter inch or of 5 mm, from the middle of a field outwards, so that it is alike on both sides."""
    apart = _GRID_MM[system]
    across = "".join(f"M{x:.3f} 0v{height:.3f}" for x in _lines(width, apart))
    down = "".join(f"M0 {y:.3f}h{width:.3f}" for y in _lines(height, apart))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.3f} {height:.3f}">'
        f'<path d="{across}{down}" stroke="#cfd6da" stroke-width=".15"/></svg>'
    )


def _lines(length: float, apart: float) -> list[float]:
    first = (length / 2) % apart
    return [first + number * apart for number in range(int((length - first) / apart) + 1)]


def folio(document: Document, paper: Paper, small_pt: float, number: int, pages: int) -> str:
    """The foot of a page, on a picture of the size of the page: the title, if there is room, and its number."""
    wide, _, margin = paper.page
    size = small_pt * MM_PER_POINT
    count = f"{number}{document.labels['of-pages']}{pages}"
    room = wide - 2 * margin - (width_of(count) + 2) * size
    title = document.head.title if width_of(document.head.title) * size <= room else ""
    return _on_page(paper, size, _text(margin, 0, title, paper, size) + _text(wide - margin, 0, count, paper, size, -1))


def sheet_of(document: Document, number: int, pages: int) -> str:
    """Which sheet it is, as a title block says it."""
    return f"{document.labels['sheet']} {number}{document.labels['of-pages']}{pages}"


def title_block(document: Document, paper: Paper, small_pt: float, sheet: str) -> str:
    """A box at the lower right of a page: the name; under it time, level and revision; and which `sheet` it is."""
    head, label = document.head, document.labels
    wide, high, margin = paper.page
    size = small_pt * MM_PER_POINT
    revised = f"{label['revised']} {head.revised_words}" if head.revised_words else ""
    most = wide - 2 * margin - _STROKE
    cells = [text for text in (document.totals.line, head.level, revised) if text]
    while cells and _row_width([*cells, sheet], size) > most:
        cells.pop()
    cells.append(sheet)
    name = head.title if width_of(head.title) + 2 * _PAD <= most / size else ""
    across = min(most, max(_row_width(cells, size), (width_of(name) * 1.1 + 2 * _PAD) * size))
    # By half a line inside, so that no ink is in the margin.
    left, row = wide - margin - across - _STROKE / 2, _LINE * size
    foot = high - margin - _STROKE / 2
    top = foot - row * (2 if name else 1)
    strokes = f"M{left:.3f} {top:.3f}h{across:.3f}V{foot:.3f}h-{across:.3f}z"
    strokes += f"M{left:.3f} {foot - row:.3f}h{across:.3f}" if name else ""
    drawn, at = _text(left + _PAD * size, 1, name, paper, size, bold=True), left
    for text, cell in zip(cells, _cell_widths(cells, size, across), strict=True):
        drawn += _text(at + _PAD * size, 0, text, paper, size)
        at += cell
        strokes += f"M{at:.3f} {foot - row:.3f}v{row:.3f}"
    return _on_page(paper, size, f'<path d="{strokes}" fill="none" stroke="#17181a" stroke-width="{_STROKE}"/>{drawn}')


def _cell_widths(cells: Sequence[str], size: float, across: float) -> list[float]:
    """As wide as their words want, the first with what is over."""
    widths = [(width_of(text) + 2 * _PAD) * size for text in cells]
    return [widths[0] + across - sum(widths), *widths[1:]]


def _row_width(cells: Sequence[str], size: float) -> float:
    return sum((width_of(text) + 2 * _PAD) * size for text in cells)


def _text(x: float, line: int, text: str, paper: Paper, size: float, side: int = 1, bold: bool = False) -> str:
    """Words on a line counted from the foot of the page's text; `side` -1 ends them there."""
    _, high, margin = paper.page
    y = high - margin - size * (_DESCENT + (_LINE - 1) / 2 * bool(line or bold)) - line * _LINE * size
    anchor = ' text-anchor="end"' if side < 0 else ""
    weight = ' font-weight="600"' if bold else ""
    return f'<text x="{x:.3f}" y="{y:.3f}"{anchor}{weight}>{escape(text)}</text>' if text else ""


def _on_page(paper: Paper, size: float, drawn: str) -> str:
    wide, high, _ = paper.page
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide:.3f} {high:.3f}" '
        f'font-family="Foldwright Sans" font-size="{size:.4f}" fill="#333">{drawn}</svg>'
    )
