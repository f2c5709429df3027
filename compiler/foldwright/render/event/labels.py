"""Labels, so many to a sheet, and place cards to fold: laid by measure, every text as large as its place allows."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import inf
from types import SimpleNamespace

from msgspec import Struct

from foldwright.render.letter_widths import width_of
from foldwright.render.line import set_line
from foldwright.render.press.papers import Paper
from foldwright.render.press.typesetting import typeset
from foldwright.render.themes import load_paper_theme
from foldwright.render.units import MM_PER_POINT
from foldwright.sheet.event.model import CardText, LabelText

_EDGE = Fraction(5)
"""What printers leave blank at every edge, in millimetres (common practice, no source)."""
_INSET = 2.5
_LEADING = 1.25
_BOLD = 1.06
"""Bold letters are about so much wider than the regular ones that widths are known of."""
_TITLES, _TEXTS = (18.0, 16.0, 14.0, 12.0, 11.0, 10.0, 9.0, 8.0), (12.0, 11.0, 10.0, 9.5, 9.0, 8.5, 8.0, 7.5, 7.0, 6.5)
_LEAST_WARNING = 7.0
_FOOT = 6.5
_APART = 1.5
"""Millimetres between the parts of a label, all together."""
_TABLE = 6.2
"""Millimetres for the line with the table."""
_ASIDE, _ASIDE_HIGH = 10.0, 4.4
"""Points of the line that says what is made, and millimetres it takes."""
_NAMES = tuple(float(size) for size in range(38, 12, -2))


class Grid(Struct, frozen=True):
    """Places of one size on a paper, in the middle of it, with nothing between them. All in millimetres."""

    paper: Paper
    across: int
    down: int
    width: Fraction
    height: Fraction

    @property
    def corner(self) -> tuple[float, float]:
        left = (self.paper.width_mm - self.across * self.width) / 2
        top = (self.paper.height_mm - self.down * self.height) / 2
        return float(left), float(top)

    @property
    def places(self) -> int:
        return self.across * self.down


def grid_of(paper: Paper, width: Fraction, height: Fraction) -> Grid | None:
    """As many places as go on the paper inside the edge no printer reaches; None when not one does."""
    across = int((paper.width_mm - 2 * _EDGE) // width)
    down = int((paper.height_mm - 2 * _EDGE) // height)
    return Grid(paper, across, down, width, height) if across > 0 and down > 0 else None


def labels_pdf(
    labels: Sequence[LabelText], grid: Grid, title: str, language: str, theme: str
) -> bytes | tuple[LabelText, ...]:
    """The labels one after the other, page by page; or those that do not fit.

    What whoever gets them must know is never left out nor set under 7 points.
    """
    fitted = {label: _label(label, grid) for label in dict.fromkeys(labels)}
    if unfit := tuple(label for label, one in fitted.items() if one is None):
        return unfit
    ready = [one for label in labels if (one := fitted[label])]
    return _pdf(ready, grid, title, language, theme, "label")


def least_size(label: LabelText, width: Fraction, step: Fraction) -> tuple[Fraction, Fraction]:
    """The smallest label that holds title and warning: as wide as asked, or wider by steps, and as low as can be."""
    while True:
        taken = _taken(label, (), "", _TITLES[-1], _TEXTS[-1], float(width) - 2 * _INSET)
        if taken is not None:
            return width, -(-Fraction(taken + 2 * _INSET) // step) * step
        width += step


def place_cards_pdf(cards: Sequence[CardText], grid: Grid, title: str, language: str, theme: str) -> bytes:
    """A card to fold in half for each name, with the table's name and what is made under it if there are such."""
    return _pdf(
        [_card(card.name, card.table, card.aside, grid) for card in cards], grid, title, language, theme, "card"
    )


type _Fitted = dict[str, object]


def _pdf(fitted: Sequence[_Fitted], grid: Grid, title: str, language: str, theme: str, kind: str) -> bytes:
    pages = [_placed(fitted[at : at + grid.places], grid) for at in range(0, len(fitted), grid.places)]
    ready = load_paper_theme(theme, "labels")
    html = ready.filled(pages=pages, kind=kind, title=title, language=language)
    wide, high = float(grid.paper.width_mm), float(grid.paper.height_mm)
    page = f"@page{{size:{wide:.4f}mm {high:.4f}mm;margin:0}}.page{{width:{wide:.4f}mm;height:{high - 0.01:.4f}mm}}"
    return typeset(html, ready.style, page).pdf()


def _placed(page: Sequence[_Fitted], grid: Grid) -> list[SimpleNamespace]:
    left, top = grid.corner
    width, height = float(grid.width), float(grid.height)
    found = []
    for number, one in enumerate(page):
        row, column = divmod(number, grid.across)
        at = f"left:{left + column * width:.3f}mm;top:{top + row * height:.3f}mm"
        found.append(SimpleNamespace(place=f"{at};width:{width:.3f}mm;height:{height:.3f}mm", **one))
    return found


# --- fitting ----------------------------------------------------------------------------------------------------------


def _lines(text: str, size: float, room: float, bold: bool = False) -> float:
    """How many lines a text takes; a word that is wider than the room never ends."""
    lines, at = 1, 0.0
    space = width_of(" ") * size * MM_PER_POINT
    for word in text.split():
        wide = width_of(word) * size * MM_PER_POINT * (_BOLD if bold else 1.0)
        if wide > room:
            return inf
        if at and at + space + wide > room:
            lines, at = lines + 1, wide
        else:
            at += wide + (space if at else 0.0)
    return lines


def _taken(label: LabelText, lines: Sequence[str], foot: str, title: float, text: float, room: float) -> float | None:
    """Millimetres that a wording is high in these sizes; None where a word is wider than the room."""
    warned = max(text, _LEAST_WARNING)
    taken = (_lines(label.title, title, room, bold=True) + _named(label, title, room)) * title
    taken += sum(_lines(line, text, room) for line in lines) * text
    taken += (_lines(label.warning, warned, room, bold=True) * warned) if label.warning else 0.0
    taken += _lines(foot, _FOOT, room) * _FOOT if foot else 0.0
    return None if taken == inf else taken * _LEADING * MM_PER_POINT + _APART


def _named(label: LabelText, size: float, room: float) -> float:
    return _lines(label.name, size, room, bold=True) if label.name else 0


def _label(label: LabelText, grid: Grid) -> _Fitted | None:
    """The fullest wording in the largest letters that fit; the studio's name goes first, then the contents.

    None where the title and the warning do not fit in the smallest.
    """
    room, high = float(grid.width) - 2 * _INSET, float(grid.height) - 2 * _INSET
    wordings = [(label.lines, label.foot), (label.lines, ""), ((), label.foot), ((), "")]
    for lines, foot in wordings:
        for title in _TITLES:
            for text in _TEXTS:
                taken = _taken(label, lines, foot, title, text, room)
                # The title is always the largest.
                if text < title and taken is not None and taken <= high:
                    return _set_label(label, lines, foot, title, text)
    return None


def _set_label(label: LabelText, lines: Sequence[str], foot: str, title: float, text: float) -> _Fitted:
    return {
        "name": label.name,
        "title": label.title,
        "title_size": f"font-size:{title}pt",
        "lines": list(map(set_line, lines)),
        "size": f"font-size:{text}pt",
        "warning": label.warning,
        "warning_size": f"font-size:{max(text, _LEAST_WARNING)}pt",
        "foot": foot,
    }


def _card(name: str, table: str, aside: str, grid: Grid) -> _Fitted:
    half = float(grid.height) / 2
    room = float(grid.width) - 10.0
    below = (_TABLE if table else 0.0) + (_lines(aside, _ASIDE, room) * _ASIDE_HIGH if aside else 0.0)
    high = half - 8.0 - below
    size = next(
        (size for size in _NAMES if _lines(name, size, room, bold=True) * size * 1.15 * MM_PER_POINT <= high),
        _NAMES[-1],
    )
    text = _lines(name, size, room, bold=True) * size * 1.15 * MM_PER_POINT + below
    return {
        "name": name,
        "table": table,
        "aside": aside,
        "size": f"font-size:{size}pt",
        "fold": f"top:{half:.3f}mm",
        "half": f"top:{half + (half - text) / 2:.3f}mm",
    }
