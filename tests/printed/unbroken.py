"""Measurements are never broken over two lines."""

from __future__ import annotations

import re
from itertools import pairwise

from printed.laid import Laid, laid
from printed.reading import Glyph, goes_on

_FRACTION = r"(?:\d+\s?[/⁄]\s?\d+|[½⅓⅔¼¾⅛⅜⅝⅞])"
_NUMBER = rf"(?:\d+(?:[.,]\d+)?(?:[\s-]?{_FRACTION})?|{_FRACTION})"
_TIMES = r"\s*[x×]\s*"
_UNIT = r"(?:in(?!\s+(?:the|a|an|each|one|it|its|your)\b)|mm|cm|ft|yd|pt|m|lb|oz|kg|g|min|h)"
MEASURE = re.compile(rf"(?<![\w/⁄.]){_NUMBER}(?:{_TIMES}{_NUMBER})*\s*{_UNIT}(?![\w/])|{_NUMBER}(?:{_TIMES}{_NUMBER})+")
"""A number with its fraction and its unit, several of them with a times sign between, or such without a unit.
“Step 4 in the box” is none; of other words after “in” the measure knows nothing."""
_BLOCKS = frozenset(("P", "LBody", "Lbl", "TD", "TH", "Caption", "H1", "H2", "H3", "H4", "H5", "H6"))


def broken_measures(data: bytes) -> list[str]:
    """Every measurement with a line end in it. Drawings are left out: what stands in them has no lines."""
    blocks = (block for top in laid(data) for block in _blocks(top))
    measures = ((page, match[0].split("\n")) for page, text in blocks for match in MEASURE.finditer(text))
    return [f"page {page}: “{' / '.join(parts)}” is broken over two lines" for page, parts in measures if parts[1:]]


def _blocks(element: Laid) -> list[tuple[int, str]]:
    """The text of each block, its lines parted by line ends."""
    if element.role == "Figure":
        return []
    if element.role not in _BLOCKS or any(one.role in _BLOCKS for one in list(element.all())[1:]):
        own = [(element.page, _lines(element.glyphs))] if element.glyphs else []
        return own + [block for one in element.below for block in _blocks(one)]
    glyphs = tuple(glyph for one in element.all() if one.role != "Figure" for glyph in one.glyphs)
    return [(element.page, _lines(glyphs))]


def _lines(glyphs: tuple[Glyph, ...]) -> str:
    text = glyphs[0].text if glyphs else ""
    for before, glyph in pairwise(glyphs):
        em = max(before.size, glyph.size)
        new = glyph.start[0] < before.end[0] - em or abs(glyph.start[1] - before.end[1]) > 0.7 * em
        if new:
            text = text.rstrip() + "\n"
        elif not goes_on(before, glyph) and not text.endswith(" "):
            text += " "
        text += glyph.text
    return text
