"""A step in its place: nothing over anything, nothing outside, nothing narrower than is legible, pictures lead."""

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
)
from foldwright.render.paper.compositions.cells import LEAST_PART, Side, cell
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
    enlarged=st.floats(0, 2),
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
    words = PlacedArea(arranged.words_left, arranged.words_top, arranged.words_width, arranged.words_height)
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


sides = st.sampled_from(Side)


@given(items(), widths, settings_of_pages, sides)
def test_words_and_pictures_keep_out_of_each_others_way(item: Item, width: float, setting: Setting, side: Side) -> None:
    arranged = cell(item, width, setting, Heights(), side)
    too_wide = item.block.longest * setting.em > width or any(picture.least_mm > width for picture in item.pictures)
    assert (arranged is None) is too_wide
    if arranged:
        assert_well(item, arranged, width, setting)


@given(items(), widths, settings_of_pages, sides)
def test_pictures_stand_where_they_are_asked_to(item: Item, width: float, setting: Setting, side: Side) -> None:
    """Beside the words only where both have room; else above those at whose left they would be, and below others."""
    arranged = cell(item, width, setting, Heights(), side)
    if not arranged or not arranged.spots:
        return
    left = all(spot.left + spot.width <= arranged.words_left + HAIR for spot in arranged.spots)
    right = all(spot.left >= arranged.words_left + arranged.words_width - HAIR for spot in arranged.spots)
    above = all(spot.top + spot.height <= arranged.words_top + HAIR for spot in arranged.spots)
    below = all(spot.top >= arranged.words_top + arranged.words_height - HAIR for spot in arranged.spots)
    assert {Side.LEFT: left or above, Side.RIGHT: right or below, Side.ABOVE: above, Side.BELOW: below}[side]


@given(items(most_pictures=1), widths, settings_of_pages, sides)
def test_a_picture_leads_its_column(item: Item, width: float, setting: Setting, side: Side) -> None:
    """Two fifths of it, less a step of two millimetres, unless it is as large as is any use or as high as may be."""
    arranged = cell(item, width, setting, Heights(), side)
    for picture, spot in zip(item.pictures, arranged.spots if arranged else (), strict=False):
        wide = spot.width >= LEAST_PART * width - 2.0 or spot.width >= picture.most_mm - 2.0
        assert wide or picture.height_at(spot.width + 2.0) > 0.12 * PAGE


@given(items(most_pictures=0), widths, settings_of_pages, st.floats(0, 1))
def test_the_looser_the_higher(item: Item, width: float, setting: Setting, looseness: float) -> None:
    tight, loose = sorted((setting.looseness, looseness))
    settings = (Setting(setting.em, part, PAGE) for part in (tight, loose))
    low, high = (cell(item, width, one, Heights(), Side.LEFT) for one in settings)
    assert (low is None) is (high is None)
    if low and high:
        assert low.height <= high.height + HAIR


@given(items(most_pictures=1), widths, settings_of_pages, sides)
def test_no_picture_is_higher_than_its_part_of_the_page_unless_it_must(
    item: Item, width: float, setting: Setting, side: Side
) -> None:
    arranged = cell(item, width, setting, Heights(), side)
    for picture, spot in zip(item.pictures, arranged.spots if arranged else (), strict=False):
        # A third where pictures have grown, somewhat more in the largest type.
        most = 0.125 + 0.205 * setting.enlarged
        assert spot.height <= most * PAGE + HAIR or spot.width == picture.least_mm


def test_leading_and_gaps_go_from_tight_to_loose() -> None:
    tight, loose = Setting(4.0, 0.0, PAGE), Setting(4.0, 1.0, PAGE)
    assert (tight.leading, loose.leading) == pytest.approx((TIGHT_LEADING, LOOSE_LEADING))
    assert 0 < tight.gap < loose.gap
