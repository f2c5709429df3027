"""Where the letters of a line stand, and where the line might have been broken: asked of Pango, which shaped it.

WeasyPrint keeps the shaped text of every box but has no public way to ask it; this module uses what its own drawing
and line breaking use.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from typing import Any

from foldwright.render.paper.shaping import PANGO_UNIT, advances_of


def letter_starts(box: Any) -> list[float]:
    """Where each letter of a text box begins, and where the last ends, in px from the left of its line's container."""
    layout = box.pango_layout
    layout.reactivate(box.style)
    advances, _ = advances_of(layout)
    layout.deactivate()
    # By byte of the text; a letter that is part of a ligature begins where the ligature does.
    bytes_before = accumulate((len(letter.encode()) for letter in box.text), initial=0)
    starts, x = [], 0
    for at in list(bytes_before)[:-1]:
        starts.append(box.position_x + x * PANGO_UNIT)
        x += advances.get(at, 0)
    return [*starts, box.position_x + x * PANGO_UNIT]


def line_breaks(text: str, language: str) -> Sequence[bool]:
    """For each letter of a text whether a line might begin with it."""
    from weasyprint.text.line_break import get_log_attrs

    attributes = get_log_attrs(text, language)
    return [bool(attributes[number].is_line_break) for number in range(len(text))]
