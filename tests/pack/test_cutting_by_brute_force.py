"""Small cases against every way of cutting there is, and large ones against plain strips."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import cache
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.pack.cutting.cutting import cut_sheets
from foldwright.pack.cutting.model import Cutting, PieceKind, Sides, Stock
from workbench.long import tries

type Piece = tuple[int, int, int, bool]
"""Across, down, how many, whether it may be turned."""

sides = st.integers(1, 9)
pieces_of = st.lists(st.tuples(sides, sides, st.integers(1, 2), st.booleans()), min_size=1, max_size=3)
many_pieces = st.lists(st.tuples(sides, sides, st.integers(1, 40), st.just(False)), min_size=1, max_size=4)
sold_sheets = st.lists(st.tuples(st.integers(9, 12), st.integers(9, 12), st.integers(1, 7)), min_size=1, max_size=2)
owned_sheets = st.lists(st.tuples(st.integers(3, 12), st.integers(3, 12), st.integers(1, 2)), max_size=1)


def kinds_of(pieces: Sequence[Piece]) -> list[PieceKind]:
    found = []
    for across, down, count, turns in pieces:
        upright, turned = (Fraction(across), Fraction(down)), (Fraction(down), Fraction(across))
        found.append(PieceKind(tuple(dict.fromkeys((upright, turned) if turns else (upright,))), count))
    return found


def sold(across: int, down: int, cost: int = 1) -> Stock:
    return Stock(Fraction(across), Fraction(down), Fraction(cost))


def owned(across: int, down: int, copies: int = 1) -> Stock:
    return Stock(Fraction(across), Fraction(down), Fraction(0), copies)


def boxes_of(ways: Sequence[tuple[Sides, ...]]) -> Callable[[int], frozenset[Sides]]:
    """The least rectangles out of which straight cuts get some of these pieces (a set of bits)."""

    @cache
    def boxes(some: int) -> frozenset[Sides]:
        first = some & -some
        if some == first:
            return frozenset(ways[first.bit_length() - 1])
        found: set[Sides] = set()
        part = (some - 1) & some
        while part:
            if part & first:
                for one, other in product(boxes(part), boxes(some ^ part)):
                    found.add((one[0] + other[0], max(one[1], other[1])))
                    found.add((max(one[0], other[0]), one[1] + other[1]))
            part = (part - 1) & some
        larger = {box for box in found for one in found - {box} if one[0] <= box[0] and one[1] <= box[1]}
        return frozenset(found - larger)

    return boxes


def cheapest(kinds: Sequence[PieceKind], stocks: Sequence[Stock], scarce: Sequence[int] = ()) -> tuple[int, Fraction]:
    """The fewest pieces missing, then the least cost, over every way to share out and cut; only `scarce` may miss."""
    owners = [number for number, kind in enumerate(kinds) for _ in range(kind.count)]
    boxes = boxes_of([kinds[owner].ways for owner in owners])

    @cache
    def least(some: int, left: tuple[int | None, ...]) -> tuple[int, Fraction]:
        if not some:
            return 0, Fraction(0)
        first = some & -some
        answers = []
        if owners[first.bit_length() - 1] in scarce:
            missing, cost = least(some ^ first, left)
            answers.append((missing + 1, cost))
        part = some
        while part:
            for number, stock in enumerate(stocks):
                room = stock.room
                if part & first and left[number] != 0 and any(w <= room[0] and h <= room[1] for w, h in boxes(part)):
                    fewer = tuple(
                        copies - 1 if at == number and copies is not None else copies for at, copies in enumerate(left)
                    )
                    missing, cost = least(some ^ part, fewer)
                    answers.append((missing, cost + stock.cost))
            part = (part - 1) & some
        return min(answers, default=(len(owners) + 1, Fraction(0)))

    return least((1 << len(owners)) - 1, tuple(stock.copies for stock in stocks))


def given_out(cutting: Cutting) -> Counter[int]:
    found: Counter[int] = Counter()
    for layout in cutting.layouts:
        for kind in layout.whole.pieces():
            found[kind] += layout.copies
    return found


@settings(max_examples=tries(20, 40), derandomize=True)
@given(pieces_of, sold_sheets, owned_sheets)
def test_no_way_of_cutting_is_cheaper_and_the_bound_never_says_more(
    pieces: list[Piece], buy: list[tuple[int, int, int]], own: list[tuple[int, int, int]]
) -> None:
    kinds = kinds_of(pieces)
    stocks = [*(owned(*one) for one in own), *(sold(*one) for one in buy)]
    cutting = cut_sheets(kinds, stocks)
    _, cost = cheapest(kinds, stocks)
    assert not cutting.short and not cutting.too_large
    assert given_out(cutting) == Counter({number: kind.count for number, kind in enumerate(kinds)})
    assert cutting.bound <= cost <= cutting.cost
    assert cutting.cost == cost
    assert all(stock.copies is None or cutting.sheets(number) <= stock.copies for number, stock in enumerate(stocks))


@settings(max_examples=20, derandomize=True)
@given(pieces_of, st.tuples(st.integers(6, 12), st.integers(6, 12), st.integers(1, 2)))
def test_from_the_shelf_alone_nothing_is_missing_that_could_all_be_had(
    pieces: list[Piece], own: tuple[int, int, int]
) -> None:
    kinds, stocks = kinds_of(pieces), [owned(*own)]
    cutting = cut_sheets(kinds, stocks)
    fits = [any(w <= own[0] and h <= own[1] for w, h in kind.ways) for kind in kinds]
    assert cutting.too_large == tuple(number for number, fit in enumerate(fits) if not fit)
    rest = [PieceKind(kind.ways, kind.count if fit else 0) for kind, fit in zip(kinds, fits, strict=True)]
    fewest, _ = cheapest(rest, stocks, scarce=range(len(rest)))
    missing = sum(count for _, count in cutting.short)
    assert missing >= fewest
    assert (missing == 0) == (fewest == 0)
    told = given_out(cutting) + Counter(dict(cutting.short))
    assert told == Counter({number: kind.count for number, kind in enumerate(rest) if kind.count})
    assert not (cutting.proven and cutting.short)


@pytest.mark.parametrize(
    ("pieces", "stocks", "missing"),
    [
        ([(5, 1, 1, True), (1, 7, 1, True)], [owned(11, 11)], 0),
        ([(4, 2, 3, True), (1, 7, 3, True), (1, 1, 1, False)], [owned(12, 4)], 1),
    ],
)
def test_the_only_sheet_there_is_gives_what_it_can(pieces: list[Piece], stocks: list[Stock], missing: int) -> None:
    """One owned, none sold: the packing solver raises where it has one sheet in all."""
    kinds = kinds_of(pieces)
    cutting = cut_sheets(kinds, stocks)
    assert cutting.sheets(0) == 1
    assert sum(count for _, count in cutting.short) == cheapest(kinds, stocks, range(len(kinds)))[0] == missing


def test_one_piece_left_over_and_a_size_too_small_for_it() -> None:
    """The solver is given the one piece the whole sheets leave over, and has one sheet that takes it."""
    pieces = [(8, 5, 2, True), (4, 2, 3, True), (8, 9, 1, False), (8, 6, 1, True)]
    stocks = [sold(12, 12, 3), sold(5, 3, 5)]
    cutting = cut_sheets(kinds_of(pieces), stocks)
    assert cutting.cost == cheapest(kinds_of(pieces), stocks)[1]


def test_what_is_owned_goes_before_a_sheet_that_costs_as_little_as_can_be() -> None:
    """Four across and eight down is all that is wanted: it goes on the owned sheet of 6 x 10, and none is bought."""
    pieces = [(1, 8, 2, True), (8, 2, 1, True)]
    cutting = cut_sheets(kinds_of(pieces), [sold(12, 11), owned(6, 10)])
    assert (cutting.cost, cutting.sheets(0), cutting.sheets(1)) == (0, 0, 1)


def test_nothing_is_proven_while_pieces_are_missing() -> None:
    """Ten go on two sheets of four each: two are missing, and that no sheet costs less is no comfort."""
    cutting = cut_sheets(kinds_of([(5, 5, 10, False)]), [owned(10, 10, 2)])
    assert cutting.short == ((0, 2),)
    assert not cutting.proven


@settings(max_examples=tries(5, 12), derandomize=True)
@given(
    st.lists(
        st.tuples(st.integers(2, 9), st.integers(2, 9), st.integers(1, 40), st.just(False)), min_size=1, max_size=4
    )
)
def test_never_more_sheets_than_strips_the_highest_first(pieces: list[Piece]) -> None:
    cutting = cut_sheets(kinds_of(pieces), [sold(20, 14)])
    assert cutting.cost <= strips(pieces, 20, 14)


def strips(pieces: Sequence[Piece], width: int, height: int) -> int:
    """Highest first, each in the first strip that has room for it, each strip on the first sheet that has."""
    rows: list[list[int]] = []
    for down, across in sorted(
        ((down, across) for across, down, count, _ in pieces for _ in range(count)), reverse=True
    ):
        row = next((row for row in rows if row[1] + across <= width), None)
        if row is None:
            rows.append(row := [down, 0])
        row[1] += across
    sheets: list[int] = []
    for high, _ in rows:
        at = next((at for at, used in enumerate(sheets) if used + high <= height), None)
        if at is None:
            sheets.append(high)
        else:
            sheets[at] += high
    return len(sheets)


def test_strips_themselves_are_what_they_should_be() -> None:
    assert strips([(5, 5, 5, False)], 10, 10) == 2
    assert strips([(10, 6, 1, False), (10, 4, 1, False)], 10, 10) == 1
