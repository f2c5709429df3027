"""The pages of a PDF as pictures, for a screen: what a printer would be given, drawn by PDFium.

PDFium may be asked by one thread of a process at a time (its own documentation), so that a worker does this.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Iterator
from contextlib import closing
from functools import partial
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.memory import Memory

if TYPE_CHECKING:
    from pypdfium2 import PdfBitmap

_MOST_PIXELS = 4_000
"""Of a page's longer side: a strip as narrow as a ribbon would take all memory otherwise."""
_PRESSED = 2
"""How hard PNG is pressed: drawn pages come out as small as with the usual 6, and sooner."""
_WRITTEN: Memory[PagePicture] = Memory(32)
"""By what is drawn: while a recipe is typed, most pages stay as they were, and to press one takes longest."""


class PagePicture(Struct, frozen=True):
    """A page as a PNG, and its size in pixels."""

    width: int
    height: int
    png: bytes


def page_pictures(pdf: bytes, width_px: int) -> tuple[PagePicture, ...]:
    """Every page so many pixels wide, in order; one that would be higher than 4,000 is smaller. Slow to load."""
    return tuple(_pictures(pdf, width_px))


def _pictures(pdf: bytes, width_px: int) -> Iterator[PagePicture]:
    import pypdfium2

    with closing(pypdfium2.PdfDocument(pdf)) as document:
        for number in range(len(document)):
            with closing(document[number]) as page:
                width, height = page.get_size()
                # PDFium's binding rounds up.
                scale = min((width_px - 0.5) / width, _MOST_PIXELS / max(width, height))
                with closing(page.render(scale=scale)) as bitmap:
                    drawn = hashlib.blake2b(bitmap.buffer).digest()
                    yield _WRITTEN.of(drawn, (bitmap.width, bitmap.height, bitmap.mode), partial(_written, bitmap))


def _written(bitmap: PdfBitmap) -> PagePicture:
    image = bitmap.to_pil()
    image.load()
    written = io.BytesIO()
    image.save(written, "PNG", compress_level=_PRESSED)
    return PagePicture(image.width, image.height, written.getvalue())
