"""Photographs as elements of a page: whole inside it, or as files in several sizes of which a browser takes one."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import PurePath
from typing import Protocol

from markupsafe import Markup as Html
from msgspec import Struct

from foldwright.document import model
from foldwright.render.photos import ReadyPhoto, name_of
from foldwright.render.themes import Room

FOLDER = "photos"
_ENDINGS = {"jpeg": "jpg", "png": "png", "webp": "webp"}
_ODD = re.compile(r"[^a-z0-9]+")


class ImageFiles(Struct, frozen=True):
    """The same picture in several widths: the address of each by its pixels across, the narrowest first."""

    kind: str
    by_width: tuple[tuple[int, str], ...]

    @property
    def srcset(self) -> str:
        return ", ".join(f"{address} {width}w" for width, address in self.by_width)


class Image(Struct, frozen=True):
    """A photograph ready to show: its address, its size in pixels, what it shows.

    In a library it comes as `files` in several sizes, and in `smaller` ones for browsers that know their kind; `rooms`
    say how wide it stands in the page. The `first` picture of a page is asked for at once, all others when they come
    near.
    """

    source: str
    width: int
    height: int
    shows: str
    files: ImageFiles | None = None
    smaller: ImageFiles | None = None
    rooms: tuple[Room, ...] = ()
    first: bool = False
    late: bool = False
    """Whether it lies beside the page, in one size, and comes when it is looked at."""

    @property
    def markup(self) -> Html:
        """The picture as an element."""
        shown = Html('src="{}" width="{}" height="{}" alt="{}"').format(
            self.source, self.width, self.height, self.shows
        )
        when = Html('fetchpriority="high"' if self.first else 'loading="lazy"')
        if self.files is None:
            return Html("<img {} {}>").format(shown, when) if self.late else Html("<img {}>").format(shown)
        sizes = ", ".join(map(self._in_room, self.rooms))
        img = Html('<img {} srcset="{}" sizes="{}" {} decoding="async">').format(shown, self.files.srcset, sizes, when)
        if self.smaller is None:
            return img
        return Html('<picture><source type="{}" srcset="{}" sizes="{}">{}</picture>').format(
            self.smaller.kind, self.smaller.srcset, sizes, img
        )

    def _in_room(self, room: Room) -> str:
        """How wide it stands there, for the attribute `sizes`."""
        when = f"(min-width:{room.since}) " if room.since else ""
        if room.fill:
            return f"{when}max({room.width}, {self._as_high(room.fill)}px)"
        most = min(self.width, self._as_high(room.high)) if room.high else self.width
        return f"{when}min({room.width}, {most}px)"

    def _as_high(self, pixels: int) -> int:
        """How wide it is where it is so high."""
        return -(-pixels * self.width // self.height)


class Show(Protocol):
    """Makes a photograph ready to show, no wider than `width` pixels where one is given; None where it cannot."""

    def __call__(self, photo: model.Photograph, width: int = 0) -> Image | None: ...


def as_files(name: str, photo: ReadyPhoto) -> tuple[Image, dict[str, bytes]]:
    """A photograph as an image to be chosen from, and its files by where they lie beside the page.

    Their names come from the author's `name` and hold a hash, so that a browser never shows an old picture for a new.
    """
    from foldwright.render.photo_sizes import in_sizes

    stem = _ODD.sub("-", PurePath(name).stem.lower()).strip("-") or "photo"
    at = f"{FOLDER}/{stem}-{name_of(photo.data)[:8]}"
    sizes = in_sizes(photo)
    files: dict[str, bytes] = {}

    def offered(all_sizes: tuple[ReadyPhoto, ...]) -> ImageFiles | None:
        addresses = []
        for one in all_sizes:
            address = f"{at}-{one.width}.{_ENDINGS[one.kind]}"
            files[address] = one.data
            addresses.append((one.width, address))
        return ImageFiles(f"image/{all_sizes[0].kind}", tuple(addresses)) if addresses else None

    plain, webp = offered(sizes.plain), offered(sizes.webp)
    assert plain is not None, "a photograph is one of its own sizes"
    return Image(plain.by_width[-1][1], photo.width, photo.height, "", plain, webp), files


def size_rules(images: Iterable[Image]) -> str:
    """A style that tells the size and the shape of every picture, so that its room is kept before it has come."""
    sizes = dict.fromkeys((image.width, image.height) for image in images)
    return "".join(f'[width="{w}"][height="{h}"]{{--wide:{w}px;--shape:{w}/{h}}}' for w, h in sizes)
