"""Round things, against the best packings of equal circles that are known, and bounds that are proven.

Radii of circles in a unit square: the published table of best-known packings (from memory, six digits).
"""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations
from math import dist, floor, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.pack.model import Answer, Thing
from foldwright.pack.packing import most_that_go_in, pack
from foldwright.pack.rounds import circles_in, circles_in_circle, most_circles

BEST_RADIUS = {
    1: 0.5, 2: 0.292893, 3: 0.254333, 4: 0.25, 5: 0.207107, 6: 0.187681, 7: 0.174458, 8: 0.170541, 9: 0.166667,
    10: 0.148204, 12: 0.139959, 14: 0.129332, 16: 0.125, 18: 0.115521, 20: 0.111382, 25: 0.1, 30: 0.091671,
    39: 0.081837,
}  # fmt: skip
IN_ROWS = (1, 2, 4, 5, 9, 16, 18, 25)
"""Those of the table whose circles lie in rows, straight or staggered."""


@pytest.mark.parametrize("count", BEST_RADIUS)
def test_never_more_circles_than_the_best_that_is_known(count: int) -> None:
    """A hair larger than the best circles, one fewer goes in at most; the bound allows as many as there are."""
    width = 2 * BEST_RADIUS[count]
    assert len(circles_in(1, 1, width + 1e-5)) < count <= most_circles(1, 1, width - 1e-5)


@pytest.mark.parametrize("count", IN_ROWS)
def test_as_many_as_are_known_where_they_lie_in_rows(count: int) -> None:
    assert len(circles_in(1, 1, 2 * BEST_RADIUS[count] - 3e-6)) == count


def test_a_long_strip_takes_more_when_the_rows_are_staggered() -> None:
    """Square: 10 rows of 10 in 100 x 100. Staggered: 1 + floor(90 / (5 root 3)) = 11 rows of 10 and 9 in turn."""
    assert 1 + floor(90 / (5 * sqrt(3))) == 11
    assert len(circles_in(100, 100, 10)) == 6 * 10 + 5 * 9


@given(st.floats(10, 300), st.floats(10, 300), st.floats(5, 60))
def test_circles_lie_inside_and_beside_each_other(wide: float, deep: float, width: float) -> None:
    found = circles_in(wide, deep, width)
    assert len(found) >= int(wide / width - 1e-9) * int(deep / width - 1e-9)
    assert len(found) <= most_circles(wide, deep, width)
    for x, y in found:
        assert width / 2 - 1e-6 <= x <= wide - width / 2 + 1e-6
        assert width / 2 - 1e-6 <= y <= deep - width / 2 + 1e-6
    for one, other in combinations(found[:60], 2):
        assert dist(one, other) >= width - 1e-6


@pytest.mark.parametrize(("count", "times"), [(1, 1), (2, 2), (3, 2.1548), (4, 2.4143), (5, 2.7014), (6, 3), (7, 3)])
def test_circles_in_a_circle(count: int, times: float) -> None:
    """How wide the outer circle is, by the textbook (from memory): 1, 2, 2.1547, 2.4142, 2.7013, 3, 3."""
    assert circles_in_circle(times, 1) >= count
    assert circles_in_circle(times - 0.001, 1) < count


def things(count: int, wide: int, long: int, upright: bool = False) -> list[Thing]:
    return [Thing((Fraction(wide), Fraction(wide), Fraction(long)), upright, round=True)] * count


def test_five_cans_stand_in_a_square_where_their_boxes_would_not() -> None:
    """The five of a die: circles of 41 in 100 x 100, where boxes of 41 go in four times."""
    room = (Fraction(100), Fraction(100), Fraction(50))
    found = pack(things(5, 41, 50, True), room)
    assert found.answer is Answer.GOES_IN and len(found.laid) == 5
    assert most_that_go_in(things(1, 41, 50, True)[0], 9, room) == 5
    assert pack([Thing((Fraction(41), Fraction(41), Fraction(50)), True)] * 5, room).answer is Answer.DOES_NOT


def test_what_cannot_be_proven_is_not_said() -> None:
    """Six of 38 in 100 x 100 do not go in (the best are 37.5 wide), but the bound allows them: no way was found."""
    room = (Fraction(100), Fraction(100), Fraction(50))
    assert pack(things(6, 38, 50, True), room).answer is Answer.UNKNOWN
    assert pack(things(8, 38, 50, True), room).answer is Answer.DOES_NOT
    assert pack(things(1, 101, 50), room).answer is Answer.DOES_NOT


def test_a_can_lies_down_where_it_does_not_stand() -> None:
    assert pack(things(2, 30, 90), (Fraction(60), Fraction(90), Fraction(30))).answer is Answer.GOES_IN
    assert pack(things(2, 30, 90, True), (Fraction(60), Fraction(90), Fraction(30))).answer is Answer.DOES_NOT


def test_balls_fill_a_box() -> None:
    assert pack(things(8, 20, 20), (Fraction(40), Fraction(40), Fraction(40))).answer is Answer.GOES_IN
    assert pack(things(20, 20, 20), (Fraction(40), Fraction(40), Fraction(40))).answer is Answer.DOES_NOT
