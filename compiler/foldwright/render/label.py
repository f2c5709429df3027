"""A label as it will be drawn: plain letters and real fractions, with its width known beforehand."""

from __future__ import annotations

import re
from functools import lru_cache
from html import escape

from msgspec import Struct

from foldwright.render.letter_widths import width_of

PART_SIZE = 0.64
"""The type size of numerator and denominator: a little larger than the font's own fraction figures, for small print."""
PART_RISE = 0.28
"""How far a numerator is raised, so that its top is about level with the whole figures beside it."""
PART_DROP = 0.05
"""How far a denominator is lowered, to keep it apart from the stroke."""
AFTER_WHOLE = 0.08
STROKE_SIZE = 0.88
STROKE_RISE = 0.02
STROKE_TIGHT = 0.07
"""The stroke is an ordinary slash, tucked under the figures. The real fraction slash would make some shapers turn all
figures near it into fraction figures of their own, on top of these."""
ROOM = 1.06
"""Labels are given six in a hundred more than Source Sans needs: a theme may set them in a wider face."""

_FRACTION = re.compile("(?P<space>[ \u202f\u00a0]?)(?P<over>[0-9]+)\u2044(?P<under>[0-9]+)")


class Label(Struct, frozen=True):
    """`parts` are plain letters and (numerator, denominator) in turn, beginning with letters; `width` is in ems."""

    text: str
    parts: tuple[str | tuple[str, str], ...]
    width: float


@lru_cache(maxsize=4096)
def label_of(text: str) -> Label:
    """Cut a text such as `4 1⁄8 in` at its fractions; the space before a fraction goes, its figures stand close."""
    parts: list[str | tuple[str, str]] = []
    width, at = 0.0, 0
    for match in _FRACTION.finditer(text):
        letters = text[at : match.start()]
        space = match["space"] if letters and not letters[-1].isdigit() else ""
        parts += [letters + space, (match["over"], match["under"])]
        width += width_of(letters + space) + (AFTER_WHOLE if letters else 0.0)
        width += PART_SIZE * width_of(match["over"] + match["under"])
        width += STROKE_SIZE * width_of("/") - 2 * STROKE_TIGHT
        at = match.end()
    parts.append(text[at:])
    return Label(text, tuple(parts), (width + width_of(text[at:])) * ROOM)


@lru_cache(maxsize=4096)
def label_markup(label: Label, size: float) -> str:
    """The inside of an SVG text element of this type size."""
    if len(label.parts) == 1:
        return escape(label.text, quote=False)
    small, stroke = f"{size * PART_SIZE:.2f}", f"{size * STROKE_SIZE:.2f}"
    rise, fall = size * PART_RISE, size * (PART_RISE - STROKE_RISE)
    drop, back = size * (PART_DROP + STROKE_RISE), size * PART_DROP
    tight = f"{size * STROKE_TIGHT:.2f}"
    lowered = False
    out: list[str] = []
    for part in label.parts:
        if isinstance(part, str):
            # The base line stays where the last denominator left it, so the letters after it are lifted back.
            lift = f' dy="-{back:.2f}"' if lowered and part else ""
            lowered = lowered and not part
            letters = escape(part, quote=False)
            out.append(f"<tspan{lift}>{letters}</tspan>" if lift else letters)
            continue
        gap = f' dx="{size * AFTER_WHOLE:.2f}"' if out[-1] else ""
        up = rise + (back if lowered else 0.0)
        out.append(
            f'<tspan font-size="{small}"{gap} dy="-{up:.2f}">{part[0]}</tspan>'
            f'<tspan font-size="{stroke}" dx="-{tight}" dy="{fall:.2f}">/</tspan>'
            f'<tspan font-size="{small}" dx="-{tight}" dy="{drop:.2f}">{part[1]}</tspan>'
        )
        lowered = True
    return "".join(out)
