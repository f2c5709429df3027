"""What is shown in a picture, put into its SVG, and the whole as a JPEG file."""

from __future__ import annotations

import io
import re
from functools import cache
from math import ceil
from pathlib import Path

from msgspec.structs import replace

from foldwright.document.model import Picture
from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.drawing.svg import draw
from foldwright.render.fonts import FACES, font_file
from foldwright.render.photos import ReadyPhoto, reduced
from foldwright.render.share.formats import Area

MOST_BYTES = 600_000
"""What a picture has at most: it loads in a second or two on a phone (a reasoned guess)."""
_QUALITIES = (90, 84, 76, 66, 50)
_LEAST_SHOWN = 7 / 8
"""Of a photograph, as a part of its width or height, so that it may fill its place (a reasoned guess)."""
_DRAWN_MM, _TEXT_PT = 100.0, 8.0
_OPENING = re.compile(r'<svg [^>]*?viewBox="([\d.]+) ([\d.]+) ([\d.]+) ([\d.]+)"([^>]*)>')


def mount(photo: ReadyPhoto, area: Area) -> Area:
    """What a photograph takes of an area, in its middle: as much as it fills if no more than a little is cut off."""
    ways = area.width / photo.width, area.height / photo.height
    scale = min(max(ways), min(ways) / _LEAST_SHOWN)
    wide, high = min(area.width, photo.width * scale), min(area.height, photo.height * scale)
    return Area(area.left + (area.width - wide) / 2, area.top + (area.height - high) / 2, wide, high)


def photographed(photo: ReadyPhoto, mount: Area) -> str:
    """A photograph that fills its mount."""
    scale = max(mount.width / photo.width, mount.height / photo.height)
    ready = reduced(photo, ceil(photo.width * scale))
    return (
        f'<image {_placed(mount)} preserveAspectRatio="xMidYMid slice" image-rendering="optimizeQuality" '
        f'href="{ready.address}"/>'
    )


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


def jpeg(svg: str) -> bytes:
    """The picture as JPEG with its colours whole, in the best quality that is not too large."""
    from PIL import Image

    image = Image.open(io.BytesIO(png(svg))).convert("RGB")
    for quality in _QUALITIES:
        out = io.BytesIO()
        # Letters of one colour on another are blurred where colours are kept for every second pixel alone.
        image.save(out, "JPEG", quality=quality, subsampling="4:4:4", optimize=True)
        if out.tell() <= MOST_BYTES:
            break
    return out.getvalue()


def png(svg: str) -> bytes:
    """The picture pixel by pixel."""
    import resvg_py

    return bytes(resvg_py.svg_to_bytes(svg_string=svg, skip_system_fonts=True, font_files=_font_files()))


@cache
def _font_files() -> list[str]:
    return [str(Path(font_file(face))) for face in FACES.values()]
