"""What fits on one page, by arithmetic: the version of the words, the columns, the type size, how loosely it is set.

A page is offered in versions, the fullest first, each with the type size that is enough for it: the thinner a version,
the smaller the type it may be read at. The first version that reaches its size is taken, at the largest size at which
it fits; then the page is set as loosely as it still fits, so that it is well filled.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from foldwright.render.paper.arranging import Arranged, Item, Setting, arrange, arrange_beside
from foldwright.render.paper.columns import balanced, filled, fit_in
from foldwright.render.paper.measured import Block, Heights
from foldwright.render.paper.papers import Paper
from foldwright.render.units import MM_PER_POINT

SIZES = (14.0, 12.0, 11.0, 10.0, 9.5, 9.0, 8.5, 8.0)
"""The type sizes a card may be set in, in points, the largest first."""
FOOT_PT = 8.0
"""The foot is set in the smallest size throughout."""
_NARROWEST, _WIDEST = 13.0, 52.0
"""Ems a column may be wide: some five words a line at least, some sixteen at most."""
_EASY = (20.0, 36.0)
"""Ems at which a column reads easily (45 to 75 letters a line, common practice, no source)."""
_MOST_COLUMNS = 4
_HALVINGS = 7
_HEAD_PICTURE = 0.3
"""The part of the page's width that a picture in the head may take."""
_HEAD_GAP = 0.4
"""Ems more between the head and what follows, where a theme may rule a line."""
_HOLE = 1 / 3
"""A column that ends so much above another, as a part of its height, leaves a hole that is seen before all else."""
_STRETCH, _WIDE_STRETCH = 1.6, 4.5
"""Ems by which the gaps in a column may grow so that columns end level; more where the page would look half empty."""
_WELL_FILLED = 0.9


class Frame(Struct, frozen=True):
    """The text area of a page and the space between columns, in millimetres."""

    width: float
    height: float
    gutter: float = 0.0

    @classmethod
    def of(cls, paper: Paper, gutter: float = 0.0) -> Frame:
        """All of a paper within its margins."""
        wide, high, margin = paper.page
        return cls(wide - 2 * margin, high - 2 * margin, gutter)


class PageOffer(Struct, frozen=True):
    """One way to fill the page, and the size in points at which it is good enough. A back has neither head nor foot."""

    head: Item | None
    items: tuple[Item, ...]
    foot: Block | None
    enough: float = 8.0

    @property
    def pictures(self) -> int:
        return sum(len(item.pictures) for item in (*self.items, *([self.head] if self.head else [])))


class Placed(Struct, frozen=True):
    """An item on the page: its corner from that of the text area, its column's width, and how it is arranged in it."""

    left: float
    top: float
    width: float
    arranged: Arranged


class Fitted(Struct, frozen=True):
    """A page that fits. `version` is its number."""

    version: int
    size_pt: float
    leading: float
    columns: int
    head: Placed | None
    items: tuple[Placed, ...]
    foot: Placed | None


class TooLong(Struct, frozen=True):
    """Nothing fits: about how many words are too many, and the names of the blocks with most words, with their number.

    `too_wide` names a block with a word wider than any column; then `over` is 0 and `wide_word` is that word.
    """

    over: int
    longest: tuple[tuple[str, int], ...]
    too_wide: str = ""
    wide_word: str = ""


def fit(versions: Sequence[PageOffer], frame: Frame, largest: float = SIZES[0]) -> Fitted | TooLong:
    """The first version that reaches its size; failing that, the one that reads largest, the fuller of equals.

    Where columns of the first that does would leave a hole, a later one without is taken, so long as it keeps all its
    pictures.
    """
    heights = Heights()
    good: _PageWay | None = None
    best: _PageWay | None = None
    for number, version in enumerate(versions):
        if good and version.pictures < versions[good.number].pictures:
            break
        size = next((size for size in SIZES if size <= largest and _fits_somehow(version, frame, size, heights)), 0.0)
        if size >= version.enough:
            chosen = _best_way(number, version, frame, size, heights)
            if chosen.hole <= _HOLE:
                return _set(chosen, version, frame, heights)
            good = good or chosen
        elif size and not good and (best is None or size > best.size):
            best = _best_way(number, version, frame, size, heights)
    taken = good or best
    return _set(taken, versions[taken.number], frame, heights) if taken else _why_not(versions[-1], frame, heights)


class _ArrangedVersion(Struct, frozen=True):
    """A version arranged in a number of columns: its head, and its items with the room there is for them."""

    setting: Setting
    head: Arranged | None
    items: tuple[Arranged, ...]
    column: float
    top: float
    room: float


class _PageWay(Struct, frozen=True):
    """A version by its number, in a size and in columns that hold so many items each.

    `hole` is how far above the highest column the lowest ends, as a part of its height; 1 when a column stays empty.
    """

    number: int
    size: float
    body: _ArrangedVersion
    counts: list[int]
    hole: float


def _fits_somehow(version: PageOffer, frame: Frame, size: float, heights: Heights) -> bool:
    """Whether the version fits at a size in any number of columns, tightly set."""
    return any(_fits(version, frame, size, number, 0.0, heights) for number in _numbers(frame, size))


def _numbers(frame: Frame, size: float) -> Iterator[int]:
    for number in range(1, _MOST_COLUMNS + 1):
        if _NARROWEST <= _column(frame, number) / (size * MM_PER_POINT) <= _WIDEST:
            yield number


def _column(frame: Frame, number: int) -> float:
    return (frame.width - frame.gutter * (number - 1)) / number


def _fits(version: PageOffer, frame: Frame, size: float, number: int, looseness: float, heights: Heights) -> bool:
    body = _body(version, frame, size, number, looseness, heights)
    return body is not None and fit_in([one.height for one in body.items], body.setting.gap, number, body.room)


def _body(
    version: PageOffer, frame: Frame, size: float, number: int, looseness: float, heights: Heights
) -> _ArrangedVersion | None:
    setting = Setting(size * MM_PER_POINT, looseness, frame.height)
    head = _head(version.head, frame, setting, heights) if version.head else None
    if version.head and head is None:
        return None
    column = _column(frame, number)
    items: list[Arranged] = []
    for item in version.items:
        if not (arranged := arrange(item, column, setting, heights)):
            return None
        items.append(arranged)
    top = head.height + setting.gap + setting.em * _HEAD_GAP if head else 0.0
    foot = _foot_height(version.foot, frame, heights) + setting.em if version.foot else 0.0
    return _ArrangedVersion(setting, head, tuple(items), column, top, frame.height - top - foot)


def _head(item: Item, frame: Frame, setting: Setting, heights: Heights) -> Arranged | None:
    if item.pictures:
        return arrange_beside(item, frame.width, setting, heights, _HEAD_PICTURE)
    return arrange(item, frame.width, setting, heights)


def _foot_height(foot: Block, frame: Frame, heights: Heights) -> float:
    em = FOOT_PT * MM_PER_POINT
    return heights.of(foot, frame.width / em, Setting(em, 0.0, frame.height).leading) * em


def _best_way(number: int, version: PageOffer, frame: Frame, size: float, heights: Heights) -> _PageWay:
    """In the columns that leave no hole, read most easily and can be set most loosely, in this order."""
    ways = []
    for columns in _numbers(frame, size):
        looseness = _loosest(version, frame, size, columns, heights)
        if looseness is not None and (body := _body(version, frame, size, columns, looseness, heights)):
            items, gap = [one.height for one in body.items], body.setting.gap
            counts = balanced(items, gap, columns)
            used = filled(items, gap, counts)
            hole = 1 - min(used) / max(used) if used and len(used) == columns else float(bool(used))
            ways.append(_PageWay(number, size, body, counts, hole))

    def trouble(way: _PageWay) -> tuple[bool, int, float]:
        """The hole, how far a column is from one that reads easily, in whole ems, and how tightly it is set."""
        ems = way.body.column / (size * MM_PER_POINT)
        return way.hole > _HOLE, round(max(0.0, _EASY[0] - ems, ems - _EASY[1])), -way.body.setting.looseness

    return min(ways, key=trouble)


def _set(way: _PageWay, version: PageOffer, frame: Frame, heights: Heights) -> Fitted:
    body, counts = way.body, way.counts
    placed = _place(body, counts, frame, may_end_early=way.size >= SIZES[0] or version.foot is None)
    foot = _foot_height(version.foot, frame, heights) if version.foot else 0.0
    return Fitted(
        version=way.number,
        size_pt=way.size,
        leading=body.setting.leading,
        columns=len(counts),
        head=Placed(0.0, 0.0, frame.width, body.head) if body.head else None,
        items=placed,
        foot=Placed(0.0, frame.height - foot, frame.width, Arranged(frame.width, foot, foot)) if version.foot else None,
    )


def _loosest(version: PageOffer, frame: Frame, size: float, columns: int, heights: Heights) -> float | None:
    """How loosely the version can be set in so many columns; None when it does not fit at all."""
    if not _fits(version, frame, size, columns, 0.0, heights):
        return None
    if _fits(version, frame, size, columns, 1.0, heights):
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if _fits(version, frame, size, columns, middle, heights):
            low = middle
        else:
            high = middle
    return low


def _place(body: _ArrangedVersion, counts: Sequence[int], frame: Frame, may_end_early: bool) -> tuple[Placed, ...]:
    """Every item in its column; the gaps of a column grow so that all columns end level, at the page's foot.

    A page in the largest type there is, or a back, need not be full: its columns end with the longest of them.
    """
    gap, items = body.setting.gap, list(body.items)
    columns = [[items.pop(0) for _ in range(count)] for count in counts]
    used = filled([one.height for one in body.items], gap, counts)
    longest = max(used, default=0.0)
    near = longest > body.room - body.setting.em * _STRETCH * 2
    level = body.room if near or not may_end_early else longest
    airy = longest < _WELL_FILLED * body.room and not may_end_early
    most = (_WIDE_STRETCH if airy else _STRETCH) * body.setting.em
    placed: list[Placed] = []
    for number, column in enumerate(columns):
        spare = level - used[number]
        more = min(spare / (len(column) - 1), most) if len(column) > 1 else 0.0
        left, top = number * (body.column + frame.gutter), body.top
        for one in column:
            placed.append(Placed(left, top, body.column, one))
            top += one.height + gap + more
    return tuple(placed)


_TOLD = 3
"""How many of the longest blocks are named."""


def _why_not(version: PageOffer, frame: Frame, heights: Heights) -> TooLong:
    em = SIZES[-1] * MM_PER_POINT
    # A larger size may want fewer words less: a column as wide as the page is too wide for small type.
    bodies = [
        (number, body)
        for size in SIZES
        for number in _numbers(frame, size)
        if (body := _body(version, frame, size, number, 0.0, heights))
    ]
    longest = tuple(sorted(((item.block.name, item.block.words) for item in version.items), key=lambda one: -one[1]))
    if not bodies:
        # A title has the whole page, so that its words may be the longest and yet stand well enough.
        head = version.head if version.head and version.head.block.longest * em > frame.width else None
        widest = head or max(version.items, key=lambda item: item.block.longest)
        return TooLong(0, longest[:_TOLD], widest.block.name, widest.block.longest_word)
    words = sum(item.block.words for item in version.items)
    return TooLong(min(_over(body, number, words) for number, body in bodies), longest[:_TOLD])


def _over(body: _ArrangedVersion, number: int, words: int) -> int:
    """About how many words are too many: those that hang out below, at as many words a millimetre as the page has."""
    heights = [one.height for one in body.items]
    used = filled(heights, body.setting.gap, balanced(heights, body.setting.gap, number))
    missing = sum(max(0.0, high - max(body.room, body.setting.em)) for high in used)
    return max(1, round(words * missing / sum(used)))
