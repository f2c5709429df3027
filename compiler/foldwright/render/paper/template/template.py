"""A template: the pages a recipe's pieces go on at true size, set by the typesetter."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from types import SimpleNamespace

from markupsafe import Markup as Html
from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.model import Document
from foldwright.document.template_text import TemplateText
from foldwright.geometry.scene import LineKind
from foldwright.render.drawing.label import width_of
from foldwright.render.drawing.svg import draw_legend
from foldwright.render.paper.arranging import PlacedArea
from foldwright.render.paper.content import PaperMarkup
from foldwright.render.paper.galley import Unprintable
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.pictures import style
from foldwright.render.paper.template.gauges import CARD_HIGH, CARD_WIDE, RULER_HIGH, card_svg, ruler_svg
from foldwright.render.paper.template.piece import MARGIN, Design, laid_out, picture_size, shape_svg
from foldwright.render.paper.template.tiling import TemplatePlace, Tile, Tiling, Want, map_svg, marks_svg, pack, tiled
from foldwright.render.paper.typesetting import Asset, letters_of, typeset
from foldwright.render.themes import load_paper_theme
from foldwright.render.units import MM_PER_POINT

EDGE_MM = 8.0
"""What stays clear on all sides: printers at home leave up to some 6 mm blank (common practice, no source)."""
_HEAD_MM, _FOOT_MM = 17.0, 5.0
_GAP_MM = 4.0
_UNDER_MM = 5.0
"""The line of words under each piece."""
_TITLE_MM, _MAP_MM = 13 * MM_PER_POINT, 45.0
"""The size of the title, as the style sheet sets it, and what is kept free of it for plans of tiles."""


class Template(Struct, frozen=True):
    """A template that came out. `huge` are the pieces no reasonable number of pages holds."""

    pdf: bytes
    pages: int
    tiled: tuple[str, ...] = ()
    huge: tuple[str, ...] = ()


class _PlacedPiece(Struct, frozen=True):
    """A picture on a page: where its top left corner is, in millimetres of the page's room."""

    design: Design
    left: float
    top: float
    window: PlacedArea
    turned: bool
    tiling: Tiling | None = None
    tile: Tile | None = None


class _TemplatePage(Struct):
    pieces: list[_PlacedPiece]
    card: tuple[float, float] | None = None


def template(
    document: Document, designs: Sequence[Design], words: TemplateText, theme: str, paper: Paper, mirrored: bool
) -> Template:
    """All designs at true size on a paper. Raises ThemeError."""
    setter = _TemplateSetter(document, words, theme, paper, mirrored)
    pages, huge = setter.laid(designs)
    tiles = dict.fromkeys(one.design.name for page in pages for one in page.pieces if one.tile)
    return Template(setter.pdf(pages), len(pages), tuple(tiles), huge)


def unprintable(document: Document, designs: Sequence[Design]) -> tuple[Unprintable, ...]:
    """The letters of a template that one of the faces it may be set in lacks."""
    known = letters_of("sans") & letters_of("serif") & letters_of("sans-semibold")
    texts = [document.head.title, document.head.author, document.head.licence]
    texts += [text for one in designs for text in (one.name, *(caption.text for caption in one.captions))]
    letters = dict.fromkeys(letter for text in texts for letter in text if not letter.isspace())
    return tuple(Unprintable(letter, "head") for letter in letters if ord(letter) not in known)


class _TemplateSetter:
    def __init__(self, document: Document, words: TemplateText, theme: str, paper: Paper, mirrored: bool) -> None:
        self.document = document
        self.words = words
        self.markup = PaperMarkup((words.system,), heading=3)
        self.paper = paper
        self.mirrored = mirrored
        self.theme = load_paper_theme(theme, "template")
        self.page_wide, self.page_high = float(paper.width_mm), float(paper.height_mm)
        self.wide = self.page_wide - 2 * EDGE_MM
        self.high = self.page_high - 2 * EDGE_MM - _HEAD_MM - _FOOT_MM - RULER_HIGH
        self.assets: dict[str, Asset] = {}

    def laid(self, designs: Sequence[Design]) -> tuple[list[_TemplatePage], tuple[str, ...]]:
        """The pages: whole pieces and the tiles of large ones, and the card's outline where it first finds room."""
        items: list[_PlacedPiece] = []
        wants: list[Want] = []
        huge = []
        for design in designs:
            upright, lying = _room(design.width, design.height), _room(design.height, design.width)
            if any(wide <= self.wide and high <= self.high for wide, high in (upright, lying)):
                whole = PlacedArea(0.0, 0.0, design.width, design.height)
                items.append(_PlacedPiece(design, 0.0, 0.0, whole, turned=False))
                wants.append(Want(upright, lying))
                continue
            tiling = tiled(design.width, design.height, self.wide - 2 * MARGIN, self.high - 2 * MARGIN - _UNDER_MM)
            if tiling is None:
                huge.append(design.name)
                continue
            for tile in tiling.tiles:
                items.append(_PlacedPiece(design, 0.0, 0.0, tile.window, tiling.turned, tiling, tile))
                wants.append(Want(_room(tile.window.width, tile.window.height)))
        places = pack([*wants, Want((CARD_WIDE + 2, CARD_HIGH + 2))], self.wide, self.high, _GAP_MM)
        pages: list[_TemplatePage] = []
        for item, place in zip(items, places, strict=False):
            assert place is not None
            _page(pages, place.page).pieces.append(_placed(item, place))
        card = places[-1]
        assert card is not None
        _page(pages, card.page).card = card.left, card.top
        return pages, tuple(huge)

    def pdf(self, pages: Sequence[_TemplatePage]) -> bytes:
        ruler, self.ruler_wide = ruler_svg(self.wide, self.words.say("ruler-alt"))
        self._add("ruler", ruler)
        self._add("card", card_svg(self.words.say("card-alt"), 1.0))
        kinds = {LineKind.CUT} | {
            LineKind(run.kind) for page in pages for one in page.pieces for run in one.design.contours.runs
        }
        legend = [self._legend(kind, svg) for kind, svg in draw_legend(kind for kind in LineKind if kind in kinds)]
        head = self.document.head
        page = SimpleNamespace(
            language=self.document.language,
            title=_shortened(self.words.title, self.wide - _MAP_MM),
            author=head.author,
            kind="template",
            paper=self.paper.slug,
            pages=[self._page(number, one, len(pages)) for number, one in enumerate(pages, 1)],
            how=self.words.say("how"),
            units=self.words.units,
            mirrored=self.words.say("mirrored") if self.mirrored else self.words.say("good-side"),
            legend=legend,
            legend_label=self.words.say("legend"),
            foot=[part for part in (head.author, head.revised_words, head.licence) if part],
        )
        html = self.theme.filled(page=page, label=SimpleNamespace(between=self.document.labels["between"]))
        size = f"@page{{size:{self.page_wide:.3f}mm {self.page_high:.3f}mm}}"
        return typeset(html, self.theme.style, size, self.assets).pdf()

    def _add(self, name: str, svg: str) -> str:
        """The address under which the page finds the picture."""
        self.assets[name] = Asset(svg.encode("utf-8"), "image/svg+xml")
        return f"asset:{name}"

    def _legend(self, kind: LineKind, svg: str) -> SimpleNamespace:
        return SimpleNamespace(
            source=self._add(f"legend-{kind.value}", svg), name=self.document.labels[f"{kind.value}-line"]
        )

    def _page(self, number: int, page: _TemplatePage, count: int) -> SimpleNamespace:
        return SimpleNamespace(
            number=self.words.say("page", number=number, count=count),
            first=number == 1,
            size=style(width=self.page_wide, height=self.page_high),
            head=style(left=EDGE_MM, top=EDGE_MM, width=self.wide),
            pieces=[self._piece(f"piece-{number}-{at}", one) for at, one in enumerate(page.pieces)],
            maps=self._maps(number, page),
            card=self._card(page.card) if page.card else None,
            ruler=SimpleNamespace(
                source="asset:ruler",
                alt=self.words.say("ruler-alt"),
                place=style(left=EDGE_MM, top=self.page_high - EDGE_MM - _FOOT_MM - RULER_HIGH),
                size=style(width=self.ruler_wide, height=RULER_HIGH),
            ),
            foot=style(left=EDGE_MM, top=self.page_high - EDGE_MM - _FOOT_MM + 1, width=self.wide),
        )

    def _piece(self, name: str, one: _PlacedPiece) -> SimpleNamespace:
        shape = laid_out(one.design, one.turned, self.mirrored, self.words.panel_names)
        alt = (
            self.words.say("shows-tile", piece=one.design.name, tile=one.tile.name)
            if one.tile
            else one.design.describes
        )
        svg = shape_svg(shape, one.window, alt)
        if one.tiling and one.tile:
            svg = svg.replace("</svg>", marks_svg(one.tiling, one.tile, MARGIN) + "</svg>")
        wide, high = picture_size(one.window)
        left, top = EDGE_MM + one.left, EDGE_MM + _HEAD_MM + one.top
        return SimpleNamespace(
            source=self._add(name, svg),
            alt=alt,
            place=style(left=left, top=top, width=max(wide, 12.0)),
            size=style(width=wide, height=high),
            under=self._under(one),
        )

    def _maps(self, number: int, page: _TemplatePage) -> list[SimpleNamespace]:
        """For every piece of which there are tiles on a page, how all of them lie together."""
        found: list[SimpleNamespace] = []
        right = self.page_wide - EDGE_MM
        tilings = {one.design.name: one.tiling for one in page.pieces if one.tiling}
        for piece, tiling in tilings.items():
            alt = self.words.say("map", piece=piece, rows=tiling.rows, columns=tiling.columns)
            svg, wide, high = map_svg(tiling, alt, _HEAD_MM - 2)
            source = self._add(f"map-{number}-{len(found)}", svg)
            place = style(left=right - wide, top=EDGE_MM)
            size = style(width=wide, height=high)
            found.append(SimpleNamespace(source=source, alt=alt, size=size, place=place))
            right -= wide + _GAP_MM
        return found

    def _under(self, one: _PlacedPiece) -> str:
        """Ready to be set: a size has real fractions."""
        if one.tiling is None or one.tile is None:
            return Html(self.markup.runs(one.design.under))
        onto = [tile.name for tile in _next(one.tiling, one.tile)]
        return self.words.tile(one.design.name, one.tile.name, len(one.tiling.tiles), onto)

    def _card(self, at: tuple[float, float]) -> SimpleNamespace:
        return SimpleNamespace(
            source="asset:card",
            alt=self.words.say("card-alt"),
            says=self.words.say("card"),
            place=style(left=EDGE_MM + at[0], top=EDGE_MM + _HEAD_MM + at[1], width=CARD_WIDE + 2),
            size=style(width=CARD_WIDE + 2, height=CARD_HIGH + 2),
        )


def _shortened(title: str, room: float) -> str:
    """A title that goes on one line; of a longer one the beginning."""
    while width_of(title) * _TITLE_MM * 1.1 > room:
        title = title[:-2].rstrip() + "…"
    return title


def _placed(item: _PlacedPiece, place: TemplatePlace) -> _PlacedPiece:
    """An item at its place; a whole one may lie on its side there."""
    if not place.turned:
        return replace(item, left=place.left, top=place.top)
    window = PlacedArea(0.0, 0.0, item.design.height, item.design.width)
    return replace(item, left=place.left, top=place.top, window=window, turned=True)


def _room(wide: float, high: float) -> tuple[float, float]:
    """What a piece takes with the line of words under it."""
    return wide + 2 * MARGIN, high + 2 * MARGIN + _UNDER_MM


def _page(pages: list[_TemplatePage], number: int) -> _TemplatePage:
    while len(pages) <= number:
        pages.append(_TemplatePage([]))
    return pages[number]


def _next(tiling: Tiling, tile: Tile) -> Iterator[Tile]:
    """The tiles this one is laid on: those to the right of it and below."""
    for one in tiling.tiles:
        if (one.row - tile.row, one.column - tile.column) in ((0, 1), (1, 0)):
            yield one
