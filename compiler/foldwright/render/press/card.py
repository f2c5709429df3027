"""The one-page card: a sheet's words proofed once, fitted to a paper by arithmetic, laid out to confirm, made a PDF."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import SimpleNamespace

from msgspec import Struct
from msgspec.structs import replace

from foldwright.measure.length import System
from foldwright.render.photos import Prepared
from foldwright.render.press.arranging import MM_PER_POINT, TIGHT_LEADING, Item
from foldwright.render.press.content import Content, Version, versions_for
from foldwright.render.press.fitting import Fitted, Frame, Offer, Placed, TooLong, fit
from foldwright.render.press.galley import NARROW, Galley, Unprintable, heights_of, read_galley
from foldwright.render.press.measured import Block
from foldwright.render.press.papers import Paper
from foldwright.render.press.pictures import Captioned, pictures_of, placed_picture, style
from foldwright.render.press.typesetting import Asset, Typeset, typeset
from foldwright.render.themes import load_paper_theme
from foldwright.sheet.model import Sheet, Shown

_GALLEY_PT = 10.0
_GUTTERS = {True: 4.0, False: 7.0}
"""Millimetres between columns, on small papers and on others."""
_CONFIRMATIONS = 4
_HAIR_MM = 0.05
"""By so little a block may come out higher than reckoned: lengths in styles are written to a thousandth."""
_GROUPS = {"heads": ("head",), "before": ("needs", "cautions", "pieces"), "steps": ("step",), "after": ("section",)}
"""How a template meets the blocks, in the order of reading."""


class Card(Struct, frozen=True):
    """A card that came out: its PDF, what was chosen for it, and the pictures there was no room for."""

    pdf: bytes
    size_pt: float
    columns: int
    version: Version
    left_out: tuple[Shown, ...]


class Misfit(Struct, frozen=True):
    """Why there is no card: letters that no face has, or what is too long."""

    unprintable: tuple[Unprintable, ...] = ()
    too_long: TooLong | None = None


class _Page(Struct, frozen=True):
    """A version of the card: the names of its blocks, and the pictures of each."""

    version: Version
    head: str
    names: tuple[str, ...]
    pictures: Mapping[str, Mapping[Shown, Captioned]]

    def offer(self, blocks: Mapping[str, Block]) -> Offer:
        def item(name: str) -> Item:
            return Item(blocks[name], tuple(self.pictures.get(name, {}).values()))

        return Offer(item(self.head), tuple(map(item, self.names)), blocks["foot"], self.version.enough)

    def placed(self, found: Fitted) -> list[tuple[str, Placed]]:
        """Every block with its place."""
        names = (self.head, *self.names, "foot")
        return list(zip(names, (found.head, *found.items, found.foot), strict=True))


class Proof:
    """A sheet in one unit system and one theme, its words laid out once; cards for any paper are made from it."""

    def __init__(self, sheet: Sheet, system: System, theme: str, photos: Mapping[str, Prepared]) -> None:
        self._sheet = sheet
        self._content = Content(sheet, system)
        self._theme = load_paper_theme(theme, "card")
        self._pictures = pictures_of(sheet, system, photos)
        self._galleys: dict[tuple[str, ...], Galley] = {}

    def card(self, paper: Paper) -> Card | Misfit:
        """The card on one paper, or why there is none."""
        pages = [self._page(version) for version in versions_for(self._sheet, paper, len(self._pictures))]
        galley = self._galley(pages)
        if galley.unprintable:
            return Misfit(unprintable=galley.unprintable)
        blocks = dict(galley.blocks)
        for _ in range(_CONFIRMATIONS):
            found = fit([page.offer(blocks) for page in pages], _frame(paper))
            if isinstance(found, TooLong):
                return Misfit(too_long=found)
            page = pages[found.version]
            laid = self._laid(page, found, paper)
            if not (higher := _higher(laid, page, found)):
                kept = {shown for pictures in page.pictures.values() for shown in pictures}
                left_out = tuple(shown for shown in self._sheet.shown if shown not in kept)
                return Card(laid.pdf(), found.size_pt, found.columns, page.version, left_out)
            # A line broke elsewhere than reckoned: reckon with what was seen.
            for name, ems in higher.items():
                blocks[name] = replace(blocks[name], fixed=blocks[name].fixed + ems)
        raise RuntimeError("blocks went on growing")

    def _page(self, version: Version) -> _Page:
        chosen = dict(list(self._pictures.items())[: version.pictures])
        head = "head" if version.summary else "head-plain"
        names = self._content.names(version, any(shown.piece and not shown.step for shown in chosen))
        of_step = {int(name.split("-")[1]): name for name in names if name.startswith("step-")}
        pictures: dict[str, dict[Shown, Captioned]] = {}
        for shown, picture in chosen.items():
            name = of_step[shown.step] if shown.step else "pieces" if shown.piece else head
            pictures.setdefault(name, {})[shown] = picture
        return _Page(version, head, names, pictures)

    def _galley(self, pages: Sequence[_Page]) -> Galley:
        """Every block of every version, measured; once for all papers that want the same."""
        names = tuple(dict.fromkeys((*(name for page in pages for name in (page.head, *page.names)), "foot")))
        if names not in self._galleys:
            html = self._html([self._block(name, NARROW, NARROW) for name in names], "galley")
            page_style = f"@page{{size:100mm 10000mm}}body{{font-size:{_GALLEY_PT}pt;line-height:{TIGHT_LEADING}}}"
            laid = typeset(html, self._theme.style, page_style)
            self._galleys[names] = read_galley(laid.boxes, TIGHT_LEADING)
        return self._galleys[names]

    def _laid(self, page: _Page, found: Fitted, paper: Paper) -> Typeset:
        assets: dict[str, Asset] = {}
        margin = float(paper.margin_mm)
        blocks = []
        for name, one in page.placed(found):
            arranged = one.arranged
            captioned = page.pictures.get(name, {}).values()
            pictures = [
                placed_picture(picture, spot, assets) for picture, spot in zip(captioned, arranged.spots, strict=True)
            ]
            place = style(left=margin + one.left, top=margin + one.top, width=one.width, height=arranged.height)
            blocks.append(self._block(name, place, style(width=arranged.words_width), pictures))
        page_style = (
            f"@page{{size:{float(paper.width_mm):.4f}mm {float(paper.height_mm):.4f}mm}}"
            f"body{{font-size:{found.size_pt}pt;line-height:{found.leading:.4f}}}"
        )
        return typeset(self._html(blocks, paper.slug), self._theme.style, page_style, assets)

    def _block(self, name: str, place: str, width: str, pictures: Sequence[SimpleNamespace] = ()) -> SimpleNamespace:
        block = self._content.block(name)
        block.place, block.width, block.pictures = place, width, pictures
        return block

    def _html(self, blocks: Sequence[SimpleNamespace], paper: str) -> str:
        head = self._sheet.head
        page = SimpleNamespace(
            language=self._sheet.language,
            title=head.title,
            author=head.author,
            kind="card",
            paper=paper,
            feet=[block for block in blocks if block.kind == "foot"],
            **{group: [block for block in blocks if block.kind in kinds] for group, kinds in _GROUPS.items()},
        )
        label = SimpleNamespace(**{name.replace("-", "_"): text for name, text in self._sheet.labels.items()})
        return self._theme.page.render(page=page, label=label)


def _frame(paper: Paper) -> Frame:
    margin = float(paper.margin_mm)
    return Frame(float(paper.width_mm) - 2 * margin, float(paper.height_mm) - 2 * margin, _GUTTERS[paper.small])


def _higher(laid: Typeset, page: _Page, found: Fitted) -> dict[str, float]:
    """Blocks whose words came out higher than reckoned, and by how many ems of the body's type."""
    heights = heights_of(laid.boxes)
    em = found.size_pt * MM_PER_POINT
    more = {name: heights[name] - one.arranged.words_height for name, one in page.placed(found)}
    return {name: over / em for name, over in more.items() if over > _HAIR_MM}
