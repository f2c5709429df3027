"""Colours as they are seen: words against the ground they stand on, and what is left of colours in grey.

Contrast is that of WCAG 2.2 (1.4.3, relative luminance). PDFium draws the page, without smoothing, so that only colours
that were set come out.
"""

from __future__ import annotations

import io
from functools import lru_cache

import numpy as np
import pypdfium2

from printed.reading import Box, read

type Rgb = tuple[int, int, int]
_SCALE = 3
"""Pixels a point."""
LEAST = 4.5
LEAST_LARGE = 3.0
LARGE_PT = 18.0
"""WCAG 2.2, 1.4.3: large is 18 pt and more; bold from 14 pt on would be, too, and is left to the stricter rule."""
_SAME = 0.35
"""Share of the pixels under a word that its ground must have at least: else the word stands on a picture."""
ALIKE = 1.12
"""Contrast up to which two greys are taken for one. Neighbours on a printed scale of ten greys differ by more."""
_APART = 64
"""Steps of 255 in one part by which two colours are surely different to the eye."""
_SEEN = 60
"""Pixels of border between two colours that can be seen: seven points of it."""


def luminance(colour: Rgb) -> float:
    parts = [one / 255 for one in colour]
    red, green, blue = (one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Rgb, other: Rgb) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def pale_words(data: bytes) -> list[str]:
    """Words that stand out too little from what is under them. Those on a picture, where there is no one ground, are
    left out."""
    found: list[str] = []
    for page, pixels in zip(read(data), _drawn(data), strict=True):
        for word in page.words:
            ink = _rgb(word.glyphs[0].ink)
            ground = _ground(pixels, word.box, ink)
            if ink is None or ground is None:
                continue
            size = min(glyph.size for glyph in word.glyphs)
            least = LEAST_LARGE if size >= LARGE_PT else LEAST
            if (stands_out := contrast(ink, ground)) < least:
                found.append(
                    f"page {page.number}: “{word.text}” stands out from its ground by {stands_out:.1f} to 1 only"
                )
    return found


def lost_in_grey(data: bytes) -> list[str]:
    """Pairs of colours that meet on a page, are told apart by their hue and are one in grey."""
    found: list[str] = []
    for number, colours in enumerate(_drawn(data), 1):
        met = [_met(colours[:, 1:], colours[:, :-1]), _met(colours[1:], colours[:-1])]
        kinds, counts = np.unique(np.concatenate(met), return_counts=True)
        for kind in kinds[counts >= _SEEN]:
            one, other = map(_parts, divmod(int(kind), 1 << 32))
            apart = max(abs(left - right) for left, right in zip(one, other, strict=True))
            if apart >= _APART and contrast(one, other) <= ALIKE:
                found.append(f"page {number}: {_hex(one)} and {_hex(other)} are one in grey")
    return found


def _met(some: np.ndarray, beside: np.ndarray) -> np.ndarray:
    """The pairs of unlike neighbours, a number for each: the lesser above, the greater in the 32 bits below."""
    differ = some != beside
    one, other = some[differ], beside[differ]
    return np.minimum(one, other).astype(np.uint64) << np.uint64(32) | np.maximum(one, other)


def _parts(colour: int) -> Rgb:
    return int(colour) >> 16, int(colour) >> 8 & 255, int(colour) & 255


@lru_cache(maxsize=1)
def _drawn(data: bytes) -> tuple[np.ndarray, ...]:
    """The pages, a number for each pixel's red, green and blue; kept for the next check of the same file."""
    document = pypdfium2.PdfDocument(io.BytesIO(data))
    try:
        return tuple(_pixels(page) for page in document)
    finally:
        document.close()


def _pixels(page: pypdfium2.PdfPage) -> np.ndarray:
    looks = {"no_smoothtext": True, "no_smoothpath": True, "may_draw_forms": False}
    bitmap = page.render(scale=_SCALE, prefer_bgrx=True, **looks)
    # Blue, green, red and nothing, a byte each: one number with red above (`<u4`: the lowest byte first).
    pixels = np.ascontiguousarray(bitmap.to_numpy()).view("<u4")[..., 0] & np.uint32(0xFFFFFF)
    bitmap.close()
    page.close()
    return pixels


def _ground(pixels: np.ndarray, box: Box, ink: Rgb | None) -> Rgb | None:
    """The colour that is commonest under a word but for its own."""
    x0, y0, x1, y1 = (round(side * _SCALE) for side in box)
    under = pixels[max(0, y0 - 1) : y1 + 1, max(0, x0 - 1) : x1 + 1]
    kinds, counts = np.unique(under, return_counts=True)
    shares = {_parts(kind): count / under.size for kind, count in zip(kinds, counts, strict=True)}
    others = {kind: share for kind, share in shares.items() if ink is None or _far(kind, ink)}
    if not others:
        return ink
    commonest = max(others, key=lambda kind: others[kind])
    return commonest if others[commonest] >= _SAME else None


def _far(one: Rgb, other: Rgb) -> bool:
    """Whether it is another colour; the same one comes out a step or two off."""
    return max(abs(left - right) for left, right in zip(one, other, strict=True)) > 2


def _rgb(ink: tuple[float, ...]) -> Rgb | None:
    match ink:
        case (grey,):
            return (round(grey * 255),) * 3
        case (red, green, blue):
            return round(red * 255), round(green * 255), round(blue * 255)
    return None


def _hex(colour: Rgb) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour)
