"""Several cards to a sheet: what fits what, and that a trimmer can cut it and the backs lie behind the fronts."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.measure.length import System
from foldwright.render.paper.imposing import BLANK_EDGE_MM, MARK_SHOWS_MM, CropMark, FlipEdge, Imposition, Spot, impose
from foldwright.render.paper.papers import (
    A3,
    A4,
    A5,
    A6,
    FOUR_BY_SIX,
    HALF_LETTER,
    LEGAL,
    LETTER,
    PAPERS,
    SHEETS,
    TABLOID,
    Paper,
    sheets_for,
)

INCH = Fraction("25.4")
# Narrower waste than this is not cut off; one half of a sheet is up to 1/2 mm larger than the next size (ISO 216).
LEFT_ON = 1

sides = st.fractions(min_value=40, max_value=450, max_denominator=20)
wastes = st.fractions(min_value=0, max_value=19, max_denominator=10)


@st.composite
def some_papers(draw: Callable[..., Fraction]) -> Paper:
    width, height = sorted((draw(sides), draw(sides)))
    return Paper("a paper", "paper", System.METRIC, width, height, Fraction(7), (9.0,), ())


papers = st.sampled_from(PAPERS + SHEETS) | some_papers()
numbers = st.sampled_from([1, 2, 3, 4, 6])


@st.composite
def impositions(draw: Callable[..., object]) -> tuple[Paper, int, Imposition]:
    """A card and a sheet made to hold so many of it, with whatever waste."""
    card, across, down = draw(papers), draw(st.integers(1, 3)), draw(st.integers(1, 3))
    waste = st.sampled_from([Fraction(0), Fraction(1, 2), Fraction(1), Fraction(7, 2), Fraction(6), Fraction(10)])
    width = card.width_mm * across + 2 * draw(waste | wastes)
    height = card.height_mm * down + 2 * draw(waste | wastes)
    sheet = Paper("a sheet", "sheet", System.METRIC, *sorted((width, height)), Fraction(9), (9.0,), ())
    imposition = impose(card, across * down, [sheet])
    assert imposition is not None
    return card, across * down, imposition


# --- what fits what ---------------------------------------------------------------------------------------------


# Each answer is worked out by hand from the sizes (ISO 216, ASME Y14.1; the sums stand beside it).
@pytest.mark.parametrize(
    ("card", "up", "sheet", "turned", "grid"),
    [
        (FOUR_BY_SIX, 2, LETTER, False, (2, 1)),  # 8 x 6 of 8 1/2 x 11 in
        (FOUR_BY_SIX, 4, LEGAL, False, (2, 2)),  # 8 x 12: higher than letter's 11, legal has 14
        (HALF_LETTER, 2, LETTER, True, (2, 1)),  # 11 x 8 1/2, all of it
        (HALF_LETTER, 4, TABLOID, False, (2, 2)),  # 11 x 17, all of it; legal is too narrow both ways
        (LETTER, 2, TABLOID, True, (2, 1)),  # 17 x 11, all of it
        (A6, 2, A4, False, (2, 1)),  # 210 x 148 of 210 x 297 mm
        (A6, 4, A4, False, (2, 2)),  # 210 x 296 of 210 x 297
        (A5, 2, A4, True, (2, 1)),  # 296 x 210 of 297 x 210
        (A5, 4, A3, False, (2, 2)),  # 296 x 420 of 297 x 420
        (A4, 2, A3, True, (2, 1)),  # 420 x 297, all of it
    ],
)
def test_what_fits_on_what(card: Paper, up: int, sheet: Paper, turned: bool, grid: tuple[int, int]) -> None:
    imposition = impose(card, up, sheets_for(card))
    assert imposition is not None
    assert (imposition.sheet, imposition.turned, (imposition.across, imposition.down)) == (sheet, turned, grid)
    assert len(imposition.cells) == up
    assert imposition.back_edge is (FlipEdge.SHORT if turned else FlipEdge.LONG)


@pytest.mark.parametrize("card", [LETTER, A4])
def test_four_large_cards_fit_nothing(card: Paper) -> None:
    assert impose(card, 4, sheets_for(card)) is None
    assert impose(card, 4, []) is None


def test_four_4_by_6_fit_neither_letter_nor_a4() -> None:
    # 8 x 12 in or 6 in x 16 in; 203.2 x 304.8 mm.
    assert impose(FOUR_BY_SIX, 4, [LETTER, A4]) is None


def test_where_two_4_by_6_lie_on_letter() -> None:
    imposition = impose(FOUR_BY_SIX, 2, sheets_for(FOUR_BY_SIX))
    assert imposition is not None
    # A quarter of an inch left over at the sides, two and a half above and below.
    left, right = Spot(INCH / 4, 5 * INCH / 2), Spot(INCH / 4 + 4 * INCH, 5 * INCH / 2)
    assert imposition.cells == (left, right)
    assert imposition.backs == (right, left)
    # Three upright cuts and two level ones, each marked at both ends.
    assert len(imposition.marks) == 10
    assert {mark.left / INCH for mark in imposition.marks if mark.left == mark.right} == {
        Fraction(1, 4), Fraction(17, 4), Fraction(33, 4),
    }  # fmt: skip
    assert {mark.top / INCH for mark in imposition.marks if mark.top == mark.bottom} == {
        Fraction(5, 2), Fraction(17, 2),
    }  # fmt: skip


def test_a_sheet_that_is_used_up_is_cut_between_the_cards_only() -> None:
    imposition = impose(A6, 4, sheets_for(A6))
    assert imposition is not None
    # 297 / 2, and not a hair of 1/2 mm off each end.
    assert {(mark.left, mark.right) for mark in imposition.marks if mark.left == mark.right} == {(105, 105)}
    assert {(mark.top, mark.bottom) for mark in imposition.marks if mark.top == mark.bottom} == {
        (Fraction(297, 2), Fraction(297, 2))
    }
    assert len(imposition.marks) == 4


def test_a_sheet_is_turned_rather_than_cut_where_no_mark_can_be_printed() -> None:
    # Upright two 4 x 6 in leave 3.4 mm at either side of A4, on its side 46.9 and 28.8 mm.
    imposition = impose(FOUR_BY_SIX, 2, [A4])
    assert imposition is not None and imposition.turned
    assert min(imposition.cells[0].left, imposition.cells[0].top) > BLANK_EDGE_MM


# --- what always holds ------------------------------------------------------------------------------------------


@given(papers, numbers, papers)
def test_cards_are_imposed_whenever_a_plain_grid_fits(card: Paper, up: int, sheet: Paper) -> None:
    grids = [(across, down) for across in range(1, up + 1) for down in range(1, up + 1) if across * down == up]
    room = any(
        across * card.width_mm <= width and down * card.height_mm <= height
        for across, down in grids
        for width, height in [(sheet.width_mm, sheet.height_mm), (sheet.height_mm, sheet.width_mm)]
    )
    assert (impose(card, up, [sheet]) is not None) == room


@given(papers, numbers, st.lists(papers, max_size=4))
def test_the_first_sheet_that_holds_them_is_taken(card: Paper, up: int, sheets: list[Paper]) -> None:
    alone = [imposition for sheet in sheets if (imposition := impose(card, up, [sheet]))]
    assert impose(card, up, sheets) == (alone[0] if alone else None)


@given(impositions())
def test_cards_lie_on_the_sheet_and_apart(case: tuple[Paper, int, Imposition]) -> None:
    card, up, imposition = case
    sheet = imposition.sheet
    upright = (sheet.width_mm, sheet.height_mm)
    assert (imposition.width_mm, imposition.height_mm) == (upright[::-1] if imposition.turned else upright)
    for spots in (imposition.cells, imposition.backs):
        boxes = [_box(spot, card) for spot in spots]
        assert len(boxes) == up == imposition.across * imposition.down
        for number, (left, top, right, bottom) in enumerate(boxes):
            assert left >= 0 and top >= 0 and right <= imposition.width_mm and bottom <= imposition.height_mm
            for other in boxes[:number]:
                assert right <= other[0] or other[2] <= left or bottom <= other[1] or other[3] <= top


@given(impositions())
def test_cards_lie_in_the_middle_edge_to_edge(case: tuple[Paper, int, Imposition]) -> None:
    card, _, imposition = case
    boxes = [_box(spot, card) for spot in imposition.cells]
    left, top = min(box[0] for box in boxes), min(box[1] for box in boxes)
    right, bottom = max(box[2] for box in boxes), max(box[3] for box in boxes)
    assert left == imposition.width_mm - right and top == imposition.height_mm - bottom
    assert (right - left) * (bottom - top) == len(boxes) * card.area_mm2
    # Read like a page: row by row.
    assert list(imposition.cells) == sorted(imposition.cells, key=lambda spot: (spot.top, spot.left))


@given(impositions())
def test_every_cut_runs_clear_through_and_is_marked_at_both_ends(case: tuple[Paper, int, Imposition]) -> None:
    card, _, imposition = case
    marks = list(imposition.marks)
    for at, extent, across, mark in _cuts(card, imposition):
        # A trimmer cuts from edge to edge, so no card may lie across the line.
        assert not any(box[across] < at < box[across + 2] for box in map(_box_of(card), imposition.cells))
        for end in (mark(at, Fraction(0), BLANK_EDGE_MM + MARK_SHOWS_MM), mark(at, extent - 9, extent)):
            marks.remove(end)
    assert not marks, "a mark where nothing is cut"


@given(impositions())
def test_marks_lie_on_the_sheet_and_clear_of_what_is_printed(case: tuple[Paper, int, Imposition]) -> None:
    card, _, imposition = case
    for mark in imposition.marks:
        assert 0 <= mark.left <= mark.right <= imposition.width_mm
        assert 0 <= mark.top <= mark.bottom <= imposition.height_mm
        assert (mark.left == mark.right) != (mark.top == mark.bottom)
        for left, top, right, bottom in map(_box_of(card), imposition.cells):
            # Outside the card or on its very edge, so a whole margin from its text.
            assert mark.right <= left or right <= mark.left or mark.bottom <= top or bottom <= mark.top


@given(impositions())
def test_the_back_of_each_card_lies_behind_its_front(case: tuple[Paper, int, Imposition]) -> None:
    card, _, imposition = case
    # The edge the sheet is turned about stands upright when it is the long one of an upright sheet or the short one of
    # a lying one; turned about an upright edge, what was x from the left is x from the right and heights stay.
    upright_edge = FlipEdge.SHORT if imposition.width_mm > imposition.height_mm else FlipEdge.LONG
    assert imposition.back_edge is upright_edge or imposition.width_mm == imposition.height_mm
    for front, back in zip(imposition.cells, imposition.backs, strict=True):
        left, top, right, bottom = _box(back, card)
        seen_through = (imposition.width_mm - right, top, imposition.width_mm - left, bottom)
        assert seen_through == _box(front, card)


def _box(spot: Spot, card: Paper) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    return spot.left, spot.top, spot.left + card.width_mm, spot.top + card.height_mm


def _box_of(card: Paper) -> Callable[[Spot], tuple[Fraction, Fraction, Fraction, Fraction]]:
    return lambda spot: _box(spot, card)


def _cuts(
    card: Paper, imposition: Imposition
) -> Iterator[tuple[Fraction, Fraction, int, Callable[[Fraction, Fraction, Fraction], CropMark]]]:
    """Where the cards' edges call for a cut: at what, how long the sheet is along it, which sides it lies between."""
    boxes = [_box(spot, card) for spot in imposition.cells]
    for at in sorted({side for box in boxes for side in (box[0], box[2])}):
        if LEFT_ON < at < imposition.width_mm - LEFT_ON:
            yield at, imposition.height_mm, 0, lambda at, start, end: CropMark(at, start, at, end)
    for at in sorted({side for box in boxes for side in (box[1], box[3])}):
        if LEFT_ON < at < imposition.height_mm - LEFT_ON:
            yield at, imposition.width_mm, 1, lambda at, start, end: CropMark(start, at, end, at)
