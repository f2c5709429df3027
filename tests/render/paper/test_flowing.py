"""Rows on pages: in their order, whole, none over another, no page longer than it is, no page begun too soon."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.render.paper.flowing import flow

ROOM, GAP, HAIR = 250.0, 4.0, 1e-6
rows = st.lists(st.floats(5, 240), min_size=1, max_size=30)


def tops(heights: list[float]) -> list[tuple[int, float]]:
    """The page of each row and where it begins there."""
    found: list[tuple[int, float]] = []
    page, bottom = 0, 0.0
    for height, stand in zip(heights, flow(heights, GAP, ROOM).stands, strict=True):
        if stand.page != page:
            page, bottom = stand.page, 0.0
        found.append((page, bottom + stand.before))
        bottom += stand.before + height
    return found


@given(rows)
def test_rows_stand_in_their_order_and_none_on_another(heights: list[float]) -> None:
    found = tops(heights)
    for (page, top), height, (after, below) in zip(found, heights, found[1:], strict=False):
        assert after in (page, page + 1)
        assert below >= top + height + GAP - HAIR if after == page else below == 0
    assert all(top + height <= ROOM + HAIR for (_, top), height in zip(found, heights, strict=True))


@given(rows)
def test_a_page_is_begun_only_where_a_row_has_no_room(heights: list[float]) -> None:
    """Reckoned anew: the rows of a page with a gap between any two, and the first of the next."""
    found = [page for page, _ in tops(heights)]
    for number, page in enumerate(found[1:], 1):
        if page != found[number - 1]:
            before = [high for high, at in zip(heights, found, strict=True) if at == page - 1]
            assert sum(before) + GAP * len(before) + heights[number] > ROOM


@given(rows)
def test_what_is_left_is_told(heights: list[float]) -> None:
    found, flowed = tops(heights), flow(heights, GAP, ROOM)
    assert flowed.pages == found[-1][0] + 1 and not flowed.broken
    last = [high for high, (page, _) in zip(heights, found, strict=True) if page == flowed.pages - 1]
    assert flowed.spare == pytest.approx(ROOM - sum(last) - GAP * (len(last) - 1))


def test_a_row_higher_than_a_page_is_broken_and_nothing_stands_under_it() -> None:
    flowed = flow([100.0, 600.0, 50.0], GAP, ROOM)
    assert [stand.broken for stand in flowed.stands] == [False, True, False]
    assert flowed.stands[1].page == 1 and flowed.stands[2].page >= 4
