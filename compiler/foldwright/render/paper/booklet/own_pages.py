"""The pages a booklet has of its own: cover, contents, index, back. Lengths are in millimetres."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import batched
from operator import mul
from types import SimpleNamespace
from typing import Any

from msgspec import Struct

from foldwright.document.booklet_text import BookletText
from foldwright.measure.length import System
from foldwright.render.paper.arranging import PlacedArea
from foldwright.render.paper.bound import FOOT_MM, BoundPlace, bound_foot
from foldwright.render.paper.class_marks import grid
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.pictures import Captioned, style
from foldwright.render.paper.prints import PrintedPhoto
from foldwright.render.paper.typesetting import Asset, Typeset, typeset
from foldwright.render.themes import Composition, load_paper_theme
from foldwright.render.units import MM_PER_PX

_INSET_MM = 6.0
"""Between the edge of the cover's panel and what is on it."""
_LONG_TITLE, _VERY_LONG_TITLE = 24, 60
"""Letters from which a title is set smaller."""
_GAP_MM, _CAPTION_MM = 5.0, 7.5
"""Between the pictures on the cover; what the name under each takes, which may be of two lines."""
_MOST_HEROES = 9
"""More pictures on a cover would be stamps."""
_SIZES_PT = 10.5, 9.75, 9.0
"""Sizes of type, in order of liking; a smaller one where that spares a page."""


class BookletHead(Struct, frozen=True):
    """What a booklet says of itself: its title, whose it is, and what stands on its back, line by line."""

    title: str
    studio: str
    author: str
    back: tuple[str, ...]
    foreword: tuple[str, ...] = ()


class CoverPicture(Struct, frozen=True):
    """A finished thing on the cover, and what it is."""

    picture: Captioned
    name: str


class ContentsEntry(Struct, frozen=True):
    """A line of the contents: what it leads to, by its name and by its page; `facts` stand under its title."""

    name: str
    title: str
    page: int
    facts: str = ""


class ContentsGroup(Struct, frozen=True):
    """Lines of the contents under a heading, which may be empty."""

    heading: str
    entries: tuple[ContentsEntry, ...]
    note: str = ""


class IndexLine(Struct, frozen=True):
    """A supply, and where it is: the names of recipes' pages with their numbers."""

    supply: str
    pages: tuple[tuple[str, int], ...]


class BookletPages:
    """Sets a booklet's own pages in a look. Raises ThemeError."""

    def __init__(self, head: BookletHead, text: BookletText, system: System, theme: str, paper: Paper) -> None:
        self._head, self._text, self._system, self._paper = head, text, system, paper
        self._theme = load_paper_theme(theme, "booklet")

    def cover(self, pictures: Sequence[CoverPicture]) -> Typeset:
        """The title over the finished things, as large as there is room for them."""
        _, high, margin = self._paper.page
        shown = tuple(pictures[:_MOST_HEROES])
        title = _title_height(self._cover((), 0.0).boxes[0])
        room = high - 2 * margin - title - _GAP_MM - _INSET_MM
        # A shop drawing has its title at the foot.
        below = self._theme.composition is Composition.SHOP_DRAWING
        return self._cover(shown, _INSET_MM if below else title + _GAP_MM, room)

    def _cover(self, shown: Sequence[CoverPicture], top: float, room: float = 0.0) -> Typeset:
        wide, high, margin = self._paper.page
        assets: dict[str, Asset] = {}
        across = wide - 2 * margin
        if self._theme.composition is Composition.SHOP_DRAWING:
            assets["grid"] = Asset(grid(across, high - 2 * margin, self._system).encode("utf-8"), "image/svg+xml")
        places = arranged([_ratio(one.picture) for one in shown], across - 2 * _INSET_MM, room)
        heroes = [
            _hero(one, place, _INSET_MM, top, f"hero-{number}", assets)
            for number, (one, place) in enumerate(zip(shown, places, strict=True))
        ]
        long = len(self._head.title)
        return self._set(
            "cover",
            assets,
            None,
            panel=style(width=across, height=high - 2 * margin),
            size="very-long" if long > _VERY_LONG_TITLE else "long" if long > _LONG_TITLE else "short",
            heroes=heroes,
            grid=bool(assets.get("grid")),
        )

    def contents(self, groups: Sequence[ContentsGroup], place: BoundPlace) -> Typeset:
        """What is in it, and on which page."""
        return self._set("contents", {}, place, self._text.say("contents"), groups=groups)

    def index(self, lines: Sequence[IndexLine], place: BoundPlace) -> Typeset:
        """Which supply is on which pages."""
        return self._set("index", {}, place, self._text.say("supplies"), lines=lines)

    def back(self) -> Typeset:
        """The last page: whose it is."""
        _, high, margin = self._paper.page
        return self._set("back", {}, None, panel=style(height=high - 2 * margin))

    def _set(
        self, kind: str, assets: dict[str, Asset], place: BoundPlace | None, heading: str = "", **holds: object
    ) -> Typeset:
        wide, high, margin = self._paper.page
        page = f"@page{{size:{wide:.4f}mm {high:.4f}mm;margin:{margin}mm}}"
        html = self._theme.filled(
            book=self._head,
            page=SimpleNamespace(
                kind=kind, heading=heading, language=self._text.language, paper=self._paper.slug, **holds
            ),
            composition=self._theme.composition.value,
        )
        if place is None:
            return typeset(html, self._theme.style, page, assets)
        page = (
            f"@page{{size:{wide:.4f}mm {high:.4f}mm;margin:0;padding:{margin}mm {margin}mm {margin + FOOT_MM:.3f}mm}}"
        )
        styles = [f"{page}body{{font-size:{size}pt}}" for size in _SIZES_PT]
        # A number lies behind its page, and is not read out. How many pages there are is known once they are laid.
        many, number = min((len(typeset(html, self._theme.style, one).boxes), at) for at, one in enumerate(styles))
        feet = [
            f"@page:nth({at}){{background:url(asset:foot-{at}) 0 0/100% 100% no-repeat}}" for at in range(1, many + 1)
        ]
        for at in range(1, many + 1):
            drawn = bound_foot(place, self._paper, at, heading, self._theme.composition)
            assets[f"foot-{at}"] = Asset(drawn.encode("utf-8"), "image/svg+xml")
        return typeset(html, self._theme.style, styles[number] + "".join(feet), assets)


# --- pictures on the cover --------------------------------------------------------------------------------------------


def arranged(ratios: Sequence[float], wide: float, high: float) -> list[PlacedArea]:
    """Pictures of these shapes (heights as parts of widths) in rows in the middle of a room, each with a name under it:
    in so many columns that they come out largest."""
    if not ratios or high <= 0:
        return []
    ways = [list(_rows(ratios, columns, wide, high)) for columns in range(1, len(ratios) + 1)]
    return max(ways, key=lambda way: min(one.width * (one.height - _CAPTION_MM) for one in way))


def _rows(ratios: Sequence[float], columns: int, wide: float, high: float) -> Iterator[PlacedArea]:
    """Areas with the names in them; what a row does not take of its height stands between the rows and around them."""
    rows = list(batched(ratios, columns))
    cell = (wide - _GAP_MM * (columns - 1)) / columns
    tall = max(0.0, (high - _GAP_MM * (len(rows) - 1)) / len(rows) - _CAPTION_MM)
    widths = [[min(cell, tall / ratio) for ratio in row] for row in rows]
    heights = [max(map(mul, *both)) + _CAPTION_MM for both in zip(widths, rows, strict=True)]
    between = (high - sum(heights)) / (len(rows) + 1)
    foot = 0.0
    for row, sizes, height in zip(rows, widths, heights, strict=True):
        foot += between + height
        left = (wide - len(row) * cell - (len(row) - 1) * _GAP_MM) / 2
        for at, (ratio, width) in enumerate(zip(row, sizes, strict=True)):
            # Pictures of a row stand on one line, their names under it.
            deep = width * ratio + _CAPTION_MM
            yield PlacedArea(left + at * (cell + _GAP_MM) + (cell - width) / 2, foot - deep, width, deep)


def _ratio(picture: Captioned) -> float:
    width = max(40.0, picture.least_mm)
    return picture.picture.height_at(width) / width


def _hero(
    one: CoverPicture, place: PlacedArea, left: float, top: float, name: str, assets: dict[str, Asset]
) -> SimpleNamespace:
    picture = one.picture.picture
    if isinstance(picture, PrintedPhoto):
        ready = picture.at(place.width)
        assets[name] = Asset(ready.data, f"image/{ready.kind}")
    else:
        assets[name] = Asset(picture.svg_at(max(place.width, picture.least_mm)).encode("utf-8"), "image/svg+xml")
    high = place.height - _CAPTION_MM
    return SimpleNamespace(
        source=f"asset:{name}",
        alt=picture.alt,
        name=one.name,
        place=style(left=left + place.left, top=top + place.top, width=place.width),
        size=style(width=place.width, height=high),
    )


def _boxes(box: Any) -> Iterator[Any]:
    for child in getattr(box, "children", ()):
        inner = getattr(child, "_box", child)
        yield inner
        yield from _boxes(inner)


def _title_height(page: Any) -> float:
    """How much of the cover's panel the title takes, from the panel's edge."""
    titles = (box for box in _boxes(page) if box.element is not None and box.element.get("data-block") == "title")
    return max(float(box.border_height()) * MM_PER_PX for box in titles)
