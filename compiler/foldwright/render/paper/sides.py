"""The sides of a card: which blocks and pictures stand on each in every version, and the version that fits."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.model import PlacedPicture
from foldwright.render.paper.arranging import Item
from foldwright.render.paper.compositions.page import Compose, Frame, PageOffer, Placed
from foldwright.render.paper.content import Content
from foldwright.render.paper.fitting import Fitted, TooLong, fit
from foldwright.render.paper.galley import risen
from foldwright.render.paper.measured import Block
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.pictures import ADDRESS, Captioned
from foldwright.render.paper.versions import Version
from foldwright.render.units import MM_PER_POINT

_GUTTERS = {True: 4.0, False: 7.0}
"""Millimetres between columns, on small papers and on others."""

LESS_TYPE, _PICTURES_KEPT = 0.5, 0.8
"""What a code may cost: so many points of type, and of pictures all but this part of their area (reasoned guesses)."""
_PLANS_TOGETHER = 2
"""How many plans that belong to no step stand side by side in a block of their own."""

type BlockOf = Callable[[str, Version], Block]
"""A block by its name, as its words stand in a version."""


class SidePage(Struct, frozen=True):
    """One side in one version: the names of its blocks, and the pictures of each. Of two sides one has the head."""

    version: Version
    asides: tuple[str, ...]
    steps: tuple[str, ...]
    closing: tuple[str, ...]
    pictures: Mapping[str, Mapping[PlacedPicture, Captioned]] = {}
    head: str = ""
    foot: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        return (*self.asides, *self.steps, *self.closing)

    @property
    def all_names(self) -> tuple[str, ...]:
        return tuple(name for name in (self.head, *self.names, self.foot) if name)

    def version_of(self, name: str) -> Version:
        """That of a block. On a strip, a step without pictures has its words, where there is room."""
        if self.version.strip and not self.version.bare and name in self.steps and not self.pictures.get(name):
            return replace(self.version, strip=False, short=True)
        return self.version

    def offer(self, block_of: BlockOf) -> PageOffer:
        """What the fitter needs to know of it."""

        def item(name: str) -> Item:
            return Item(block_of(name, self.version_of(name)), tuple(self.pictures.get(name, {}).values()))

        return PageOffer(
            head=item(self.head) if self.head else None,
            asides=tuple(map(item, self.asides)),
            steps=tuple(map(item, self.steps)),
            closing=tuple(map(item, self.closing)),
            foot=item(self.foot) if self.foot else None,
            enough=self.version.enough,
            strip=self.version.strip and bool(self.steps),
        )


class CardSide(Struct, frozen=True):
    """A side that fits."""

    page: SidePage
    found: Fitted

    @property
    def placed(self) -> Iterator[tuple[str, Placed]]:
        """Every block with its place."""
        laid = self.found.page
        places = (one for one in (laid.head, *laid.items, laid.foot) if one)
        return zip(self.page.all_names, places, strict=True)


def front_of(content: Content, version: Version, pictures: Mapping[PlacedPicture, Captioned]) -> SidePage:
    """A card of one side; `pictures` by rank, of which the version takes the first few."""
    chosen = dict(list(pictures.items())[: version.pictures])
    plans = loose_places(chosen)
    loose = tuple(dict.fromkeys(plans.values()))
    return SidePage(
        version,
        (*_needs(content, version), *content.opening(version), *loose),
        content.steps(),
        content.closing() if version.sections else (),
        _by_block(chosen, plans),
        "head",
        "foot" if version.foot else "",
    )


def steps_of(content: Content, version: Version, pictures: Mapping[PlacedPicture, Captioned]) -> SidePage:
    """The front of a card of two sides: its steps with their pictures, and nothing else."""
    own = dict(list({shown: one for shown, one in pictures.items() if shown.step}.items())[: version.pictures])
    return SidePage(version, (), content.steps(), (), _by_block(own, {}))


def back_of(content: Content, version: Version, pictures: Mapping[PlacedPicture, Captioned]) -> SidePage:
    """The back: the title, the finished thing, what is needed, warnings; `pictures` are that and the flat pieces."""
    chosen = dict(list(pictures.items())[: version.pictures])
    plans = loose_places(chosen)
    places = tuple(dict.fromkeys(plans.values()))
    asides = (*_needs(content, version), *content.opening(version), *places)
    closing = content.closing() if version.sections else ()
    return SidePage(version, asides, (), closing, _by_block(chosen, plans), "head", "foot" if version.foot else "")


def _needs(content: Content, version: Version) -> tuple[str, ...]:
    wanted = {"supplies": version.supplies, "tools": version.tools}
    sizes = ("sizes",) if version.sizes and content.sized else ()
    return (*(name for name in content.needs() if wanted[name]), *sizes)


def _by_block(
    pictures: Mapping[PlacedPicture, Captioned], plans: Mapping[PlacedPicture, str]
) -> dict[str, dict[PlacedPicture, Captioned]]:
    """The pictures by the names of their blocks; `plans` has those of plans that belong to no step."""
    found: dict[str, dict[PlacedPicture, Captioned]] = {}
    for shown, picture in pictures.items():
        name = plans.get(shown) or (f"step-{shown.step}" if shown.step else "head")
        found.setdefault(name, {})[shown] = picture
    return found


def loose_places(pictures: Iterable[PlacedPicture]) -> dict[PlacedPicture, str]:
    """The block of each plan that belongs to no step: a few to a block, so that columns may part between them."""
    loose = [shown for shown in pictures if shown.piece and not shown.step]
    names = ("pieces", *(f"pieces-{number}" for number in range(1, len(loose))))
    return {shown: names[place // _PLANS_TOGETHER] for place, shown in enumerate(loose)}


def fit_sides(
    sides: Sequence[Sequence[SidePage]], block_of: BlockOf, paper: Paper, compose: Compose, code: Captioned | None
) -> list[CardSide] | TooLong:
    """Every side fitted, each offered in its versions; with the `code` of the address in a foot that has room."""
    frame = Frame.of(paper, _GUTTERS[paper.small])
    fitted: list[CardSide] = []
    for pages in sides:
        found = fit([page.offer(block_of) for page in pages], frame, compose, paper.sizes_pt, paper.last_pt)
        if isinstance(found, TooLong):
            return found
        side = CardSide(pages[found.version], found)
        fitted.append((code and _coded(side, code, block_of, frame, paper, compose)) or side)
    return fitted


def _coded(
    side: CardSide, code: Captioned, block_of: BlockOf, frame: Frame, paper: Paper, compose: Compose
) -> CardSide | None:
    """The same version with the code in its foot; None where more than spare room would go for it."""
    page, found = side.page, side.found
    if not page.foot:
        return None
    coded = replace(
        page, version=replace(page.version, code=True), pictures={**page.pictures, page.foot: {ADDRESS: code}}
    )
    # Type that only a crowded card may have is never set for a code's sake.
    least = max(found.size_pt - LESS_TYPE, min(found.size_pt, *paper.sizes_pt))
    sizes = [size for size in sorted({*paper.last_pt, *paper.sizes_pt}) if size >= least]
    tried = fit([coded.offer(block_of)], frame, compose, sizes)
    if isinstance(tried, TooLong) or tried.page.pictured < _PICTURES_KEPT * found.page.pictured:
        return None
    return CardSide(coded, tried)


def too_high(heights: Mapping[str, float], sides: Sequence[CardSide]) -> dict[str, float]:
    """Blocks whose words came out higher than reckoned, and by how many ems of their side's type.

    `heights` are those seen, in millimetres.
    """
    more: dict[str, float] = {}
    for side in sides:
        reckoned = {name: one.arranged.words_height for name, one in side.placed}
        more |= risen(heights, reckoned, side.found.size_pt * MM_PER_POINT)
    return more
