"""A document as HTML to paste into a blog: only plain tags that sanitisers keep, pictures as files of their own.

Nothing depends on a style. Numbers are plain text, the other unit system in brackets.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from html import escape
from pathlib import Path

from markupsafe import Markup as Html
from msgspec import Struct, field

from foldwright.document.model import Document, Photograph, Picture, Readiness
from foldwright.document.quote_marks import curled
from foldwright.measure.length import System
from foldwright.render.fonts import FACES, font_file
from foldwright.render.markup import PlainMarkup, link
from foldwright.render.photos import ReadyPhoto
from foldwright.render.themes import base_template, filled
from foldwright.render.web.tutorial import BOTH_SYSTEMS, draw_plan, in_order
from foldwright.render.web.view import Draw, Image

WIDTHS = (480, 960)
"""Pixels across of every drawn picture: the one shown, and the one it leads to."""
_NOT_PLAIN = re.compile(r"[^a-z0-9]+")


class Fragment(Struct, frozen=True):
    """`html` and the picture files it names."""

    html: str
    files: dict[str, bytes] = field(default_factory=dict)


class _Shown(Struct, frozen=True):
    """An image as the fragment shows it, and the address of the same in large ("" for a photograph)."""

    image: Image
    large: str = ""


def fragment(
    document: Document,
    photos: Mapping[str, ReadyPhoto],
    systems: tuple[System, ...] = BOTH_SYSTEMS,
    pictures_at: str = "",
    draw: Draw | None = None,
) -> Fragment:
    """The fragment; `pictures_at` is put before the name of every picture (`https://harbourstreet.example/pictures/`)."""
    order = in_order(document, systems)
    words = PlainMarkup(order, heading=4)
    files = _PictureFiles(photos, order, pictures_at, draw or draw_plan)
    licence = escape(document.head.licence, quote=False)
    html = filled(
        base_template("fragment.html"),
        "base",
        document=document,
        label=document.labels,
        draft=document.standing is Readiness.DRAFT,
        photo=files.photo(document.photo),
        pieces=[
            (piece, files.plan(number, piece.name, piece.picture)) for number, piece in enumerate(document.pieces, 1)
        ],
        steps=[(step, [*files.photo(step.photo), *files.drawings(step.pictures)]) for step in document.steps],
        rounding=[note for system in order for note in document.rounding.of(system)],
        licence=Html(link(document.head.licence_address, licence) if document.head.licence_address else licence),
        curled=curled,
        runs=lambda runs: Html(words.runs(runs)),
        passage=lambda passage: Html(words.passage(passage)),
        phrases=lambda phrases: Html(words.phrases(phrases)),
    )
    return Fragment("".join(html), files.made)


class _PictureFiles:
    """Makes the picture files as they are asked for, and says how to show each."""

    def __init__(
        self, photos: Mapping[str, ReadyPhoto], systems: tuple[System, ...], pictures_at: str, draw: Draw
    ) -> None:
        self._photos = photos
        self._systems = systems
        self._at = pictures_at if not pictures_at or pictures_at.endswith("/") else f"{pictures_at}/"
        self._draw = draw
        self.made: dict[str, bytes] = {}

    def photo(self, photo: Photograph | None) -> list[_Shown]:
        """The photograph; nothing where there is none to show."""
        prepared = self._photos.get(photo.path) if photo else None
        if photo is None or prepared is None:
            return []
        number = list(self._photos).index(photo.path) + 1
        name = f"photo-{number}.{'jpg' if prepared.kind == 'jpeg' else prepared.kind}"
        self.made[name] = prepared.data
        return [_Shown(Image(self._at + name, prepared.width, prepared.height, photo.shows))]

    def plan(self, number: int, piece: str, picture: Picture | None) -> list[_Shown]:
        """The flat plan of the piece of a number, in each system."""
        stem = _NOT_PLAIN.sub("-", piece.lower()).strip("-") or "piece"
        return list(self._drawn(f"{number}-{stem}", picture)) if picture else []

    def drawings(self, pictures: tuple[Picture, ...]) -> list[_Shown]:
        """The drawn pictures of a step."""
        return [shown for picture in pictures for shown in self._drawn(picture.name, picture)]

    def _drawn(self, stem: str, picture: Picture) -> Iterator[_Shown]:
        """A drawn picture, small, leading to the same in large; once only where no length stands in it."""
        for system in self._systems if picture.scene.lengths else self._systems[:1]:
            svg = self._draw(picture, system)
            own = f"{stem}-{system.value}" if picture.scene.lengths else stem
            small, large = (f"{own}-{width}.png" for width in WIDTHS)
            self.made |= {name: png(svg, width) for name, width in zip((small, large), WIDTHS, strict=True)}
            image = Image(self._at + small, *png_size(self.made[small]), picture.describes.of(system))
            yield _Shown(image, self._at + large)


FAMILY = "Source Sans Pro"
"""The name the bundled sans has inside its own files."""


def png(svg: str, width: int) -> bytes:
    """The picture `width` pixels wide on white."""
    import resvg_py

    return bytes(
        resvg_py.svg_to_bytes(
            svg_string=svg,
            width=width,
            # Without it a drawing sized in millimetres has no size at all. CSS has 96 pixels to the inch.
            dpi=96,
            background="#ffffff",
            skip_system_fonts=True,
            font_files=_font_files(),
            font_family=FAMILY,
            sans_serif_family=FAMILY,
        )
    )


def png_size(data: bytes) -> tuple[int, int]:
    """Width and height of a PNG: two numbers of four bytes after the name of its first chunk (RFC 2083, 4.1.1)."""
    return int.from_bytes(data[16:20]), int.from_bytes(data[20:24])


@cache
def _font_files() -> list[str]:
    return [str(Path(font_file(FACES[name]))) for name in ("sans", "sans-italic", "sans-semibold")]
