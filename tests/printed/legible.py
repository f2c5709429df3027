"""Type large enough to read, and no word over another."""

from __future__ import annotations

from collections.abc import Collection

from printed.reading import Page, Word

ROUNDING = 0.01
"""Pango counts in 1024ths of a pixel, so that 10 pt come out as 9.9998 pt."""
FIGURE = "Figure"
UNITS = frozenset(("in", "mm", "cm", "ft", "x"))


def small_type(
    pages: Collection[Page],
    *,
    words: float = 8.0,
    figures: float = 7.0,
    fraction: float = 1.0,
    units: Collection[str] = UNITS,
) -> list[str]:
    """Every word with a glyph under its limit, in points: `words` anywhere; `figures` within drawings (content marked
    as Figure) for words with a digit, without letters, or that are a unit. A word of a drawing with a fraction stroke
    may have `fraction` of that limit (1: no less than others), for fractions built of small figures.
    A fraction set by the font's `frac` counts with the size of its type."""
    found: list[str] = []
    for page in pages:
        for word in page.words:
            in_drawing = word.tag == FIGURE and _is_figure(word.text, units)
            limit = figures if in_drawing else words
            if in_drawing and ("/" in word.text or "⁄" in word.text):
                limit *= fraction
            least = min(glyph.size for glyph in word.glyphs)
            if least < limit - ROUNDING:
                found.append(f"page {page.number}: “{word.text}” is set in {least:.2f} pt, not in {limit:g} pt or more")
    return found


def overlapping(pages: Collection[Page], *, slack: float = 0.5) -> list[str]:
    """Words that lie over one another. A word covers its glyphs' advances, from 0.2 em under the line to 0.66 em over
    it (descenders and capitals; turned with the writing), so lines set solid and overhanging italics do not touch.
    Two words overlap if what they share is more than `slack` points thick. A word is what is drawn without a gap or a
    space, so the parts of a fraction are one word. Text drawn twice in one place is found as well."""
    import shapely

    found: list[str] = []
    for page in pages:
        shapes = [shapely.union_all([shapely.Polygon(glyph.corners) for glyph in word.glyphs]) for word in page.words]
        pairs = shapely.STRtree(shapes).query(shapes, predicate="intersects") if shapes else ()
        for one, other in sorted(zip(*pairs, strict=True)):
            if one < other and _thicker(shapes[one].intersection(shapes[other]), slack):
                found.append(_told(page.words[one], page.words[other]))
    return found


def _is_figure(text: str, units: Collection[str]) -> bool:
    letters = [letter for letter in text if letter.isalpha()]
    return not letters or any(letter.isdigit() for letter in text) or text.strip(".,;:()") in units


def _thicker(shape, slack: float) -> bool:
    return not shape.buffer(-slack / 2, join_style="mitre").is_empty


def _told(one: Word, other: Word) -> str:
    at = f"{other.box.x0:.1f}, {other.box.top:.1f}"
    return f"page {one.page}: “{one.text}” and “{other.text}” lie over one another at {at} pt"
