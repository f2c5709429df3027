"""How well a page is filled."""

from __future__ import annotations

import pytest

from printed.filled import columns, fill, ink_box, text_area
from printed.making import made
from printed.reading import Page, read

MM = 72 / 25.4


def page_of(*boxes: tuple[float, float, float, float], more: str = "") -> Page:
    """A6 with margins of 8 mm, and black drawings at (left, top, width, height), in mm from the text area's corner."""
    drawn = "".join(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" viewBox="0 0 1 1" '
        f'preserveAspectRatio="none" style="position:absolute;left:{left}mm;top:{top}mm"><title>t</title>'
        '<rect width="1" height="1"/></svg>'
        for left, top, wide, high in boxes
    )
    (page,) = read(made(f"<body style='margin:0;position:relative'>{more}{drawn}"))
    return page


def test_the_text_area_is_the_page_without_margins_head_and_foot() -> None:
    page = page_of((0, 0, 1, 1))
    assert text_area(page, 8) == pytest.approx((8 * MM, 8 * MM, 97 * MM, 140 * MM), abs=0.01)
    assert text_area(page, (1, 2, 3, 4)) == pytest.approx((4 * MM, 1 * MM, 103 * MM, 145 * MM), abs=0.01)
    assert text_area(page, 8, head=50, foot=300)[1::2] == (50, 300)


def test_fill_is_the_share_of_the_box_around_all_ink() -> None:
    page = page_of((0, 0, 10, 10), (79, 56, 10, 10))
    area = text_area(page, 8)
    assert ink_box(page, area) == pytest.approx((8 * MM, 8 * MM, 97 * MM, 74 * MM), abs=0.1)
    assert fill(page, area) == pytest.approx(0.5, abs=0.002)
    assert fill(page_of((0, 0, 89, 132)), area) == pytest.approx(1, abs=0.002)


def test_what_lies_outside_the_area_does_not_fill_it() -> None:
    page = page_of((0, 0, 89, 20), (0, 100, 89, 32))
    assert fill(page, text_area(page, 8, head=30 * MM, foot=107 * MM)) == 0
    assert ink_box(page, text_area(page, 8, head=30 * MM, foot=107 * MM)) is None
    assert fill(page, text_area(page, 8)) == pytest.approx(1, abs=0.002)


def test_decoration_does_not_fill_a_page() -> None:
    look = "position:absolute;left:0;top:0;width:89mm;height:132mm;background:#ccc;border-left:1pt solid"
    tint = f"<div style='{look}'></div>"
    page = page_of((0, 0, 89, 33), more=tint)
    assert fill(page, text_area(page, 8)) == pytest.approx(0.25, abs=0.002)


def test_words_fill_by_their_letters() -> None:
    (page,) = read(made("<body style='margin:0'><p>Fold</p><p style='position:absolute;right:0;bottom:0;margin:0'>it"))
    assert fill(page, text_area(page, 8)) > 0.9


def test_columns_are_found_with_how_far_down_they_reach() -> None:
    page = page_of((0, 0, 40, 132), (49, 0, 40, 33), (49, 36, 40, 30))
    left, right = columns(page, text_area(page, 8))
    assert (left.x0, left.x1) == pytest.approx((8 * MM, 48 * MM), abs=0.1)
    assert left.share == pytest.approx(1, abs=0.002)
    # 3 mm between the two are bridged.
    assert right.share == pytest.approx(0.5, abs=0.002)
    assert (right.first, right.last) == pytest.approx((8 * MM, 74 * MM), abs=0.1)


def test_gaps_are_taken_as_they_are_said() -> None:
    # 3 mm are 8.5 pt, 10 mm are 28 pt.
    page = page_of((0, 0, 40, 56), (0, 66, 40, 66), (43, 0, 46, 132))
    left, right = columns(page, text_area(page, 8))
    assert left.share == pytest.approx(122 / 132, abs=0.002)
    assert right.share == pytest.approx(1, abs=0.002)
    assert columns(page, text_area(page, 8), bridge=30)[0].share == pytest.approx(1, abs=0.002)
    assert len(columns(page, text_area(page, 8), gutter=9)) == 1


def test_something_small_beside_something_tall_takes_nothing_away() -> None:
    page = page_of((0, 0, 40, 132), (41, 10, 10, 3), (60, 0, 29, 66))
    left, right = columns(page, text_area(page, 8))
    assert left.share == pytest.approx(1, abs=0.002)
    assert right.share == pytest.approx(0.5, abs=0.002)


def test_a_hole_in_a_column_is_not_covered() -> None:
    page = page_of((0, 0, 89, 33), (0, 99, 89, 33))
    (column,) = columns(page, text_area(page, 8))
    assert column.share == pytest.approx(0.5, abs=0.002)
    assert column.last == pytest.approx(140 * MM, abs=0.1)


def test_one_thing_across_both_makes_one_column() -> None:
    apart = ((0, 0, 40, 132), (49, 0, 40, 132))
    across = page_of(*apart, (20, 50, 40, 5))
    assert len(columns(page_of(*apart), text_area(across, 8))) == 2
    assert len(columns(across, text_area(across, 8))) == 1


def test_an_empty_page_has_no_columns() -> None:
    (page,) = read(made(""))
    assert columns(page, text_area(page, 8)) == []
    assert fill(page, text_area(page, 8)) == 0
