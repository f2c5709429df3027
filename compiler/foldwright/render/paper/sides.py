"""The sides of a card: which blocks and pictures stand on each in every version, and the version that fits."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.model import PlacedPicture
from foldwright.render.paper.arranging import Item
from foldwright.render.paper.content import Content, Version
from foldwright.render.paper.fitting import SIZES, Fitted, Frame, PageOffer, Placed, TooLong, fit
from foldwright.render.paper.galley import risen
from foldwright.render.paper.measured import Block
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.pictures import Captioned
from foldwright.render.units import MM_PER_POINT

_GUTTERS = {True: 4.0, False: 7.0}
"""Millimetres between columns, on small papers and on others."""

_PLANS_TOGETHER = 2
"""How many plans that belong to no step stand side by side in a block of their own."""

type BlockOf = Callable[[str, Version], Block]
"""A block by its name, as its words stand in a version."""


class SidePage(Struct, frozen=True):
    """One side in one version: the names of its blocks, and the pictures of each. A back has neither head nor foot."""

    version: Version
    names: tuple[str, ...]
    pictures: Mapping[str, Mapping[PlacedPicture, Captioned]] = {}
    head: str = ""
    foot: str = ""

    @property
    def all_names(self) -> tuple[str, ...]:
        return tuple(name for name in (self.head, *self.names, self.foot) if name)

    def offer(self, block_of: BlockOf) -> PageOffer:
        """What the fitter needs to know of it."""

        def item(name: str) -> Item:
            return Item(block_of(name, self.version), tuple(self.pictures.get(name, {}).values()))

        head = item(self.head) if self.head else None
        foot = block_of(self.foot, self.version) if self.foot else None
        return PageOffer(head, tuple(map(item, self.names)), foot, self.version.enough)


class CardSide(Struct, frozen=True):
    """A side that fits."""

    page: SidePage
    found: Fitted

    @property
    def placed(self) -> Iterator[tuple[str, Placed]]:
        """Every block with its place."""
        found = self.found
        places = (one for one in (found.head, *found.items, found.foot) if one)
        return zip(self.page.all_names, places, strict=True)


def front_of(
    content: Content, version: Version, pictures: Mapping[PlacedPicture, Captioned], with_back: bool
) -> SidePage:
    """The front; `pictures` by rank, of which the version takes the first few. A back takes what is needed off it."""
    chosen = dict(list(pictures.items())[: version.pictures])
    places = loose_places(chosen)
    of_block: dict[str, dict[PlacedPicture, Captioned]] = {}
    for shown, picture in chosen.items():
        name = places.get(shown) or (f"step-{shown.step}" if shown.step else "head")
        of_block.setdefault(name, {})[shown] = picture
    loose = tuple(dict.fromkeys(places.values()))
    needs = () if with_back else content.needs()
    closing = content.closing() if version.sections and not with_back else ()
    return SidePage(version, (*needs, *content.opening(), *loose, *content.steps(), *closing), of_block, "head", "foot")


def loose_places(pictures: Iterable[PlacedPicture]) -> dict[PlacedPicture, str]:
    """The block of each plan that belongs to no step: a few to a block, so that columns may part between them."""
    loose = [shown for shown in pictures if shown.piece and not shown.step]
    names = ("pieces", *(f"pieces-{number}" for number in range(1, len(loose))))
    return {shown: names[place // _PLANS_TOGETHER] for place, shown in enumerate(loose)}


def back_of(content: Content, version: Version) -> SidePage:
    """The back: what is needed, and tips and notes. Warnings stay in front; there is room for supplies as a list."""
    closing = content.closing() if version.sections else ()
    return SidePage(replace(version, listed=True), (*content.needs(), *closing))


def fit_sides(sides: Sequence[Sequence[SidePage]], block_of: BlockOf, paper: Paper) -> list[CardSide] | TooLong:
    """Every side fitted, each offered in its versions; a back is set no larger than its front, or in comfort."""
    frame = Frame.of(paper, _GUTTERS[paper.small])
    fitted: list[CardSide] = []
    for pages in sides:
        largest = max(fitted[0].found.size_pt, paper.comfortable_pt) if fitted else SIZES[0]
        found = fit([page.offer(block_of) for page in pages], frame, largest)
        if isinstance(found, TooLong):
            return found
        fitted.append(CardSide(pages[found.version], found))
    return fitted


def too_high(heights: Mapping[str, float], sides: Sequence[CardSide]) -> dict[str, float]:
    """Blocks whose words came out higher than reckoned, and by how many ems of their side's type.

    `heights` are those seen, in millimetres.
    """
    more: dict[str, float] = {}
    for side in sides:
        reckoned = {name: one.arranged.words_height for name, one in side.placed}
        more |= risen(heights, reckoned, side.found.size_pt * MM_PER_POINT)
    return more
