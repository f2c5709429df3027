"""Everything that is wrong with a finished handout, as complaints: none when all is well. Not a test.

Large print: 18 points and more is what the clear-print advice of associations for blind people asks for (from memory).
"""

from __future__ import annotations

import re
from itertools import combinations

from foldwright.document.model import Document
from foldwright.render.paper.handout import Handout
from foldwright.render.paper.papers import Paper
from printed.colours import lost_in_grey, pale_words
from printed.covered import covered
from printed.declared import declared_complaints
from printed.faces import face_complaints
from printed.headed import alone
from printed.inside import in_margins, off_page
from printed.legible import overlapping, small_type
from printed.pictured import astray
from printed.reading import Box, Page, bounds, paper_complaints, read
from printed.structure import figure_boxes, list_numbering, structure_complaints
from printed.tagged import Piece, tagged
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


def steps_apart(data: bytes) -> list[str]:
    """Every step has a place of its own, words and pictures together, in which nothing of another step stands."""
    pages = read(data)
    entries = [one for one in tagged(data).elements() if one.role == "LI" and "H2" in {kid.role for kid in one.all()}]
    placed: list[tuple[int, int, Box]] = []
    for number, entry in enumerate(entries, 1):
        marked: dict[int, set[int]] = {}
        for piece in (kid for element in entry.all() for kid in element.kids if isinstance(kid, Piece)):
            marked.setdefault(piece.page, set()).add(piece.mcid)
        for page in (page for page in pages if page.number in marked):
            things = [one.box for one in (*page.glyphs, *page.inks) if one.mcid in marked[page.number]]
            placed += [(number, page.number, bounds(things))] if things else []
    return [
        f"page {page}: steps {one} and {other} stand in one another"
        for (one, page, box), (other, its_page, its) in combinations(placed, 2)
        if page == its_page and one != other and _overlap(box, its) > 1.0
    ]


def _overlap(one: Box, other: Box) -> float:
    """By how many points two boxes lie over one another, in the direction in which it is less."""
    return min(min(one.x1, other.x1) - max(one.x0, other.x0), min(one.bottom, other.bottom) - max(one.top, other.top))


def pictured_steps(data: bytes) -> dict[int, int]:
    """How many pictures the steps have, by their place among those of the handout."""
    entries = [one for one in tagged(data).elements() if one.role == "LI" and "H2" in {kid.role for kid in one.all()}]
    return {number: sum(kid.role == "Figure" for kid in entry.all()) for number, entry in enumerate(entries, 1)}


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
        *steps_apart(data),
        *face_complaints(data, FACES),
        *declared_complaints(data, title=document.head.title, language=document.language),
        *structure_complaints(data),
        # A glyph's box reaches above its ink: in large print by more than the one point let off otherwise.
        *figure_boxes(data, slack=2.0),
        *list_numbering(data),
        *validator_complaints(data),
        *pale_words(data),
        *lost_in_grey(data),
        *alone(data, to_write_under=("Your notes",)),
        *astray(data),
        *covered(data),
    ]


def bare(text: str) -> str:
    """Letters and figures alone: how a fraction, a hyphen at a line end or a capital is written does not matter."""
    return re.sub(r"\W", "", text.replace("×", "x")).casefold()


def allergens_of(document: Document) -> list[tuple[str, str]]:
    """Every word of every caution of what is eaten, in full and in brief."""
    return [
        (
            bare(caution.signal_word + caution.hazard + caution.consequence + caution.avoid),
            bare(caution.signal_word + caution.brief),
        )
        for caution in document.cautions
        if caution.code in ("allergen", "contents-unsaid")
    ]


def lost_allergens(document: Document, data: bytes) -> list[str]:
    """Those that a card or a handout has neither in full nor in brief."""
    # In the order in which it is written: in columns, lines side by side are no sentence.
    said = bare("".join(glyph.text for page in read(data) for glyph in page.glyphs))
    return [full for full, brief in allergens_of(document) if full not in said and brief not in said]
