"""Nothing off the page, nothing in the margins."""

from __future__ import annotations

import io
from collections.abc import Collection

import numpy as np
import pypdfium2

from printed.reading import POINTS, Box, Page

_OFF = 0.1
"""Points by which a stroke may reach over the edge: a background over the whole page does by rounding."""
_SCALE = 4
"""Pixels a point: PDFium draws the edge of a box up to a pixel further out than it is."""
_UNSEEN = 0.5
"""Points that ink may reach into a margin."""
_PAPER = 250
"""A pixel at least as light, of 255, has no ink."""


def off_page(pages: Collection[Page]) -> list[str]:
    """Glyphs, strokes and pictures that reach over the edge of the page, even where nothing is seen of it.
    What is clipped away counts as well."""
    found: list[str] = []
    for page in pages:
        glyphs = [(f"“{word.text}”", word.box) for word in page.words]
        for what, box in glyphs + [(f"a {ink.kind}", ink.box) for ink in page.inks]:
            over = max(-box.x0, -box.top, box.x1 - page.width, box.bottom - page.height)
            if over > _OFF:
                found.append(f"page {page.number}: {what} reaches {over:.1f} pt over the edge")
    return found


def in_margins(
    data: bytes, margin: float | tuple[float, float, float, float], *, allowed: Collection[Box] = ()
) -> list[str]:
    """Ink in the margins: `margin` is in mm, one for all sides or (top, right, bottom, left). PDFium draws the page on
    white paper, so clipping, white fills and the true shape of glyphs are taken as they are seen.
    Ink within the `allowed` boxes (points; cut marks, say) is no fault."""
    sides = (margin,) * 4 if isinstance(margin, int | float) else margin
    top, right, bottom, left = (side * POINTS["mm"] for side in sides)
    found: list[str] = []
    document = pypdfium2.PdfDocument(io.BytesIO(data))
    try:
        for number, page in enumerate(document, 1):
            width, height = page.get_size()
            ink = _ink(page)
            for box in allowed:
                ink[_pixels(box.top, box.bottom), _pixels(box.x0, box.x1)] = False
            bands = {
                "top": Box(0, 0, width, top),
                "right": Box(width - right, 0, width, height),
                "bottom": Box(0, height - bottom, width, height),
                "left": Box(0, 0, left, height),
            }
            found += [told for side, band in bands.items() if (told := _told(ink, number, side, band))]
            page.close()
    finally:
        document.close()
    return found


def _ink(page: pypdfium2.PdfPage) -> np.ndarray:
    """Where there is ink, a truth value a pixel."""
    bitmap = page.render(scale=_SCALE, grayscale=True, may_draw_forms=False)
    shades = bitmap.to_numpy().copy()
    bitmap.close()
    return shades.reshape(shades.shape[:2]) < _PAPER


def _told(ink: np.ndarray, number: int, side: str, band: Box) -> str:
    inner = {
        "top": band._replace(bottom=band.bottom - _UNSEEN),
        "right": band._replace(x0=band.x0 + _UNSEEN),
        "bottom": band._replace(top=band.top + _UNSEEN),
        "left": band._replace(x1=band.x1 - _UNSEEN),
    }[side]
    rows, columns = _pixels(inner.top, inner.bottom), _pixels(inner.x0, inner.x1)
    ys, xs = np.nonzero(ink[rows, columns])
    if not len(xs):
        return ""
    points = [(xs.min() + columns.start) / _SCALE, (ys.min() + rows.start) / _SCALE]
    points += [(xs.max() + 1 + columns.start) / _SCALE, (ys.max() + 1 + rows.start) / _SCALE]
    x0, y0, x1, y1 = (point / POINTS["mm"] for point in points)
    return f"page {number}: ink in the {side} margin, from {x0:.1f}, {y0:.1f} to {x1:.1f}, {y1:.1f} mm"


def _pixels(start: float, end: float) -> slice:
    """The pixels that lie wholly between two places in points, and those cut by its outer edges' rounding up."""
    return slice(max(0, int(np.floor(start * _SCALE + 0.5))), max(0, int(np.floor(end * _SCALE + 0.5))))
