"""A sheet as HTML to paste into a blog: only plain tags that sanitisers keep, pictures as files of their own.

Nothing depends on a style. Numbers are plain text, the other unit system in brackets.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from html import escape

from msgspec import Struct, field

from foldwright.document.model import (
    CautionText,
    Document,
    Photograph,
    Picture,
    PieceLine,
    Readiness,
    StepText,
    Substitute,
    SupplyLine,
    ToolLine,
)
from foldwright.document.quote_marks import curled
from foldwright.measure.length import System
from foldwright.render.markup import PlainMarkup, link
from foldwright.render.photos import ReadyPhoto
from foldwright.render.web.pictures import png, png_size
from foldwright.render.web.tutorial import BOTH_SYSTEMS, draw_plan, in_order
from foldwright.render.web.view import Draw

WIDTHS = (480, 960)
"""Pixels across of every drawn picture: the one shown, and the one it leads to."""
_NOT_PLAIN = re.compile(r"[^a-z0-9]+")


class Fragment(Struct, frozen=True):
    """`html` and the picture files it names."""

    html: str
    files: dict[str, bytes] = field(default_factory=dict)


def fragment(
    document: Document,
    photos: Mapping[str, ReadyPhoto],
    systems: tuple[System, ...] = BOTH_SYSTEMS,
    pictures_at: str = "",
    draw: Draw | None = None,
) -> Fragment:
    """The fragment; `pictures_at` is put before the name of every picture (`https://harbourstreet.example/pictures/`)."""
    writer = _Writer(document, photos, in_order(document, systems), pictures_at, draw or draw_plan)
    html = "\n".join(writer.parts()) + "\n"
    return Fragment(html, writer.files)


class _Writer:
    def __init__(
        self,
        document: Document,
        photos: Mapping[str, ReadyPhoto],
        systems: tuple[System, ...],
        pictures_at: str,
        draw: Draw,
    ) -> None:
        self._sheet = document
        self._photos = photos
        self._systems = systems
        self._words = PlainMarkup(systems, heading=4)
        self._at = pictures_at if not pictures_at or pictures_at.endswith("/") else f"{pictures_at}/"
        self._draw = draw
        self._label = document.labels
        self.files: dict[str, bytes] = {}

    def parts(self) -> Iterator[str]:
        document, words = self._sheet, self._words
        if document.standing is Readiness.DRAFT:
            yield f"<p><strong>{self._says('draft')}</strong></p>"
        if document.head.summary:
            yield f"<p><em>{words.runs(document.head.summary)}</em></p>"
        yield from self._photo(document.photo)
        yield words.passage(document.intro)
        yield from self._facts()
        yield from self._list("supplies", document.supplies, self._supply)
        yield from self._list("tools", document.tools, self._tool)
        for caution in document.cautions:
            yield self._caution(caution)
        yield from self._pieces()
        yield f"<h2>{self._says('steps')}</h2>"
        if document.cautions or any(step.cautions for step in document.steps):
            yield f"<p>{self._says('local-rules')}</p>"
        for step in document.steps:
            yield from self._step(step)
        for section in document.sections:
            yield f"<h2>{words.runs(section.heading)}</h2>"
            yield words.passage(section.words)
        yield from self._foot()

    def _says(self, name: str) -> str:
        return escape(self._label[name], quote=False)

    def _facts(self) -> Iterator[str]:
        head = self._sheet.head
        facts = (
            ("makes", head.makes),
            ("level", head.level),
            ("time", self._sheet.totals.line),
            ("audience", head.audience),
        )
        items = [f"<li>{self._says(name)}: {escape(text, quote=False)}</li>" for name, text in facts if text]
        if items:
            yield f"<ul>{''.join(items)}</ul>"

    def _list[T](self, name: str, things: tuple[T, ...], write: Callable[[T], str]) -> Iterator[str]:
        if things:
            yield f"<h2>{self._says(name)}</h2>"
            yield f"<ul>{''.join(f'<li>{write(thing)}</li>' for thing in things)}</ul>"

    def _supply(self, supply: SupplyLine) -> str:
        words = self._words
        parts = [f"<strong>{words.runs(supply.name)}</strong>"]
        parts += [words.runs(runs) for runs in (supply.amount, supply.details, supply.note) if runs]
        for name, text in (("colour", supply.colours), ("contains", supply.contains)):
            if text:
                parts.append(f"{self._says(name)} {escape(text, quote=False)}")
        parts += self._instead(supply.instead)
        return ", ".join(parts) + self._optional(supply.optional)

    def _tool(self, tool: ToolLine) -> str:
        return ", ".join([self._words.runs(tool.name), *self._instead(tool.instead)]) + self._optional(tool.optional)

    def _instead(self, instead: tuple[Substitute, ...]) -> list[str]:
        words = self._words
        return [
            f"{self._says('instead')} {words.runs(one.name)}" + (f" ({words.runs(one.remark)})" if one.remark else "")
            for one in instead
        ]

    def _optional(self, optional: bool) -> str:
        return f" ({self._says('optional')})" if optional else ""

    def _pieces(self) -> Iterator[str]:
        if self._sheet.pieces:
            yield f"<h2>{self._says('pieces')}</h2>"
            yield f"<p>{self._says('pieces-note')}</p>"
        for number, piece in enumerate(self._sheet.pieces, 1):
            yield from self._piece(number, piece)

    def _piece(self, number: int, piece: PieceLine) -> Iterator[str]:
        words = self._words
        count = f" × {piece.count}" if piece.count > 1 else ""
        yield f"<h3>{escape(curled(piece.name), quote=False)}{count}{self._optional(piece.optional)}</h3>"
        size = words.phrases(piece.size) if piece.size else ""
        supply = f"{self._says('from')} {escape(piece.supply, quote=False)}" if piece.supply else ""
        if size or supply:
            yield f"<p>{' '.join(filter(None, (size, supply)))}</p>"
        yield from self._plans(number, piece)
        if lines := (*piece.work, *piece.rows, *piece.fit):
            yield f"<ul>{''.join(f'<li>{words.runs(line)}</li>' for line in lines)}</ul>"

    def _plans(self, number: int, piece: PieceLine) -> Iterator[str]:
        """The flat plan in each system."""
        if piece.picture is not None:
            yield from self._drawing(f"{number}-{_file_name(piece.name)}", piece.picture)

    def _drawing(self, stem: str, picture: Picture) -> Iterator[str]:
        """A drawn picture, small, leading to the same in large; once only where no length stands in it."""
        for system in self._systems if picture.scene.lengths else self._systems[:1]:
            svg = self._draw(picture, system)
            own = f"{stem}-{system.value}" if picture.scene.lengths else stem
            names = [f"{own}-{width}.png" for width in WIDTHS]
            self.files |= {name: png(svg, width) for name, width in zip(names, WIDTHS, strict=True)}
            width, height = png_size(self.files[names[0]])
            image = self._image(names[0], width, height, picture.describes.of(system))
            yield f"<p>{link_to(self._at + names[1], image)}</p>"

    def _image(self, name: str, width: int, height: int, shows: str) -> str:
        return f'<img src="{escape(self._at + name)}" alt="{escape(shows)}" width="{width}" height="{height}">'

    def _photo(self, photo: Photograph | None) -> Iterator[str]:
        prepared = self._photos.get(photo.path) if photo else None
        if photo is None or prepared is None:
            return
        number = list(self._photos).index(photo.path) + 1
        name = f"photo-{number}.{'jpg' if prepared.kind == 'jpeg' else prepared.kind}"
        self.files[name] = prepared.data
        yield f"<p>{self._image(name, prepared.width, prepared.height, photo.shows)}</p>"

    def _step(self, step: StepText) -> Iterator[str]:
        words = self._words
        yield f"<h3>{step.number}. {words.runs(step.heading)}{self._optional(step.optional)}</h3>"
        meta = [escape(text, quote=False) for text in (step.time.line, step.when_words) if text]
        if step.meanwhile:
            meta.append(f"{self._says('meanwhile')} {words.runs(step.meanwhile)}")
        if meta:
            yield f"<p><em>{', '.join(meta)}</em></p>"
        for caution in step.cautions:
            yield self._caution(caution)
        yield from self._photo(step.photo)
        for picture in step.pictures:
            yield from self._drawing(picture.name, picture)
        yield words.passage(step.words)
        yield from (f"<p><em>{words.runs(line)}</em></p>" for line in step.trials)
        if step.tip:
            yield f"<blockquote><p><strong>{self._says('tip')}</strong></p>{words.passage(step.tip)}</blockquote>"

    def _caution(self, caution: CautionText) -> str:
        said = " ".join(filter(None, (caution.hazard, caution.consequence, caution.avoid)))
        inner = self._words.passage(caution.own) if caution.own else f"<p>{escape(said, quote=False)}</p>"
        return f"<blockquote><p><strong>{escape(caution.signal_word, quote=False)}</strong></p>{inner}</blockquote>"

    def _foot(self) -> Iterator[str]:
        head = self._sheet.head
        for system in self._systems:
            yield from (f"<p>{escape(note, quote=False)}</p>" for note in self._sheet.rounding.of(system))
        licence = escape(head.licence, quote=False)
        facts = (
            ("author", escape(head.author, quote=False)),
            ("credit", escape(head.credit, quote=False)),
            ("licence", link(head.licence_address, licence) if head.licence_address else licence),
        )
        lines = [f"{self._says(name)}: {text}" for name, text in facts if text]
        if lines:
            yield f"<hr><p>{'<br>'.join(lines)}</p>"


def link_to(address: str, inner: str) -> str:
    """A link to a file that lies beside the page or where the caller said."""
    return f'<a href="{escape(address)}" rel="noopener noreferrer">{inner}</a>'


def _file_name(text: str) -> str:
    """A piece's name as part of a file name."""
    return _NOT_PLAIN.sub("-", text.lower()).strip("-") or "piece"
