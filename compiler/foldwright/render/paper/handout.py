"""The handout for a class: its words proofed once, fitted by arithmetic, laid out to confirm, made a PDF."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from html import escape
from itertools import pairwise
from math import inf
from types import SimpleNamespace
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.in_class import ClassDocument, class_document
from foldwright.document.model import Document, PlacedPicture
from foldwright.measure.length import System
from foldwright.render.drawing.label import width_of
from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.paper import galley
from foldwright.render.paper.arranging import PlacedArea
from foldwright.render.paper.card import Misfit
from foldwright.render.paper.class_content import ClassContent
from foldwright.render.paper.class_fitting import LARGE, LEAST_NOTES, USUAL, Fitter, HandoutLeaf, HandoutManner
from foldwright.render.paper.compositions.page import Frame
from foldwright.render.paper.content import Version
from foldwright.render.paper.fitting import TooLong
from foldwright.render.paper.flowing import Stand
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.pictures import Captioned, block_view, page_html, placed_picture, prints_of, style
from foldwright.render.paper.typesetting import Asset, Typeset, typeset
from foldwright.render.photos import ReadyPhoto
from foldwright.render.themes import load_paper_theme
from foldwright.render.units import MM_PER_POINT, MM_PER_PX

_DESCENT = 0.25
"""Ems from the line that letters stand on to the foot of the page's text: the faces' descenders reach less far."""


class Handout(Struct, frozen=True):
    """A handout that came out: its PDF, how it was set, the pictures there was no room for.

    `sheet` is the one for the class, of which it is made; `left_out` counts steps as the whole sheet does. `notes_mm`
    is how much room there is for notes, on the last page. Lists are whole in any version, if only run together.
    """

    pdf: bytes
    pages: int
    size_pt: float
    document: Document
    version: Version
    left_out: tuple[PlacedPicture, ...]
    notes_mm: float


class NoClass(Struct, frozen=True):
    """No step is done in class, so that there is nothing to hand out."""


def handout(
    document: Document,
    system: System,
    theme: str,
    photos: Mapping[str, ReadyPhoto],
    paper: Paper,
    large_print: bool = False,
) -> Handout | Misfit | NoClass:
    """The handout on one paper, or why there is none. It is one page where that can be, unless in large print."""
    made = class_document(document)
    if made is None:
        return NoClass()
    out = _Press(ClassContent(made, system), theme, photos, paper, LARGE if large_print else USUAL).handout()
    names = _whole_names(document, made)
    if isinstance(out, Misfit):
        missing = tuple(replace(one, block=names.get(one.block, one.block)) for one in out.unprintable)
        long = out.too_long
        too_long = long and replace(long, too_wide=names.get(long.too_wide, long.too_wide))
        return Misfit(missing, too_long)
    return replace(out, left_out=tuple(map(made.whole, out.left_out)))


def _whole_names(document: Document, made: ClassDocument) -> dict[str, str]:
    """The blocks of a handout by the names that they have in the whole sheet."""
    steps = {f"step-{number}": f"step-{whole}" for number, whole in enumerate(made.numbers, 1)}
    sections = {
        f"section-{number}": f"section-{document.sections.index(section)}"
        for number, section in enumerate(made.document.sections)
    }
    return {**steps, **sections, "supplies": "needs", "tools": "needs", "ready": "pieces", "notes": "head"}


class _Press:
    """Makes one handout."""

    def __init__(
        self,
        content: ClassContent,
        theme: str,
        photos: Mapping[str, ReadyPhoto],
        paper: Paper,
        manner: HandoutManner,
    ) -> None:
        self._content = content
        self._theme = load_paper_theme(theme, "handout")
        self._paper = paper
        self._manner = manner
        self._room = Frame.of(paper)
        self._pictures = _pictures(content, photos, manner, self._theme.drawing, self._room.width)

    def handout(self) -> Handout | Misfit:
        measured = self._galley()
        if measured.unprintable:
            return Misfit(unprintable=measured.unprintable)
        blocks = galley.VersionBlocks(self._content, measured)
        fitter = Fitter(self._content, self._manner, self._pictures, self._room)
        leaf = fitter.fit(blocks.block_of)
        for _ in range(galley.CONFIRMATIONS):
            if isinstance(leaf, TooLong) or leaf.flow.broken:
                break
            laid = self._laid(leaf, leaf.flow.spare, leaf.flow.pages)
            if not (higher := _too_high(laid, leaf)):
                return self._made(laid, leaf, leaf.flow.spare)
            # A line broke elsewhere than reckoned: reckon with what was seen.
            blocks.raise_by(higher)
            leaf = fitter.fit(blocks.block_of)
        # What is broken, or cannot be reckoned, the typesetter parts where it likes.
        return Misfit(too_long=leaf) if isinstance(leaf, TooLong) else self._broken(leaf)

    def _broken(self, leaf: HandoutLeaf) -> Handout:
        """Where something is broken across pages only the typesetter knows what is left of the last one for notes."""
        laid = self._laid(leaf, 0.0, leaf.flow.pages)
        _, high, margin = self._paper.page
        bottom = high - margin - self._manner.folio
        spare = max(0.0, bottom - _foot_ends(laid) - galley.HAIR_MM)
        fuller = self._laid(leaf, spare, len(laid.boxes))
        return self._made(fuller, leaf, spare)

    def _made(self, laid: Typeset, leaf: HandoutLeaf, spare: float) -> Handout:
        kept = {shown for pictures in leaf.page.pictures.values() for shown in pictures}
        document = self._content.document
        left_out = tuple(shown for shown in document.shown if shown not in kept)
        version = replace(leaf.page.version, listed=True)
        notes = self._lines(spare) * self._manner.ruling
        return Handout(laid.pdf(), len(laid.boxes), leaf.size_pt, document, version, left_out, notes)

    def _galley(self) -> galley.Galley:
        content = self._content
        names = ("head", "fields", "table", *content.opening(), "pieces", *content.steps(), *content.closing(), "notes")
        blocks = [block_view(content, name, galley.ENDLESS, galley.ENDLESS) for name in (*names, "foot")]
        for block in blocks:
            if block.kind == "table":
                block.groups, block.broken = (
                    [block_view(content, name, galley.ENDLESS, "") for name in content.table()],
                    False,
                )
        return galley.pull_galley(self._html(blocks), self._theme.style, self._small_style())

    def _laid(self, leaf: HandoutLeaf, spare: float, pages: int) -> Typeset:
        """So many pages, with so many millimetres for notes beside the least there must be."""
        assets: dict[str, Asset] = {}
        gap = leaf.setting.gap
        lines = self._lines(spare)
        ruled = lines * self._manner.ruling
        stands = leaf.flow.stands
        begins = [False, *(after.page > before.page for before, after in pairwise(stands))]
        blocks = [
            self._placed(name, leaf, stand, begins_page, assets)
            for name, stand, begins_page in zip(leaf.arranged, stands, begins, strict=True)
        ]
        # Whole lines only: what is left over stands above the foot.
        left_over = LEAST_NOTES + spare - ruled
        foot = block_view(
            self._content,
            leaf.page.foot,
            style(margin_top=gap + left_over),
            style(width=self._room.width),
            leaf.page.version,
        )
        assets["ruled"] = Asset(_ruled(self._room.width, lines, self._manner.ruling).encode(), "image/svg+xml")
        styles = [
            f"body{{font-size:{leaf.size_pt}pt;line-height:{leaf.setting.leading:.4f}}}",
            f".ruled{{height:{ruled:.3f}mm;background:url(asset:ruled) 0 0/100% 100% no-repeat}}",
            self._small_style(),
            self._page_style(pages),
        ]
        if pages > 1:
            folios = {f"folio-{number}": self._folio(number, pages) for number in range(1, pages + 1)}
            assets |= {name: Asset(folio.encode("utf-8"), "image/svg+xml") for name, folio in folios.items()}
        return typeset(self._html([*blocks, foot]), self._theme.style, "".join(styles), assets)

    def _lines(self, spare: float) -> int:
        return int((LEAST_NOTES + spare) / self._manner.ruling + 1e-6)

    def _placed(
        self, name: str, leaf: HandoutLeaf, stand: Stand, begins_page: bool, assets: dict[str, Asset]
    ) -> SimpleNamespace:
        arranged = leaf.arranged[name]
        captioned = leaf.page.pictures.get(name, {}).values()
        pictures = []
        for picture, spot in zip(captioned, arranged.spots, strict=True):
            room = leaf.columns.pictures if leaf.columns.holds(name, arranged) else 0.0
            placed = placed_picture(picture, replace(spot, top=spot.top + stand.lower), assets, room)
            if stand.broken and spot.top >= arranged.words_height:
                placed.place, placed.loose = style(width=spot.width), True
            pictures.append(placed)
        # A part of something broken is as high as it is.
        place = style(margin_top=stand.before, min_height=0.0 if stand.broken else arranged.height)
        place += ";break-before:page" if begins_page else ""
        block = block_view(self._content, name, place, style(width=arranged.words_width), leaf.page.version, pictures)
        if name == "table" and leaf.table:
            block.broken = stand.broken
            block.width = _spread(leaf.table.heading)
            block.groups = [
                block_view(self._content, group, _spread(at), "", leaf.page.version)
                for group, at in leaf.table.groups.items()
            ]
        return block

    def _small_style(self) -> str:
        return f".caption,.foot{{font-size:{self._manner.small_pt}pt}}"

    def _page_style(self, pages: int) -> str:
        """The paper; of several pages the numbers, as what lies behind them, which is not read out."""
        wide, high, margin = self._paper.page
        size = f"size:{wide:.4f}mm {high:.4f}mm"
        if pages == 1:
            return f"@page{{{size};margin:{margin}mm}}"
        folios = "".join(
            f"@page:nth({number}){{background:url(asset:folio-{number}) 0 0/100% 100% no-repeat}}"
            for number in range(1, pages + 1)
        )
        return (
            # Padding, so that what lies behind a page has all of it.
            f"@page{{{size};margin:0;padding:{margin}mm {margin}mm {margin + self._manner.folio:.3f}mm}}{folios}"
            "h1{bookmark-level:1;bookmark-label:content(text)}"
            "h2{bookmark-level:2;bookmark-label:attr(data-bookmark)}"
        )

    def _folio(self, number: int, pages: int) -> str:
        """The foot of a page, on a picture of the size of the page: the title, if there is room, and its number."""
        document = self._content.document
        wide, high, margin = self._paper.page
        size = self._manner.small_pt * MM_PER_POINT
        count = f"{number}{document.labels['of-pages']}{pages}"
        room = wide - 2 * margin - (width_of(count) + 2) * size
        title = document.head.title if width_of(document.head.title) * size <= room else ""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide:.3f} {high:.3f}" '
            f'font-family="Foldwright Sans" font-size="{size:.4f}" fill="#333">'
            f'<text x="{margin:.3f}" y="{high - margin - size * _DESCENT:.3f}">{escape(title)}</text>'
            f'<text x="{wide - margin:.3f}" y="{high - margin - size * _DESCENT:.3f}" text-anchor="end">{escape(count)}'
            "</text></svg>"
        )

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
        kind = "handout large-print" if self._manner is LARGE else "handout"
        return page_html(self._theme, content.document, kind, self._paper.slug, **holds)


def _pictures(
    content: ClassContent,
    photos: Mapping[str, ReadyPhoto],
    manner: HandoutManner,
    drawing: DrawingManner,
    widest: float,
) -> dict[PlacedPicture, Captioned]:
    """Every picture that can be printed so wide, the one needed most first; plans with the largest type that can be."""
    document, found = content.document, dict[PlacedPicture, Captioned]()
    for text_pt in manner.plan_pts:
        left = tuple(shown for shown in document.shown if shown not in found)
        prints = prints_of(
            replace(document, shown=left), content.system, photos, text_pt, manner.small_pt, manner=drawing
        )
        found |= {
            shown: made for shown, made in prints.items() if isinstance(made, Captioned) and made.least_mm <= widest
        }
    return {shown: found[shown] for shown in document.shown if shown in found}


def _spread(area: PlacedArea) -> str:
    """Where something stands that is as high as its words make it, as a style."""
    return style(left=area.left, top=area.top, width=area.width)


def _ruled(width: float, lines: int, apart: float) -> str:
    """Lines to write on, as an SVG."""
    strokes = "".join(f"M0 {(number + 1) * apart - 0.2:.3f}h{width:.3f}" for number in range(lines))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.3f} {lines * apart:.3f}" '
        f'preserveAspectRatio="none"><path d="{strokes}" stroke="#8c8c8c" stroke-width=".2"/></svg>'
    )


def _too_high(laid: Typeset, leaf: HandoutLeaf) -> dict[str, float]:
    """Blocks whose words came out higher than reckoned on one page, and by how many ems of the body's type."""
    reckoned = {name: one.words_height for name, one in leaf.arranged.items() if name != "table"}
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
