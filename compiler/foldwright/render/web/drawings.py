"""Where the drawings of a page are: in it as they were drawn, or, in a library, in fewer letters and beside it.

A drawing on which nothing is written looks the same whatever stands round it, so it may be a file of its own: it comes
when it is looked at, and once, however often it is shown. One with figures has the letters of the page and changes with
the units, so it stands in the page.
"""

from __future__ import annotations

import re
from functools import lru_cache
from html import unescape

from foldwright.render.photos import name_of
from foldwright.render.web.images import Image
from foldwright.render.web.style_rules import about_drawings
from foldwright.render.web.tight import Tightener, as_file

FOLDER = "drawings"
_VIEW_BOX = re.compile(r'viewBox="([-\d.]+) ([-\d.]+) ([-\d.]+) ([-\d.]+)"')
_LETTERS = "<text "
_WORDS = re.compile(r"<(?:title|desc)>(.*?)</(?:title|desc)>")
_PX = 96 / 25.4
"""To the millimetre, as CSS has it."""


class InPage:
    """Each drawing whole in the page."""

    def put(self, svg: str, attributes: str = 'class="drawing"') -> str:
        return svg.replace("<svg ", f"<svg {attributes} ", 1)

    def unwritten(self, name: str, svg: str, first: bool = False) -> str:
        """One without figures, so the same in every system; the `first` of a page is seen at once."""
        del first
        return self.put(svg, f'id="{name}" class="drawing"')

    def again(self, name: str, svg: str) -> str:
        """One that stands there already, and is seen without being read out."""
        return reference(name, svg)

    def small(self, name: str, svg: str) -> str:
        """One that is made to be shown small, without its figures."""
        del name
        return self.put(svg)


class BesidePage(InPage):
    """Those on which nothing is written as `files`, by where they lie beside the page; `style` is that of the page."""

    def __init__(self, style: str) -> None:
        self._style = style
        self._tightener = Tightener()
        self.files: dict[str, bytes] = {}
        self.first: list[Image] = []

    def put(self, svg: str, attributes: str = 'class="drawing"') -> str:
        return self._tightener.tight(super().put(svg, attributes))

    def unwritten(self, name: str, svg: str, first: bool = False) -> str:
        if _LETTERS in svg:
            return self.put(svg, f'id="{name}" class="drawing"')
        return self._image(name, svg, " ".join(map(unescape, _WORDS.findall(svg))), first)

    def again(self, name: str, svg: str) -> str:
        return reference(name, svg) if _LETTERS in svg else self.small(name, svg)

    def small(self, name: str, svg: str) -> str:
        return self._image(name, svg, "", first=False)

    def _image(self, name: str, svg: str, says: str, first: bool) -> str:
        data = _file_of(svg, self._style)
        address = f"{FOLDER}/{name}-{name_of(data)[:8]}.svg"
        self.files[address] = data
        box = _VIEW_BOX.search(svg)
        assert box is not None, "every drawing has a viewBox"
        image = Image(address, round(float(box[3]) * _PX), round(float(box[4]) * _PX), says, first=first, late=True)
        if first:
            self.first.append(image)
        return str(image.markup).replace("<img ", '<img class="drawing" ', 1)


@lru_cache(maxsize=512)
def _file_of(svg: str, style: str) -> bytes:
    return as_file(svg, lambda classes: about_drawings(style, classes)).encode("utf-8")


def reference(mark: str, drawn: str, more: str = "") -> str:
    """A second look at a drawing that already stands in the page."""
    box = _VIEW_BOX.search(drawn)
    if box is None:
        raise ValueError("a drawing without a viewBox cannot be shown twice")
    left, top, width, height = box.groups()
    return (
        f'<svg class="drawing" width="{width}mm" viewBox="{left} {top} {width} {height}"{more}>'
        f'<use href="#{mark}" x="{left}" y="{top}" width="{width}" height="{height}"/></svg>'
    )
