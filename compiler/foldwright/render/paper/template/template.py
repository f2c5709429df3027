"""A template: the pages a recipe's pieces go on at true size, set by the typesetter."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from types import SimpleNamespace

from markupsafe import Markup as Html
from msgspec import Struct

from foldwright.document.model import Document
from foldwright.document.template_text import TemplateText
from foldwright.geometry.scene import LineKind
from foldwright.render.drawing.label import width_of
from foldwright.render.drawing.svg import draw_legend
from foldwright.render.paper.bound import BoundPlace, bound_foot
from foldwright.render.paper.content import PaperMarkup
from foldwright.render.paper.galley import Unprintable
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.pictures import style
from foldwright.render.paper.template.gauges import RULER_HIGH, card_svg, ruler_svg
from foldwright.render.paper.template.paging import CARD_ROOM, Pager, PlacedPiece, TemplatePage
from foldwright.render.paper.template.piece import MARGIN, Design, picture_size, shape_svg
from foldwright.render.paper.template.spare import LegendShape, caption_size
from foldwright.render.paper.template.tiling import map_svg, marks_svg
from foldwright.render.paper.typesetting import Asset, Typeset, letters_of, typeset
from foldwright.render.themes import Composition, load_paper_theme
from foldwright.render.units import MM_PER_POINT

EDGE_MM = 8.0
"""What stays clear on all sides: printers at home leave up to some 6 mm blank (common practice, no source)."""
_HEAD_MM, _FOOT_MM = 17.0, 5.0
_GAP_MM = 4.0
_BLOCK_MM, _CLEAR_MM = 112.0, 3.0
"""How wide the title block of a shop drawing is, and what its style sheet keeps clear in it at both sides."""
_TITLE_MM, _MAP_MM = 13 * MM_PER_POINT, 45.0
"""The size of the title, as the style sheet sets it, and what is kept free of it for plans of tiles."""


class Template(Struct, frozen=True):
    """A template that came out. `huge` are the pieces no reasonable number of pages holds."""

    pdf: bytes
    pages: int
    tiled: tuple[str, ...] = ()
    huge: tuple[str, ...] = ()


def template(
    document: Document, designs: Sequence[Design], words: TemplateText, theme: str, paper: Paper, mirrored: bool
) -> Template:
    """All designs at true size on a paper. Raises ThemeError."""
    made = laid_template(document, designs, words, theme, paper, mirrored)
    return Template(made.laid.pdf(), made.pages, made.tiled, made.huge)


class LaidTemplate(Struct, frozen=True):
    """A template laid out; of no pages where none holds any of its pieces."""

    laid: Typeset
    pages: int
    tiled: tuple[str, ...] = ()
    huge: tuple[str, ...] = ()


def laid_template(
    document: Document,
    designs: Sequence[Design],
    words: TemplateText,
    theme: str,
    paper: Paper,
    mirrored: bool = False,
    place: BoundPlace | None = None,
) -> LaidTemplate:
    """The same laid out, at a place in a book if that is said. Raises ThemeError."""
    setter = _TemplateSetter(document, words, theme, paper, mirrored, place)
    kinds = _kinds(designs)
    pages, huge = setter.pager.laid(designs, [document.labels[f"{kind.value}-line"] for kind in kinds])
    tiles = dict.fromkeys(one.design.name for page in pages for one in page.pieces if one.tile)
    return LaidTemplate(setter.laid(pages, kinds), len(pages), tuple(tiles), huge)


def unprintable(document: Document, designs: Sequence[Design]) -> tuple[Unprintable, ...]:
    """The letters of a template that one of the faces it may be set in lacks."""
    known = letters_of("sans") & letters_of("serif") & letters_of("sans-semibold")
    texts = [document.head.title, document.head.author, document.head.licence]
    texts += [text for one in designs for text in (one.name, *(caption.text for caption in one.captions))]
    letters = dict.fromkeys(letter for text in texts for letter in text if not letter.isspace())
    return tuple(Unprintable(letter, "head") for letter in letters if ord(letter) not in known)


def _kinds(designs: Sequence[Design]) -> list[LineKind]:
    """The kinds of lines that are drawn, for the legend."""
    kinds = {LineKind.CUT} | {LineKind(run.kind) for one in designs for run in one.contours.runs}
    return [kind for kind in LineKind if kind in kinds]


class _TemplateSetter:
    def __init__(
        self,
        document: Document,
        words: TemplateText,
        theme: str,
        paper: Paper,
        mirrored: bool,
        place: BoundPlace | None,
    ) -> None:
        self.document = document
        self.place = place
        self.words = words
        self.markup = PaperMarkup((words.system,), heading=3)
        self.paper = paper
        self.mirrored = mirrored
        self.theme = load_paper_theme(theme, "template")
        self.page_wide, self.page_high = float(paper.width_mm), float(paper.height_mm)
        self.wide = self.page_wide - 2 * EDGE_MM
        high = self.page_high - 2 * EDGE_MM - _HEAD_MM - _FOOT_MM - RULER_HIGH
        self.pager = Pager(words, self.wide, high, mirrored)
        # A shop drawing has its title block at the lower right, under the ruler.
        self.titled_below = self.theme.composition is Composition.SHOP_DRAWING
        self.top = EDGE_MM if self.titled_below else EDGE_MM + _HEAD_MM
        self.band = self.page_high - EDGE_MM - _FOOT_MM - (_HEAD_MM if self.titled_below else 0.0)
        self.assets: dict[str, Asset] = {}

    def laid(self, pages: Sequence[TemplatePage], kinds: Sequence[LineKind]) -> Typeset:
        ruler, self.ruler_wide = ruler_svg(self.wide, self.words.say("ruler-alt"))
        self._add("ruler", ruler)
        self._add("card", card_svg(self.words.say("card-alt"), 1.0, False))
        self._add("card-turned", card_svg(self.words.say("card-alt"), 1.0, True))
        legend = [self._legend(kind, svg) for kind, svg in draw_legend(kinds)]
        head = self.document.head
        page = SimpleNamespace(
            language=self.document.language,
            title=_shortened(self.words.title, _BLOCK_MM - 2 * _CLEAR_MM if self.titled_below else self.wide - _MAP_MM),
            author=head.author,
            kind="template",
            paper=self.paper.slug,
            pages=[self._page(number, one, len(pages)) for number, one in enumerate(pages, 1)],
            how=self.words.say("how"),
            units=self.words.units,
            mirrored=self.words.say("mirrored") if self.mirrored else self.words.say("good-side"),
            legend=legend,
            legend_label=self.words.say("legend"),
            foot=[] if self.place else [part for part in (head.author, head.revised_words, head.licence) if part],
        )
        html = self.theme.filled(page=page, label=SimpleNamespace(between=self.document.labels["between"]))
        size = f"@page{{size:{self.page_wide:.3f}mm {self.page_high:.3f}mm}}" + self._feet(len(pages))
        return typeset(html, self.theme.style, size, self.assets)

    def _feet(self, pages: int) -> str:
        """In a book the number of every page; a shop drawing has it in its title block."""
        if self.place is None or self.titled_below:
            return ""
        for number in range(1, pages + 1):
            drawn = bound_foot(self.place, self.paper, number, self.words.title, self.theme.composition, EDGE_MM)
            self._add(f"foot-{number}", drawn)
        return "".join(
            f"@page:nth({number}){{background:url(asset:foot-{number}) 0 0/100% 100% no-repeat}}"
            for number in range(1, pages + 1)
        )

    def _number(self, number: int, count: int) -> str:
        """Which page it is: of the template, or where it is bound of the book."""
        if self.place is None:
            return self.words.say("page", number=number, count=count)
        return self.place.called(number) if self.titled_below else self.words.say("bound", number=number, count=count)

    def _add(self, name: str, svg: str) -> str:
        """The address under which the page finds the picture."""
        self.assets[name] = Asset(svg.encode("utf-8"), "image/svg+xml")
        return f"asset:{name}"

    def _legend(self, kind: LineKind, svg: str) -> SimpleNamespace:
        return SimpleNamespace(
            source=self._add(f"legend-{kind.value}", svg), name=self.document.labels[f"{kind.value}-line"]
        )

    def _page(self, number: int, page: TemplatePage, count: int) -> SimpleNamespace:
        return SimpleNamespace(
            number=self._number(number, count),
            first=number == 1,
            size=style(width=self.page_wide, height=self.page_high),
            head=self._head(page),
            pieces=[self._piece(f"piece-{number}-{at}", one) for at, one in enumerate(page.pieces)],
            maps=self._maps(number, page),
            card=self._card(page.card, page.card_turned) if page.card else None,
            legend=self._own_legend(*page.legend) if page.legend else None,
            ruler=SimpleNamespace(
                source="asset:ruler",
                alt=self.words.say("ruler-alt"),
                place=style(left=EDGE_MM, top=self.band - RULER_HIGH),
                size=style(width=self.ruler_wide, height=RULER_HIGH),
            ),
            foot=style(
                left=EDGE_MM,
                top=self.page_high - EDGE_MM - _FOOT_MM + 1,
                width=self.wide - (_BLOCK_MM + _GAP_MM if self.titled_below else 0.0),
            ),
        )

    def _head(self, page: TemplatePage) -> str:
        """Beside the plans of tiles, where these stand at the top too."""
        if not self.titled_below:
            maps = sum(wide + _GAP_MM for _, _, wide, _ in self._tile_maps(page))
            return style(left=EDGE_MM, top=EDGE_MM, width=self.wide - maps)
        left, high = self.page_wide - EDGE_MM - _BLOCK_MM, _HEAD_MM + _FOOT_MM - 1
        return style(left=left, top=self.band + 1, width=_BLOCK_MM, height=high)

    def _piece(self, name: str, one: PlacedPiece) -> SimpleNamespace:
        shape = self.pager.shape(one)
        alt = (
            self.words.say("shows-tile", piece=one.design.name, tile=one.tile.name)
            if one.tile
            else one.design.describes
        )
        svg = shape_svg(shape, self.pager.names(one), one.window, alt)
        if one.tiling and one.tile:
            svg = svg.replace("</svg>", marks_svg(one.tiling, one.tile, MARGIN) + "</svg>")
        wide, high = picture_size(one.window)
        left, top = EDGE_MM + one.left, self.top + one.top
        return SimpleNamespace(
            source=self._add(name, svg),
            alt=alt,
            place=style(left=left, top=top, width=caption_size(self.pager.caption(one), wide)[0]),
            size=style(width=wide, height=high),
            under=self._under(one),
        )

    def _maps(self, number: int, page: TemplatePage) -> list[SimpleNamespace]:
        """For every piece of which there are tiles on a page, how all of them lie together."""
        found: list[SimpleNamespace] = []
        right, top = self.page_wide - EDGE_MM, EDGE_MM
        if self.titled_below:
            right, top = right - _BLOCK_MM - _GAP_MM, self.band + 1
        for alt, svg, wide, high in self._tile_maps(page):
            source = self._add(f"map-{number}-{len(found)}", svg)
            place = style(left=right - wide, top=top)
            size = style(width=wide, height=high)
            found.append(SimpleNamespace(source=source, alt=alt, size=size, place=place))
            right -= wide + _GAP_MM
        return found

    def _tile_maps(self, page: TemplatePage) -> Iterator[tuple[str, str, float, float]]:
        """Of each: what it shows, the drawing, how wide and how high that is."""
        for piece, tiling in {one.design.name: one.tiling for one in page.pieces if one.tiling}.items():
            alt = self.words.say("map", piece=piece, rows=tiling.rows, columns=tiling.columns)
            yield alt, *map_svg(tiling, alt, _HEAD_MM - 2)

    def _under(self, one: PlacedPiece) -> str:
        """Ready to be set: a size has real fractions."""
        if one.tiling is None or one.tile is None:
            return Html(self.markup.runs(one.design.under))
        return self.pager.caption(one)

    def _card(self, at: tuple[float, float], turned: bool) -> SimpleNamespace:
        wide, high = CARD_ROOM[::-1] if turned else CARD_ROOM
        return SimpleNamespace(
            source="asset:card-turned" if turned else "asset:card",
            alt=self.words.say("card-alt"),
            says=self.words.say("card"),
            legend=not turned,
            place=style(left=EDGE_MM + at[0], top=self.top + at[1], width=wide),
            inside=style(width=wide - 12),
            size=style(width=wide, height=high),
        )

    def _own_legend(self, left: float, top: float, shape: LegendShape) -> SimpleNamespace:
        place = style(left=EDGE_MM + left, top=self.top + top, width=shape.width, height=shape.height)
        return SimpleNamespace(place=place, row=shape.row)


def _shortened(title: str, room: float) -> str:
    """A title that goes on one line; of a longer one the beginning."""
    while width_of(title) * _TITLE_MM * 1.1 > room:
        title = title[:-2].rstrip() + "…"
    return title
