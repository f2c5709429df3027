"""Pages that were set apart made one book: tagged and linked to read, or side by side on sheets to fold.

Each part was laid out for itself. Its pages are taken as they are, so nothing on them changes its size.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct

from foldwright.render.paper import galley
from foldwright.render.paper.booklet.saddle import SaddleFormat, SaddleSheet, SheetLine
from foldwright.render.paper.imposing import MARK_WIDTH_MM
from foldwright.render.paper.typesetting import Typeset
from foldwright.render.units import MM_PER_PX

_DASH_MM = 1.5
_HEADINGS = {f"/H{level}": level for level in range(1, 6)}


class BoundPart(Struct, frozen=True):
    """Pages in a book that links find by their `name`. `marks` are the bookmarks at their beginning, by level, where
    they have none of their own."""

    name: str
    laid: Typeset
    marks: tuple[tuple[int, str], ...] = ()


def bound_pages(parts: Sequence[BoundPart]) -> Typeset:
    """All pages as one document: the title and the language are those of the first part."""
    for part in parts:
        first = part.laid.document.pages[0]
        first.anchors = {part.name: (0, 0, 0, 0)}
        if part.marks and not any(page.bookmarks for page in part.laid.document.pages):
            first.bookmarks = [(level, label, (0, 0), "open") for level, label in part.marks]
    return Typeset(parts[0].laid.document.copy([page for part in parts for page in part.laid.document.pages]))


def bound_pdf(bound: Typeset, parts: Sequence[BoundPart]) -> bytes:
    """The pages to read: tagged, each link saying in words where it leads, all headings below that of the cover."""
    called = {part.name: part.marks[-1][1] for part in parts}

    def finish(pdf: Any) -> None:
        cover = pdf.page_references[0]
        for one in pdf.objects:
            if not isinstance(one, dict):
                continue
            if one.get("Subtype") == "/Link" and "Dest" in one:
                # WeasyPrint 70 gives the name of the place it leads to.
                one["Contents"] = type(one["Dest"])(called[one["Dest"].string])
            elif one.get("Type") == "/StructElem" and (level := _HEADINGS.get(one["S"])) and one["Pg"] != cover:
                one["S"] = f"/H{level + 1}"

    return bound.pdf(finish_more=finish)


def saddle_pdf(bound: Typeset, sheets: Sequence[SaddleSheet], how: SaddleFormat) -> bytes:
    """The pages on sheets, fronts and backs in turn. It has no tags: it is for the printer, not to be read."""
    pages = bound.document.pages
    sides = [
        _Side([pages[number - 1] if number else None for number in (side.left, side.right)], float(sheet.creep_mm), how)
        for sheet in sheets
        for side in (sheet.front, sheet.back)
    ]
    data: bytes = bound.document.copy(sides).write_pdf(pdf_tags=False)
    return data


class _Side:
    """One side of a sheet, as the typesetter writes pages: it has their names for things."""

    links: tuple[()] = ()
    bookmarks: tuple[()] = ()
    anchors: Mapping[str, Any] = {}
    forms: Mapping[Any, Any] = {}
    bleed: Mapping[str, float] = dict.fromkeys(("top", "right", "bottom", "left"), 0.0)

    def __init__(self, pages: Sequence[Any], creep_mm: float, how: SaddleFormat) -> None:
        self._pages, self._creep, self._how = pages, creep_mm, how
        self.width, self.height = float(how.width_mm) / MM_PER_PX, float(how.height_mm) / MM_PER_PX

    def paint(self, stream: Any, scale: float = 1.0) -> None:
        """Draw the pages at their own size, each on its half alone, then the marks."""
        how, per_mm = self._how, 1 / MM_PER_PX
        wide, high = float(how.page.width_mm) * per_mm, float(how.page.height_mm) * per_mm
        top, creep = float(how.top_mm) * per_mm, self._creep * per_mm
        with stream.stacked():
            stream.transform(a=scale, d=scale)
            halves = zip(self._pages, (how.left_mm, how.fold_mm), (creep, -creep), strict=True)
            for page, left_mm, moved in halves:
                if page is None:
                    continue
                left = float(left_mm) * per_mm
                with stream.stacked():
                    stream.rectangle(left, top, wide, high)
                    stream.clip()
                    stream.end()
                    stream.transform(e=left + moved, f=top)
                    page.paint(stream)
            for line in how.marks:
                self._draw(line, stream)

    def _draw(self, line: SheetLine, stream: Any) -> None:
        per_mm = 1 / MM_PER_PX
        with stream.stacked():
            stream.set_color_rgb(0, 0, 0, stroke=True)
            stream.set_line_width(MARK_WIDTH_MM * per_mm)
            if line.dashed:
                stream.set_dash([_DASH_MM * per_mm], 0)
            stream.move_to(float(line.left) * per_mm, float(line.top) * per_mm)
            stream.line_to(float(line.right) * per_mm, float(line.bottom) * per_mm)
            stream.stroke()


def page_with(laid: Typeset, block: str) -> int:
    """The first page, from 1, on which a block stands; 0 where it is on none."""
    return next((number for number, box in enumerate(laid.boxes, 1) if block in galley.heights_of([box])), 0)
