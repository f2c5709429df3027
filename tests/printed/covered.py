"""Words that a picture lies over."""

from __future__ import annotations

from printed.reading import Box, bounds, read
from printed.tagged import Element, Piece, tagged


def covered(data: bytes, *, slack: float = 1.0) -> list[str]:
    """Words that reach more than `slack` points, across and down, into the box around the ink of a picture. A
    drawing's own words are part of it."""
    figures = [_pieces(one) for one in tagged(data).elements() if one.role == "Figure"]
    drawn = {piece for pieces in figures for piece in pieces}
    found: list[str] = []
    for page in read(data):
        things = [
            (Piece(page.number, thing.mcid), thing.box)
            for thing in (*page.glyphs, *page.inks)
            if thing.mcid is not None
        ]
        inked = [[box for piece, box in things if piece in pieces] for pieces in figures]
        boxes = [bounds(one) for one in inked if one]
        for word in page.words:
            if any(Piece(page.number, glyph.mcid) in drawn for glyph in word.glyphs if glyph.mcid is not None):
                continue
            if any(_shared(word.box, box) > slack for box in boxes):
                found.append(f"page {page.number}: a picture lies over “{word.text}”")
    return found


def _pieces(figure: Element) -> frozenset[Piece]:
    return frozenset(kid for one in figure.all() for kid in one.kids if isinstance(kid, Piece))


def _shared(one: Box, other: Box) -> float:
    """How thick what two boxes share is, in the direction in which it is less."""
    return min(min(one.x1, other.x1) - max(one.x0, other.x0), min(one.bottom, other.bottom) - max(one.top, other.top))
