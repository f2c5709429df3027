"""What is read to one who hears the page: the structure walked through, with the words of each block."""

from __future__ import annotations

from itertools import chain, pairwise

from printed.reading import Glyph, goes_on, read
from printed.tagged import Element, Piece, tagged

INLINE = frozenset(("Span", "NonStruct", "Private", "Quote", "Reference", "Code", "Link"))
"""Elements whose words belong to the block around them."""
_LINE_END_HYPHEN = "‐"
"""U+2010: what WeasyPrint sets where it divides a word; an author's own hyphen is U+002D."""


def reading_order(data: bytes) -> list[tuple[str, str]]:
    """(tag, words) of each block in the order of the structure, a Figure with its alternative words; blocks without
    words are left out. A block that goes on after an inner one comes again. Words are as printed, with a space wherever
    the next piece of text starts elsewhere; a word divided at the end of a line is put together."""
    glyphs: dict[Piece, list[Glyph]] = {}
    for page in read(data):
        for glyph in page.glyphs:
            if glyph.mcid is not None:
                glyphs.setdefault(Piece(page.number, glyph.mcid), []).append(glyph)
    blocks: list[tuple[Element, list[list[Glyph]]]] = []
    for top in tagged(data).tops:
        _walk(top, top, glyphs, blocks)
    said = [(block.role, block.alt if block.role == "Figure" else _text(pieces)) for block, pieces in blocks]
    return [(role, text) for role, text in said if text or role == "Figure"]


def _walk(
    element: Element,
    block: Element,
    glyphs: dict[Piece, list[Glyph]],
    blocks: list[tuple[Element, list[list[Glyph]]]],
) -> None:
    if element.role == "Figure":
        blocks.append((element, []))
        return
    for kid in element.kids:
        if isinstance(kid, Element):
            _walk(kid, block if kid.role in INLINE else kid, glyphs, blocks)
        elif isinstance(kid, Piece):
            if not blocks or blocks[-1][0] is not block:
                blocks.append((block, []))
            blocks[-1][1].append(glyphs.get(kid, []))


def _text(pieces: list[list[Glyph]]) -> str:
    filled = [piece for piece in pieces if piece]
    text = ""
    for before, piece in pairwise(chain([None], filled)):
        assert piece is not None
        apart = before is not None and not goes_on(before[-1], piece[0])
        if apart and text.endswith(_LINE_END_HYPHEN):
            text = text.removesuffix(_LINE_END_HYPHEN)
        elif apart:
            text += " "
        text += "".join(glyph.text for glyph in piece)
    return " ".join(text.split())
