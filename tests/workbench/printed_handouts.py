"""Everything that is wrong with a finished handout, as complaints: none when all is well. Not a test.

Large print: 18 points and more is what the clear-print advice of associations for blind people asks for (from memory).
"""

from __future__ import annotations

import re

from foldwright.document.model import Document
from foldwright.render.paper.handout import Handout
from foldwright.render.paper.papers import Paper
from printed.declared import declared_complaints
from printed.faces import face_complaints
from printed.inside import in_margins, off_page
from printed.legible import overlapping, small_type
from printed.reading import Page, paper_complaints, read
from printed.structure import figure_boxes, list_numbering, structure_complaints
from printed.validated import validator_complaints

# The PostScript names of the faces in the package (name table, name 6; OpenType specification).
FACES = frozenset(
    f"Source{family}Pro-{style}"
    for family, styles in (("Sans", ("Regular", "It", "Semibold", "Black")), ("Serif", ("Regular", "It", "Semibold")))
    for style in styles
)
LEAST_PT, LARGE_PT = 10.0, 18.0


def small_words(pages: tuple[Page, ...], least: float) -> list[str]:
    """Words outside drawings smaller than allowed; `small_type` has the limits within them."""
    return [
        f"page {page.number}: “{word.text}”"
        for page in pages
        for word in page.words
        if word.tag != "Figure" and min(glyph.size for glyph in word.glyphs) < least - 0.01
    ]


def complaints(found: Handout, document: Document, paper: Paper, large_print: bool) -> list[str]:
    data = found.pdf
    pages = read(data)
    return [
        *([] if len(pages) == found.pages else [f"{len(pages)} pages, not {found.pages}"]),
        *paper_complaints(data, float(paper.width_mm), float(paper.height_mm), "mm"),
        *small_type(pages),
        *small_words(pages, LARGE_PT if large_print else LEAST_PT),
        *off_page(pages),
        *in_margins(data, float(paper.margin_mm)),
        *overlapping(pages),
        *face_complaints(data, FACES),
        *declared_complaints(data, title=document.head.title, language=document.language),
        *structure_complaints(data),
        # A glyph's box reaches above its ink: in large print by more than the one point let off otherwise.
        *figure_boxes(data, slack=2.0),
        *list_numbering(data),
        *validator_complaints(data),
    ]


def bare(text: str) -> str:
    """Letters and figures alone: how a fraction or a hyphen at a line end is written does not matter."""
    return re.sub(r"\W", "", text.replace("×", "x"))
