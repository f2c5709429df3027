"""The finished thing of a recipe as others show it (papers, labels and the page of an event, a library): what its cards
show.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.model import Document
from foldwright.measure.length import System
from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.paper.pictures import prints_of
from foldwright.render.paper.prints import Drawing, PrintedPhoto
from foldwright.render.photos import ReadyPhoto

_DRAWN_MM = 40.0
"""How wide it is drawn; papers show it somewhat smaller, so that its lines are neither thin nor heavy."""


class Hero(Struct, frozen=True):
    """A picture of what a recipe makes: its bytes and their kind (`image/svg+xml`), its shape, what it shows."""

    slug: str
    data: bytes
    kind: str
    ratio: float
    """Its height as a part of its width."""
    alt: str


def heroes_of(
    documents: Sequence[Document], system: System, photos: Sequence[Mapping[str, ReadyPhoto]]
) -> tuple[Hero, ...]:
    """One for each recipe that has a picture of the finished thing, in order."""
    every = (hero_of(document, system, ready) for document, ready in zip(documents, photos, strict=True))
    return tuple(hero for hero in every if hero)


def hero_of(
    document: Document,
    system: System,
    photos: Mapping[str, ReadyPhoto],
    manner: DrawingManner = DrawingManner.PLAIN,
    wide_mm: float = _DRAWN_MM,
) -> Hero | None:
    """The picture of one recipe; none where nothing is put together."""
    whole = tuple(shown for shown in document.shown if not shown.step and not shown.piece)
    for captioned in prints_of(replace(document, shown=whole), system, photos, manner=manner).values():
        picture = getattr(captioned, "picture", None)
        if isinstance(picture, PrintedPhoto):
            across, down = picture.size_at(wide_mm)
            ready = picture.at(wide_mm)
            return Hero(document.slug, ready.data, f"image/{ready.kind}", down / across, picture.alt)
        if isinstance(picture, Drawing):
            width = max(wide_mm, picture.least_mm)
            svg = picture.svg_at(width).encode("utf-8")
            return Hero(document.slug, svg, "image/svg+xml", picture.height_at(width) / width, picture.alt)
    return None
