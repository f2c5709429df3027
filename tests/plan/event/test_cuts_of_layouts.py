"""Cuts of layouts of any pieces, trimmed or not, replayed by the verifier: just the pieces of the layout come out."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutting_verifier import ImpossibleError, replay
from foldwright.pack.cutting.cutting import cut_sheets
from foldwright.pack.cutting.model import Kind, Layout, Stock
from foldwright.plan.event.cuts import Cut, cuts_of

sides = st.integers(2, 9)
pieces_of = st.lists(st.tuples(sides, sides, st.integers(1, 12)), min_size=1, max_size=5)


def as_data(layout: Layout, stock: Stock) -> dict[str, Any]:
    """As `kit.json` has it, pieces called by their index."""
    return {
        "copies": layout.copies,
        "places": [{"piece": str(kind)} for kind in layout.whole.pieces()],
        "cuts": [_cut(cut) for cut in cuts_of(layout, stock)],
    }


def _cut(cut: Cut) -> dict[str, Any]:
    left = cut.left
    gives = {"each": cut.each, **_told(cut.name, cut.piece, cut.width, cut.height)}
    leaves = {"falls_off": left.offcut, **_told(left.name, left.piece, left.width, left.height)}
    return {
        "number": cut.number,
        "of": cut.of,
        "count": cut.count,
        "side": cut.row.value,
        "stop": str(cut.stop),
        "times": cut.times,
        "gives": gives,
        "leaves": leaves if left.name else None,
    }


def _told(name: str, piece: int | None, width: Fraction, height: Fraction) -> dict[str, Any]:
    told = name if piece is None else str(piece)
    return {"name": told, "is_piece": piece is not None, "across": str(width), "down": str(height)}


def sheet(stock: Stock) -> dict[str, str]:
    return {"across": str(stock.width), "down": str(stock.height)}


def wanted_of(layout: Layout) -> Counter[tuple[str, Fraction, Fraction]]:
    found: Counter[tuple[str, Fraction, Fraction]] = Counter()
    for kind, (across, down) in layout.whole.laid():
        found[str(kind), across, down] += layout.copies
    return found


@settings(max_examples=30, deadline=None, derandomize=True)
@given(pieces_of, st.booleans(), st.sampled_from([Fraction(0), Fraction(1, 3), Fraction(2)]))
def test_the_cuts_of_any_layout_end_with_its_pieces(
    pieces: list[tuple[int, int, int]], turns: bool, trim: Fraction
) -> None:
    kinds = []
    for across, down, count in pieces:
        upright, turned = (Fraction(across), Fraction(down)), (Fraction(down), Fraction(across))
        kinds.append(Kind(tuple(dict.fromkeys((upright, turned) if turns else (upright,))), count))
    stock = Stock(21 + 2 * trim, 15 + 2 * trim, Fraction(1), trim=trim)
    for layout in cut_sheets(kinds, [stock]).layouts:
        data = as_data(layout, stock)
        assert replay(data, sheet(stock)) == wanted_of(layout)
        assert [cut["number"] for cut in data["cuts"]] == list(range(1, len(data["cuts"]) + 1))


@pytest.mark.parametrize("trim", [0, 1])
def test_a_sheet_that_is_a_piece_once_its_edges_are_off(trim: int) -> None:
    """The last of the four cuts gives the piece; where there is nothing to trim there is nothing to cut."""
    stock = Stock(Fraction(10 + 2 * trim), Fraction(20 + 2 * trim), Fraction(1), trim=Fraction(trim))
    (layout,) = cut_sheets([Kind(((Fraction(10), Fraction(20)),), 3)], [stock]).layouts
    data = as_data(layout, stock)
    assert len(data["cuts"]) == 4 * trim
    assert replay(data, sheet(stock)) == {("0", 10, 20): 3}


def test_the_verifier_wants_every_cut_in_its_turn() -> None:
    """Without the first cut the second has nothing to cut; without the last, parts stay uncut."""
    stock = Stock(Fraction(21), Fraction(15), Fraction(1))
    kinds = [Kind(((Fraction(8), Fraction(4)),), 9), Kind(((Fraction(5), Fraction(7)),), 9)]
    layout = cut_sheets(kinds, [stock]).layouts[0]
    data = as_data(layout, stock)
    assert len(data["cuts"]) > 2
    for cuts in (data["cuts"][1:], data["cuts"][:-1]):
        with pytest.raises(ImpossibleError):
            replay({**data, "cuts": cuts}, sheet(stock))
