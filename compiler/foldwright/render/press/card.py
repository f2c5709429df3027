"""The one-page card: a sheet's words proofed once, fitted to a paper by arithmetic, laid out to confirm, made a PDF."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from types import SimpleNamespace

from msgspec import Struct
from msgspec.structs import replace

from foldwright.measure.length import System
from foldwright.render.photos import Prepared
from foldwright.render.press.arranging import MM_PER_POINT, TIGHT_LEADING, Item
from foldwright.render.press.content import Content, Version, versions_for
from foldwright.render.press.fitting import SIZES, Fitted, Frame, Offer, Placed, TooLong, fit
from foldwright.render.press.galley import NARROW, Galley, Unprintable, heights_of, read_galley
from foldwright.render.press.imposing import Imposition, Spot, marks_svg
from foldwright.render.press.measured import Block
from foldwright.render.press.papers import Paper
from foldwright.render.press.pictures import Captioned, placed_picture, prints_of, style
from foldwright.render.press.prints import Unfit
from foldwright.render.press.typesetting import Asset, Typeset, typeset
from foldwright.render.themes import load_paper_theme
from foldwright.sheet.model import Sheet, Shown

_GALLEY_PT = 10.0
_GUTTERS = {True: 4.0, False: 7.0}
"""Millimetres between columns, on small papers and on others."""
_CONFIRMATIONS = 4
_HAIR_MM = 0.05
"""By so little a block may come out higher than reckoned: lengths in styles are written to a thousandth."""
_GROUPS = {
    "heads": ("head",),
    "before": ("needs", "cautions", "pieces"),
    "steps": ("step",),
    "after": ("section",),
    "feet": ("foot",),
}
"""How a template meets the blocks, in the order of reading."""
_ALONE = (Spot(Fraction(0), Fraction(0)),)


class Card(Struct, frozen=True):
    """A card that came out: its PDF, what was chosen for it, and the pictures there was no room for.

    `back` is the version its back is in, if it has one.
    """

    pdf: bytes
    size_pt: float
    columns: int
    version: Version
    left_out: tuple[Shown, ...]
    back: Version | None = None


class Misfit(Struct, frozen=True):
    """Why there is no card: letters that no face has, or what is too long."""

    unprintable: tuple[Unprintable, ...] = ()
    too_long: TooLong | None = None


class _Page(Struct, frozen=True):
    """One side of a card in one version: the names of its blocks, and the pictures of each. A back has no head."""

    version: Version
    names: tuple[str, ...]
    pictures: Mapping[str, Mapping[Shown, Captioned]]
    head: str = ""
    foot: str = ""

    @property
    def all_names(self) -> tuple[str, ...]:
        return tuple(name for name in (self.head, *self.names, self.foot) if name)

    def offer(self, blocks: Mapping[str, Block]) -> Offer:
        def item(name: str) -> Item:
            return Item(blocks[name], tuple(self.pictures.get(name, {}).values()))

        head = item(self.head) if self.head else None
        foot = blocks[self.foot] if self.foot else None
        return Offer(head, tuple(map(item, self.names)), foot, self.version.enough)


class _Side(Struct, frozen=True):
    """A side that fits."""

    page: _Page
    found: Fitted

    @property
    def placed(self) -> Iterator[tuple[str, Placed]]:
        """Every block with its place."""
        found = self.found
        places = (one for one in (found.head, *found.items, found.foot) if one)
        return zip(self.page.all_names, places, strict=True)


class Proof:
    """A sheet in one unit system and one theme, its words laid out once; cards for any paper are made from it.

    `unfit` are the pictures that no card of it can show, and why.
    """

    def __init__(self, sheet: Sheet, system: System, theme: str, photos: Mapping[str, Prepared]) -> None:
        self._sheet = sheet
        self._content = Content(sheet, system)
        self._theme = load_paper_theme(theme, "card")
        prints = prints_of(sheet, system, photos)
        self._pictures = {shown: one for shown, one in prints.items() if isinstance(one, Captioned)}
        self.unfit = {shown: one for shown, one in prints.items() if isinstance(one, Unfit)}
        self._galleys: dict[tuple[str, ...], Galley] = {}

    def card(self, paper: Paper, back: bool = False, imposition: Imposition | None = None) -> Card | Misfit:
        """The card on one paper, or why there is none.

        With a `back`, what is needed stands on a second side; with an `imposition`, several cards on a sheet.
        """
        versions = versions_for(self._sheet, paper, len(self._pictures))
        sides = [[self._front(version, back) for version in versions]]
        if back:
            sides.append([self._back(version) for version in versions])
        galley = self._galley([page for pages in sides for page in pages])
        if galley.unprintable:
            return Misfit(unprintable=galley.unprintable)
        blocks = dict(galley.blocks)
        for _ in range(_CONFIRMATIONS):
            fitted = _fit(sides, blocks, paper)
            if isinstance(fitted, TooLong):
                return Misfit(too_long=fitted)
            laid = self._laid(fitted, paper, imposition)
            if not (higher := _higher(laid, fitted)):
                return self._card(laid, fitted)
            # A line broke elsewhere than reckoned: reckon with what was seen.
            for name, ems in higher.items():
                blocks[name] = replace(blocks[name], fixed=blocks[name].fixed + ems)
        raise RuntimeError("blocks went on growing")

    def _card(self, laid: Typeset, sides: Sequence[_Side]) -> Card:
        front = sides[0]
        kept = {shown for pictures in front.page.pictures.values() for shown in pictures}
        left_out = tuple(shown for shown in self._pictures if shown not in kept)
        back = sides[1].page.version if len(sides) > 1 else None
        return Card(laid.pdf(), front.found.size_pt, front.found.columns, front.page.version, left_out, back)

    # --- sides ----------------------------------------------------------------------------------------------------

    def _front(self, version: Version, with_back: bool) -> _Page:
        chosen = dict(list(self._pictures.items())[: version.pictures])
        head = "head" if version.summary else "head-plain"
        loose = ("pieces",) if any(shown.piece and not shown.step for shown in chosen) else ()
        steps = self._content.steps(version)
        of_step = {int(name.split("-")[1]): name for name in steps}
        pictures: dict[str, dict[Shown, Captioned]] = {}
        for shown, picture in chosen.items():
            name = of_step[shown.step] if shown.step else "pieces" if shown.piece else head
            pictures.setdefault(name, {})[shown] = picture
        content = self._content
        needed, after = ((), ()) if with_back else (content.needed(version), content.sections(version))
        return _Page(version, (*needed, *loose, *steps, *after), pictures, head, "foot")

    def _back(self, version: Version) -> _Page:
        # There is room: the supplies as a list, with all that is to be known of them.
        full = replace(version, listed=True)
        return _Page(version, (*self._content.needed(full), *self._content.sections(version)), {})

    # --- laying out -----------------------------------------------------------------------------------------------

    def _galley(self, pages: Sequence[_Page]) -> Galley:
        """Every block of every version, measured; once for all papers that want the same."""
        names = tuple(dict.fromkeys(name for page in pages for name in page.all_names))
        if names not in self._galleys:
            cell = self._cell([self._block(name, NARROW, NARROW) for name in names], "")
            html = self._html([SimpleNamespace(size="", cells=[cell])], "galley")
            page_style = f"@page{{size:100mm 10000mm}}body{{font-size:{_GALLEY_PT}pt;line-height:{TIGHT_LEADING}}}"
            laid = typeset(html, self._theme.style, page_style)
            self._galleys[names] = read_galley(laid.boxes, TIGHT_LEADING)
        return self._galleys[names]

    def _laid(self, sides: Sequence[_Side], paper: Paper, imposition: Imposition | None) -> Typeset:
        assets: dict[str, Asset] = {}
        whole = imposition or paper
        size = {"width": float(whole.width_mm), "height": float(whole.height_mm)}
        spots = (imposition.cells, imposition.backs) if imposition else (_ALONE, _ALONE)
        pages, styles = [], [f"@page{{size:{size['width']:.4f}mm {size['height']:.4f}mm}}"]
        for number, (side, cells) in enumerate(zip(sides, spots, strict=False)):
            placed = [self._placed(name, one, side, float(paper.margin_mm), assets) for name, one in side.placed]
            styles.append(f".side-{number}{{font-size:{side.found.size_pt}pt;line-height:{side.found.leading:.4f}}}")
            places = [style(left=float(spot.left), top=float(spot.top)) for spot in cells]
            pages.append(SimpleNamespace(size=style(**size), cells=[self._cell(placed, place) for place in places]))
        if imposition:
            assets["marks"] = Asset(marks_svg(imposition).encode("utf-8"), "image/svg+xml")
            styles.append("@page:first{background:url(asset:marks) 0 0/100% 100% no-repeat}")
        return typeset(self._html(pages, paper.slug), self._theme.style, "".join(styles), assets)

    def _placed(self, name: str, one: Placed, side: _Side, margin: float, assets: dict[str, Asset]) -> SimpleNamespace:
        arranged = one.arranged
        captioned = side.page.pictures.get(name, {}).values()
        pictures = [
            placed_picture(picture, spot, assets) for picture, spot in zip(captioned, arranged.spots, strict=True)
        ]
        place = style(left=margin + one.left, top=margin + one.top, width=one.width, height=arranged.height)
        return self._block(name, place, style(width=arranged.words_width), pictures)

    def _block(self, name: str, place: str, width: str, pictures: Sequence[SimpleNamespace] = ()) -> SimpleNamespace:
        block = self._content.block(name)
        block.place, block.width, block.pictures = place, width, pictures
        return block

    def _cell(self, blocks: Sequence[SimpleNamespace], place: str) -> SimpleNamespace:
        groups = {group: [block for block in blocks if block.kind in kinds] for group, kinds in _GROUPS.items()}
        return SimpleNamespace(place=place, **groups)

    def _html(self, sides: Sequence[SimpleNamespace], paper: str) -> str:
        head, labels = self._sheet.head, self._sheet.labels
        page = SimpleNamespace(
            language=self._sheet.language, title=head.title, author=head.author, kind="card", paper=paper, sides=sides
        )
        label = SimpleNamespace(**{name.replace("-", "_"): text for name, text in labels.items()})
        return self._theme.page.render(page=page, label=label)


def _fit(sides: Sequence[Sequence[_Page]], blocks: Mapping[str, Block], paper: Paper) -> list[_Side] | TooLong:
    """Every side fitted; a back is set no larger than its front, unless that is very small."""
    margin = float(paper.margin_mm)
    frame = Frame(float(paper.width_mm) - 2 * margin, float(paper.height_mm) - 2 * margin, _GUTTERS[paper.small])
    fitted: list[_Side] = []
    for pages in sides:
        largest = max(fitted[0].found.size_pt, paper.comfortable_pt) if fitted else SIZES[0]
        found = fit([page.offer(blocks) for page in pages], frame, largest)
        if isinstance(found, TooLong):
            return found
        fitted.append(_Side(pages[found.version], found))
    return fitted


def _higher(laid: Typeset, sides: Sequence[_Side]) -> dict[str, float]:
    """Blocks whose words came out higher than reckoned, and by how many ems of the body's type."""
    heights = heights_of(laid.boxes)
    more: dict[str, float] = {}
    for side in sides:
        for name, one in side.placed:
            over = heights[name] - one.arranged.words_height
            if over > _HAIR_MM:
                more[name] = over / (side.found.size_pt * MM_PER_POINT)
    return more
