"""What is shown in a picture, put into its SVG, and the whole as a JPEG file."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.model import Picture
from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.drawing.svg import draw
from foldwright.render.fonts import FACES, font_file
from foldwright.render.photos import ReadyPhoto
from foldwright.render.share.formats import Area

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_BYTES = 600_000
"""What a picture has at most: it loads in a second or two on a phone (a reasoned guess)."""
_QUALITIES = (90, 84, 76, 66, 50)
_LEAST_SHOWN = 7 / 8
"""Of a photograph, as a part of its width or height, so that it may fill its place (a reasoned guess)."""
_DRAWN_MM, _TEXT_PT = 100.0, 8.0
_OPENING = re.compile(r'<svg [^>]*?viewBox="([\d.]+) ([\d.]+) ([\d.]+) ([\d.]+)"([^>]*)>')


class Mounted(Struct, frozen=True):
    """A photograph in its place, which it fills; what is too much of it at two edges is cut off."""

    photo: ReadyPhoto
    area: Area


def mount(photo: ReadyPhoto, area: Area) -> Mounted:
    """A photograph in the middle of an area: it fills as much of that as it does with no more than a little cut off."""
    ways = area.width / photo.width, area.height / photo.height
    scale = min(max(ways), min(ways) / _LEAST_SHOWN)
    wide, high = min(area.width, photo.width * scale), min(area.height, photo.height * scale)
    left, top = area.left + (area.width - wide) / 2, area.top + (area.height - high) / 2
    return Mounted(photo, Area(round(left), round(top), round(wide), round(high)))


def drawn(picture: Picture, area: Area, manner: DrawingManner) -> str:
    """A drawing without figures or words, as large as it goes into an area."""
    scene = replace(picture.scene, dimensions=(), captions=(), callouts=())
    svg = draw(scene, {}, _DRAWN_MM, _TEXT_PT, words=picture.words, largest=_DRAWN_MM, manner=manner)
    opening = _OPENING.match(svg)
    if opening is None:
        raise ValueError("a drawing without a viewBox has no place in a picture")
    left, top, wide, high, more = opening.groups()
    return f'<svg {_placed(area)} viewBox="{left} {top} {wide} {high}"{more}>{svg[opening.end() :]}'


def _placed(area: Area) -> str:
    return f'x="{area.left:.1f}" y="{area.top:.1f}" width="{area.width:.1f}" height="{area.height:.1f}"'


def jpeg(svg: str, photographs: Iterable[Mounted]) -> bytes:
    """The picture as JPEG with its colours whole, in the best quality that is not too large."""
    image = pixels(svg, photographs)
    for quality in _QUALITIES:
        out = io.BytesIO()
        # Letters of one colour on another are blurred where colours are kept for every second pixel alone.
        image.save(out, "JPEG", quality=quality, subsampling="4:4:4", optimize=True)
        if out.tell() <= MOST_BYTES:
            break
    return out.getvalue()


def pixels(svg: str, photographs: Iterable[Mounted]) -> Image:
    """The picture pixel by pixel. Photographs come last: an SVG with them takes a second to be drawn."""
    import resvg_py
    from PIL import Image, ImageOps

    drawing = resvg_py.svg_to_bytes(svg_string=svg, skip_system_fonts=True, font_files=_font_files())
    whole = Image.open(io.BytesIO(bytes(drawing))).convert("RGB")
    for one in photographs:
        place = one.area
        photo = Image.open(io.BytesIO(one.photo.data)).convert("RGBA")
        fitted = ImageOps.fit(photo, (int(place.width), int(place.height)))
        whole.paste(fitted, (int(place.left), int(place.top)), fitted)
    return whole


@cache
def _font_files() -> list[str]:
    return [str(Path(font_file(face))) for face in FACES.values()]
