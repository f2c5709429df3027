"""Where the drawings of a page are: in it as they were drawn, or, in a library, in fewer letters and beside it.

A drawing on which nothing is written looks the same whatever stands round it, so it may be a file of its own: it comes
when it is looked at, and once, however often it is shown. Figures have the letters of the page and change with the
units, so they stand in the page; where there is much under them, that is a file.
"""

from __future__ import annotations

import re
from functools import lru_cache
from html import unescape

from foldwright.render.photos import name_of
from foldwright.render.units import MM_PER_PX
from foldwright.render.web.images import Image
from foldwright.render.web.style_rules import about_drawings
from foldwright.render.web.tight import Tightener, as_file

FOLDER = "drawings"
_VIEW_BOX = re.compile(r'viewBox="([-\d.]+) ([-\d.]+) ([-\d.]+) ([-\d.]+)"')
_LETTERS = "<text "
_WRITTEN = re.compile(
    r"(?P<opening><svg [^>]*>)(?P<said>(?:<title>.*?</title>)?(?:<desc>.*?</desc>)?)"
    r'(?P<shapes>.*?)(?P<letters>(?:<rect class="face-plain plate"|<text ).*)',
    re.DOTALL,
)
"""What is written lies over all shapes, and so do the grounds of the letters."""
_STAGES = 'class="drawing stages"'
_GROUP = re.compile("<g>(.*?)</g>")
_MUCH = 1200
"""So many characters of shapes are worth a file of their own (a reasoned guess)."""
_WORDS = re.compile(r"<(?:title|desc)>(.*?)</(?:title|desc)>")


class InPage:
    """Each drawing whole in the page."""

    def put(self, svg: str, attributes: str = 'class="drawing"') -> str:
        return svg.replace("<svg ", f"<svg {attributes} ", 1)

    def written(self, name: str, svg: str, attributes: str = 'class="drawing"') -> str:
        """One with figures or numbers on it."""
        del name
        return self.put(svg, attributes)

    def stages(self, name: str, svg: str) -> str:
        """One in stages, a group for each, of which one is shown at a time."""
        del name
        return self.put(svg, _STAGES)

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

    def written(self, name: str, svg: str, attributes: str = 'class="drawing"') -> str:
        if (parts := _WRITTEN.fullmatch(svg)) is None or len(parts["shapes"]) < _MUCH:
            return self.put(svg, attributes)
        address = self._file(name, f"{parts['opening']}{parts['shapes']}</svg>")
        _, _, width, height = _box_of(svg)
        under = f'<image href="{address}" width="{width}" height="{height}"/>'
        return self.put(f"{parts['opening']}{parts['said']}{under}{parts['letters']}", attributes)

    def stages(self, name: str, svg: str) -> str:
        """All of them one under the other in one file; each group shows a part of it."""
        _, _, width, height = _box_of(svg)
        opening, groups = svg[: svg.index(">") + 1], _GROUP.findall(svg)
        high = float(height)
        moved = "".join(f'<g transform="translate(0 {n * high})">{one}</g>' for n, one in enumerate(groups))
        whole = f"{len(groups) * high:.2f}"
        box = f'viewBox="0 0 {width} '
        tall = opening.replace(f'{box}{height}"', f'{box}{whole}"').replace(
            f'height="{height}mm"', f'height="{whole}mm"'
        )
        address = self._file(name, f"{tall}{moved}</svg>")
        shown = "".join(
            f'<g><svg viewBox="0 {n * high:.2f} {width} {height}">'
            f'<image href="{address}" width="{width}" height="{whole}"/></svg></g>'
            for n in range(len(groups))
        )
        return self.put(f"{opening}{shown}</svg>", _STAGES)

    def unwritten(self, name: str, svg: str, first: bool = False) -> str:
        if _LETTERS in svg:
            return self.written(name, svg, f'id="{name}" class="drawing"')
        return self._image(name, svg, " ".join(map(unescape, _WORDS.findall(svg))), first)

    def again(self, name: str, svg: str) -> str:
        return reference(name, svg) if _LETTERS in svg else self.small(name, svg)

    def small(self, name: str, svg: str) -> str:
        return self._image(name, svg, "", first=False)

    def _image(self, name: str, svg: str, says: str, first: bool) -> str:
        _, _, *size = _box_of(svg)
        width, height = (round(float(one) / MM_PER_PX) for one in size)
        image = Image(self._file(name, svg), width, height, says, first=first, late=True)
        if first:
            self.first.append(image)
        return str(image.markup).replace("<img ", '<img class="drawing" ', 1)

    def _file(self, name: str, svg: str) -> str:
        """Where a drawing lies as a file."""
        data = _file_of(svg, self._style)
        address = f"{FOLDER}/{name}-{name_of(data)[:8]}.svg"
        self.files[address] = data
        return address


@lru_cache(maxsize=512)
def _file_of(svg: str, style: str) -> bytes:
    return as_file(svg, lambda classes: about_drawings(style, classes)).encode("utf-8")


def _box_of(svg: str) -> tuple[str, ...]:
    box = _VIEW_BOX.search(svg)
    if box is None:
        raise ValueError("a drawing without a viewBox has no size to be shown in")
    return box.groups()


def reference(mark: str, drawn: str, more: str = "") -> str:
    """A second look at a drawing that already stands in the page."""
    left, top, width, height = _box_of(drawn)
    return (
        f'<svg class="drawing" width="{width}mm" viewBox="{left} {top} {width} {height}"{more}>'
        f'<use href="#{mark}" x="{left}" y="{top}" width="{width}" height="{height}"/></svg>'
    )
