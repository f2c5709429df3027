"""Readings of a side that cannot all be true, however its lines lie.

Where the lines lie, seen from the first edge, is a system of differences: every reading says that one line lies so
far from another, give or take its bound. Readings that cannot all be true make a way round that is shorter than
nothing. All of it is exact.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import lcm

from msgspec import Struct

from foldwright.begin.recover.model import RulerReading

_ZERO = Fraction(0)

type _Link = tuple[int, int, Fraction, RulerReading | None]
"""From one line to another: the other lies at most so far further on; the reading that says so."""


class Contradiction(Struct, frozen=True):
    """The readings of a contradiction (`suspects`), and how many times wider all bounds would have to be."""

    suspects: tuple[RulerReading, ...]
    times: Fraction


def contradiction_in(count: int, readings: Sequence[RulerReading]) -> Contradiction | None:
    """What contradicts what on a side of `count` panels; None when nothing does."""
    on_it = {id(link[3]) for link in _shortest_way_round(count, readings, Fraction(1))}
    suspects = tuple(reading for reading in readings if id(reading) in on_it)
    return Contradiction(suspects, times_wider(count, readings)) if suspects else None


def _links(count: int, readings: Sequence[RulerReading], times: Fraction) -> Iterator[_Link]:
    for reading in readings:
        yield reading.start, reading.end, reading.length.mm + times * reading.bound.mm, reading
        yield reading.end, reading.start, times * reading.bound.mm - reading.length.mm, reading
    # Lines lie in their order.
    yield from ((line + 1, line, _ZERO, None) for line in range(count))


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
