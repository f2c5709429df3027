"""Which page of a template every piece goes on, and how it lies there; then what each page has left is used."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.template_text import TemplateText
from foldwright.document.words import plain
from foldwright.geometry.slanting import slant_that_fits
from foldwright.render.paper.arranging import PlacedArea
from foldwright.render.paper.template.gauges import CARD_HIGH, CARD_WIDE
from foldwright.render.paper.template.naming import BAND, PlacedName, lines_on, named, wants_band
from foldwright.render.paper.template.piece import MARGIN, Design, PieceLines, hull_points, laid_out, slanted_box
from foldwright.render.paper.template.spare import (
    LegendShape,
    caption_size,
    free_on,
    legend_shapes,
    spare_room,
    taken_by,
)
from foldwright.render.paper.template.tiling import TemplatePlace, Tile, Tiling, Want, inner_part, pack, tiled

_GAP_MM = 4.0
_UNDER_TILES_MM = 11.0, 20.0, 35.0, 50.0
"""Two lines of words under every tile; more where a narrow tile or a long name asks for them."""
CARD_ROOM = CARD_WIDE + 2, CARD_HIGH + 2


class PlacedPiece(Struct, frozen=True):
    """A picture on a page: where its top left corner is, in millimetres of the page's room, and what it shows.

    A piece lies `turned` by a quarter, or at a `slant` in degrees where it fits in no other way.
    """

    design: Design
    left: float
    top: float
    window: PlacedArea
    turned: bool = False
    slant: float = 0.0
    tiling: Tiling | None = None
    tile: Tile | None = None


class TemplatePage(Struct):
    """What stands on one page; `card` is the outline of a bank card, upright where it is `card_turned`."""

    pieces: list[PlacedPiece]
    card: tuple[float, float] | None = None
    card_turned: bool = False
    legend: tuple[float, float, LegendShape] | None = None


class Pager:
    """Lays all designs on pages whose room is `wide` by `high` millimetres."""

    def __init__(self, words: TemplateText, wide: float, high: float, mirrored: bool) -> None:
        self.words = words
        self.wide, self.high = wide, high
        self.mirrored = mirrored
        self._named: dict[tuple[str, PlacedArea, bool, float], tuple[PlacedName, ...]] = {}

    def laid(self, designs: Sequence[Design], kinds: Sequence[str]) -> tuple[list[TemplatePage], tuple[str, ...]]:
        """The pages, with a legend of the `kinds` of lines; and the pieces that no reasonable number of pages holds."""
        items: list[PlacedPiece] = []
        huge = []
        for design in designs:
            found = list(self._items(design))
            items += found
            huge += [] if found else [design.name]
        places = pack([self._want(item) for item in items], self.wide, self.high, _GAP_MM)
        pages: list[TemplatePage] = []
        for item, place in zip(items, places, strict=True):
            assert place is not None
            while len(pages) <= place.page:
                pages.append(TemplatePage([]))
            pages[place.page].pieces.append(_placed(item, place))
        self._use_what_is_left(pages, kinds)
        return pages, tuple(huge)

    def shape(self, one: PlacedPiece) -> PieceLines:
        """Its lines as they lie on the page."""
        return laid_out(one.design, one.turned, self.mirrored, self.words.panel_names, one.slant)

    def names(self, one: PlacedPiece) -> tuple[PlacedName, ...]:
        """The names that are seen of it; none where tiles overlap, which is cut off."""
        window = inner_part(one.tiling, one.tile) if one.tiling and one.tile else one.window
        key = one.design.name, window, one.turned, one.slant
        if key not in self._named:
            self._named[key] = named(self.shape(one), window)
        return self._named[key]

    def caption(self, one: PlacedPiece) -> str:
        """The plain words under it."""
        if one.tiling is None or one.tile is None:
            return plain(one.design.under, self.words.system)
        onto = [tile.name for tile in _next(one.tiling, one.tile)]
        return self.words.tile(one.design.name, one.tile.name, len(one.tiling.tiles), onto)

    def _items(self, design: Design) -> Iterator[PlacedPiece]:
        """The whole piece if it fits on a page, straight or at a slant, else its tiles."""
        upright = laid_out(design, False, self.mirrored, self.words.panel_names)
        band = BAND if wants_band(upright, design.width, design.height) else 0.0
        for head in dict.fromkeys((band, 0.0)):
            whole = PlacedPiece(design, 0.0, 0.0, PlacedArea(0.0, -head, design.width, design.height + head))
            if self._fits(whole):
                yield whole
                return
        under = caption_size(self.caption(whole), self.wide)[1]
        wide, high = self.wide - 2 * MARGIN, self.high - 2 * MARGIN
        slant = slant_that_fits(hull_points(design, self.mirrored), wide, high - under)
        if slant:
            left, top, right, bottom = slanted_box(design, self.mirrored, slant)
            yield PlacedPiece(design, 0.0, 0.0, PlacedArea(0.0, 0.0, right - left, bottom - top), slant=slant)
            return
        for under in _UNDER_TILES_MM:
            tiling = tiled(design.width, design.height, wide, high - under)
            if tiling is None:
                return
            tiles = [PlacedPiece(design, 0.0, 0.0, one.window, tiling.turned, 0.0, tiling, one) for one in tiling.tiles]
            if all(map(self._fits, tiles)):
                yield from tiles
                return

    def _fits(self, one: PlacedPiece) -> bool:
        """Whether a page has room for it with the words under it."""
        want, most_wide, most_high = self._want(one), self.wide + 1e-9, self.high + 1e-9
        return any(size and size[0] <= most_wide and size[1] <= most_high for size in (want.upright, want.turned))

    def _want(self, one: PlacedPiece) -> Want:
        """What a piece takes with the words under it, as it is and lying on its side."""
        window, text = one.window, self.caption(one)
        head = -min(window.top, 0.0) if one.tile is None else 0.0

        def room(wide: float, high: float) -> tuple[float, float]:
            long, under = caption_size(text, wide)
            return max(wide + 2 * MARGIN, long), high + head + 2 * MARGIN + under

        wide, high = window.width, window.height - head
        return Want(room(wide, high), None if one.tile or one.slant else room(high, wide))

    # --- what is left -------------------------------------------------------------------------------------------------

    def _use_what_is_left(self, pages: list[TemplatePage], kinds: Sequence[str]) -> None:
        """The outline of a card and the legend where there is room; only the legend is worth a page of its own.

        The ruler on every page checks the printer as well.
        """
        shown = [[(one, self.shape(one)) for one in page.pieces] for page in pages]
        names = [[self.names(one) for one, _ in page] for page in shown]
        free = [self._free(*both) for both in zip(shown, names, strict=True)]
        for number, zone in enumerate(free):
            if spot := spare_room(zone, *CARD_ROOM):
                pages[number].card = spot
                return
        shapes = legend_shapes(self.words.say("legend"), kinds)
        inside = [self._inside(*both) for both in zip(shown, names, strict=True)]
        for zones, (number, shape) in product((free, inside), product(range(len(pages)), shapes)):
            if spot := spare_room(zones[number], shape.width, shape.height):
                pages[number].legend = *spot, shape
                self._turned_card(pages, free)
                return
        pages.append(TemplatePage([], card=(0.0, 0.0)))

    def _turned_card(self, pages: Sequence[TemplatePage], free: Sequence[Any]) -> None:
        """A card's outline standing upright, where there is room for that beside the legend."""
        from shapely import box

        for page, zone in zip(pages, free, strict=True):
            rest = zone
            if page.legend:
                left, top, shape = page.legend
                rest = zone.difference(box(left, top, left + shape.width, top + shape.height))
            if spot := spare_room(rest, CARD_ROOM[1], CARD_ROOM[0]):
                page.card, page.card_turned = spot, True
                return

    def _free(self, page: Sequence[tuple[PlacedPiece, PieceLines]], names: Sequence[tuple[PlacedName, ...]]) -> Any:
        from shapely import box

        zone = box(0.0, 0.0, self.wide, self.high)
        for (one, shape), own in zip(page, names, strict=True):
            left, top = one.left + MARGIN, one.top + MARGIN
            zone = zone.difference(taken_by(shape, one.window, own, left, top))
            long, under = caption_size(self.caption(one), one.window.width)
            foot = top + one.window.height + MARGIN
            zone = zone.difference(box(one.left, foot, one.left + long, foot + under + 1))
        return zone

    def _inside(self, page: Sequence[tuple[PlacedPiece, PieceLines]], names: Sequence[tuple[PlacedName, ...]]) -> Any:
        from shapely import union_all

        found = []
        for (one, shape), own in zip(page, names, strict=True):
            if one.tile is None:
                left, top = one.left + MARGIN - one.window.left, one.top + MARGIN - one.window.top
                found.append(free_on(shape, own, left, top, lines_on(shape)))
        return union_all(found)


def _placed(item: PlacedPiece, place: TemplatePlace) -> PlacedPiece:
    """An item at its place; a whole one may lie on its side there."""
    if not place.turned:
        return replace(item, left=place.left, top=place.top)
    top = item.window.top
    window = PlacedArea(0.0, top, item.design.height, item.design.width - top)
    return replace(item, left=place.left, top=place.top, window=window, turned=True)


def _next(tiling: Tiling, tile: Tile) -> Iterator[Tile]:
    """The tiles this one is laid on: those to the right of it and below."""
    for one in tiling.tiles:
        if (one.row - tile.row, one.column - tile.column) in ((0, 1), (1, 0)):
            yield one
