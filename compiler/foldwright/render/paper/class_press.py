"""Lays out what is handed out, or a recipe's pages at a place in a book: proofed once, fitted, laid out to confirm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from math import inf
from types import SimpleNamespace
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.model import PlacedPicture
from foldwright.render.paper import class_marks, galley
from foldwright.render.paper.arranging import PlacedArea
from foldwright.render.paper.bound import BoundPlace, bound_foot
from foldwright.render.paper.card import Misfit
from foldwright.render.paper.class_content import ClassContent
from foldwright.render.paper.class_fitting import LARGE, LEAST_NOTES, Fitter, HandoutLeaf, HandoutManner
from foldwright.render.paper.class_page import Pictured, printable
from foldwright.render.paper.class_rows import Cell, ClassRow
from foldwright.render.paper.composing import Composer
from foldwright.render.paper.compositions.page import Frame
from foldwright.render.paper.fitting import TooLong
from foldwright.render.paper.flowing import Stand
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.pictures import block_view, code_of, page_html, placed_picture, style
from foldwright.render.paper.typesetting import Asset, Typeset, typeset
from foldwright.render.paper.versions import Version
from foldwright.render.photos import ReadyPhoto
from foldwright.render.themes import Composition, load_paper_theme
from foldwright.render.units import MM_PER_PX


class Pressed(Struct, frozen=True):
    """Pages laid out; what they are is told at `Handout`."""

    laid: Typeset
    size_pt: float
    version: Version
    left_out: tuple[PlacedPicture, ...]
    notes_mm: float


class Press:
    """Makes one handout, or the pages at a place in a book."""

    def __init__(
        self,
        content: ClassContent,
        theme: str,
        photos: Mapping[str, ReadyPhoto],
        paper: Paper,
        manner: HandoutManner,
        most: int,
        place: BoundPlace | None = None,
    ) -> None:
        self._content = content
        self._place = place
        self._theme = load_paper_theme(theme, "handout")
        self._composition = self._theme.composition
        self._paper = paper
        self._manner = manner
        self._room = Frame.of(paper)
        pictures = printable(
            content.document,
            content.system,
            photos,
            manner.plan_pts,
            manner.small_pt,
            self._theme.drawing,
            self._room.width,
            quiet=most == 1,
        )
        plates = content.document.labels["plate"] if self._composition is Composition.HOUSEHOLD_BOOK else ""
        composer = Composer(self._composition, content.table())
        code = code_of(content.document, content.system, paper)
        self._fitter = Fitter(Pictured(content, pictures, plates, code), manner, paper, composer, most)

    def pressed(self) -> Pressed | Misfit:
        measured = self._galley()
        if measured.unprintable:
            return Misfit(unprintable=measured.unprintable)
        blocks = galley.VersionBlocks(self._content, measured)
        leaf = self._fitter.fit(blocks.block_of)
        for _ in range(galley.CONFIRMATIONS):
            if isinstance(leaf, TooLong) or leaf.flow.broken:
                break
            laid = self._laid(leaf, leaf.flow.spare, leaf.flow.pages)
            if not (higher := _too_high(laid, leaf)):
                return self._made(laid, leaf, leaf.flow.spare)
            # A line broke elsewhere than reckoned: reckon with what was seen.
            blocks.raise_by(higher)
            leaf = self._fitter.fit(blocks.block_of)
        # What is broken, or cannot be reckoned, the typesetter parts where it likes.
        return Misfit(too_long=leaf) if isinstance(leaf, TooLong) else self._broken(leaf)

    def _broken(self, leaf: HandoutLeaf) -> Pressed:
        """Where something is broken across pages only the typesetter knows what is left of the last one for notes."""
        laid = self._laid(leaf, 0.0, leaf.flow.pages)
        _, high, margin = self._paper.page
        bottom = high - margin - self._folio_mm
        spare = max(0.0, bottom - _foot_ends(laid) - galley.HAIR_MM)
        fuller = self._laid(leaf, spare, len(laid.boxes))
        return self._made(fuller, leaf, spare)

    def _made(self, laid: Typeset, leaf: HandoutLeaf, spare: float) -> Pressed:
        kept = {shown for pictures in leaf.page.pictures.values() for shown in pictures}
        document = self._content.document
        left_out = tuple(shown for shown in document.shown if shown not in kept)
        version = replace(leaf.page.version, listed=True)
        return Pressed(laid, leaf.size_pt, version, left_out, self._lines(spare) * self._manner.ruling)

    def _galley(self) -> galley.Galley:
        content = self._content
        fields, notes = (("fields",), ("notes",)) if content.lined else ((), ())
        names = ("head", *fields, "table", *content.opening(), "pieces", *content.steps(), *content.closing(), *notes)
        wordings = self._fitter.wordings
        blocks = [block_view(content, name, galley.ENDLESS, galley.ENDLESS, wordings) for name in (*names, "foot")]
        for block in blocks:
            if block.kind == "table":
                block.groups = [block_view(content, name, galley.ENDLESS, "", wordings) for name in content.table()]
                block.broken = False
        return galley.pull_galley(self._html(blocks), self._theme.style, self._small_style())

    def _laid(self, leaf: HandoutLeaf, spare: float, pages: int) -> Typeset:
        """So many pages, with so many millimetres for notes beside the least there must be."""
        assets: dict[str, Asset] = {}
        lines = self._lines(spare)
        ruled = lines * self._manner.ruling
        stands = leaf.flow.stands
        begins = [False, *(after.page > before.page for before, after in pairwise(stands))]
        blocks = [
            self._placed(cell, row, leaf, stand, begins_page, assets)
            for row, stand, begins_page in zip(leaf.rows, stands, begins, strict=True)
            for cell in row.cells
        ]
        # Whole lines only: what is left over stands above the foot.
        left_over = LEAST_NOTES + spare - ruled if self._content.lined else spare
        foot = block_view(
            self._content,
            leaf.page.foot,
            style(margin_top=leaf.setting.gap + left_over, min_height=leaf.foot.height),
            style(top=leaf.foot.words_top, width=leaf.foot.words_width),
            leaf.page.version.wordings,
            [
                placed_picture(code, spot, assets)
                for code, spot in zip(leaf.page.of(leaf.page.foot), leaf.foot.spots, strict=True)
            ],
        )
        if self._content.lined:
            assets["ruled"] = _svg(class_marks.ruled(self._room.width, lines, self._manner.ruling))
        styles = [
            f"body{{font-size:{leaf.size_pt}pt;line-height:{leaf.setting.leading:.4f}}}",
            f".ruled{{height:{ruled:.3f}mm;background:url(asset:ruled) 0 0/100% 100% no-repeat}}",
            self._small_style(),
            self._page_style(pages, assets),
        ]
        return typeset(self._html([*blocks, foot]), self._theme.style, "".join(styles), assets)

    def _lines(self, spare: float) -> int:
        return int((LEAST_NOTES + spare) / self._manner.ruling + 1e-6)

    def _placed(
        self, cell: Cell, row: ClassRow, leaf: HandoutLeaf, stand: Stand, begins_page: bool, assets: dict[str, Asset]
    ) -> SimpleNamespace:
        pictures = []
        for picture, spot in zip(leaf.page.of(cell.name), cell.spots, strict=True):
            placed = placed_picture(picture, replace(spot.area, width=spot.wide), assets, spot.area.width)
            if stand.broken:
                placed.place, placed.loose = style(width=spot.area.width), True
            pictures.append(placed)
        place = _place(cell, row, stand) + self._grid(cell, assets)
        place += ";break-before:page" if begins_page and cell is row.cells[0] else ""
        words = style(left=cell.words.left, top=cell.words.top, width=cell.words.width)
        block = block_view(self._content, cell.name, place, words, leaf.page.version.wordings, pictures)
        block.panel = cell.panel
        if cell.name == "table" and leaf.table:
            block.broken = stand.broken
            block.width = _spread(leaf.table.heading)
            block.groups = [
                block_view(self._content, group, _spread(at), "", leaf.page.version.wordings)
                for group, at in leaf.table.groups.items()
            ]
        return block

    def _grid(self, cell: Cell, assets: dict[str, Asset]) -> str:
        """The grid behind the drawings of a panel, as a style."""
        if not cell.field:
            return ""
        left, top, wide, high = (cell.field.left, cell.field.top, cell.field.width, cell.field.height)
        name = f"grid-{wide:.3f}-{high:.3f}"
        assets[name] = _svg(class_marks.grid(wide, high, self._paper.system))
        return (
            f";background-image:url(asset:{name});background-repeat:no-repeat;"
            f"background-position:{left:.3f}mm {top:.3f}mm;background-size:{wide:.3f}mm {high:.3f}mm"
        )

    def _small_style(self) -> str:
        return f".caption,.foot{{font-size:{self._manner.small_pt}pt}}"

    @property
    def _folio_mm(self) -> float:
        return self._manner.folio(self._composition)

    def _page_style(self, pages: int, assets: dict[str, Asset]) -> str:
        """The paper; with page numbers or a title block as what lies behind, which is not read out."""
        wide, high, margin = self._paper.page
        size, blocks = f"size:{wide:.4f}mm {high:.4f}mm", self._composition is Composition.SHOP_DRAWING
        if pages == 1 and not blocks and not self._place:
            return f"@page{{{size};margin:{margin}mm}}"
        for number in range(1, pages + 1):
            assets[f"folio-{number}"] = _svg(self._foot_of(number, pages))
        folios = "".join(
            f"@page:nth({number}){{background:url(asset:folio-{number}) 0 0/100% 100% no-repeat}}"
            for number in range(1, pages + 1)
        )
        bookmarks = (
            "h1{bookmark-level:1;bookmark-label:content(text)}h2{bookmark-level:2;bookmark-label:attr(data-bookmark)}"
            if pages > 1 or self._place
            else ""
        )
        # Padding, so that what lies behind a page has all of it.
        padding = f"padding:{margin}mm {margin}mm {margin + self._folio_mm:.3f}mm"
        return f"@page{{{size};margin:0;{padding}}}{folios}{bookmarks}"

    def _foot_of(self, number: int, pages: int) -> str:
        document, small = self._content.document, self._manner.small_pt
        if self._composition is Composition.SHOP_DRAWING:
            sheet = self._place.called(number) if self._place else class_marks.sheet_of(document, number, pages)
            return class_marks.title_block(document, self._paper, small, sheet)
        if self._place:
            return bound_foot(self._place, self._paper, number, document.head.title, self._composition)
        return class_marks.folio(document, self._paper, small, number, pages)

    def _html(self, blocks: Sequence[SimpleNamespace]) -> str:
        content = self._content
        by_name = {block.name: block for block in blocks}
        groups = {
            "heads": ("head",),
            "fields": ("fields",),
            "tables": ("table",),
            "before": (*content.opening(), "pieces"),
            "steps": content.steps(),
            "after": content.closing(),
            "notes": ("notes",),
            "feet": ("foot",),
        }
        holds = {group: [by_name[name] for name in names if name in by_name] for group, names in groups.items()}
        more = " large-print" if self._manner is LARGE else " bound" if self._place else ""
        kind = f"handout {self._composition.value}{more}"
        return page_html(self._theme, content.document, kind, self._paper.slug, **holds)


def _place(cell: Cell, row: ClassRow, stand: Stand) -> str:
    """Where a block stands: under the row before it, or level with the cell at its left; as high as its row.

    One that is broken is as high as it is.
    """
    first = cell is row.cells[0]
    place = style(margin_top=stand.before if first else -row.height)
    place += ";" + style(min_height=0.0 if stand.broken else row.height)
    return (
        place
        if len(row.cells) == 1 and not cell.panel
        else place + ";" + style(margin_left=cell.left, width=cell.width)
    )


def _svg(drawn: str) -> Asset:
    return Asset(drawn.encode("utf-8"), "image/svg+xml")


def _spread(area: PlacedArea) -> str:
    """Where something stands that is as high as its words make it, as a style."""
    return style(left=area.left, top=area.top, width=area.width)


def _too_high(laid: Typeset, leaf: HandoutLeaf) -> dict[str, float]:
    """Blocks whose words came out higher than reckoned on one page, and by how many ems of the body's type."""
    reckoned = {cell.name: cell.words.height for row in leaf.rows for cell in row.cells if cell.name != "table"}
    if leaf.table:
        reckoned |= {"table": leaf.table.heading.height}
        reckoned |= {name: group.height for name, group in leaf.table.groups.items()}
    return galley.risen(galley.heights_of(laid.boxes), reckoned, leaf.setting.em)


def _foot_ends(laid: Typeset) -> float:
    """Where the foot ends, in millimetres from the top of its page; a theme of one's own without one leaves no room."""
    feet = (box for box in _elements(laid.boxes[-1]) if box.element.get("data-block") == "foot")
    return max((float(box.position_y + box.border_height()) * MM_PER_PX for box in feet), default=inf)


def _elements(box: Any) -> Iterator[Any]:
    for child in getattr(box, "children", ()):
        inner = getattr(child, "_box", child)
        if inner.element is not None and inner.element_tag:
            yield inner
        yield from _elements(inner)
