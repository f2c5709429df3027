"""What fits on one page, by arithmetic: the version of the words, the columns, how large pictures are, the type size.

A page is offered in versions, the fullest first. Each is tried on a ladder: from the smallest pictures that lead their
words, over larger ones, to larger type, since type grows only after pictures have. The first version that climbs high
enough is taken, in the columns in which it climbs highest; then the page is set as loosely as it still fits.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.render.paper.arranging import Setting
from foldwright.render.paper.compositions.page import Compose, Frame, LaidPage, PageOffer
from foldwright.render.paper.measured import Heights
from foldwright.render.units import MM_PER_POINT

_GROWING = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)
"""How far pictures have grown on the first rungs of the ladder."""
_LARGE = (1.5, 2.0)
"""How far they grow where there is room left in the largest type."""
_SET = 0.3
"""How loosely a page is set while it climbs: reads well, and leaves room to tighten or loosen."""
_NARROWEST, _WIDEST = 13.0, 62.0
"""Ems a column may be wide: some five words a line at least; at most a picture and a line that still reads."""
_EASY = (20.0, 44.0)
"""Ems at which a column with a picture beside its words reads easily (a line of 45 to 75 letters, common practice)."""
_MOST_COLUMNS = 4
_HALVINGS = 5
_HOLE = 1 / 3
"""A column that ends so much above another, as a part of its height, leaves a hole that is seen before all else."""
_AS_MUCH = 0.02
"""Of two pages whose pictures' shares differ by no more, neither shows more."""
_HAIR = 1e-6


class Rung(Struct, frozen=True):
    """A step of the ladder: the type in points, how far pictures have grown, how loosely the page is set.

    A `crowded` one is for versions that leave out all words they may.
    """

    size_pt: float
    enlarged: float
    looseness: float = _SET
    crowded: bool = False

    def setting(self, frame: Frame) -> Setting:
        em = self.size_pt * MM_PER_POINT
        return Setting(em, self.looseness, frame.height, enlarged=self.enlarged, crowded=self.crowded)


class Fitted(Struct, frozen=True):
    """A page that fits. `version` is its number."""

    version: int
    size_pt: float
    leading: float
    enlarged: float
    page: LaidPage


class TooLong(Struct, frozen=True):
    """Nothing fits: about how many words are too many, and the names of the blocks with most words, with their number.

    `too_wide` names a block with a word wider than any column; then `over` is 0 and `wide_word` is that word.
    """

    over: int
    longest: tuple[tuple[str, int], ...]
    too_wide: str = ""
    wide_word: str = ""


def ladder(sizes: Sequence[float]) -> tuple[Rung, ...]:
    """The rungs for type of these sizes, the smallest first: pictures grow in it, then it does, then pictures again."""
    least = sizes[0]
    crowded, tight = Rung(least, 0.0, 0.0, crowded=True), Rung(least, 0.0, 0.0)
    growing = (Rung(least, enlarged) for enlarged in _GROWING)
    return (
        crowded,
        tight,
        *growing,
        *(Rung(size, 1.0) for size in sizes[1:]),
        *(Rung(sizes[-1], enlarged) for enlarged in _LARGE),
    )


def fit(
    versions: Sequence[PageOffer], frame: Frame, compose: Compose, sizes: Sequence[float], last: Sequence[float] = ()
) -> Fitted | TooLong:
    """The first version that is good enough; failing that, the first that fits at all, in the `last` sizes if need be.

    Where columns of the first that does would leave a hole, a later one without is taken, so long as it keeps all its
    pictures.
    """
    heights = Heights()
    chosen: _PageWay | None = None
    for rungs in (ladder(sizes), *(ladder((size,)) for size in sorted(last, reverse=True))):
        for number, version in enumerate(versions):
            if chosen and version.pictures < versions[chosen.number].pictures:
                break
            way = _best_way(number, version, frame, compose, rungs, heights)
            if way is None or (_share(way.page, frame) < version.enough and way.rung < len(rungs) - 1):
                continue
            if way.page.hole <= _HOLE:
                return _set(way, version, frame, compose, rungs, heights)
            chosen = chosen or way
        if chosen:
            return _set(chosen, versions[chosen.number], frame, compose, rungs, heights)
    return _why_not(versions[-1], frame, compose, sorted({*last, sizes[0]}), heights)


class _PageWay(Struct, frozen=True):
    """A version by its number on a rung, in so many columns."""

    number: int
    rung: int
    page: LaidPage
    columns: int


def _numbers(frame: Frame, size: float, strip: bool) -> Iterator[int]:
    """The numbers of columns to try. Panels of a strip may be as narrow as a picture and a few words."""
    least = _NARROWEST * (0.5 if strip else 1.0)
    for number in range(1, _MOST_COLUMNS + 1):
        if least <= frame.column(number) / (size * MM_PER_POINT) <= _WIDEST:
            yield number


def _best_way(
    number: int, version: PageOffer, frame: Frame, compose: Compose, rungs: Sequence[Rung], heights: Heights
) -> _PageWay | None:
    """In the columns that leave no hole, show most and read most easily, in this order."""
    ways = [
        _PageWay(number, *found, columns)
        for columns in _numbers(frame, rungs[0].size_pt, version.strip)
        if (found := _climbed(version, frame, compose, rungs, columns, heights))
    ]

    def trouble(way: _PageWay) -> tuple[bool, int, int, int]:
        ems = frame.column(way.columns) / (rungs[way.rung].size_pt * MM_PER_POINT)
        uneasy = round(max(0.0, _EASY[0] - ems, ems - _EASY[1]))
        return way.page.hole > _HOLE, -round(_share(way.page, frame) / _AS_MUCH), uneasy, -way.rung

    return min(ways, key=trouble, default=None)


def _share(page: LaidPage, frame: Frame) -> float:
    """The part of the page that pictures take."""
    return page.pictured / (frame.width * frame.height)


def _climbed(
    version: PageOffer, frame: Frame, compose: Compose, rungs: Sequence[Rung], columns: int, heights: Heights
) -> tuple[int, LaidPage] | None:
    """The highest rung on which the page fits, found by halving, and the page there."""
    best: tuple[int, LaidPage] | None = None
    low, high = int(version.enough > 0), len(rungs) - 1
    while low <= high:
        # The lowest first: most versions that do not fit do not fit there either.
        middle = (low + high + 1) // 2 if best else low
        page = compose(version, frame, rungs[middle].setting(frame), heights, columns)
        if page and page.over <= _HAIR:
            best, low = (middle, page), middle + 1
        elif best is None:
            return None
        else:
            high = middle - 1
    return best


def _set(
    way: _PageWay, version: PageOffer, frame: Frame, compose: Compose, rungs: Sequence[Rung], heights: Heights
) -> Fitted:
    """The page as loosely as it fits on its rung."""
    rung, page = rungs[way.rung], way.page
    low, high = rung.looseness, 1.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        tried = compose(version, frame, replace(rung, looseness=middle).setting(frame), heights, way.columns)
        if tried and tried.over <= _HAIR:
            low, page = middle, tried
        else:
            high = middle
    return Fitted(way.number, rung.size_pt, Setting(1.0, low, 1.0).leading, rung.enlarged, page)


_TOLD = 3
"""How many of the longest blocks are named."""


def _why_not(version: PageOffer, frame: Frame, compose: Compose, sizes: Sequence[float], heights: Heights) -> TooLong:
    smallest = ladder(sizes)[0].setting(frame)
    # A larger size may want fewer words less: a column as wide as the page is too wide for small type.
    pages = [
        page
        for size in sizes
        for number in _numbers(frame, size, version.strip)
        if (page := compose(version, frame, ladder((size,))[0].setting(frame), heights, number))
    ]
    longest = tuple(sorted(((item.block.name, item.block.words) for item in version.items), key=lambda one: -one[1]))
    if not pages:
        # A title has the whole page, so that its words may be the longest and yet stand well enough.
        head = version.head if version.head and version.head.block.longest * smallest.em > frame.width else None
        widest = head or max(version.items, key=lambda item: item.block.longest)
        return TooLong(0, longest[:_TOLD], widest.block.name, widest.block.longest_word)
    words = sum(item.block.words for item in version.items)
    return TooLong(min(_words_over(page, words) for page in pages), longest[:_TOLD])


def _words_over(page: LaidPage, words: int) -> int:
    """About how many words are too many: as many as stand in what hangs over, if words were spread evenly."""
    used = sum(one.arranged.height for one in page.items)
    return max(1, round(words * min(1.0, page.over * min(page.columns, len(page.items)) / used)))
