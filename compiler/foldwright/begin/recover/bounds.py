"""Between which numbers every stretch of a side must lie, whatever combination of readings says so.

Where the lines of a side lie, seen from its first edge, is a system of differences: every reading says that one line
lies so far from another, give or take its bound. The tightest bounds are shortest paths; readings that cannot all be
true make a way round that is shorter than nothing. All of it is exact.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import product
from math import lcm

from msgspec import Struct

from foldwright.begin.recover.model import RulerReading

_MOST_LEFT_OUT = 2
"""Of readings that contradict each other no more than this are taken for slips; with more, nobody can say which."""
_ZERO = Fraction(0)

type _Link = tuple[int, int, Fraction, RulerReading | None]
"""From one line to another: the other lies at most so far further on; the reading that says so."""


class Bounds(Struct, frozen=True):
    """`most[i][j]` is the farthest line j can lie beyond line i (below nothing: before it); None when nothing says."""

    most: tuple[tuple[Fraction | None, ...], ...]

    def high(self, start: int, end: int) -> Fraction | None:
        """The farthest line `end` can lie beyond line `start` (mm)."""
        return self.most[start][end]

    def low(self, start: int, end: int) -> Fraction | None:
        """The nearest line `end` can lie beyond line `start` (mm)."""
        back = self.most[end][start]
        return None if back is None else -back


def unmeasured(count: int, readings: Sequence[RulerReading]) -> tuple[int, ...]:
    """The panels (counted from 1) that no reading, and no sum or difference of readings, says anything about."""
    group = list(range(count + 1))
    for reading in readings:
        one, other = group[reading.start], group[reading.end]
        group = [one if number == other else number for number in group]
    return tuple(line for line in range(1, count + 1) if group[line] != group[line - 1])


def bounds_of(count: int, readings: Sequence[RulerReading], times: Fraction = Fraction(1)) -> Bounds | None:
    """The tightest bounds for a side of `count` panels; None when the readings contradict each other.

    `times` widens every bound so many times.
    """
    links = list(_links(count, readings, times))
    # In whole numbers, as parts of what divides all of them: many times as quick as fractions.
    parts = lcm(*(far.denominator for _, _, far, _ in links))
    most: list[list[int | None]] = [
        [0 if one == other else None for other in range(count + 1)] for one in range(count + 1)
    ]
    for start, end, far, _ in links:
        farthest, known = int(far * parts), most[start][end]
        if known is None or farthest < known:
            most[start][end] = farthest
    for by, one, other in product(range(count + 1), repeat=3):
        first, second, known = most[one][by], most[by][other], most[one][other]
        if first is not None and second is not None and (known is None or first + second < known):
            most[one][other] = first + second
    if any((round_trip := most[line][line]) is not None and round_trip < 0 for line in range(count + 1)):
        return None
    return Bounds(tuple(tuple(None if far is None else Fraction(far, parts) for far in row) for row in most))


def _links(count: int, readings: Sequence[RulerReading], times: Fraction) -> Iterator[_Link]:
    for reading in readings:
        yield reading.start, reading.end, reading.length.mm + times * reading.bound.mm, reading
        yield reading.end, reading.start, times * reading.bound.mm - reading.length.mm, reading
    # Lines lie in their order.
    yield from ((line + 1, line, _ZERO, None) for line in range(count))


class Conflict(Struct, frozen=True):
    """Readings that cannot all be true.

    `slips` is the smallest set without which the others agree and still say everything, when there is just one such
    set; `suspects` are the readings of the contradiction. `times` is how many times wider the bounds would have to be.
    """

    suspects: tuple[RulerReading, ...]
    slips: tuple[RulerReading, ...]
    times: Fraction


def conflict_in(count: int, readings: Sequence[RulerReading]) -> Conflict | None:
    """What contradicts what; None when nothing does."""
    suspects = _contradiction(count, readings)
    if not suspects:
        return None
    return Conflict(suspects, _slips(count, readings, suspects), times_wider(count, readings))


def _contradiction(count: int, readings: Sequence[RulerReading]) -> tuple[RulerReading, ...]:
    """Readings that contradict each other on their own: those of one way round; none when all agree."""
    on_it = {id(link[3]) for link in _shortest_way_round(count, readings, Fraction(1))}
    return tuple(reading for reading in readings if id(reading) in on_it)


def _slips(count: int, readings: Sequence[RulerReading], suspects: Sequence[RulerReading]) -> tuple[RulerReading, ...]:
    """The one smallest set without which all agree. It has one of the suspects of every contradiction."""
    sets: list[tuple[RulerReading, ...]] = [()]
    for _ in range(_MOST_LEFT_OUT):
        wider: dict[frozenset[int], tuple[RulerReading, ...]] = {}
        for left_out in sets:
            among = _contradiction(count, _without(readings, left_out)) if left_out else suspects
            for one in among:
                larger = (*left_out, one)
                wider.setdefault(frozenset(map(id, larger)), larger)
        sets = list(wider.values())
        kept = [(left_out, _without(readings, left_out)) for left_out in sets]
        agreeing = (out for out, rest in kept if not _contradiction(count, rest) and not unmeasured(count, rest))
        if found := list(agreeing):
            return found[0] if len(found) == 1 else ()
    return ()


def _without(readings: Sequence[RulerReading], left_out: Sequence[RulerReading]) -> list[RulerReading]:
    return [reading for reading in readings if not any(reading is one for one in left_out)]


def times_wider(count: int, readings: Sequence[RulerReading]) -> Fraction:
    """The least number by which every bound must be multiplied for the readings to agree.

    By Newton's method on the way round that contradicts most: each one met asks for a larger number, and there are
    only so many.
    """
    times = Fraction(1)
    while cycle := _shortest_way_round(count, readings, times):
        lengths = sum((link[2] - (times * link[3].bound.mm if link[3] else _ZERO) for link in cycle), _ZERO)
        slack = sum((link[3].bound.mm for link in cycle if link[3]), _ZERO)
        wider = -lengths / slack
        if wider <= times:
            break
        times = wider
    return times


def _shortest_way_round(count: int, readings: Sequence[RulerReading], times: Fraction) -> list[_Link]:
    """A way from a line back to itself that is shorter than nothing, by Bellman and Ford's method; empty if none is."""
    links = list(_links(count, readings, times))
    parts = lcm(*(far.denominator for _, _, far, _ in links))
    whole = [int(far * parts) for _, _, far, _ in links]
    farthest = [0] * (count + 1)
    came_by: dict[int, _Link] = {}
    last = -1
    for _ in range(count + 1):
        last = -1
        for link, far in zip(links, whole, strict=True):
            start, end, _, _ = link
            if farthest[start] + far < farthest[end]:
                farthest[end] = farthest[start] + far
                came_by[end] = link
                last = end
    if last < 0:
        return []
    for _ in range(count + 1):
        last = came_by[last][0]
    cycle = [came_by[last]]
    while cycle[-1][0] != last:
        cycle.append(came_by[cycle[-1][0]])
    return cycle
