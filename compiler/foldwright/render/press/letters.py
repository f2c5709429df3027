"""Where the letters of a line stand, and where the line might have been broken: asked of Pango, which shaped it.

WeasyPrint keeps the shaped text of every box but has no public way to ask it; this module uses what its own drawing
and line breaking use.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from typing import Any

_PANGO_UNIT = 1 / 1024
"""Pango counts in 1024ths of a px."""


def letter_starts(box: Any) -> list[float]:
    """Where each letter of a text box begins, and where the last ends, in px from the left of its line's container."""
    from weasyprint.text.ffi import ffi

    layout = box.pango_layout
    layout.reactivate(box.style)
    line, _ = layout.get_first_line()
    advances: dict[int, int] = {}
    run = line.runs[0]
    while run != ffi.NULL:
        item, glyphs = run.data.item, run.data.glyphs
        offset, number = item.offset, glyphs.num_glyphs
        for cluster, glyph in zip(glyphs.log_clusters[0:number], glyphs.glyphs[0:number], strict=True):
            at = offset + cluster
            advances[at] = advances.get(at, 0) + glyph.geometry.width
        run = run.next
    layout.deactivate()
    # By byte of the text; a letter that is part of a ligature begins where the ligature does.
    bytes_before = accumulate((len(letter.encode()) for letter in box.text), initial=0)
    starts, x = [], 0
    for at in list(bytes_before)[:-1]:
        starts.append(box.position_x + x * _PANGO_UNIT)
        x += advances.get(at, 0)
    return [*starts, box.position_x + x * _PANGO_UNIT]


def line_breaks(text: str, language: str) -> Sequence[bool]:
    """For each letter of a text whether a line might begin with it."""
    from weasyprint.text.line_break import get_log_attrs

    attributes = get_log_attrs(text, language)
    return [bool(attributes[number].is_line_break) for number in range(len(text))]
