"""The finished thing of each recipe, as papers, labels and the page of an event show it: what its cards show."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.model import Document
from foldwright.measure.length import System
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
    every = (_hero(document, system, ready) for document, ready in zip(documents, photos, strict=True))
    return tuple(hero for hero in every if hero)


def _hero(document: Document, system: System, photos: Mapping[str, ReadyPhoto]) -> Hero | None:
    whole = tuple(shown for shown in document.shown if not shown.step and not shown.piece)
    for captioned in prints_of(replace(document, shown=whole), system, photos).values():
        picture = getattr(captioned, "picture", None)
        if isinstance(picture, PrintedPhoto):
            across, down = picture.size_at(_DRAWN_MM)
            ready = picture.at(_DRAWN_MM)
            return Hero(document.slug, ready.data, f"image/{ready.kind}", down / across, picture.alt)
        if isinstance(picture, Drawing):
            width = max(_DRAWN_MM, picture.least_mm)
            svg = picture.svg_at(width).encode("utf-8")
            return Hero(document.slug, svg, "image/svg+xml", picture.height_at(width) / width, picture.alt)
    return None
