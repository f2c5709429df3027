"""The pages of a PDF as glyphs, words and strokes with their places: points from the page's top left corner."""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import pairwise
from typing import Any, NamedTuple

import pdfplumber
import pikepdf
from msgspec import Struct
from pdfminer.layout import LTChar, LTContainer, LTCurve, LTImage, LTLine, LTRect

from printed.content import ARTIFACT, painted
from printed.tokens import quick

POINTS = {"mm": 72 / 25.4, "in": 72.0}
DESCENT, CAP_HEIGHT = -0.2, 0.66
"""How far letters reach under and over the line, in ems (Source Sans and Serif: descender 0.2, capitals 0.66)."""
_PAPER_SLACK = 0.01
_BACK, _ON, _OFF_LINE = 0.3, 0.2, 0.7
"""A glyph goes on the word before it if it starts at most so many ems before or after its end, and off its line."""


class Box(NamedTuple):
    x0: float
    top: float
    x1: float
    bottom: float


class Glyph(Struct, frozen=True):
    """A glyph as drawn. `size` is its type size on paper, however scaled or turned; `start` and `end` lie on the base
    line; `corners` is its advance wide and reaches from the descenders to the height of the capitals."""

    text: str
    font: str
    size: float
    start: tuple[float, float]
    end: tuple[float, float]
    corners: tuple[tuple[float, float], ...]
    tag: str
    mcid: int | None
    ink: tuple[float, ...] = ()
    """Its colour as the file has it: one part (grey), three (RGB) or four (CMYK), 0 to 1."""

    @property
    def box(self) -> Box:
        return _around(self.corners)


class Word(Struct, frozen=True):
    """Glyphs drawn one after the other without a gap."""

    page: int
    glyphs: tuple[Glyph, ...]

    @property
    def text(self) -> str:
        return "".join(glyph.text for glyph in self.glyphs)

    @property
    def tag(self) -> str:
        return self.glyphs[0].tag

    @property
    def box(self) -> Box:
        return bounds([glyph.box for glyph in self.glyphs])


class Ink(Struct, frozen=True):
    """A line, rectangle, curve or picture, with the width of its stroke. What is clipped away is not taken off."""

    kind: str
    box: Box
    tag: str
    mcid: int | None


class Page(Struct, frozen=True):
    number: int
    width: float
    height: float
    glyphs: tuple[Glyph, ...]
    words: tuple[Word, ...]
    inks: tuple[Ink, ...]

    @property
    def content(self) -> list[Box]:
        """The boxes of all that is no decoration: glyphs that are seen, strokes and pictures that are no artifacts."""
        glyphs = [glyph.box for glyph in self.glyphs if glyph.tag != ARTIFACT and not glyph.text.isspace()]
        return glyphs + [ink.box for ink in self.inks if ink.tag != ARTIFACT]


class UnreadError(Exception):
    """pdfplumber gave fewer (or more) characters than the page shows, so nothing it says can be relied on."""


@lru_cache(maxsize=2)
def read(data: bytes) -> tuple[Page, ...]:
    """All pages; kept for the next check of the same file. Raises `UnreadError` if a character shown did not come out
    as a glyph (as when a font lacks it)."""
    with quick(), pdfplumber.open(io.BytesIO(data)) as file:
        pages = tuple(_page(page) for page in file.pages)
    with pikepdf.open(io.BytesIO(data)) as objects:
        for page, shown in zip(pages, objects.pages, strict=True):
            count = painted(shown, page.number).characters
            if count != len(page.glyphs):
                raise UnreadError(f"page {page.number}: {count} characters are shown, {len(page.glyphs)} can be read")
    return pages


def paper_complaints(data: bytes, width: float, height: float, unit: str) -> list[str]:
    """Every MediaBox is `width` by `height` ("mm" or "in") to a hundredth of a point, upright, and not cropped."""
    wanted = (width * POINTS[unit], height * POINTS[unit])
    found: list[str] = []
    with pikepdf.open(io.BytesIO(data)) as file:
        for number, page in enumerate(file.pages, 1):
            box = [float(value) for value in page.mediabox]
            size = (box[2] - box[0], box[3] - box[1])
            if any(abs(is_ - should) > _PAPER_SLACK for is_, should in zip(size, wanted, strict=True)):
                sizes = "{:.3f} by {:.3f} pt, not {:.3f} by {:.3f}".format(*size, *wanted)
                found.append(f"page {number}: the paper is {sizes}")
            if [float(value) for value in page.cropbox] != box:
                found.append(f"page {number}: it is cropped")
            if page.obj.get("/Rotate", 0) != 0:
                found.append(f"page {number}: it is turned")
    return found


def bounds(boxes: Iterable[Box]) -> Box:
    """The least box around at least one box."""
    x0, top, x1, bottom = zip(*boxes, strict=True)
    return Box(min(x0), min(top), max(x1), max(bottom))


def goes_on(one: Glyph, other: Glyph) -> bool:
    """Whether `other` stands where the next glyph of a word would: at the end of `one`, on its line or nearly so."""
    em = max(one.size, other.size)
    along, off = _turned(one.start, one.end, other.start)
    return -_BACK * em <= along <= _ON * em and abs(off) <= _OFF_LINE * em


def _turned(start: tuple[float, float], end: tuple[float, float], point: tuple[float, float]) -> tuple[float, float]:
    """How far `point` lies beyond `end`, and how far beside it, seen along the line of writing."""
    run = math.dist(start, end)
    ux, uy = ((end[0] - start[0]) / run, (end[1] - start[1]) / run) if run > 0 else (1.0, 0.0)
    dx, dy = point[0] - end[0], point[1] - end[1]
    return dx * ux + dy * uy, dy * ux - dx * uy


def _page(page: Any) -> Page:
    """What pdfminer lays out, as it is: pdfplumber would make a dictionary of each letter first."""
    laid = list(_laid(page.layout))
    glyphs = tuple(_glyph(page, one) for one in laid if isinstance(one, LTChar))
    words = tuple(_words(page.page_number, glyphs))
    inks = tuple(_ink(page, kind, one) for kind, type_ in _KINDS.items() for one in laid if type(one) is type_)
    return Page(page.page_number, float(page.width), float(page.height), glyphs, words, inks)


_KINDS = {"rect": LTRect, "line": LTLine, "curve": LTCurve, "image": LTImage}


def _laid(container: Any) -> Iterator[Any]:
    for one in container:
        if isinstance(one, LTContainer):
            yield from _laid(one)
        else:
            yield one


def _glyph(page: Any, char: Any) -> Glyph:
    a, b, c, d, e, f = (float(value) for value in char.matrix)
    advance = float(char.adv)
    # pdfminer's box is the matrix applied to a rectangle `advance` wide and one font size high; solved for the latter.
    wide, high = char.x1 - char.x0, char.y1 - char.y0
    font_size = (high - advance * abs(b)) / abs(d) if abs(d) > abs(c) else (wide - advance * abs(a)) / abs(c)
    left, flip = page.mediabox[0], float(page.height + page.mediabox[1])

    def place(x: float, y: float) -> tuple[float, float]:
        return a * x + c * y + e + left, flip - (b * x + d * y + f)

    low, up = DESCENT * font_size, CAP_HEIGHT * font_size
    corners = (place(0, low), place(advance, low), place(advance, up), place(0, up))
    size = font_size * math.hypot(c, d)
    place_in_words = char.get_text(), char.fontname, size, place(0, 0), place(advance, 0), corners
    colour = char.graphicstate.ncolor
    parts = colour if isinstance(colour, tuple) else (colour,)
    ink = tuple(part for part in parts if isinstance(part, int | float))
    return Glyph(*place_in_words, *_marked(char), ink)


def _marked(one: Any) -> tuple[str, int | None]:
    """Its tag and the number of its content, which pdfplumber adds to what pdfminer lays out."""
    return getattr(one, "tag", None) or "", getattr(one, "mcid", None)


def _words(page: int, glyphs: tuple[Glyph, ...]) -> Iterator[Word]:
    """In the order of drawing, so that one word drawn over another stays two words."""
    current: list[Glyph] = []
    for before, glyph in pairwise((None, *glyphs)):
        assert glyph is not None
        apart = before is None or before.mcid != glyph.mcid or before.tag != glyph.tag or not goes_on(before, glyph)
        if current and (apart or glyph.text.isspace()):
            yield Word(page, tuple(current))
            current = []
        if not glyph.text.isspace():
            current.append(glyph)
    if current:
        yield Word(page, tuple(current))


def _ink(page: Any, kind: str, thing: Any) -> Ink:
    half = float(thing.linewidth or 0) / 2 if getattr(thing, "stroke", False) else 0.0
    left, flip = page.mediabox[0], page.height + page.mediabox[1]
    box = Box(thing.x0 + left - half, flip - thing.y1 - half, thing.x1 + left + half, flip - thing.y0 + half)
    return Ink(kind, box, *_marked(thing))


def _around(corners: tuple[tuple[float, float], ...]) -> Box:
    xs, ys = zip(*corners, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))
