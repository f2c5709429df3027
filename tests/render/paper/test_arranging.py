"""Words and their pictures in a column: nothing over anything, nothing outside, nothing narrower than is legible."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.render.paper.arranging import (
    LOOSE_LEADING,
    TIGHT_LEADING,
    Arranged,
    Item,
    PlacedArea,
    Setting,
    arrange,
    arrange_beside,
)
from foldwright.render.paper.measured import Heights
from foldwright.render.units import MM_PER_POINT
from render.paper.blocks import items

HAIR = 1e-6
PAGE = 250.0

settings_of_pages = st.builds(
    Setting,
    em=st.sampled_from((8, 8.5, 9, 9.5, 10, 11, 12, 14)).map(lambda size: size * MM_PER_POINT),
    looseness=st.floats(0, 1),
    page_height=st.just(PAGE),
)
widths = st.floats(35, 200)


def overlap(one: PlacedArea, other: PlacedArea) -> bool:
    return (
        one.left + one.width > other.left + HAIR
        and other.left + other.width > one.left + HAIR
        and one.top + one.height > other.top + HAIR
        and other.top + other.height > one.top + HAIR
    )


def assert_well(item: Item, arranged: Arranged, width: float, setting: Setting) -> None:
    words = PlacedArea(0.0, 0.0, arranged.words_width, arranged.words_height)
    assert words.height == pytest.approx(
        Heights().of(item.block, words.width / setting.em, setting.leading) * setting.em
    )
    assert item.block.longest * setting.em <= words.width + HAIR
    assert len(arranged.spots) == len(item.pictures)
    for picture, spot in zip(item.pictures, arranged.spots, strict=True):
        assert picture.least_mm - HAIR <= spot.width <= max(picture.least_mm, picture.most_mm) + HAIR
        assert spot.height == picture.height_at(spot.width)
    for spot in (words, *arranged.spots):
        assert spot.left >= -HAIR and spot.left + spot.width <= width + HAIR
        assert spot.top >= 0 and spot.top + spot.height <= arranged.height + HAIR
    assert not any(overlap(one, other) for one, other in combinations((words, *arranged.spots), 2))
    # It takes no more room than it needs.
    assert arranged.height == pytest.approx(max(spot.top + spot.height for spot in (words, *arranged.spots)))


@given(items(), widths, settings_of_pages)
def test_words_and_pictures_keep_out_of_each_others_way(item: Item, width: float, setting: Setting) -> None:
    arranged = arrange(item, width, setting, Heights())
    too_wide = item.block.longest * setting.em > width or any(picture.least_mm > width for picture in item.pictures)
    assert (arranged is None) is too_wide
    if arranged:
        assert_well(item, arranged, width, setting)


@given(items(), widths, settings_of_pages, st.sampled_from((0.3, 0.45)))
def test_pictures_beside_the_words_leave_them_their_part(
    item: Item, width: float, setting: Setting, part: float
) -> None:
    if not item.pictures:
        return
    arranged = arrange_beside(item, width, setting, Heights(), part)
    if arranged:
        assert_well(item, arranged, width, setting)
        assert all(spot.width <= part * width + HAIR for spot in arranged.spots)
        assert all(spot.left >= arranged.words_width for spot in arranged.spots)


@given(items(), widths, settings_of_pages, st.floats(20, 50))
def test_lines_are_no_longer_than_the_measure(item: Item, width: float, setting: Setting, measure: float) -> None:
    short = Setting(setting.em, setting.looseness, PAGE, measure=measure)
    arranged = arrange(item, width, short, Heights())
    if arranged:
        assert arranged.words_width <= measure * setting.em + HAIR
        assert_well(item, arranged, width, short)


@given(items(most_pictures=0), widths, settings_of_pages, st.floats(0, 1))
def test_the_looser_the_higher(item: Item, width: float, setting: Setting, looseness: float) -> None:
    tight, loose = sorted((setting.looseness, looseness))
    low, high = (arrange(item, width, Setting(setting.em, part, PAGE), Heights()) for part in (tight, loose))
    assert (low is None) is (high is None)
    if low and high:
        assert low.height <= high.height + HAIR


@given(items(most_pictures=1), widths, settings_of_pages)
def test_no_picture_is_higher_than_its_part_of_the_page_unless_it_must(
    item: Item, width: float, setting: Setting
) -> None:
    arranged = arrange(item, width, setting, Heights())
    for picture, spot in zip(item.pictures, arranged.spots if arranged else (), strict=False):
        # Four tenths, and a little for whole millimetres.
        assert spot.height <= 0.43 * PAGE or spot.width == picture.least_mm


def test_leading_and_gaps_go_from_tight_to_loose() -> None:
    tight, loose = Setting(4.0, 0.0, PAGE), Setting(4.0, 1.0, PAGE)
    assert (tight.leading, loose.leading) == pytest.approx((TIGHT_LEADING, LOOSE_LEADING))
    assert 0 < tight.gap < loose.gap
