"""The finished thing drawn as a file of its own, for pages that list many recipes: in the colours of a look, light and
dark, without anything from outside it."""

from __future__ import annotations

import re

from msgspec import Struct

from foldwright.document.model import Picture
from foldwright.document.words import plain
from foldwright.measure.length import System
from foldwright.render.drawing.pens import STYLES
from foldwright.render.drawing.svg import draw
from foldwright.render.themes import Theme

_WIDE_MM, _HIGH_MM, _TEXT_PT = 80.0, 60.0, 9.0
"""The room for it: four by three, as cards have it. Nothing is written on it."""
_MOST = 3.0
"""Times true size: a small thing is not blown up further."""
_PIXELS_PER_MM = 96 / 25.4
"""As CSS has them."""
_BLOCK = re.compile(r"(@media[^{}]*\{)?\s*:root\{([^{}]*)\}")
_DARK = "prefers-color-scheme"
_COLOUR = re.compile(r"--plan-[a-z-]+:[^;{}]+")
_SIZE = re.compile(r'width="([\d.]+)mm" height="([\d.]+)mm"')


class ListDrawing(Struct, frozen=True):
    """An SVG file and its size in CSS pixels."""

    svg: bytes
    width: int
    height: int


def list_drawing(picture: Picture, system: System, theme: Theme) -> ListDrawing:
    """The picture as large as its room lets it be."""
    scene = theme.drawing.posed(picture.scene)
    largest = min(_WIDE_MM / scene.width, _HIGH_MM / scene.height, _MOST)
    title, describes = plain(picture.title, system), picture.describes.of(system)
    width = largest * scene.width
    svg = draw(picture.scene, {}, width, _TEXT_PT, title, describes, picture.words, largest, theme.drawing)
    size = _SIZE.search(svg)
    assert size, "every drawing tells its size"
    across, down = (max(1, round(float(part) * _PIXELS_PER_MM)) for part in size.groups())
    head, _, rest = svg.partition(">")
    whole = f'{head} class="drawing"><style>{_colours(theme.style)}{STYLES}</style>{rest}'
    return ListDrawing(whole.encode(), across, down)


def _colours(style: str) -> str:
    """What a look says of drawings, in the light and in the dark."""
    found = []
    for block in _BLOCK.finditer(style):
        media, rules = block[1] or "", ";".join(_COLOUR.findall(block[2]))
        if rules and (not media or _DARK in media):
            found.append(f"{media}:root{{{rules}}}{'}' if media else ''}")
    return "".join(found)
