"""The fewest sheets by straight cuts: published instances, an independent verifier, rules that must always hold."""

from __future__ import annotations

import tomllib
from collections import Counter
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.pack.cutting import cutting as cutting_module
from foldwright.pack.cutting.cutting import cut_sheets
from foldwright.pack.cutting.model import (
    LAYOUT_SECONDS,
    SETTING_SECONDS,
    Arrangement,
    CutLayout,
    Cutting,
    PieceKind,
    Rectangle,
    Sides,
    Stock,
    Trade,
    work_of,
    worth_of,
)
from foldwright.pack.cutting.patterns import Patterns
from verifiers.cutting import separable
from workbench.long import tries

PUBLISHED = tomllib.loads((Path(__file__).parents[1] / "cases" / "guillotine.toml").read_text(encoding="utf-8"))


def kind(width: int, height: int, count: int = 1, turns: bool = False) -> PieceKind:
    ways = ((Fraction(width), Fraction(height)), (Fraction(height), Fraction(width)))
    return PieceKind(tuple(dict.fromkeys(ways if turns else ways[:1])), count)


def sheet(width: int, height: int, copies: int | None = None, cost: int = 1, trim: int = 0) -> Stock:
    return Stock(Fraction(width), Fraction(height), Fraction(0 if copies else cost), copies, Fraction(trim))


def places(
    part: Rectangle, left: Fraction = Fraction(0), top: Fraction = Fraction(0)
) -> list[tuple[int, tuple[Any, ...]]]:
    if part.kind is not None:
        return [(part.kind, (left, top, part.width, part.height))]
    found = []
    for one in part.parts:
        found += places(one, left, top)
        left, top = (left + one.width, top) if part.row is Arrangement.ACROSS else (left, top + one.height)
    return found


def check(cutting: Cutting, kinds: list[PieceKind], stocks: list[Stock]) -> None:
    """Exactly the wanted pieces, inside their sheets, in ways they may lie, apart, and separable by straight cuts."""
    given_out: Counter[int] = Counter()
    for layout in cutting.layouts:
        laid = places(layout.whole)
        width, height = stocks[layout.stock].room
        for number, (left, top, across, down) in laid:
            assert (across, down) in kinds[number].ways
            assert left + across <= width
            assert top + down <= height
            given_out[number] += layout.copies
        assert separable([place for _, place in laid])
    missing = dict(cutting.short) | {number: kinds[number].count for number in cutting.too_large}
    assert all(given_out[number] + missing.get(number, 0) == one.count for number, one in enumerate(kinds))
    for number, stock in enumerate(stocks):
        assert stock.copies is None or cutting.sheets(number) <= stock.copies
    assert cutting.bound <= cutting.cost


@pytest.mark.parametrize("case", PUBLISHED["worth"], ids=lambda case: case["name"])
def test_the_tables_reach_the_published_optima(case: dict[str, Any]) -> None:
    ways = [(number, across, down) for number, (across, down, _) in enumerate(case["pieces"])]
    filled = Patterns(ways, [tuple(case["sheet"])]).best([profit for _, _, profit in case["pieces"]])
    assert filled.value(0) == case["optimum"]
    counts = filled.patterns(0, None)[0].count(len(ways))
    assert sum(count * piece[2] for count, piece in zip(counts, case["pieces"], strict=True)) == case["optimum"]


@pytest.mark.parametrize("case", PUBLISHED["sheets"], ids=lambda case: case["name"])
@pytest.mark.parametrize("turns", [False, True])
def test_published_instances_take_the_fewest_sheets(case: dict[str, Any], turns: bool) -> None:
    kinds = [kind(*sides, turns=turns) for sides in case["pieces"]]
    stocks = [sheet(*case["sheet"])]
    cutting = cut_sheets(kinds, stocks)
    check(cutting, kinds, stocks)
    assert cutting.cost == case["turned" if turns else "optimum"]


@pytest.mark.parametrize("case", PUBLISHED["layout"], ids=lambda case: case["name"])
def test_the_verifier_takes_published_layouts_of_straight_cuts(case: dict[str, Any]) -> None:
    assert separable([tuple(map(Fraction, place)) for place in case["places"]])


def test_the_verifier_refuses_what_no_straight_cut_begins() -> None:
    """Four pieces round a fifth: the textbook example of a layout that no edge-to-edge cut can begin."""
    wheel = [(0, 0, 2, 1), (2, 0, 1, 2), (1, 2, 2, 1), (0, 1, 1, 2), (1, 1, 1, 1)]
    assert not separable([tuple(map(Fraction, place)) for place in wheel])


def test_a_tiling_that_straight_cuts_cannot_make_takes_two_sheets() -> None:
    """Hopper and Turton 2001, C1 P2: 17 pieces fill a sheet to the last hair, but straight cuts get out 385 of 400."""
    case = next(one for one in PUBLISHED["layout"] if one["name"] == "hopper_C1_2")
    kinds = [kind(*sides) for sides in case["pieces"]]
    assert sum(across * down for across, down in case["pieces"]) == 400
    cutting = cut_sheets(kinds, [sheet(20, 20)])
    check(cutting, kinds, [sheet(20, 20)])
    assert cutting.cost == 2


def test_what_is_owned_goes_first_and_no_more_of_it_than_there_is() -> None:
    kinds = [kind(5, 5, 20)]
    stocks = [sheet(5, 10, copies=3), sheet(10, 10)]
    cutting = cut_sheets(kinds, stocks)
    check(cutting, kinds, stocks)
    assert (cutting.cost, cutting.sheets(1), cutting.proven) == (4, 4, True)


def test_what_fits_no_sheet_is_told_and_the_rest_is_cut() -> None:
    kinds = [kind(30, 5, 2), kind(4, 4, 6)]
    cutting = cut_sheets(kinds, [sheet(10, 10)])
    check(cutting, kinds, [sheet(10, 10)])
    assert cutting.too_large == (0,)
    assert not cutting.proven
    assert cutting.cost == 2


def test_what_the_shelf_does_not_give_is_told_as_missing() -> None:
    kinds = [kind(5, 5, 10)]
    stocks = [sheet(10, 10, copies=2)]
    cutting = cut_sheets(kinds, stocks)
    check(cutting, kinds, stocks)
    assert cutting.short == ((0, 2),)


def test_ragged_edges_are_not_used() -> None:
    kinds = [kind(5, 5, 4)]
    assert cut_sheets(kinds, [sheet(10, 10)]).cost == 1
    assert cut_sheets(kinds, [sheet(10, 10, trim=1)]).cost == 4


def test_the_cheaper_of_two_sizes_is_taken() -> None:
    """Twelve squares: three large sheets at 5 are dearer than the same pieces from small ones at 1."""
    kinds = [kind(5, 5, 12)]
    stocks = [sheet(10, 10, cost=5), sheet(5, 10, cost=1)]
    cutting = cut_sheets(kinds, stocks)
    check(cutting, kinds, stocks)
    assert (cutting.cost, cutting.proven) == (6, True)


sides = st.integers(2, 9)


@settings(max_examples=tries(10, 25))
@given(st.lists(st.tuples(sides, sides, st.integers(1, 30), st.booleans()), min_size=1, max_size=4), st.booleans())
def test_any_kits_come_out_exactly(pieces: list[tuple[int, int, int, bool]], owned: bool) -> None:
    kinds = [kind(across, down, count, turns) for across, down, count, turns in pieces]
    stocks = [*([sheet(6, 9, copies=3)] if owned else []), sheet(12, 10)]
    cutting = cut_sheets(kinds, stocks)
    check(cutting, kinds, stocks)
    assert cutting.cost <= _strips(pieces)
    assert cut_sheets(kinds, stocks).cost == cutting.cost


def _strips(pieces: list[tuple[int, int, int, bool]]) -> int:
    """Plain strips on sheets of 12 x 10, a sheet for every kind of its own."""
    return sum(-(-count // ((12 // across) * (10 // down))) for across, down, count, _ in pieces)


def test_sides_on_no_common_grid_still_give_a_plan_near_its_bound() -> None:
    """Half millimetres on A3 leave more places for a cut than can be tried one by one."""
    kinds = [kind(161, 207, 60, turns=True), kind(83, 149, 60, turns=True), kind(57, 91, 120), kind(211, 47, 60)]
    stocks = [sheet(594, 840)]
    cutting = cut_sheets(kinds, stocks)
    check(cutting, kinds, stocks)
    area = sum(one.ways[0][0] * one.ways[0][1] * one.count for one in kinds) / (594 * 840)
    assert area <= cutting.bound <= cutting.cost <= cutting.bound + 1


def test_the_same_twice() -> None:
    kinds = [kind(7, 3, 40, turns=True), kind(4, 4, 25), kind(2, 5, 60, turns=True)]
    first: tuple[CutLayout, ...] = cut_sheets(kinds, [sheet(21, 17)]).layouts
    assert cut_sheets(kinds, [sheet(21, 17)]).layouts == first


def test_sides_are_exact() -> None:
    """A third of an inch goes three times into one, and no oftener."""
    third: Sides = (Fraction(127, 15), Fraction(127, 5))
    assert cut_sheets([PieceKind((third,), 3)], [Stock(Fraction(127, 5), Fraction(127, 5), Fraction(1))]).cost == 1
    assert cut_sheets([PieceKind((third,), 4)], [Stock(Fraction(127, 5), Fraction(127, 5), Fraction(1))]).cost == 2


def test_where_no_plan_is_found_sheets_of_one_kind_are_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    """Seven squares of 5 and three strips: no more of the one owned sheet than there is, and a sheet a kind at most."""
    kinds = [kind(5, 5, 7), kind(10, 3, 3, turns=True), kind(30, 5, 2)]
    stocks = [sheet(10, 10, copies=1), sheet(10, 10)]
    planned = cut_sheets(kinds, stocks)
    monkeypatch.setattr(cutting_module, "_planned", lambda *_: None)
    plain = cut_sheets(kinds, stocks)
    check(plain, kinds, stocks)
    assert (plain.counted, plain.proven, plain.too_large, plain.short) == (True, False, (2,), ())
    assert plain.cost >= planned.cost
    assert not planned.counted


def test_a_plan_that_does_not_give_what_is_wanted_is_not_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    kinds = [kind(5, 5, 9)]
    wrong = cut_sheets([kind(5, 5, 8)], [sheet(10, 10)])
    monkeypatch.setattr(cutting_module, "_planned", lambda *_: wrong)
    plain = cut_sheets(kinds, [sheet(10, 10)])
    check(plain, kinds, [sheet(10, 10)])
    assert (plain.cost, plain.counted) == (3, True)


def test_a_sheet_far_longer_than_it_is_high_is_cut_too() -> None:
    """Two lengths with no coarse grid in common off a strip one millimetre high: each side has a grid of its own."""
    kinds = [kind(470, 1, 80), kind(610, 1, 70)]
    cutting = cut_sheets(kinds, [sheet(25_000, 1)])
    check(cutting, kinds, [sheet(25_000, 1)])
    assert (cutting.cost, cutting.counted) == (4, False)


def test_a_sheet_more_is_taken_where_it_saves_work_worth_more() -> None:
    """Three kinds on sheets at 0.30, an hour at 15: what a trade takes more is less than what it saves."""
    kinds = [kind(11, 4, 89), kind(11, 7, 65), kind(6, 7, 65)]
    stocks = [Stock(Fraction(20), Fraction(26), Fraction(3, 10))]
    fewest = cut_sheets(kinds, stocks)
    assert fewest.traded is None
    for trade in (Trade(Fraction(15, 3600)), Trade(Fraction(3, 200), Fraction(9, 10))):
        traded = cut_sheets(kinds, stocks, trade=trade)
        check(traded, kinds, stocks)
        assert worth_of(traded, trade.second) <= worth_of(fewest, trade.second)
        assert trade.most is None or traded.cost <= fewest.cost + trade.most
        assert traded.traded is not None
        assert traded.sheets(0) == fewest.sheets(0) + traded.traded.sheets
        assert len(traded.layouts) == len(fewest.layouts) - traded.traded.layouts
        assert not traded.proven


def test_work_is_counted_by_layouts_and_settings_of_the_stop() -> None:
    """Two rows of two squares: one layout, the stop set once for the rows and once for the squares."""
    cutting = cut_sheets([kind(5, 5, 4)], [sheet(10, 10)])
    assert work_of(cutting.layouts) == LAYOUT_SECONDS + 2 * SETTING_SECONDS


def test_some_sheets_cut_anew_give_no_fewer_pieces_and_no_more_sheets() -> None:
    """Twenty kinds, twice each: more ways to lie than are tried with few stages, so that the solver mends the mix."""
    kinds = [kind(20 + 7 * number % 31, 25 + 11 * number % 43, 2, turns=True) for number in range(20)]
    stocks = [sheet(120, 90)]
    cutting = cut_sheets(kinds, stocks)
    check(cutting, kinds, stocks)
    assert cutting.cost <= cutting.bound + 1
