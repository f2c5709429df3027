"""How a handout is set: the version of its words, the size of its pictures and of its type, on how many pages.

Pictures are wanted large before type is, and everything there is to say before a page less; one sheet, printed on both
sides, holds most recipes. Where somebody asks for so many pages and no more, what matters least is left out until it
fits. Room for notes is part of the page.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product

from msgspec import Struct
from msgspec.structs import replace

from foldwright.recipe.words import Keep
from foldwright.render.paper.arranging import Arranged, Item, Setting
from foldwright.render.paper.class_page import ClassPage, Pictured, page_of
from foldwright.render.paper.class_rows import HERO, ClassRow, RowRoom
from foldwright.render.paper.composing import Composer
from foldwright.render.paper.compositions.page import Frame, foot_in
from foldwright.render.paper.fitting import TooLong
from foldwright.render.paper.flowing import Flow, flow
from foldwright.render.paper.measured import Heights
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.sides import LESS_TYPE, BlockOf
from foldwright.render.paper.table import TableBox
from foldwright.render.paper.versions import Version
from foldwright.render.themes import Composition
from foldwright.render.units import MM_PER_POINT

_MEASURE = 38.0
"""Ems a line may be long, some eighty letters."""
_TIGHTEST = 0.15
"""How loosely a handout is set at least where that can be: it lies on a table and is read at arm's length."""
_SHARES = (0.5, 0.45, 0.4)
"""Parts of the page's width that a picture may take, in order of liking."""
_TIGHT = ((0.4, 10.5), (0.36, 10.5), (0.33, 10.5), (0.33, 10.0), (0.28, 10.0), (0.22, 10.0))
"""Parts and sizes of type where there is less room than that."""
_LARGE_TIGHT = ((0.36, 18.0), (0.3, 18.0))
"""The same in large print, whose captions want their room."""
_EVERY_SHARE = tuple(dict.fromkeys((*_SHARES, *(share for share, _ in _TIGHT))))
_ABOVE_WORDS = (0.75, 0.65, 0.57)
"""Parts that a picture may take above or under its words, of a page that has room for it."""
_HOLE = 0.25
"""So much of a page may stay empty at its foot, as a part of it, before another way is looked for."""
_LEAST_SHARE = 0.28
"""How small pictures may be before cautions are said in brief."""
_LEAST_PICTURE = 0.17
"""How small pictures are before one is left out."""
_SINGLE_HERO = 0.16
"""The part of the paper's height for the picture of the finished thing where all then stands on one page."""
_SMALL_HERO = 0.14
"""The part of the paper's height for the picture of the finished thing before anything is left out."""
_SHEET = 2
"""The pages of one sheet."""
_WAYS, _BLANK = 12, 0.15
"""How many steps of looseness are tried, and how much blank at the foot of a page, as a part of it, is no matter."""
_HAIR_MM = 0.1
"""So much is left at the foot of a page: lengths in styles are written to a thousandth."""
_TOLD = 3
"""How many of the longest blocks are named."""
LEAST_NOTES = 25.5
"""Millimetres of lines for notes: three of them, enough for a sentence or two."""


class HandoutManner(Struct, frozen=True):
    """A kind of handout: the sizes of its type in order of liking, the size for many pages, of captions and foot.

    `tight` is how large pictures, as parts of the width, and type are where there is little room; `closest` where there
    is least. `plan_pts` are sizes for the words in plans, `ruling` is how far apart lines for notes are, in mm. What is
    `bound` in a book has a number on every page.
    """

    sizes: tuple[float, ...]
    several: float
    small_pt: float
    plan_pts: tuple[float, ...]
    ruling: float
    tight: tuple[tuple[float, float], ...]
    closest: tuple[float, float]
    bound: bool = False

    def folio(self, composition: Composition) -> float:
        """Millimetres that page numbers take of a page when there are several, and a title block of every page."""
        lines = 3.6 if composition is Composition.SHOP_DRAWING else 2.0
        return lines * self.small_pt * MM_PER_POINT


# Lines some 8 mm apart are what exercise books have, wider ones what hands and eyes want that do better with large
# print (common practice, no source). Type from 10.5 points is read at arm's length (common practice, no source).
USUAL = HandoutManner((12.0, 11.5, 11.0, 10.5), 11.0, 10.0, (8.0,), 8.5, _TIGHT, (_LEAST_PICTURE, 10.0))
LARGE = HandoutManner((18.0,), 18.0, 18.0, (14.0, 12.0, 10.0, 8.0), 12.75, _LARGE_TIGHT, _LARGE_TIGHT[-1])
# A book is held nearer to the eye, as a letter or a card is (`papers`; common practice, no source).
_BOUND_TIGHT = ((0.4, 9.5), (0.36, 9.5), (0.33, 9.5), (0.33, 9.0), (0.28, 9.0), (0.22, 9.0))
BOUND = HandoutManner((11.0, 10.5, 10.0, 9.5), 9.5, 8.5, (8.0,), 8.5, _BOUND_TIGHT, (_LEAST_PICTURE, 9.0), bound=True)


class HandoutLeaf(Struct, frozen=True):
    """A handout arranged: its rows in their order, notes last, and where each stands.

    `table` is the box of what is on the table.
    """

    page: ClassPage
    size_pt: float
    room: RowRoom
    plain: bool
    rows: tuple[ClassRow, ...]
    table: TableBox | None
    foot: Arranged
    flow: Flow

    @property
    def setting(self) -> Setting:
        return self.room.setting


class _Attempt(Struct, frozen=True):
    """A way to set a version: type and pictures so large, `plain` where the look's own way takes too much room."""

    version: Version
    size: float
    share: float
    plain: bool = False
    looseness: float = _TIGHTEST
    hero: float = HERO
    larger: Mapping[str, float] = {}
    """Shares of single steps."""


def thinner(full: Version, keep: Sequence[Keep]) -> Iterator[Version]:
    """Versions from the fullest to the barest: what matters least goes first, what is to be kept goes last."""
    yield full
    one = replace(full, listed=False)
    yield one
    losses: dict[Keep | None, list[dict[str, bool | int]]] = {
        Keep.TIPS: [{"sections": False}, {"tips": False}],
        None: [{"full_cautions": False}, {"summary": False}, {"short": True}],
        Keep.PICTURES: [{"pictures": count} for count in range(full.pictures - 1, -1, -1)],
    }
    order = [what for what in losses if what not in keep] + [*reversed(keep)]
    for what in order:
        for less in losses[what]:
            one = replace(one, **less)
            yield one


class Fitter:
    """Fits one handout to one paper; with `most` to so many pages and no more, or not at all."""

    def __init__(self, pictured: Pictured, manner: HandoutManner, paper: Paper, composer: Composer, most: int) -> None:
        self._pictured = pictured
        self._manner = manner
        self._paper = float(paper.height_mm)
        self._room = Frame.of(paper)
        self._composer = composer
        self._most = most
        self._heights = Heights()

    @property
    def wordings(self) -> frozenset[str] | None:
        """The parts that versions have which may be tried; None for all: nothing is shortened but for want of pages."""
        full = Version(self._manner.several, 0)
        short = replace(full, listed=False, full_cautions=False)
        return None if self._most else full.wordings | short.wordings

    def fit(self, block_of: BlockOf) -> HandoutLeaf | TooLong:
        """Too long is a word, or where there may be no more pages everything together."""
        full = Version(self._manner.several, len(self._pictured.others))
        if taken := self._taken(self._limited(full) if self._most else self._free(full), block_of):
            return self._finished(*taken, block_of)
        if self._most:
            # A long word may stand in another way of setting than the barest.
            tried = (self._barest(full), *(attempt for attempt, _ in self._limited(full)))
            leaf = next((leaf for attempt in tried if (leaf := self._leaf(attempt, block_of))), None)
            return self._over(leaf, block_of) if leaf else self._too_wide(full, block_of)
        ways = [(leaf, attempt) for attempt in self._several(full) if (leaf := self._leaf(attempt, block_of))]
        if not ways:
            return self._too_wide(full, block_of)
        fewest = min(ways, key=lambda way: way[0].flow.pages)
        return self._finished(*fewest, block_of)

    def _finished(self, leaf: HandoutLeaf, attempt: _Attempt, block_of: BlockOf) -> HandoutLeaf:
        """With the code of the address where it costs no page, then as large and as loose as there is room."""
        if self._pictured.code:
            version = replace(attempt.version, code=True)
            smaller = (size for size in self._manner.sizes if attempt.size - LESS_TYPE <= size < attempt.size)
            for size in (attempt.size, *smaller):
                coded = replace(attempt, version=version, size=size)
                tried = self._leaf(coded, block_of)
                if tried and tried.flow.pages == leaf.flow.pages:
                    leaf, attempt = tried, coded
                    break
        return self._loosened(*self._grown(leaf, attempt, block_of), block_of)

    def _taken(self, tried: Iterator[tuple[_Attempt, int]], block_of: BlockOf) -> tuple[HandoutLeaf, _Attempt] | None:
        """The first attempt on so few pages that leaves none half empty, or the first of all that say as much."""
        first: tuple[HandoutLeaf, _Attempt] | None = None
        for attempt, pages in tried:
            if first and replace(attempt.version, listed=True) != replace(first[1].version, listed=True):
                break
            leaf = self._leaf(attempt, block_of)
            if leaf and leaf.flow.pages <= pages:
                if leaf.flow.blank <= _HOLE * self._room.height:
                    return leaf, attempt
                first = first or (leaf, attempt)
        return first

    def _grown(self, leaf: HandoutLeaf, attempt: _Attempt, block_of: BlockOf) -> tuple[HandoutLeaf, _Attempt]:
        """With larger pictures on each page that has room for them, then with larger type."""
        for page in range(leaf.flow.pages):
            rows = [row for row, stand in zip(leaf.rows, leaf.flow.stands, strict=True) if stand.page == page]
            steps = [cell.name for row in rows for cell in row.cells if cell.name.startswith("step-")]
            # Beside words a picture takes half of the width at most.
            above = self._composer.composition is not Composition.PICTURE_BOOK and not attempt.plain
            shares = (*_ABOVE_WORDS, *_EVERY_SHARE) if above else _EVERY_SHARE
            for share in (share for share in shares if share > attempt.share and steps):
                larger = replace(attempt, larger={**attempt.larger, **dict.fromkeys(steps, share)})
                tried = self._leaf(larger, block_of)
                if tried and _pages(tried) == _pages(leaf):
                    leaf, attempt = tried, larger
                    break
        for size in (size for size in self._manner.sizes if size > attempt.size):
            larger = replace(attempt, size=size)
            tried = self._leaf(larger, block_of)
            if tried and _pages(tried) == _pages(leaf):
                return tried, larger
        return leaf, attempt

    def _free(self, full: Version) -> Iterator[tuple[_Attempt, int]]:
        """All there is to say, on one page with large pictures, or else on one sheet."""
        if self._manner is LARGE:
            return
        roomy = list(self._roomy(full))
        large = (one for one in self._close(replace(full, listed=False)) if one.share >= _LEAST_SHARE)
        for attempt, hero in product((*roomy, *large), (HERO, _SINGLE_HERO)):
            yield replace(attempt, hero=hero), 1
        yield from ((attempt, _SHEET) for attempt in roomy)
        if self._manner.bound:
            # A book has room for a page more: nothing is left out or said in brief for the sake of one sheet.
            return
        # One large picture of a step says more than two small ones; steps remind of what is said in brief.
        single = replace(full, pictures=self._pictured.singles)
        for one, least in ((single, _LEAST_SHARE), (replace(single, full_cautions=False), 0.0)):
            close = (attempt for attempt in self._close(replace(one, listed=False)) if attempt.share >= least)
            yield from ((attempt, _SHEET) for attempt in (*self._roomy(one), *close))

    def _limited(self, full: Version) -> Iterator[tuple[_Attempt, int]]:
        share, size = self._manner.closest
        yield from ((attempt, self._most) for attempt in self._roomy(full))
        for version in thinner(full, self._pictured.keep):
            for hero in (HERO, _SMALL_HERO):
                closest = (_Attempt(version, size, share, plain, 0.0) for plain in (False, True))
                for attempt in (*self._close(version), *closest):
                    yield replace(attempt, hero=hero), self._most
        yield self._barest(full), self._most

    def _several(self, full: Version) -> Iterator[_Attempt]:
        """For more than a sheet, where a page less is worth smaller pictures."""
        yield _Attempt(full, self._manner.several, _SHARES[-1])
        if self._manner is LARGE:
            yield from (_Attempt(full, size, share) for share, size in self._manner.tight)
        else:
            yield from self._close(full)

    def _barest(self, full: Version) -> _Attempt:
        *_, version = thinner(full, self._pictured.keep)
        share, size = self._manner.closest
        return _Attempt(version, size, share, plain=True, looseness=0.0, hero=_SMALL_HERO)

    def _roomy(self, full: Version) -> Iterator[_Attempt]:
        lists = (full, replace(full, listed=False))
        for share, version, size in product(_SHARES, lists, self._manner.sizes):
            yield _Attempt(version, size, share)

    def _close(self, version: Version) -> Iterator[_Attempt]:
        ways = [(plain, *tight) for plain, tight in product((False, True), self._manner.tight)]
        if self._composer.composition is Composition.HOUSEHOLD_BOOK:
            # Plates beside the words are as much its own as plates under them, and larger.
            ways.sort(key=lambda way: -way[1])
        for plain, share, size in ways:
            yield _Attempt(version, size, share, plain, looseness=0.0)

    def _over(self, leaf: HandoutLeaf, block_of: BlockOf) -> TooLong:
        """About how many words are too many: as many as stand in what hangs out below."""
        blocks = [block_of(name, leaf.page.version) for name in leaf.page.names]
        words, room = sum(block.words for block in blocks), self._room.height * self._most
        high = sum(row.height + leaf.setting.gap for row in leaf.rows) + leaf.foot.height + LEAST_NOTES
        longest = sorted(((block.name, block.words) for block in blocks), key=lambda one: -one[1])
        return TooLong(max(1, round(words * (high - room) / high)), tuple(longest[:_TOLD]))

    def _too_wide(self, full: Version, block_of: BlockOf) -> TooLong:
        page = page_of(self._pictured, full)
        names = (page.head, *page.names, *self._pictured.content.table())
        widest = max((block_of(name, full) for name in names), key=lambda block: block.longest)
        return TooLong(0, (), widest.name, widest.longest_word)

    def _loosened(self, leaf: HandoutLeaf, attempt: _Attempt, block_of: BlockOf) -> HandoutLeaf:
        """As loose as it stays on as many pages, none of them left blank for the most part if another way is better."""
        tightest = leaf.setting.looseness
        ways = [leaf]
        for number in range(1, _WAYS + 1):
            tried = self._leaf(replace(attempt, looseness=tightest + (1 - tightest) * number / _WAYS), block_of)
            if tried and tried.flow.pages == leaf.flow.pages:
                ways.append(tried)
        blank = _BLANK * self._room.height
        return min(ways, key=lambda way: (int(way.flow.blank / blank), -way.setting.looseness))

    def _leaf(self, attempt: _Attempt, block_of: BlockOf) -> HandoutLeaf | None:
        """None when a word is too wide."""
        frame, manner = self._room, self._manner
        setting = Setting(attempt.size * MM_PER_POINT, attempt.looseness, frame.height, _MEASURE)
        room = RowRoom(frame.width, setting, attempt.share, self._paper, attempt.hero)
        page = page_of(self._pictured, attempt.version)
        made = self._composer.rows(page, block_of, room, self._heights, attempt.plain, attempt.larger)
        if made is None:
            return None
        words = Item(block_of(page.foot, page.version), page.of(page.foot))
        foot = foot_in(words, frame.width, self._heights, manner.small_pt)
        last = LEAST_NOTES if self._pictured.content.lined else made.rows[-1].height
        heights = [row.height for row in made.rows[:-1]] + [last + setting.gap + foot.height]
        folio = manner.folio(self._composer.composition)
        everywhere = manner.bound or self._composer.composition is Composition.SHOP_DRAWING
        found = flow(heights, setting.gap, frame.height - _HAIR_MM - (folio if everywhere else 0.0))
        if found.pages > 1 and not everywhere:
            found = flow(heights, setting.gap, frame.height - _HAIR_MM - folio)
        return HandoutLeaf(page, attempt.size, room, attempt.plain, made.rows, made.table, foot, found)


def _pages(leaf: HandoutLeaf) -> list[int]:
    return [stand.page for stand in leaf.flow.stands]
