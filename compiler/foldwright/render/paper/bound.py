"""Where pages stand in a book, and what their feet tell of that."""

from __future__ import annotations

from html import escape

from msgspec import Struct

from foldwright.document.booklet_text import BookletText
from foldwright.render.drawing.label import width_of
from foldwright.render.paper.papers import Paper
from foldwright.render.themes import Composition
from foldwright.render.units import MM_PER_POINT

FOOT_PT = 8.5
FOOT_MM = 2.0 * FOOT_PT * MM_PER_POINT
"""What the foot of a bound page takes of its text area: a line, and as much again above it."""
_DESCENT = 0.25
"""Ems from the line that letters stand on to the foot of the page's text: the faces' descenders reach less far."""


class BoundPlace(Struct, frozen=True):
    """A place in a book: the number of the first of its pages there, the book's title and words."""

    first: int
    book: str
    text: BookletText

    def number(self, page: int) -> int:
        """The number of the nth page there, counted from one."""
        return self.first + page - 1

    def called(self, page: int) -> str:
        """The same in words."""
        return self.text.page(self.number(page))


def bound_foot(
    place: BoundPlace, paper: Paper, page: int, title: str, composition: Composition, margin: float | None = None
) -> str:
    """The foot of a bound page, on a picture of the size of the page: its number at the outer edge. At the inner one is
    the book's title on left pages, and on right ones the `title` of what stands there, where there is room.
    """
    wide, high, usual = paper.page
    edge, size, number = usual if margin is None else margin, FOOT_PT * MM_PER_POINT, place.number(page)
    left = number % 2 == 0
    told = place.book if left else title
    room = wide - 2 * edge - (width_of(str(number)) + 2) * size
    y = high - edge - size * _DESCENT
    outer, inner = ((edge, ""), (wide - edge, ' text-anchor="end"'))[:: 1 if left else -1]
    texts = [f'<text x="{outer[0]:.3f}" y="{y:.3f}"{outer[1]} font-weight="600">{number}</text>']
    if told and width_of(told) * size <= room:
        slanted = ' font-style="italic"' if composition is Composition.HOUSEHOLD_BOOK else ""
        texts.append(f'<text x="{inner[0]:.3f}" y="{y:.3f}"{inner[1]}{slanted}>{escape(told)}</text>')
    family = "Serif" if composition is Composition.HOUSEHOLD_BOOK else "Sans"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide:.3f} {high:.3f}" '
        f'font-family="Foldwright {family}" font-size="{size:.4f}" fill="#444">{"".join(texts)}</svg>'
    )
