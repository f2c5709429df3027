"""Sets on a sheet: never fewer than any way of cutting gives, never more than the program's own plan can cut."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import cache
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.pack.cutting.cutting import cut_sheets
from foldwright.pack.cutting.model import Arrangement, PieceKind, Rectangle, Sides, Stock
from foldwright.pack.cutting.sets import sets_at_most, sets_on_sheet
from verifiers.cutting import separable
from workbench.long import tries

SIDE = st.integers(1, 60).map(Fraction)
SIDES = st.tuples(SIDE, SIDE)


def sides(*numbers: str | int) -> Sides:
    across, down = map(Fraction, numbers)
    return across, down


def by_brute_force(pieces: Sequence[tuple[int, int]], sheet: tuple[int, int]) -> int:
    """Every cut at every whole number, keeping all pairs of counts that no other pair beats."""

    @cache
    def pairs(wide: int, high: int) -> frozenset[tuple[int, int]]:
        found = {(0, 0)}
        for kind, (across, down) in enumerate(pieces):
            if (across <= wide and down <= high) or (down <= wide and across <= high):
                found.add((int(kind == 0), int(kind == 1)))
        halves = [((at, high), (wide - at, high)) for at in range(1, wide // 2 + 1)]
        halves += [((wide, at), (wide, high - at)) for at in range(1, high // 2 + 1)]
        for one, other in halves:
            found |= {(a + c, b + d) for a, b in pairs(*one) for c, d in pairs(*other)}
        return frozenset(
            one for one in found if not any(one != two and one[0] <= two[0] and one[1] <= two[1] for two in found)
        )

    return max(min(pair) if len(pieces) > 1 else pair[0] for pair in pairs(*sheet))


@pytest.mark.parametrize("seed", range(tries(40, 400)))
def test_no_way_of_cutting_gives_more_or_fewer(seed: int) -> None:
    random = Random(seed)
    sheet = random.randint(9, 19), random.randint(9, 19)
    pieces = [(random.randint(2, 9), random.randint(2, 9)) for _ in range(random.choice((1, 2)))]
    most = by_brute_force(pieces, sheet)
    found = sets_on_sheet(tuple(sides(*piece) for piece in pieces), sides(*sheet))
    assert (found if found >= 1 else 0) == most
    assert found <= sets_at_most([sides(*piece) for piece in pieces], sides(*sheet))


@pytest.mark.parametrize("seed", range(tries(12, 100)))
def test_the_plan_of_an_event_cuts_as_many_and_not_one_more(seed: int) -> None:
    """The plan for so many sets takes one sheet, is separable by straight cuts, and for one set more takes two."""
    random = Random(seed)
    sheet = sides(216, 279) if seed % 2 else sides(210, 297)
    pieces = tuple(sides(random.randint(40, 130), random.randint(40, 130)) for _ in range(random.choice((1, 2))))
    sets = int(sets_on_sheet(pieces, sheet))
    for count in range(max(sets, 1), sets + 2):
        kinds = [PieceKind(tuple(dict.fromkeys((piece, piece[::-1]))), count) for piece in pieces]
        cutting = cut_sheets(kinds, [Stock(*sheet, Fraction(1))])
        assert cutting.cost == (1 if count <= sets else 2)
        assert all(separable([place for _, place in laid_places(one.whole)]) for one in cutting.layouts)


def laid_places(
    part: Rectangle, left: Fraction = Fraction(0), top: Fraction = Fraction(0)
) -> list[tuple[int, tuple[Fraction, Fraction, Fraction, Fraction]]]:
    if part.kind is not None:
        return [(part.kind, (left, top, part.width, part.height))]
    found = []
    for one in part.parts:
        found += laid_places(one, left, top)
        left, top = (left + one.width, top) if part.row is Arrangement.ACROSS else (left, top + one.height)
    return found


def test_two_boxes_on_a_sheet_by_hand() -> None:
    """8 1/2 x 11 in: a base of 5 1/2 in square and a lid of 4 5/8 in square lie one below the other, once."""
    base, lid = sides("11/2", "11/2"), sides("37/8", "37/8")
    letter = sides("17/2", 11)
    assert sets_on_sheet((base, lid), letter) == 1
    assert sets_on_sheet((base,), letter) == 2
    assert sets_on_sheet((lid,), letter) == 2
    assert sets_on_sheet((sides("17/4", "11/2"),), letter) == 4


def test_pieces_lying_both_ways_give_one_more_by_hand() -> None:
    """3 x 2 on 5 x 6: three level in a column 3 wide, two upright in one 2 wide; strips of one way give four.

    On 5 x 5 four go round a hole, the textbook example of what no straight cut begins: straight cuts give three.
    """
    assert sets_on_sheet((sides(3, 2),), sides(5, 6)) == 5
    assert sets_on_sheet((sides(3, 2),), sides(5, 5)) == 3


def test_a_set_that_takes_two_sheets_is_half_a_set_a_sheet() -> None:
    big = sides(8, 10)
    assert sets_on_sheet((big, big), sides("17/2", 11)) == Fraction(1, 2)
    assert sets_on_sheet((big, sides(20, 20)), sides("17/2", 11)) == 0


@given(st.lists(SIDES, min_size=1, max_size=2), SIDES)
def test_area_is_never_beaten_and_a_grid_is_always_reached(pieces: list[Sides], sheet: Sides) -> None:
    sets = sets_on_sheet(tuple(pieces), sheet)
    area = sum(across * down for across, down in pieces)
    assert sets <= 1 or sets * area <= sheet[0] * sheet[1]
    if len(pieces) == 1:
        (across, down), (wide, high) = pieces[0], sheet
        assert sets >= max((wide // across) * (high // down), (wide // down) * (high // across))
