"""The picture by which a library's lists show a recipe, as files of its folder."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from foldwright.outputs.model import OutputSource

_WIDTHS = (480, 960)
"""Pixels across a photograph in a list, the second for screens of two dots to the pixel (a reasoned guess)."""


class PictureSize(Struct, frozen=True):
    """A file of the recipe's folder with the picture in one size, in pixels."""

    file: str
    width: int
    height: int


class EntryPicture(Struct, frozen=True):
    """The finished thing for a list: the same picture in sizes, the smallest first, and what it shows."""

    sizes: tuple[PictureSize, ...]
    shows: str


class ListPicture(Struct, frozen=True):
    """What an entry says of the picture, and its files by name."""

    told: EntryPicture | None
    files: Mapping[str, bytes]


def list_picture(source: OutputSource) -> ListPicture:
    """The photograph of the finished thing, else its drawing; nothing where there is neither."""
    return _photographed(source) or _drawn(source) or ListPicture(None, {})


def _photographed(source: OutputSource) -> ListPicture | None:
    photo = source.document.photo
    ready = source.photos.get(photo.path) if photo else None
    if photo is None or ready is None:
        return None
    from foldwright.render.photos import reduced

    widths = sorted({min(width, ready.width) for width in _WIDTHS})
    made = {f"in-list-{width}.jpg": reduced(ready, width) for width in widths}
    sizes = tuple(PictureSize(name, one.width, one.height) for name, one in made.items())
    shows = photo.shows or source.document.head.title
    return ListPicture(EntryPicture(sizes, shows), {name: one.data for name, one in made.items()})


def _drawn(source: OutputSource) -> ListPicture | None:
    from foldwright.render.web.tutorial import finished_drawing

    drawn = finished_drawing(source.document, source.theme)
    if drawn is None:
        return None
    image, files = drawn
    return ListPicture(EntryPicture((PictureSize(image.source, image.width, image.height),), image.shows), files)
