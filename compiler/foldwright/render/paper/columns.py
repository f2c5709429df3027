"""Things of known heights in columns, in their order: where the columns part."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from itertools import accumulate, pairwise

_HAIR = 1e-6


def fit_in(heights: Sequence[float], gap: float, columns: int, room: float) -> bool:
    """Whether the things go into so many columns of height `room`, a gap between any two in a column."""
    if any(height > room + _HAIR for height in heights):
        return False
    used, begun = 0.0, 0
    for height in heights:
        if begun and used + gap + height <= room + _HAIR:
            used += gap + height
        else:
            begun += 1
            used = height
    return begun <= columns


def balanced(heights: Sequence[float], gap: float, columns: int) -> list[int]:
    """How many things stand in each column, so that the highest column is as low as can be, and the others even.

    Every column holds at least one thing while there are enough of them.
    """
    count = len(heights)
    columns = min(columns, count)
    if columns < 2:
        return [count] if count else []
    before = [0.0]
    for height in heights:
        before.append(before[-1] + height)

    def high(start: int, end: int) -> float:
        return before[end] - before[start] + gap * (end - start - 1)

    lowest = _lowest(heights, gap, columns)
    # By number of columns and things placed: the sum of their squares, and where the last column began.
    best: list[dict[int, tuple[float, int]]] = [{0: (0.0, 0)}]
    for number in range(1, columns + 1):
        row: dict[int, tuple[float, int]] = {}
        for end in range(number, count - (columns - number) + 1):
            for start in range(number - 1, end):
                column = high(start, end)
                if start not in best[-1] or column > lowest + _HAIR:
                    continue
                found = (best[-1][start][0] + column * column, start)
                if end not in row or found < row[end]:
                    row[end] = found
        best.append(row)
    ends = [count]
    for number in range(columns, 0, -1):
        ends.append(best[number][ends[-1]][1])
    ends.reverse()
    return [after - start for start, after in pairwise(ends)]


def filled(heights: Sequence[float], gap: float, counts: Sequence[int]) -> list[float]:
    """How high each column is when so many things stand in each."""
    ends = accumulate(counts, initial=0)
    return [sum(heights[start:end]) + gap * (end - start - 1) for start, end in pairwise(ends)]


def _lowest(heights: Sequence[float], gap: float, columns: int) -> float:
    """The height of the highest column when it is as low as can be: that of some things that follow one another."""
    stacks = sorted(
        high + gap * number for start in range(len(heights)) for number, high in enumerate(accumulate(heights[start:]))
    )
    return stacks[bisect_left(stacks, True, key=lambda room: fit_in(heights, gap, columns, room))]
