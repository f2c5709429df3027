"""Sets by plain strips: never more than area allows, never fewer than side by side, one piece as the plan has it."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from foldwright.plan.sets import sets_on_sheet

SIDE = st.integers(1, 60).map(Fraction)
SIDES = st.tuples(SIDE, SIDE)


def test_two_boxes_on_a_sheet_by_hand():
    """8 1/2 x 11 in: a base of 5 1/2 in square and a lid of 4 5/8 in square lie one below the other, once."""
    base, lid = (Fraction(11, 2),) * 2, (Fraction(37, 8),) * 2
    letter = (Fraction(17, 2), Fraction(11))
    assert sets_on_sheet([base, lid], letter) == 1
    assert sets_on_sheet([base], letter) == 2
    assert sets_on_sheet([lid], letter) == 2
    assert sets_on_sheet([(Fraction(17, 4), Fraction(11, 2))], letter) == 4


def test_a_set_that_takes_two_sheets_is_half_a_set_a_sheet():
    big = (Fraction(8), Fraction(10))
    assert sets_on_sheet([big, big], (Fraction(17, 2), Fraction(11))) == Fraction(1, 2)
    assert sets_on_sheet([big, (Fraction(20), Fraction(20))], (Fraction(17, 2), Fraction(11))) == 0


@given(st.lists(SIDES, min_size=1, max_size=3), SIDES)
def test_area_is_never_beaten_and_one_piece_is_a_grid(pieces, sheet):
    sets = sets_on_sheet(pieces, sheet)
    area = sum(across * down for across, down in pieces)
    assert sets * area <= sheet[0] * sheet[1]
    if len(pieces) == 1:
        (across, down), (wide, high) = pieces[0], sheet
        assert sets == max((wide // across) * (high // down), (wide // down) * (high // across))
