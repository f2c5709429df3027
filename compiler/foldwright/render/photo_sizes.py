"""A photograph in the sizes and formats a browser may choose from, made of one that is ready to show.

It is looked at once and made smaller step by step. Nothing is ever made larger than it came.
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.memory import Memory
from foldwright.render.photos import QUALITY, ReadyPhoto, name_of

if TYPE_CHECKING:
    from PIL.Image import Image as Picture

WIDTHS = (240, 480, 800, 1200)
"""Pixels across: in the strip of steps, at a step on a phone, on a desk, and on a fine screen there."""
_WORTH = 0.85
"""A size that is nearly that of the whole photograph is left out (a reasoned guess)."""
_WEBP = {"jpeg": 80, "png": 90}
"""Quality by what it came as: letters and lines of a drawing show losses sooner (by eye, no source)."""
_METHOD = 2
"""Of 0 to 6: of a photograph 1200 pixels across it takes half the time of 4, and is a twentieth larger."""
_COLOURS = 256
_KEPT = 100


class PhotoSizes(Struct, frozen=True):
    """The same photograph in several widths, the narrowest first: as it came, and as WebP where that is smaller."""

    plain: tuple[ReadyPhoto, ...]
    webp: tuple[ReadyPhoto, ...] = ()


_SIZED: Memory[PhotoSizes] = Memory(_KEPT)


def in_sizes(photo: ReadyPhoto) -> PhotoSizes:
    """All sizes of a photograph."""
    return _SIZED.of(name_of(photo.data), None, lambda: _in_sizes(photo))


def _in_sizes(photo: ReadyPhoto) -> PhotoSizes:
    from PIL import Image

    widths = [width for width in WIDTHS if width < photo.width * _WORTH]
    image = _seen(Image.open(io.BytesIO(photo.data)))
    images = [image]
    for width in reversed(widths):
        high = max(1, round(photo.height * width / photo.width))
        images.insert(0, images[0].resize((width, high), Image.Resampling.LANCZOS))
    plain = (*(_as_it_came(one, photo.kind) for one in images[:-1]), photo)
    # A drawing of few colours may grow when it is made smaller: then the larger one is shown.
    plain = tuple(one for one in plain if len(one.data) <= len(photo.data))
    webp = tuple(_as_webp(one, _WEBP[photo.kind]) for one in images)
    smaller = sum(len(one.data) for one in webp) < sum(len(one.data) for one in plain)
    return PhotoSizes(plain, webp if smaller else ())


def _seen(image: Picture) -> Picture:
    """In true colours, and see-through only where something is to be seen through."""
    image = image.convert("RGBA" if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info else "RGB")
    if image.mode == "RGBA" and image.getchannel("A").getextrema()[0] == 255:
        return image.convert("RGB")
    return image


def _as_it_came(image: Picture, kind: str) -> ReadyPhoto:
    from PIL import Image

    out = io.BytesIO()
    if kind == "jpeg":
        image.save(out, "JPEG", quality=QUALITY, optimize=True, progressive=True)
    else:
        (image.quantize(_COLOURS, dither=Image.Dither.NONE) if image.mode == "RGB" else image).save(out, "PNG")
    return ReadyPhoto(out.getvalue(), kind, *image.size)


def _as_webp(image: Picture, quality: int) -> ReadyPhoto:
    out = io.BytesIO()
    image.save(out, "WEBP", quality=quality, method=_METHOD)
    return ReadyPhoto(out.getvalue(), "webp", *image.size)
