"""Pages on sheets to fold: the sheets are folded and leafed through here, with nothing of how they were filled."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.render.paper.booklet.saddle import (
    PAPER_THICKNESS_MM,
    STAPLES,
    SaddleFormat,
    SaddleSheet,
    padded,
    saddle_format,
    saddle_sheets,
)
from foldwright.render.paper.papers import A3, A4, A5, HALF_LETTER, LETTER, SHEETS, TABLOID, Paper

PAGES = {A5: A4, A4: A3, HALF_LETTER: LETTER, LETTER: TABLOID}
"""The sheet that is twice each page: ISO 216 halves the A sizes; 5 1/2 x 8 1/2 in is half of 8 1/2 x 11, and so on."""
PRINTED = range(1, 41)


def leafed(sheets: tuple[SaddleSheet, ...]) -> list[int]:
    """The pages as a hand meets them: every sheet lies face down, flipped on its short edge, in the one before it.

    A sheet is two leaves joined at the fold. Flipping it about an upright axis puts the back of its right half behind
    its right half: the left page of the back. Front up, the folded booklet begins with the right half of the front.
    """
    stack = [((sheet.front.right, sheet.back.left), (sheet.back.right, sheet.front.left)) for sheet in sheets]
    first_halves = [page for right, _ in stack for page in right]
    second_halves = [page for _, left in reversed(stack) for page in left]
    return first_halves + second_halves


@pytest.mark.parametrize("pages", PRINTED)
def test_folded_and_leafed_through_the_pages_come_in_order(pages: int) -> None:
    met = leafed(saddle_sheets(pages))
    assert [page for page in met if page] == list(range(1, pages + 1))
    assert len(met) % 4 == 0
    assert len(met) - pages < 4


@pytest.mark.parametrize("pages", PRINTED)
def test_the_last_page_is_the_back_and_blanks_stand_before_it(pages: int) -> None:
    met = leafed(saddle_sheets(pages))
    assert met[-1] == pages
    assert met[pages - 1 : -1] == [0] * (-pages % 4)
    assert tuple(met) == padded(pages)


@pytest.mark.parametrize("pages", PRINTED)
def test_left_pages_are_even_and_right_ones_odd_as_in_any_book(pages: int) -> None:
    """So numbers at the outer edge lie at the outer edge. The back alone, which has none, may be odd."""
    sides = [side for sheet in saddle_sheets(pages) for side in (sheet.front, sheet.back)]
    assert {side.left % 2 for side in sides if side.left != pages} <= {0}
    assert {side.right % 2 for side in sides if side.right} <= {1}


def test_sixteen_pages_as_printers_teach_them() -> None:
    """16 | 1, 2 | 15, 14 | 3, ...: two facing pages add up to one more than all (common practice, no source)."""
    sides = [(side.left, side.right) for sheet in saddle_sheets(16) for side in (sheet.front, sheet.back)]
    assert sides == [(16, 1), (2, 15), (14, 3), (4, 13), (12, 5), (6, 11), (10, 7), (8, 9)]


@pytest.mark.parametrize("pages", PRINTED)
@pytest.mark.parametrize("thickness", [PAPER_THICKNESS_MM, Fraction(1, 4)])
def test_a_sheet_is_moved_by_all_the_paper_that_lies_around_it(pages: int, thickness: Fraction) -> None:
    """By hand: the outermost by nothing, each further one by one thickness more than the sheet it lies in."""
    around = Fraction(0)
    for sheet in saddle_sheets(pages, thickness):
        assert sheet.creep_mm == around
        around += thickness
    assert around == -(-pages // 4) * thickness


@pytest.mark.parametrize(("page", "sheet"), PAGES.items(), ids=lambda one: one.slug)
def test_two_pages_lie_on_the_sheet_that_is_twice_as_large(page: Paper, sheet: Paper) -> None:
    how = saddle_format(page)
    assert how is not None
    assert how.sheet == sheet
    assert how.width_mm > how.height_mm
    assert how.fold_mm == how.left_mm + page.width_mm == how.width_mm / 2
    # ISO 216 rounds halves of an odd number of millimetres down, by half a millimetre on each side at most.
    assert 0 <= how.left_mm <= Fraction(1, 2)
    assert how.top_mm == 0
    assert how.marks == ()


def test_a_sheet_of_the_studios_that_is_large_enough_is_taken_first() -> None:
    how = saddle_format(A5, ["tabloid", "letter"])
    assert how is not None
    assert how.sheet == TABLOID


@pytest.mark.parametrize("page", [*PAGES])
@pytest.mark.parametrize("sheet", SHEETS, ids=lambda one: one.slug)
def test_marks_lie_on_the_sheet_and_off_the_pages(page: Paper, sheet: Paper) -> None:
    how = SaddleFormat(sheet, page)
    # Whether two pages have room, counted from the sides of both papers.
    assert how.holds == (2 * page.width_mm <= sheet.height_mm and page.height_mm <= sheet.width_mm)
    if not how.holds:
        return
    right, bottom = how.fold_mm + page.width_mm, how.top_mm + page.height_mm
    for mark in how.marks:
        assert 0 <= mark.left <= mark.right <= how.width_mm
        assert 0 <= mark.top <= mark.bottom <= how.height_mm
        beside = mark.right < how.left_mm or mark.left > right
        assert beside or mark.bottom < how.top_mm or mark.top > bottom


def test_marks_tell_where_to_fold_to_cut_and_to_staple() -> None:
    how = SaddleFormat(TABLOID, HALF_LETTER)
    dashed = {(mark.left, mark.right) for mark in how.marks if mark.dashed and mark.left == mark.right}
    assert dashed == {(how.width_mm / 2, how.width_mm / 2)}
    level = {mark.top for mark in how.marks if mark.dashed and mark.top == mark.bottom}
    assert level == {how.top_mm + part * HALF_LETTER.height_mm for part in STAPLES}
    corners = {mark.left for mark in how.marks if not mark.dashed and mark.left == mark.right}
    assert corners == {how.left_mm, how.left_mm + 2 * HALF_LETTER.width_mm}
