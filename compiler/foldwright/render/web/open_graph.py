"""What a page says of itself to whoever links to it: Open Graph (ogp.me), property by property."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from foldwright.document.model import Document
from foldwright.document.share_text import PREVIEW
from foldwright.document.words import plain
from foldwright.measure.length import System
from foldwright.render.web.images import Image

_PREVIEW_SIZE = (1200, 630)
"""The pixels of the picture that the output for sharing makes for links, as its name says."""


class Preview(Struct, frozen=True):
    """The picture that stands for the page: where it lies beside it, its size in pixels, what it shows."""

    file: str
    width: int
    height: int
    alt: str


def preview_of(document: Document, system: System, shared: bool, photo: Image | None) -> Preview | None:
    """The picture made for `shared` links; else the photograph at the head; a drawing is no picture others show."""
    if shared:
        drawn = document.finished.describes.of(system) if document.finished else ""
        shown = document.photo.shows if document.photo else drawn
        return Preview(PREVIEW, *_PREVIEW_SIZE, shown or document.head.title)
    return Preview(photo.source, photo.width, photo.height, photo.shows) if photo else None


_KINDS = {"jpg": "image/jpeg", "png": "image/png"}


def open_graph(document: Document, system: System, preview: Preview | None) -> Iterator[tuple[str, str]]:
    """The properties that are known, those in which there is nothing left out. Addresses are whole ones: without the
    studio's address there are none."""
    head = document.head
    yield "og:title", head.title
    yield "og:type", "article"
    yield "og:locale", document.language.replace("-", "_") if "-" in document.language else ""
    yield "og:site_name", head.studio
    yield "og:description", plain(head.summary, system)
    yield "og:url", head.page_address
    if head.address and preview:
        yield "og:image", head.address + preview.file
        yield "og:image:type", _KINDS[preview.file.rsplit(".", 1)[1]]
        yield "og:image:width", str(preview.width)
        yield "og:image:height", str(preview.height)
        yield "og:image:alt", preview.alt
    yield "article:published_time", head.published
    yield "article:modified_time", head.revised
    for tag in head.tags:
        yield "article:tag", tag
