"""The structure of a file with its places: what each element has on which page, and where."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from msgspec import Struct

from printed.reading import Box, Glyph, bounds, read
from printed.tagged import Element, Piece, tagged


class Laid(Struct, frozen=True):
    """An element, those below it, and what itself has on the pages: (page, box) for each piece of content, in order of
    reading. Pieces without anything to be seen are left out."""

    role: str
    alt: str
    below: tuple[Laid, ...]
    own: tuple[tuple[int, Box], ...]
    glyphs: tuple[Glyph, ...]
    room: tuple[float, float] = (0.0, 0.0)
    """How wide and high the box is that the file gives a figure (its BBox)."""

    def all(self) -> Iterator[Laid]:
        """The element and all below it, in order of reading."""
        yield self
        for one in self.below:
            yield from one.all()

    @property
    def places(self) -> list[tuple[int, Box]]:
        """Of itself and all below it."""
        return [place for one in self.all() for place in one.own]

    @property
    def page(self) -> int:
        """The first page it stands on."""
        return min(page for page, _ in self.places)

    @property
    def box(self) -> Box:
        """Around all it has on that page."""
        return bounds([box for page, box in self.places if page == self.page])

    @property
    def text(self) -> str:
        return " ".join(" ".join("".join(glyph.text for glyph in one.glyphs) for one in self.all()).split())


@lru_cache(maxsize=2)
def laid(data: bytes) -> tuple[Laid, ...]:
    """The topmost elements, without those that have nothing to be seen; kept for the next check of the same file."""
    glyphs: dict[Piece, list[Glyph]] = {}
    boxes: dict[Piece, list[Box]] = {}
    for page in read(data):
        for glyph in page.glyphs:
            if glyph.mcid is not None:
                glyphs.setdefault(Piece(page.number, glyph.mcid), []).append(glyph)
        for thing in (*page.glyphs, *page.inks):
            if thing.mcid is not None and not (isinstance(thing, Glyph) and thing.text.isspace()):
                boxes.setdefault(Piece(page.number, thing.mcid), []).append(thing.box)
    found = (_laid(top, glyphs, boxes) for top in tagged(data).tops)
    return tuple(one for one in found if one.places)


def _laid(element: Element, glyphs: dict[Piece, list[Glyph]], boxes: dict[Piece, list[Box]]) -> Laid:
    pieces = [kid for kid in element.kids if isinstance(kid, Piece)]
    below = (_laid(kid, glyphs, boxes) for kid in element.elements)
    return Laid(
        role=element.role,
        alt=element.alt,
        below=tuple(one for one in below if one.places),
        own=tuple((piece.page, bounds(boxes[piece])) for piece in pieces if piece in boxes),
        glyphs=tuple(glyph for piece in pieces for glyph in glyphs.get(piece, ())),
        room=(element.box[2] - element.box[0], element.box[3] - element.box[1]) if element.box else (0.0, 0.0),
    )
