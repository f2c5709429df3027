"""How wide a text is in a lettering, where it may be broken, and which of its letters no font has: asked of Pango.

For what is laid by measure without the typesetter's own layout (labels, place cards): Pango shapes the text here just
as it will when it is drawn, with whatever fonts of the system have letters that the bundled faces lack.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from functools import cache, lru_cache
from itertools import accumulate, pairwise
from types import SimpleNamespace
from typing import Any

from msgspec import Struct

from foldwright.render.units import MM_PER_POINT, MM_PER_PX, POINTS_PER_PX

_REFERENCE_PX = 100.0
"""Text is shaped once at this size; its widths grow with the size, since positions are not rounded."""
PANGO_UNIT = 1 / 1024
"""Pango counts in 1024ths of a px."""
_SLACK_MM = 0.02
"""A line may be wider than its room by what nobody sees."""
_FRACTION = re.compile("[0-9]+\u2044[0-9]+")
_FROM_RIGHT = ("R", "AL")
"""The strong classes of scripts that run from right to left (UAX 9, table 4)."""
_KEPT = 1 << 15
"""So many answers are kept: titles, contents and tables come again and again."""


class Lettering(Struct, frozen=True, eq=False):
    """How a theme writes a text. `leading` and `baseline` are multiples of the type size, `below` is in millimetres."""

    style: Any
    leading: float
    baseline: float
    below: float


class Shaped(Struct, frozen=True):
    """A text in the parts that stay on a line: each with its width, and the width of the blanks after it, in ems."""

    parts: tuple[tuple[str, float, float], ...]
    missing: tuple[str, ...]


def from_right(text: str) -> bool:
    """Whether it begins, as its first strong letter says, at the right (UAX 9, P2 and P3)."""
    strong = (kind for letter in text if (kind := unicodedata.bidirectional(letter)) in ("L", *_FROM_RIGHT))
    return next(strong, "L") in _FROM_RIGHT


@lru_cache(_KEPT)
def shaped(text: str, lettering: Lettering, by_letter: bool = False) -> Shaped:
    """The text shaped; with `by_letter` it may be broken before every letter, not only between words."""
    from weasyprint.text.line_break import get_log_attrs

    if not text:
        return Shaped((), ())
    advances, missing = advances_of(_layout(text, lettering, _REFERENCE_PX))
    starts = list(accumulate((len(letter.encode()) for letter in text), initial=0))
    wide = [advances.get(at, 0) * PANGO_UNIT / _REFERENCE_PX for at in starts[:-1]]
    attributes = get_log_attrs(text, lettering.style["lang"])
    marks = [attributes[number] for number in range(len(text))]
    breaks = [n for n, one in enumerate(marks) if n and (one.is_line_break or (by_letter and one.is_cursor_position))]
    parts = []
    for begin, end in pairwise([0, *breaks, len(text)]):
        filled = begin + len(text[begin:end].rstrip())
        parts.append((text[begin:end], sum(wide[begin:filled]), sum(wide[filled:end])))
    return Shaped(tuple(parts), missing)


@lru_cache(_KEPT)
def broken(
    text: str, lettering: Lettering, size: float, room: float, by_letter: bool = False
) -> tuple[str, ...] | None:
    """The text in lines no wider than a room in millimetres; None where a part of it is wider. `size` is in points."""
    em = size * MM_PER_POINT
    lines, line, at = [], "", 0.0
    for part, wide, blank in shaped(text, lettering, by_letter).parts:
        if wide * em > room:
            return None
        if line and at + wide * em > room:
            lines.append(line.rstrip())
            line, at = "", 0.0
        line += part
        at += (wide + blank) * em
    return tuple([*lines, line.rstrip()] if line else lines)


@lru_cache(_KEPT)
def width_mm(line: str, lettering: Lettering, size: float) -> float:
    """How wide a line is as it will be drawn."""
    from weasyprint.text.line_break import line_size

    layout = _layout(line, lettering, size / POINTS_PER_PX)
    wide: float = line_size(layout.get_first_line()[0], layout.style)[0]
    return wide * MM_PER_PX


def within(lines: Sequence[str], lettering: Lettering, size: float, room: float) -> bool:
    """Whether lines that were reckoned to fit do fit when they are set."""
    return all(width_mm(line, lettering, size) <= room + _SLACK_MM for line in lines)


class Pen:
    """Draws lines into the streams of one document; a line that comes again is shaped once."""

    def __init__(self) -> None:
        self._drawn: dict[tuple[str, Lettering, float], tuple[Any, ...]] = {}

    def line(self, stream: Any, text: str, lettering: Lettering, size: float, left: float, base: float) -> None:
        """Draw a line from its left end, its letters standing on `base`: px from the page's upper left corner."""
        key = (text, lettering, size)
        stream.set_color(lettering.style["color"])
        # The font is named anew for each line, so that what was drawn of it can stand anywhere.
        stream._current_font = stream._old_font = None
        stream.begin_text()
        if drawn := self._drawn.get(key):
            stream.set_text_matrix(1, 0, 0, -1, left, base)
            stream.stream.extend(drawn)
            stream.end_text()
        else:
            self._first(stream, key, left, base)

    def _first(self, stream: Any, key: tuple[str, Lettering, float], left: float, base: float) -> None:
        from weasyprint.draw.text import draw_emojis, draw_first_line
        from weasyprint.matrix import Matrix

        text, lettering, size = key
        begin = len(stream.stream) + 1
        layout = _layout(text, lettering, size / POINTS_PER_PX)
        box = SimpleNamespace(text=text, style=layout.style, pango_layout=layout, baseline=0)
        emojis = draw_first_line(stream, box, "clip", "none", Matrix(d=-1, e=left, f=base))
        if not emojis:
            self._drawn[key] = tuple(stream.stream[begin:])
        stream.end_text()
        draw_emojis(stream, layout.style, left, base, emojis)


def advances_of(layout: Any) -> tuple[dict[int, int], tuple[str, ...]]:
    """How far each cluster goes on, by the byte it begins with; and the letters of which no font has a glyph."""
    from weasyprint.text.ffi import pango

    advances: dict[int, int] = {}
    missing: set[str] = set()
    for run in _runs(layout):
        item, glyphs = run.item, run.glyphs
        offset, number = item.offset, glyphs.num_glyphs
        for cluster, info in zip(glyphs.log_clusters[0:number], glyphs.glyphs[0:number], strict=True):
            at = offset + cluster
            advances[at] = advances.get(at, 0) + info.geometry.width
            if info.glyph & pango.PANGO_GLYPH_UNKNOWN_FLAG:
                missing.add(chr(info.glyph - pango.PANGO_GLYPH_UNKNOWN_FLAG))
    return advances, tuple(dict.fromkeys(letter for letter in layout.text if letter in missing))


def families_of(text: str, lettering: Lettering) -> tuple[str, ...]:
    """The families of the fonts a text is set in, each once."""
    from weasyprint.text.ffi import ffi, pango

    layout = _layout(text, lettering, _REFERENCE_PX)
    found: dict[str, None] = {}
    for run in _runs(layout):
        described = pango.pango_font_describe_with_absolute_size(run.item.analysis.font)
        description = ffi.gc(described, pango.pango_font_description_free)
        found[ffi.string(pango.pango_font_description_get_family(description)).decode()] = None
    return tuple(found)


def _runs(layout: Any) -> Iterator[Any]:
    """The runs of a text's first line, each in one font."""
    from weasyprint.text.ffi import ffi

    run = layout.get_first_line()[0].runs[0]
    while run != ffi.NULL:
        yield run.data
        run = run.next


def _layout(text: str, lettering: Lettering, size_px: float) -> Any:
    layout = _layout_class()(_sized(lettering, size_px, from_right(text)))
    layout.set_text(text)
    return layout


@lru_cache(256)
def _sized(lettering: Lettering, size_px: float, right_to_left: bool) -> Any:
    style = lettering.style.copy()
    style["font_size"] = size_px
    style["direction"] = "rtl" if right_to_left else "ltr"
    return style


@cache
def _layout_class() -> Any:
    """The typesetter's own layout of a text, with real fractions; made on first use, its parent being slow to load."""
    from weasyprint.text.ffi import ffi, pango
    from weasyprint.text.line_break import Layout

    class Fractioned(Layout):  # type: ignore[misc]
        def set_text(self, text: str, justify: bool = False) -> None:
            super().set_text(text, justify)
            if not (found := list(_FRACTION.finditer(text))):
                return
            known = pango.pango_layout_get_attributes(self.layout)
            own = ffi.gc(pango.pango_attr_list_new(), pango.pango_attr_list_unref)
            for match in found:
                fraction = pango.pango_attr_font_features_new(b"frac 1, lnum 1")
                fraction.start_index, fraction.end_index = (len(text[:at].encode()) for at in match.span())
                pango.pango_attr_list_insert(own if known == ffi.NULL else known, fraction)
            if known == ffi.NULL:
                # A list the layout has already must not be given to it again: it might let go of it first.
                pango.pango_layout_set_attributes(self.layout, own)

    return Fractioned
