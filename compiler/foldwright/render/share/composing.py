"""A picture for sharing put together as SVG: its ground, the finished thing or the strip of steps, its words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.model import Document, StepText
from foldwright.document.share_text import ShareStep, ShareText, share_text
from foldwright.render.fonts import FACES
from foldwright.render.photos import ReadyPhoto
from foldwright.render.share.formats import MARGIN, Area, Format, formats
from foldwright.render.share.images import Mounted, drawn, mount
from foldwright.render.share.lettering import ASCENT, Line, fitted, lacking, width_of
from foldwright.render.themes import Composition, Look

_MOST_STEPS = 11
"""Steps of a strip at most: with the finished thing in four columns, in which a heading still reads on a phone (a
reasoned guess)."""
_HEADINGS, _HEADING_LINES = (26.0, 24.0, 22.0, 20.0, 18.0), 2
_OVER_HEADING = 0.5
"""Parts of a heading's size over and under it, together."""
_ROUND_HERO, _ROUND_STEP, _IN_BLOCK = 40.0, 14.0, 24.0
"""Pixels round the finished thing, round the picture of a step, and within a title block."""
_CORNER = 46.0
"""Pixels of a number that stands in the corner of a picture."""
_LEADING, _TITLE_LEADING = 1.3, 1.08
_GAP = 24
"""Pixels between two cells of a strip."""
_SQUARE = 30
"""Pixels of a square of squared paper."""


class Faces(Struct, frozen=True):
    """The faces a look has for title, words, and words that stand out."""

    title: str
    words: str
    strong: str

    @classmethod
    def of(cls, look: Look) -> Faces:
        """The first of a look's faces is for words, the last for titles; a book has words that stand alone slanted."""
        first, last = look.fonts[0], look.fonts[-1]
        strong = f"{first}-semibold" if f"{first}-semibold" in FACES else last
        slanted = f"{first}-italic"
        if look.composition is Composition.HOUSEHOLD_BOOK and slanted in FACES:
            return cls(last, slanted, slanted)
        return cls(last, first, strong)

    @property
    def all(self) -> tuple[str, ...]:
        return self.title, self.words, self.strong


def letters_lacking(document: Document, look: Look) -> tuple[str, ...]:
    """The letters for which no pictures of it are drawn, as the faces of the look lack them."""
    return lacking(share_text(document).letters, Faces.of(look).all)


class Composed(Struct, frozen=True):
    """A picture as SVG, the photographs that come into it, and every line of its words."""

    file: str
    svg: str
    photographs: tuple[Mounted, ...]
    lines: tuple[Line, ...]


def compose_pictures(document: Document, photos: Mapping[str, ReadyPhoto], look: Look) -> Iterator[Composed]:
    """All three pictures."""
    for frame in formats(look.composition):
        yield _Composer(document, photos, look, frame).composed()


class _Composer:
    """Puts one picture together."""

    def __init__(self, document: Document, photos: Mapping[str, ReadyPhoto], look: Look, frame: Format) -> None:
        self._document, self._photos, self._look, self._format = document, photos, look, frame
        self._faces = Faces.of(look)
        self._photographs: list[Mounted] = []
        self._text: ShareText = share_text(document)
        self._book = look.composition is Composition.HOUSEHOLD_BOOK
        self._shop = look.composition is Composition.SHOP_DRAWING

    def composed(self) -> Composed:
        frame = self._format
        shown, of_steps = self._strip() if frame.strip else (self._finished(), [])
        around, lines = self._words()
        whole = Area(0, 0, frame.width, frame.height)
        parts = [self._ground(whole), shown, *around, *(line.svg() for line in (*of_steps, *lines))]
        size = f'width="{frame.width}" height="{frame.height}" viewBox="0 0 {frame.width} {frame.height}"'
        return Composed(
            frame.file,
            f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{"".join(parts)}</svg>',
            tuple(self._photographs),
            (*of_steps, *lines),
        )

    def _colour(self, name: str) -> str:
        colours = self._look.colours
        return colours.get(name) or colours["tint"]

    # --- ground and picture

    def _ground(self, whole: Area) -> str:
        paper = _box(whole, self._colour("paper"))
        if not self._shop:
            return paper
        lines = "".join(
            [
                *(f"M{x} 0V{whole.height}" for x in range(_SQUARE, int(whole.width), _SQUARE)),
                *(f"M0 {y}H{whole.width}" for y in range(_SQUARE, int(whole.height), _SQUARE)),
            ]
        )
        frame = _framed(whole.inset(_SQUARE), self._colour("rule"), 5)
        return f'{paper}<path d="{lines}" stroke="{self._colour("grid")}" stroke-width="1.5"/>{frame}'

    def _finished(self) -> str:
        """The finished thing: on a band, in the double rule of a book, or on squared paper."""
        area = self._format.shown
        if self._look.composition is Composition.PICTURE_BOOK:
            return _box(area, self._colour("band")) + self._hero(area.inset(_ROUND_HERO), _ROUND_HERO)
        return self._hero(area.inset(MARGIN), _ROUND_HERO)

    def _hero(self, area: Area, clear: float) -> str:
        """Its photograph, else its drawing, in the frame that the look has; nothing where there is neither."""
        document, book = self._document, self._book
        ready = self._photos.get(document.photo.path) if document.photo else None
        held = self._mounted(ready, area) if ready else area
        frame = "".join(_framed(held.inset(by), self._colour("accent"), 3) for by in (-8, -16)) if book else ""
        if ready:
            return _framed(held, self._colour("rule"), 6) if self._shop else frame
        if document.finished is None:
            return ""
        return frame + drawn(document.finished, area.inset(clear), self._look.drawing)

    def _mounted(self, photo: ReadyPhoto, area: Area) -> Area:
        """Where a photograph stands, which comes into the picture there."""
        mounted = mount(photo, area)
        self._photographs.append(mounted)
        return mounted.area

    # --- words

    def _words(self) -> tuple[list[str], list[Line]]:
        """The words one under another in their area, and what is drawn around them."""
        frame = self._format
        area = frame.words.inset(_IN_BLOCK) if self._shop else frame.words
        least = frame.titles[-1]
        ways = [*((size, frame.lines) for size in frame.titles), *((least, most) for most in range(frame.lines, 0, -1))]
        for size, most in ways:
            stack = self._stack(area, size, most)
            if stack.height <= area.height and (stack.whole or size == least):
                break
        top = area.top + max(0.0, area.height - stack.height) / 2
        block = _box(frame.words, self._colour("tint")) + _framed(frame.words, self._colour("rule"), 4)
        around = block if self._shop else self._rule(area, top + stack.rule)
        return [around], [replace(line, y=line.y + top) for line in stack.lines]

    def _stack(self, area: Area, size: float, most: int) -> _Stack:
        """The words with a title of this size and no more than so many lines, from nothing down."""
        frame, faces, text = self._format, self._faces, self._text
        x = area.left + area.width / 2 if self._book else area.left
        small = tuple(frame.size * part for part in (1.0, 0.9, 0.8, 0.7))
        quiet, loud = ("accent", "accent") if self._look.composition is Composition.PICTURE_BOOK else ("soft", "ink")
        lines: list[Line] = []
        down, whole = 0.0, True
        others = min(most, 2)

        def put(words: str, face: str, sizes: tuple[float, ...], colour: str, most: int, leading: float) -> None:
            nonlocal down, whole
            fit = fitted(words, face, sizes, area.width, most)
            whole &= fit.whole
            for one in fit.lines:
                lines.append(Line(one, face, fit.size, self._colour(colour), x, down + ASCENT * fit.size, self._book))
                down += leading * fit.size

        if text.studio:
            put(text.studio, faces.strong, small, quiet, others, _LEADING)
            down += 0.2 * frame.size
        put(text.title, faces.title, (size,), loud, most, _TITLE_LEADING)
        rule = down + 0.7 * frame.size
        down += (0.4 if self._shop else 1.2) * frame.size
        for fact in self._facts(area.width):
            put(fact, faces.words, small, "soft" if self._book else "ink", others, _LEADING)
        return _Stack(tuple(lines), down, rule, whole)

    def _facts(self, width: float) -> tuple[str, ...]:
        """On one line if they go there, else each on its own."""
        facts = self._text.facts
        together = self._document.labels["between"].join(facts)
        if width_of(together, self._faces.words) * self._format.size <= width:
            facts = (together,) if facts else ()
        return tuple(fact[:1].upper() + fact[1:] for fact in facts)

    def _rule(self, area: Area, y: float) -> str:
        """Under the title: a short bar, or in a book a rule that swells."""
        accent = self._colour("accent")
        if not self._book:
            return f'<path fill="{accent}" d="M{area.left} {y - 3}h96v6h-96z"/>'
        middle = area.left + area.width / 2
        return f'<path fill="{accent}" d="M{middle - 110} {y}L{middle} {y - 5}L{middle + 110} {y}L{middle} {y + 5}z"/>'

    # --- steps

    def _strip(self) -> tuple[str, list[Line]]:
        """The steps in rows, each its picture, number and heading; after the last, the finished thing."""
        chosen, area = self._chosen(), self._format.shown
        hero = bool(self._document.finished or (self._document.photo and self._document.photo.path in self._photos))
        columns = _columns(len(chosen) + hero)
        rows = max(1, ceil((len(chosen) + hero) / columns))
        wide, high = ((side - _GAP * (n - 1)) / n for side, n in ((area.width, columns), (area.height, rows)))
        cells = [
            Area(area.left + column * (wide + _GAP), area.top + row * (high + _GAP), wide, high)
            for row in range(rows)
            for column in range(columns)
        ]
        face = self._faces.words if self._book else self._faces.strong
        room = wide - self._indent - 8
        headings = [fitted(said.heading, face, _HEADINGS, room, _HEADING_LINES) for _, said in chosen]
        under = (max(len(one.lines) for one in headings) * _LEADING + _OVER_HEADING) * _HEADINGS[0] if chosen else 0.0
        parts: list[str] = []
        lines: list[Line] = []
        for (step, said), heading, cell in zip(chosen, headings, cells, strict=False):
            picture = replace(cell, height=cell.height - under)
            parts += [self._cell_ground(cell, picture), self._of_step(step, self._within(picture))]
            base = picture.bottom + _OVER_HEADING / 2 * _HEADINGS[0] + ASCENT * heading.size
            x = cell.left + (wide / 2 if self._book else self._indent)
            lines += [
                Line(one, face, heading.size, self._colour("ink"), x, base + row * _LEADING * heading.size, self._book)
                for row, one in enumerate(heading.lines)
            ]
            lines.append(self._number(said.number, picture, base))
        if hero:
            parts.append(self._hero(cells[len(chosen)].inset(_ROUND_STEP), _ROUND_STEP if self._book else 0.0))
        return "".join(parts), lines

    @property
    def _indent(self) -> float:
        """Pixels before a heading: room for its number, or a little within the cell."""
        return 8.0 if self._book else _ROUND_STEP if self._shop else 44.0

    def _within(self, picture: Area) -> Area:
        """What is clear of the edges, and of a number in the corner."""
        clear = picture.inset(_ROUND_STEP)
        corner = _CORNER if self._shop or self._book else 0.0
        return replace(clear, left=clear.left + corner, width=clear.width - 2 * corner)

    def _chosen(self) -> list[tuple[StepText, ShareStep]]:
        """As many steps as have room: first those whose pictures are needed most, in the order of the work."""
        document = self._document
        ranked = (shown.step for shown in document.shown if shown.step)
        first = list(dict.fromkeys((*ranked, *(step.number for step in document.steps))))[:_MOST_STEPS]
        pairs = zip(document.steps, self._text.steps, strict=True)
        return [(step, said) for step, said in pairs if step.number in first]

    def _number(self, number: int, picture: Area, base: float) -> Line:
        """In the corner of the picture, or before the heading."""
        title, text = self._faces.title, str(number)
        if self._shop:
            return Line(text, title, 28.0, self._colour("paper"), picture.left + 23, picture.top + 33, centred=True)
        if self._book:
            return Line(text, title, 44.0, self._colour("accent"), picture.left + 32, picture.top + 48, centred=True)
        return Line(text, title, 32.0, self._colour("accent"), picture.left + 4, base)

    def _cell_ground(self, cell: Area, picture: Area) -> str:
        if self._shop:
            corner = Area(cell.left, cell.top, _CORNER, _CORNER)
            return (
                _box(cell, self._colour("paper"))
                + _framed(cell, self._colour("rule"), 3)
                + _box(corner, self._colour("ink"))
            )
        return _framed(picture, self._colour("rule"), 2) if self._book else _box(picture, self._colour("band"))

    def _of_step(self, step: StepText, area: Area) -> str:
        """The last drawing of a step, as in the tutorial's strip of steps; else its photograph, or a plan it shows."""
        document = self._document
        if step.pictures:
            return drawn(step.pictures[-1], area, self._look.drawing)
        if step.photo and (ready := self._photos.get(step.photo.path)):
            self._mounted(ready, area)
            return ""
        plans = (piece.picture for piece in document.pieces if piece.name in step.shows and piece.picture)
        return next((drawn(plan, area, self._look.drawing) for plan in plans), "")


class _Stack(Struct, frozen=True):
    """Lines one under another from nothing down, how high they are, where a rule goes between them, and whether none of
    it was shortened."""

    lines: tuple[Line, ...]
    height: float
    rule: float
    whole: bool


def _columns(cells: int) -> int:
    """As many as keep cells about square, the strip being wider than high."""
    return next(columns for columns, most in ((1, 1), (2, 4), (3, 9), (4, 12)) if cells <= most)


def _box(area: Area, fill: str) -> str:
    place = f'x="{area.left:.1f}" y="{area.top:.1f}" width="{area.width:.1f}" height="{area.height:.1f}"'
    return f'<rect {place} fill="{fill}"/>'


def _framed(area: Area, stroke: str, width: float) -> str:
    place = f'x="{area.left:.1f}" y="{area.top:.1f}" width="{area.width:.1f}" height="{area.height:.1f}"'
    return f'<rect {place} fill="none" stroke="{stroke}" stroke-width="{width}"/>'
