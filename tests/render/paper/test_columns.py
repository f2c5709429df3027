"""Things in columns: whether they go in, and where the columns part, against trying every way."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from foldwright.render.paper.columns import balanced, fit_in

# Lengths that a float holds exactly, so that a thing fits to a hair or does not.
lengths = st.lists(st.integers(1, 80).map(lambda number: number * 0.25), min_size=1, max_size=9)
gaps = st.integers(0, 12).map(lambda number: number * 0.25)
numbers = st.integers(1, 5)


def ways(count: int, columns: int) -> Iterator[list[int]]:
    """Every way to part so many things into just so many columns, none empty: how many stand in each."""
    for cuts in combinations(range(1, count), columns - 1):
        yield [after - before for before, after in pairwise((0, *cuts, count))]


def column_heights(heights: list[float], gap: float, counts: list[int]) -> list[float]:
    rest = list(heights)
    columns = [[rest.pop(0) for _ in range(count)] for count in counts]
    assert not rest
    return [sum(column) + gap * (len(column) - 1) for column in columns]


@given(lengths, gaps, numbers)
@example([1.5, 1.5, 4.5, 0.25, 9.5], 0.0, 4)
def test_the_highest_column_is_as_low_as_can_be_and_the_others_are_even(
    heights: list[float], gap: float, columns: int
) -> None:
    counts = balanced(heights, gap, columns)
    number = min(columns, len(heights))
    assert len(counts) == number and min(counts) > 0
    tried = [column_heights(heights, gap, way) for way in ways(len(heights), number)]
    lowest = min(max(one) for one in tried)
    ours = column_heights(heights, gap, counts)
    assert max(ours) == lowest
    # Of those as low, none is more even: the sum of squares is least where all columns are equal.
    assert sum(high * high for high in ours) == pytest.approx(
        min(sum(high * high for high in one) for one in tried if max(one) == lowest)
    )


@given(lengths, gaps, numbers, st.integers(1, 400).map(lambda number: number * 0.25))
def test_things_fit_if_some_way_fits(heights: list[float], gap: float, columns: int, room: float) -> None:
    some = any(
        max(column_heights(heights, gap, way)) <= room
        for number in range(1, min(columns, len(heights)) + 1)
        for way in ways(len(heights), number)
    )
    assert fit_in(heights, gap, columns, room) is some


@given(lengths, gaps, numbers)
def test_what_is_balanced_fits_and_in_less_room_nothing_does(heights: list[float], gap: float, columns: int) -> None:
    highest = max(column_heights(heights, gap, balanced(heights, gap, columns)))
    assert fit_in(heights, gap, columns, highest)
    assert not fit_in(heights, gap, columns, highest - 0.01)


@given(lengths, gaps, numbers)
def test_more_columns_need_no_more_room(heights: list[float], gap: float, columns: int) -> None:
    highest = [max(column_heights(heights, gap, balanced(heights, gap, number))) for number in (columns, columns + 1)]
    assert highest[1] <= highest[0]


def test_nothing_fits_anywhere() -> None:
    assert balanced([], 1.0, 3) == []
    assert fit_in([], 1.0, 3, 0.0)
