"""Drawings for a page nobody knows the style of: PNG files, the lengths of both unit systems in one where they fit."""

from __future__ import annotations

import io
import re
from collections.abc import Mapping, Sequence
from functools import cache
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.document.model import Picture
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import System
from foldwright.render.drawing.inscriptions import LetterManner
from foldwright.render.drawing.label import EITHER, SMALL_PARTS
from foldwright.render.drawing.layout import Placing, Terms, lay_out
from foldwright.render.drawing.svg import write_down
from foldwright.render.fonts import FACES, font_file
from foldwright.render.units import MM_PER_POINT

if TYPE_CHECKING:
    from PIL.Image import Image

WIDTH = 600
"""How wide a picture is shown, in CSS pixels: a blog's column, rarely less on a desk (common practice, no source)."""
SHARP = 2
"""Pixels of a file to a pixel shown: as many as phones and newer screens have."""
FAMILY = "Source Sans Pro"
"""The name the bundled sans has inside its own files."""
_CANVAS_MM = 100.0
_HIGH_MM, _HIGH_UNMEASURED_MM = 50.0, 42.0
"""The room for what is drawn, with dimensions round it and without: a picture and its step go on one screen."""
_TEXT_PT = 9.0
"""On a canvas of 100 mm shown 600 pixels wide these are 19 pixels, and 11 on a phone of 350."""
_COLOURS = 80
"""A drawing has few tones; so many keep its edges smooth in half of the bytes (measured)."""
_SQUEEZE = 8
"""How hard a file is squeezed: by 9, the most, it gets 2 % smaller in twice the time (measured)."""
_OPENING = re.compile(
    r'<svg(?P<more> [^>]*?)width="100\.00mm" height="(?P<high>[\d.]+)mm" viewBox="0 0 100\.00 [\d.]+"'
)
"""Of a drawing on our canvas."""


class BlogDrawing(Struct, frozen=True):
    """A picture as SVG text, and whether every length of it stands there in all systems."""

    svg: str
    tells_all: bool


def draw_for_blog(picture: Picture, systems: Sequence[System]) -> BlogDrawing:
    """With its lengths in every system if they find room, else in the first alone."""
    scene = picture.scene
    high = _HIGH_MM if scene.lengths else _HIGH_UNMEASURED_MM
    largest = min(picture.largest, high / scene.height) if scene.height > 0 else picture.largest
    own = picture.labels.of(systems[0])
    # Of running figures the farthest alone has its unit: two units would be read as one.
    if len(systems) > 1 and scene.lengths and not any(one.running for one in scene.dimensions):
        terms = Terms(LetterManner(shrinks=False, cut=SMALL_PARTS), drops=False, largest_scale=largest)
        labels = together(own, picture.labels.of(systems[1]))
        layout = Placing(terms, scene, labels, _CANVAS_MM, _TEXT_PT * MM_PER_POINT, picture.words).layout()
        if layout:
            return BlogDrawing(write_down(scene, layout), tells_all=True)
    layout = lay_out(scene, own, _CANVAS_MM, _TEXT_PT, picture.words, largest)
    return BlogDrawing(write_down(scene, layout), tells_all=len(systems) == 1 or not scene.lengths)


def together(own: Mapping[LengthId, str], other: Mapping[LengthId, str]) -> Mapping[LengthId, str]:
    """`1 1⁄4 in / 32 mm`."""
    return {name: f"{text}{EITHER}{other[name]}" for name, text in own.items()}


def small_png(svg: str, width: int = WIDTH * SHARP) -> bytes:
    """The same in few colours: those that most of it has are kept, and each of the others becomes the nearest."""
    import numpy
    from PIL import Image

    whole = _pixels(svg, width)
    counted = whole.getcolors(whole.width * whole.height) or []
    # Those that are as frequent go by their tone, so that the same drawing always becomes the same file.
    tones = numpy.array([tone for _, tone in sorted(counted, reverse=True)], dtype=numpy.uint8)
    kept = tones[:_COLOURS].astype(int)
    # Of a distance squared, what it has to be compared by: the tone's own square is the same for all that are kept.
    nearest = ((kept**2).sum(axis=1) - 2 * tones.astype(int) @ kept.T).argmin(axis=1)
    # Looked up by the three bytes of a tone. The fourth is how dense it is, and on white all is dense.
    places = numpy.zeros(1 << 24, dtype=numpy.uint8)
    places[tones.view("<u4")[:, 0] & 0xFFFFFF] = nearest
    few = Image.fromarray(places[numpy.asarray(whole).view("<u4")[:, :, 0] & 0xFFFFFF])
    few.putpalette(kept[:, :3].astype(numpy.uint8).tobytes())
    out = io.BytesIO()
    few.save(out, "PNG", compress_level=_SQUEEZE)
    return out.getvalue()


def _pixels(svg: str, width: int) -> Image:
    """The picture drawn only as far to both sides as there is anything, as a small one tells: most are half blank."""
    from PIL import Image, ImageChops

    opening = _OPENING.match(svg)
    if opening is None:
        return _opened(png(svg, width))
    small = _between(opening, 0, round(_CANVAS_MM), 1)
    drawn = ImageChops.difference(small, Image.new("RGBA", small.size, "white")).convert("RGB").getbbox()
    left, right = (max(0, drawn[0] - 1), min(small.width, drawn[2] + 1)) if drawn else (0, 1)
    sharp = width // round(_CANVAS_MM)
    middle = _between(opening, left, right, sharp)
    whole = Image.new("RGBA", (width, middle.height), "white")
    whole.paste(middle, (left * sharp, 0))
    return whole


def _between(opening: re.Match[str], left: int, right: int, sharp: int) -> Image:
    """What stands between two places in millimetres, with so many pixels to the millimetre."""
    high = ceil(float(opening["high"]) * sharp)
    size = f'width="{(right - left) * sharp}" height="{high}" viewBox="{left} 0 {right - left} {high / sharp:.6f}"'
    return _opened(png(f"<svg{opening['more']}{size}{opening.string[opening.end() :]}"))


def _opened(data: bytes) -> Image:
    from PIL import Image

    return Image.open(io.BytesIO(data)).convert("RGBA")


def png(svg: str, width: int | None = None) -> bytes:
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


@cache
def _font_files() -> list[str]:
    return [str(Path(font_file(FACES[name]))) for name in ("sans", "sans-italic", "sans-semibold")]
