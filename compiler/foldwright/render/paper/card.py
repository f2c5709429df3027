"""The one-page card: a sheet's words proofed once, fitted to a paper by arithmetic, laid out to confirm, made a PDF."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from types import SimpleNamespace

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.model import Document, PlacedPicture
from foldwright.measure.length import System
from foldwright.render.paper import galley
from foldwright.render.paper.bound import FOOT_MM, BoundPlace, bound_foot
from foldwright.render.paper.compositions.page import Placed
from foldwright.render.paper.compositions.table import COMPOSE
from foldwright.render.paper.content import Content
from foldwright.render.paper.fitting import TooLong
from foldwright.render.paper.imposing import FlipEdge, Imposition, Spot, marks_svg
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.pictures import Captioned, block_view, code_of, page_html, placed_picture, prints_of, style
from foldwright.render.paper.prints import Unfit
from foldwright.render.paper.sides import (
    CardSide,
    SidePage,
    back_of,
    fit_sides,
    front_of,
    loose_places,
    steps_of,
    too_high,
)
from foldwright.render.paper.typesetting import Asset, Typeset, typeset
from foldwright.render.paper.versions import Version, versions_for
from foldwright.render.photos import ReadyPhoto
from foldwright.render.themes import load_paper_theme

_GROUPS = {
    "heads": ("head",),
    "before": ("needs", "cautions", "minded", "pieces"),
    "steps": ("step",),
    "after": ("section",),
    "feet": ("foot",),
}
"""How a template meets the blocks, in the order of reading. A section to be read first stands with those before."""
_GROUP_OF = {kind: group for group, kinds in _GROUPS.items() for kind in kinds}
_ALONE = (Spot(Fraction(0), Fraction(0)),)


class Card(Struct, frozen=True):
    """A card that came out: its PDF, what was chosen for it, and the pictures there was no room for.

    `back` is the version its back is in, if it has one.
    """

    pdf: bytes
    size_pt: float
    columns: int
    version: Version
    left_out: tuple[PlacedPicture, ...]
    back: Version | None = None


class Misfit(Struct, frozen=True):
    """Why there is no card: letters that no face has, or what is too long."""

    unprintable: tuple[galley.Unprintable, ...] = ()
    too_long: TooLong | None = None


class LaidCard(Struct, frozen=True):
    """A card laid out: its pages, and its sides as they were fitted."""

    laid: Typeset
    sides: tuple[CardSide, ...]

    @property
    def front(self) -> Version:
        """The version its front is in."""
        return self.sides[0].page.version

    @property
    def size_pt(self) -> float:
        return self.sides[0].found.size_pt


class Proof:
    """A sheet in one unit system and one theme, its words laid out once; cards for any paper are made from it.

    `unfit` are the pictures that no card of it can show, and why.
    """

    def __init__(self, document: Document, system: System, theme: str, photos: Mapping[str, ReadyPhoto]) -> None:
        self._sheet = document
        self._content = Content(document, system)
        self._theme = load_paper_theme(theme, "card")
        prints = prints_of(document, system, photos, quiet=True, manner=self._theme.drawing)
        self._pictures = {shown: one for shown, one in prints.items() if isinstance(one, Captioned)}
        self._galleys: dict[tuple[str, ...], galley.Galley] = {}
        self._flat = tuple(PlacedPicture(0, piece.name) for piece in document.pieces if piece.picture)
        self.unfit = {shown: one for shown, one in prints.items() if isinstance(one, Unfit)}

    def card(
        self, paper: Paper, back: bool = False, imposition: Imposition | None = None, strips: bool = True
    ) -> Card | Misfit:
        """The card on one paper, or why there is none.

        With a `back` the steps have the front, all else a second side; with an `imposition`, several cards on a sheet.
        Without `strips` steps keep their words.
        """
        made = self._fitted(paper, back, imposition, strips)
        return made if isinstance(made, Misfit) else self._card(made)

    def bound(self, paper: Paper, place: BoundPlace) -> LaidCard | Misfit:
        """The card as a page of a book, its foot under it."""
        shorter = replace(paper, height_mm=paper.height_mm - Fraction(FOOT_MM))
        alone = Imposition(paper, False, paper.width_mm, paper.height_mm, 1, 1, _ALONE, _ALONE, FlipEdge.LONG, ())
        foot = bound_foot(place, paper, 1, self._sheet.head.title, self._theme.composition)
        return self._fitted(shorter, False, alone, True, foot)

    def left_out(self, made: LaidCard) -> tuple[PlacedPicture, ...]:
        """The pictures there was no room for."""
        kept = {shown for side in made.sides for pictures in side.page.pictures.values() for shown in pictures}
        return tuple(shown for shown in self._pictures if shown not in kept)

    def _fitted(
        self, paper: Paper, back: bool, imposition: Imposition | None, strips: bool, behind: str = ""
    ) -> LaidCard | Misfit:
        measured = self._galley(paper, back)
        if measured.unprintable:
            return Misfit(unprintable=measured.unprintable)
        sides = list(self._sides(paper, back, strips))
        blocks = galley.VersionBlocks(self._content, measured)
        code = code_of(self._sheet, self._content.system, paper)
        for _ in range(galley.CONFIRMATIONS):
            fitted = fit_sides(sides, blocks.block_of, paper, COMPOSE[self._theme.composition], code)
            if isinstance(fitted, TooLong):
                break
            laid = self._laid(fitted, paper, imposition, behind)
            if not (higher := too_high(galley.heights_of(laid.boxes), fitted)):
                return LaidCard(laid, tuple(fitted))
            # A line broke elsewhere than reckoned: reckon with what was seen.
            blocks.raise_by(higher)
        return Misfit(too_long=fitted if isinstance(fitted, TooLong) else TooLong(1, ()))

    def _sides(self, paper: Paper, back: bool, strips: bool) -> Iterator[list[SidePage]]:
        """The pages of each side, the fullest version first."""
        versions = versions_for(self._sheet, paper, len(self._pictures), strips)
        if not back:
            yield [front_of(self._content, version, self._pictures) for version in versions]
            return
        # A front without any picture is better than none at all, and than no card.
        fronts = (*versions, replace(versions[-1], pictures=0))
        yield [steps_of(self._content, version, self._pictures) for version in fronts]
        backs = versions_for(self._sheet, paper, len(self.at_back))
        yield [back_of(self._content, version, self.at_back) for version in backs if not version.strip]

    @cached_property
    def at_back(self) -> Mapping[PlacedPicture, Captioned]:
        """The finished thing and the flat pieces."""
        sheet = replace(self._sheet, shown=self._flat)
        plans = prints_of(sheet, self._content.system, {}, manner=self._theme.drawing)
        whole = {shown: one for shown, one in self._pictures.items() if not shown.step and not shown.piece}
        return whole | {shown: one for shown, one in plans.items() if isinstance(one, Captioned)}

    def _card(self, made: LaidCard) -> Card:
        sides = made.sides
        back = sides[1].page.version if len(sides) > 1 else None
        # The title is on the back, if there is one.
        pdf = made.laid.pdf(len(sides) - 1)
        return Card(pdf, made.size_pt, sides[0].found.page.columns, made.front, self.left_out(made), back)

    def _galley(self, paper: Paper, back: bool) -> galley.Galley:
        """Every block that a card may need in every wording, measured once for all papers."""
        content = self._content
        around = (*content.needs(), *content.opening(), *content.steps(), *content.closing())
        more: list[str] = []
        if paper.strips:
            more += [*(("minded",) if content.minds else ()), *(("sizes",) if content.sized else ())]
        if plans := loose_places(self._flat if back else self._pictures):
            more += dict.fromkeys(plans.values())
        measured = self._pulled(("head", *around, "foot"))
        return measured.with_more(self._pulled(tuple(more))) if more else measured

    def _pulled(self, names: tuple[str, ...]) -> galley.Galley:
        if names not in self._galleys:
            cell = self._cell([block_view(self._content, name, galley.ENDLESS, galley.ENDLESS) for name in names], "")
            html = self._html([SimpleNamespace(size="", cells=[cell])], "galley")
            self._galleys[names] = galley.pull_galley(html, self._theme.style)
        return self._galleys[names]

    def _laid(self, sides: Sequence[CardSide], paper: Paper, imposition: Imposition | None, behind: str) -> Typeset:
        """`behind` is a picture of the whole page; cut marks are, where several are cut apart."""
        assets: dict[str, Asset] = {}
        whole = imposition or paper
        size = {"width": float(whole.width_mm), "height": float(whole.height_mm)}
        spots = (imposition.cells, imposition.backs) if imposition else (_ALONE, _ALONE)
        pages, styles = [], [f"@page{{size:{size['width']:.4f}mm {size['height']:.4f}mm}}"]
        for number, (side, cells) in enumerate(zip(sides, spots, strict=False)):
            placed = [self._placed(name, one, side, float(paper.margin_mm), assets) for name, one in side.placed]
            styles.append(f".side-{number}{{font-size:{side.found.size_pt}pt;line-height:{side.found.leading:.4f}}}")
            places = [style(left=float(spot.left), top=float(spot.top)) for spot in cells]
            margin = float(paper.margin_mm)
            grounds = [
                SimpleNamespace(
                    name=name,
                    place=style(left=margin + at.left, top=margin + at.top, width=at.width, height=at.height),
                )
                for name, at in side.found.page.grounds.items()
            ]
            cells_of_side = [self._cell(placed, place, grounds) for place in places]
            pages.append(SimpleNamespace(size=style(**size), cells=cells_of_side))
        behind = behind or (marks_svg(imposition) if imposition else "")
        if behind:
            assets["marks"] = Asset(behind.encode("utf-8"), "image/svg+xml")
            styles.append("@page:first{background:url(asset:marks) 0 0/100% 100% no-repeat}")
        return typeset(self._html(pages, paper.slug), self._theme.style, "".join(styles), assets)

    def _placed(
        self, name: str, one: Placed, side: CardSide, margin: float, assets: dict[str, Asset]
    ) -> SimpleNamespace:
        arranged, page = one.arranged, side.page
        pictures = [
            placed_picture(picture, spot, assets)
            for picture, spot in zip(page.pictures.get(name, {}).values(), arranged.spots, strict=True)
        ]
        place = style(left=margin + one.left, top=margin + one.top, width=one.width, height=arranged.height)
        words = style(left=arranged.words_left, top=arranged.words_top, width=arranged.words_width)
        return block_view(self._content, name, place, words, page.version_of(name).wordings, pictures)

    def _cell(
        self, blocks: Sequence[SimpleNamespace], place: str, grounds: Sequence[SimpleNamespace] = ()
    ) -> SimpleNamespace:
        groups: dict[str, list[SimpleNamespace]] = {group: [] for group in _GROUPS}
        for block in blocks:
            first = block.kind == "section" and block.first
            groups["before" if first else _GROUP_OF[block.kind]].append(block)
        return SimpleNamespace(place=place, grounds=grounds, **groups)

    def _html(self, sides: Sequence[SimpleNamespace], paper: str) -> str:
        return page_html(self._theme, self._sheet, "card", paper, sides=sides)
