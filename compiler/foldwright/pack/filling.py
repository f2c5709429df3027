"""Many things: searches that find a way where there is an ordinary one, and prove nothing where they find none.

Blocks of things alike are laid into a corner of the smallest space left, which parts what is over into three spaces.
Then the things are laid one by one, the largest first, where they come to lie lowest; and last, for what neither gives,
into the first free corner each time, as bricks are. All count their steps and give up after so many, so that the answer
is the same on every machine.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import islice, permutations, product
from math import lcm, prod

from foldwright.pack.model import LaidThing, Size, Thing

_MOST_BLOCKS, _MOST_PLACES, _MOST_BRICKS = 12_000, 400_000, 80_000
"""Blocks, and places for one thing, to look at in each of the three searches: some tenths of a second."""
_MOST_SKIPPED = 4
"""Free corners that are left empty at most where things are laid as bricks are."""

type _Sides = tuple[int, int, int]


class _ThingBlock(tuple[int, _Sides, _Sides, _Sides]):
    """Things of one kind as they lie in rows and layers: the kind, the corner, how one lies, how many each way."""

    __slots__ = ()


class _GivenUpError(Exception):
    """The steps are used up."""


def fill(things: Sequence[Thing], room: Size) -> tuple[LaidThing, ...] | None:
    """A way for all of them to lie in the room, or None when none was found."""
    scale = lcm(*(side.denominator for size in (room, *(thing.size for thing in things)) for side in size))
    kinds = sorted(dict.fromkeys(things), key=lambda kind: (-kind.volume, kind.size, kind.upright))
    ways = [[_scaled(way, scale) for way in kind.ways] for kind in kinds]
    counts = tuple(things.count(kind) for kind in kinds)
    sides = _scaled(room, scale)
    blocks = _Spaces(ways).blocks(sides, counts) or _one_by_one(ways, sides, counts) or _as_bricks(ways, sides, counts)
    return _told(blocks, things, kinds, scale) if blocks else None


def _scaled(size: Size, scale: int) -> _Sides:
    across, down, high = (int(side * scale) for side in size)
    return across, down, high


def _told(
    blocks: Sequence[_ThingBlock], things: Sequence[Thing], kinds: Sequence[Thing], scale: int
) -> tuple[LaidThing, ...]:
    waiting = [iter([number for number, thing in enumerate(things) if thing == kind]) for kind in kinds]

    def exact(sides: Sequence[int]) -> Size:
        across, down, high = (Fraction(side, scale) for side in sides)
        return across, down, high

    return tuple(
        LaidThing(next(waiting[kind]), exact([at[axis] + place[axis] * way[axis] for axis in range(3)]), exact(way))
        for kind, at, way, many in blocks
        for place in product(*map(range, many))
    )


class _Steps:
    def __init__(self, most: int) -> None:
        self._left = most

    def take(self, steps: int = 1) -> None:
        self._left -= steps
        if self._left < 0:
            raise _GivenUpError


# --- blocks into spaces -----------------------------------------------------------------------------------------------

type _Space = tuple[_Sides, _Sides]
"""Its corner and its sides."""


class _Spaces:
    def __init__(self, ways: Sequence[Sequence[_Sides]]) -> None:
        self._ways = ways
        self._volumes = [prod(way[0]) for way in ways]
        self._steps = _Steps(_MOST_BLOCKS)

    def blocks(self, room: _Sides, counts: tuple[int, ...]) -> list[_ThingBlock] | None:
        try:
            return self._go_on((((0, 0, 0), room),), counts)
        except _GivenUpError:
            return None

    def _go_on(self, spaces: tuple[_Space, ...], counts: tuple[int, ...]) -> list[_ThingBlock] | None:
        if not any(counts):
            return []
        self._steps.take(len(spaces) * len(counts))
        spaces = tuple(space for space in spaces if self._holds_any(space, counts))
        wanted = sum(count * volume for count, volume in zip(counts, self._volumes, strict=True))
        if sum(prod(sides) for _, sides in spaces) < wanted:
            return None
        space = min(spaces, key=lambda one: (prod(one[1]), one))
        others = tuple(one for one in spaces if one is not space)
        rows = self._rows(space[1], counts)
        self._steps.take(len(rows))
        for kind, way, many in rows:
            left = tuple(count - (prod(many) if number == kind else 0) for number, count in enumerate(counts))
            for over in _partings(space, tuple(long * some for long, some in zip(way, many, strict=True))):
                found = self._go_on((*others, *over), left)
                if found is not None:
                    return [_ThingBlock((kind, space[0], way, many)), *found]
        return self._go_on(others, counts)

    def _holds_any(self, space: _Space, counts: tuple[int, ...]) -> bool:
        return any(
            all(long <= wide for long, wide in zip(way, space[1], strict=True))
            for ways, count in zip(self._ways, counts, strict=True)
            if count
            for way in ways
        )

    def _rows(self, sides: _Sides, counts: tuple[int, ...]) -> list[tuple[int, _Sides, _Sides]]:
        """What may be laid into a corner: of each kind, each way, one or whole rows of it; the large and low first."""
        found: dict[tuple[int, _Sides, _Sides], None] = {}
        for kind, (ways, count) in enumerate(zip(self._ways, counts, strict=True)):
            for way in ways if count else ():
                most = [wide // long for wide, long in zip(sides, way, strict=True)]
                if min(most) < 1:
                    continue
                for order in permutations(range(3)):
                    many = [1, 1, 1]
                    for axis in order:
                        many[axis] = min(most[axis], count // prod(many))
                        found[kind, way, (many[0], many[1], many[2])] = None
        return sorted(found, key=lambda one: (-prod(one[2]) * self._volumes[one[0]], one[1][2] * one[2][2], one))


def _partings(space: _Space, block: tuple[int, ...]) -> Iterator[tuple[_Space, ...]]:
    """What is left round a block in the corner, in each of the ways in which straight cuts part it."""
    at, sides = space
    seen = set()
    for order in permutations(range(3)):
        reach, over = list(sides), []
        for axis in order:
            corner, size = list(at), list(reach)
            corner[axis] += block[axis]
            size[axis] -= block[axis]
            reach[axis] = block[axis]
            if size[axis]:
                over.append(((corner[0], corner[1], corner[2]), (size[0], size[1], size[2])))
        if (known := frozenset(over)) not in seen:
            seen.add(known)
            yield tuple(over)


# --- one by one -------------------------------------------------------------------------------------------------------


def _goes_in(corner: Sequence[int], way: _Sides, room: _Sides, laid: Sequence[_ThingBlock]) -> bool:
    return all(at + long <= wide for at, long, wide in zip(corner, way, room, strict=True)) and not any(
        corner[0] < at[0] + own[0]
        and at[0] < corner[0] + way[0]
        and corner[1] < at[1] + own[1]
        and at[1] < corner[1] + way[1]
        and corner[2] < at[2] + own[2]
        and at[2] < corner[2] + way[2]
        for _, at, own, _ in laid
    )


def _one_by_one(ways: Sequence[Sequence[_Sides]], room: _Sides, counts: Sequence[int]) -> list[_ThingBlock] | None:
    """The largest first, by several measures of large, each where it lies lowest, lowest being each of the sides."""
    steps = _Steps(_MOST_PLACES)
    kinds = [kind for kind, count in enumerate(counts) for _ in range(count)]
    measures = (lambda way: prod(way), lambda way: sorted(way)[::-1], lambda way: sorted(way)[1:], lambda way: min(way))
    try:
        for axes, measure in product(permutations(range(3)), measures):
            order = sorted(kinds, key=lambda kind: (measure(ways[kind][0]), -kind), reverse=True)
            if laid := _lowest(order, ways, room, axes, steps):
                return laid
    except _GivenUpError:
        pass
    return None


def _lowest(
    order: Sequence[int], ways: Sequence[Sequence[_Sides]], room: _Sides, axes: Sequence[int], steps: _Steps
) -> list[_ThingBlock] | None:
    laid: list[_ThingBlock] = []
    corners: list[_Sides] = [(0, 0, 0)]
    for kind in order:
        best: tuple[list[int], _Sides, _Sides] | None = None
        for corner in corners:
            for way in ways[kind]:
                steps.take(1 + len(laid) // 8)
                merit = [corner[axis] + way[axis] for axis in axes]
                if (best is None or merit < best[0]) and _goes_in(corner, way, room, laid):
                    best = merit, corner, way
        if best is None:
            return None
        _, corner, way = best
        laid.append(_ThingBlock((kind, corner, way, (1, 1, 1))))
        corners.remove(corner)
        corners += [corner for corner in _corners_of(corner, way, laid) if corner not in corners]
    return laid


def _corners_of(corner: _Sides, way: _Sides, laid: Sequence[_ThingBlock]) -> Iterator[_Sides]:
    """Beside, behind and above what was laid, and where things slid from there along another side would stop."""
    for axis in range(3):
        at = list(corner)
        at[axis] += way[axis]
        yield at[0], at[1], at[2]
        for other in range(3):
            if other != axis:
                slid = list(at)
                third = 3 - axis - other
                slid[other] = max(
                    (
                        begin[other] + own[other]
                        for _, begin, own, _ in laid
                        if begin[other] + own[other] <= at[other]
                        and begin[axis] <= at[axis] < begin[axis] + own[axis]
                        and begin[third] <= at[third] < begin[third] + own[third]
                    ),
                    default=0,
                )
                yield slid[0], slid[1], slid[2]


# --- into the first free corner ---------------------------------------------------------------------------------------


def _as_bricks(ways: Sequence[Sequence[_Sides]], room: _Sides, counts: tuple[int, ...]) -> list[_ThingBlock] | None:
    """With no corner left empty, then with one, with two and so on."""
    try:
        steps = _Steps(_MOST_BRICKS)
        for skipped in range(_MOST_SKIPPED + 1):
            if laid := _laid_on(ways, room, [], counts, (0, 0, 0), skipped, steps):
                return laid
    except _GivenUpError:
        pass
    return None


def _laid_on(
    ways: Sequence[Sequence[_Sides]],
    room: _Sides,
    laid: list[_ThingBlock],
    counts: tuple[int, ...],
    start: _Sides,
    skipped: int,
    steps: _Steps,
) -> list[_ThingBlock] | None:
    """What is laid and the rest on it, from the corner `start` on; up to `skipped` free corners may stay empty."""
    if not any(counts):
        return laid
    for corner in islice(_free(room, laid, start, steps), skipped + 1):
        for kind, its_ways in enumerate(ways):
            for way in its_ways if counts[kind] else ():
                steps.take(1 + len(laid) // 8)
                if not _goes_in(corner, way, room, laid):
                    continue
                left = tuple(count - (number == kind) for number, count in enumerate(counts))
                block = _ThingBlock((kind, corner, way, (1, 1, 1)))
                found = _laid_on(ways, room, [*laid, block], left, corner, skipped, steps)
                if found is not None:
                    return found
        skipped -= 1
    return None


def _free(room: _Sides, laid: Sequence[_ThingBlock], start: _Sides, steps: _Steps) -> Iterator[_Sides]:
    """Free corners beside, behind and above what is laid, the lowest first, from `start` on."""
    across, down, high = (sorted({0, *(at[axis] + way[axis] for _, at, way, _ in laid)}) for axis in range(3))
    for z, y, x in product([z for z in high if z >= start[2]], down, across):
        steps.take()
        if (z, y, x) >= (start[2], start[1], start[0]) and _goes_in((x, y, z), (1, 1, 1), room, laid):
            yield x, y, z
