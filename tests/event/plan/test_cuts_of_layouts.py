"""Cuts of layouts of any pieces, trimmed or not, replayed by the verifier: just the pieces of the layout come out."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.event.plan.cuts import CutPart, NumberedCut, work_of
from foldwright.pack.cutting.cutting import cut_sheets
from foldwright.pack.cutting.model import Arrangement, CutLayout, PieceKind, Rectangle, Stock
from verifiers.cutting import ImpossibleError, replay

sides = st.integers(2, 9)
pieces_of = st.lists(st.tuples(sides, sides, st.integers(1, 12)), min_size=1, max_size=5)


STEP = Fraction(1)


def as_data(layout: CutLayout, stock: Stock, step: Fraction = STEP) -> dict[str, Any]:
    """As `kit.json` has it, pieces called by their index."""
    return {
        "copies": layout.copies,
        "places": [{"piece": str(kind)} for kind in layout.whole.pieces()],
        "cuts": [_cut(cut) for cut in work_of(layout, stock, step).cuts],
    }


def _cut(cut: NumberedCut) -> dict[str, Any]:
    left = cut.left
    gives = {"each": cut.each, **_told(cut.part, cut.piece, cut.width, cut.height)}
    leaves = {"falls_off": left.offcut, **_told(left.part, left.piece, left.width, left.height)}
    return {
        "number": cut.number,
        "of": _called(cut.of),
        "count": cut.count,
        "side": cut.row.value,
        "stop": None if cut.trim else str(cut.stop),
        "fence": str(cut.fence),
        "turn": cut.turn,
        "trim": cut.trim,
        "times": cut.times,
        "gives": gives,
        "leaves": None if left.nothing else leaves,
    }


def _told(part: CutPart | None, piece: int | None, width: Fraction, height: Fraction) -> dict[str, Any]:
    piece_called = None if piece is None else str(piece)
    return {"part": _called(part), "piece": piece_called, "across": str(width), "down": str(height)}


def _called(part: CutPart | None) -> dict[str, Any] | None:
    return None if part is None else {"letter": part.letter or None, "squared": part.squared, "rest": part.rest}


def sheet(stock: Stock) -> dict[str, str]:
    return {"across": str(stock.width), "down": str(stock.height), "trim": str(stock.trim)}


def wanted_of(layout: CutLayout) -> Counter[tuple[str, Fraction, Fraction]]:
    found: Counter[tuple[str, Fraction, Fraction]] = Counter()
    for kind, (across, down) in layout.whole.laid():
        found[str(kind), across, down] += layout.copies
    return found


@settings(max_examples=30, derandomize=True)
@given(pieces_of, st.booleans(), st.sampled_from([Fraction(0), Fraction(1, 3), Fraction(2)]))
def test_the_cuts_of_any_layout_end_with_its_pieces(
    pieces: list[tuple[int, int, int]], turns: bool, trim: Fraction
) -> None:
    kinds = []
    for across, down, count in pieces:
        upright, turned = (Fraction(across), Fraction(down)), (Fraction(down), Fraction(across))
        kinds.append(PieceKind(tuple(dict.fromkeys((upright, turned) if turns else (upright,))), count))
    stock = Stock(21 + 2 * trim, 15 + 2 * trim, Fraction(1), trim=trim)
    for layout in cut_sheets(kinds, [stock]).layouts:
        data = as_data(layout, stock)
        assert replay(data, sheet(stock)) == wanted_of(layout)
        assert [cut["number"] for cut in data["cuts"]] == list(range(1, len(data["cuts"]) + 1))


@pytest.mark.parametrize("trim", [0, 1])
def test_a_sheet_that_is_a_piece_once_its_edges_are_off(trim: int) -> None:
    """The last of the four cuts gives the piece; where there is nothing to trim there is nothing to cut."""
    stock = Stock(Fraction(10 + 2 * trim), Fraction(20 + 2 * trim), Fraction(1), trim=Fraction(trim))
    (layout,) = cut_sheets([PieceKind(((Fraction(10), Fraction(20)),), 3)], [stock]).layouts
    data = as_data(layout, stock)
    assert len(data["cuts"]) == 4 * trim
    assert replay(data, sheet(stock)) == {("0", 10, 20): 3}


def test_the_verifier_wants_every_cut_in_its_turn() -> None:
    """Without the first cut the second has nothing to cut; without the last, parts stay uncut."""
    stock = Stock(Fraction(21), Fraction(15), Fraction(1))
    kinds = [PieceKind(((Fraction(8), Fraction(4)),), 9), PieceKind(((Fraction(5), Fraction(7)),), 9)]
    layout = cut_sheets(kinds, [stock]).layouts[0]
    data = as_data(layout, stock)
    assert len(data["cuts"]) > 2
    for cuts in (data["cuts"][1:], data["cuts"][:-1]):
        with pytest.raises(ImpossibleError):
            replay({**data, "cuts": cuts}, sheet(stock))


LETTER = Fraction(2159, 10), Fraction(2794, 10)
"""8 1/2 x 11 in at 25.4 mm to the inch (ISO 80000: exact)."""
EIGHTH = Fraction(3175, 1000)
HALF_MM = Fraction(1, 2)


@pytest.mark.parametrize("trim", [Fraction(0), Fraction(3), EIGHTH], ids=["true", "3 mm", "1/8 in"])
@pytest.mark.parametrize(
    "pieces",
    [
        [(Fraction(127, 2), Fraction(85), 30)],
        [(Fraction(100), Fraction(140), 7), (Fraction(31), Fraction(33), 40)],
        [(Fraction(203), Fraction(270), 3), (Fraction(48), Fraction(95), 20), (Fraction(14), Fraction(14), 50)],
    ],
    ids=["one kind", "two", "three"],
)
def test_an_inch_sheet_is_cut_by_the_marks_of_a_metric_scale(
    pieces: list[tuple[Fraction, Fraction, int]], trim: Fraction
) -> None:
    """Whatever the sheet measures, nobody is told to set 212.725 mm: edges are squared up, the rest falls off."""
    kinds = [PieceKind(((across, down), (down, across)), count) for across, down, count in pieces]
    stock = Stock(*LETTER, Fraction(1), trim=trim)
    for layout in cut_sheets(kinds, [stock]).layouts:
        data = as_data(layout, stock, HALF_MM)
        assert replay(data, sheet(stock)) == wanted_of(layout)
        squared = [cut["trim"] for cut in data["cuts"]]
        assert squared == [True, True] * bool(trim) + [False] * (len(squared) - 2 * bool(trim))
        stops = [Fraction(cut["stop"]) for cut in data["cuts"] if not cut["trim"]]
        assert stops and not any(stop % HALF_MM for stop in stops)


def test_a_stop_that_the_scale_does_not_show_is_marked() -> None:
    stock = Stock(Fraction(100), Fraction(60), Fraction(1))
    (layout,) = cut_sheets([PieceKind(((Fraction(121, 4), Fraction(60)),), 3)], [stock]).layouts
    assert [cut.on_scale for cut in work_of(layout, stock, HALF_MM).cuts] == [False]
    assert [cut.on_scale for cut in work_of(layout, stock, Fraction(1, 4)).cuts] == [True]


@pytest.mark.parametrize("change", ["not squared", "not turned", "turned back"])
def test_the_verifier_lets_nothing_be_measured_from_a_ragged_edge(change: str) -> None:
    stock = Stock(Fraction(23), Fraction(17), Fraction(1), trim=Fraction(1))
    (layout,) = cut_sheets([PieceKind(((Fraction(7), Fraction(4)),), 9)], [stock]).layouts
    data = as_data(layout, stock)
    first, second, *rest = data["cuts"]
    if change == "not squared":
        cuts = [{**first, "gives": second["gives"]} | {"leaves": second["leaves"], "side": second["side"]}, *rest]
    elif change == "not turned":
        cuts = [first, second, {**rest[0], "turn": False}, *rest[1:]]
    else:
        cuts = [first, {**second, "turn": False}, *rest]
    assert replay(data, sheet(stock))
    with pytest.raises(ImpossibleError):
        replay({**data, "cuts": cuts}, sheet(stock))


def test_alike_columns_are_cut_as_rows_where_that_sets_the_stop_less() -> None:
    """Four pieces of 4 x 5 on 8 x 11: two strips of 5, each halved; the old way trims to 10 first."""
    stock = Stock(Fraction(8), Fraction(11), Fraction(1))
    (layout,) = cut_sheets([PieceKind(((Fraction(4), Fraction(5)),), 8)], [stock]).layouts
    assert layout.copies == 2
    assert [(cut.stop, cut.count * cut.times) for cut in work_of(layout, stock, STEP).cuts] == [(5, 4), (4, 4)]


def test_all_cuts_of_the_sheet_come_first_and_then_strip_by_strip() -> None:
    """Two kinds of strips, and in one of them strips again: letters in the order in which they are first heard of."""
    strip = Rectangle(
        Fraction(4), Fraction(6), row=Arrangement.DOWN, parts=(Rectangle(Fraction(4), Fraction(3), kind=1),) * 2
    )
    first = Rectangle(
        Fraction(20),
        Fraction(6),
        row=Arrangement.ACROSS,
        parts=(Rectangle(Fraction(8), Fraction(6), kind=0),) * 2 + (strip,),
    )
    second = Rectangle(
        Fraction(20), Fraction(5), row=Arrangement.ACROSS, parts=(Rectangle(Fraction(5), Fraction(5), kind=2),) * 4
    )
    whole = Rectangle(Fraction(20), Fraction(11), row=Arrangement.DOWN, parts=(first, second))
    stock = Stock(Fraction(20), Fraction(11), Fraction(1))
    worked = work_of(CutLayout(0, whole, 3), stock, STEP)
    a, b, c = CutPart("A"), CutPart("B"), CutPart("C")
    assert [(cut.of, cut.part, cut.piece, cut.left.part) for cut in worked.cuts] == [
        (CutPart(), a, None, b),
        (a, None, 0, c),
        (c, None, 1, None),
        (b, None, 2, None),
    ]
    assert [(one.name, one.left, one.top, one.width, one.height) for one in worked.strips] == [
        ("A", 0, 0, 20, 6),
        ("C", 16, 0, 4, 6),
        ("B", 0, 6, 20, 5),
    ]
    assert [(line.number, line.left, line.top, line.length) for line in worked.lines] == [
        (1, 0, 6, 20),
        (2, 8, 0, 6),
        (2, 16, 0, 6),
        (3, 16, 3, 4),
        (4, 5, 6, 5),
        (4, 10, 6, 5),
        (4, 15, 6, 5),
    ]
