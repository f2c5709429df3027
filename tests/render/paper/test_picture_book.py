"""The picture-book: the finished thing and lists on a band, then steps with their pictures left of their words."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from foldwright.render.paper.arranging import Item, Setting
from foldwright.render.paper.compositions.page import Frame, LaidPage, PageOffer
from foldwright.render.paper.compositions.picture_book import picture_book
from foldwright.render.paper.measured import Block, Heights
from foldwright.render.paper.papers import A4, A6, LETTER, Paper
from foldwright.render.units import MM_PER_POINT
from render.paper.blocks import Rectangle, items, monospaced

HAIR = 1e-6
HERO = Rectangle(18.0, 200.0, 0.8)


def said(name: str, letters: int, *pictures: Rectangle) -> Item:
    """Words of five letters each, indented as those of a step are."""
    return Item(Block(name, (monospaced(" ".join(["words"] * (letters // 5)), 1.75),), 0.0), pictures)


def laid(offer: PageOffer, paper: Paper, number: int, points: float = 9.5, enlarged: float = 0.0) -> LaidPage | None:
    frame = Frame.of(paper, 7.0)
    return picture_book(
        offer, frame, Setting(points * MM_PER_POINT, 0.3, frame.height, enlarged=enlarged), Heights(), number
    )


@given(st.lists(items(), min_size=1, max_size=8), st.sampled_from((1, 2)), st.sampled_from((0.0, 0.5, 1.0)))
def test_words_of_all_steps_begin_at_one_line_right_of_every_picture(
    steps: list[Item], number: int, enlarged: float
) -> None:
    page = laid(PageOffer(None, (), tuple(steps), (), None), LETTER, number, enlarged=enlarged)
    if page is None:
        return
    assert len(page.items) == len(steps)
    beside = [one.arranged for one in page.items if one.arranged.words_left]
    assert len({round(one.words_left, 6) for one in beside}) <= 1
    for one in beside:
        assert all(spot.left >= -HAIR and spot.left + spot.width <= one.words_left + HAIR for spot in one.spots)
    if beside:
        # Words over the whole width belong to a step whose picture is above them, never to one without a picture.
        assert all(one.arranged.words_left or one.arranged.spots for one in page.items)


def test_lists_stand_beside_the_finished_thing_as_long_as_there_is_room() -> None:
    lists = (said("supplies", 60), said("tools", 40), said("cautions", 2000))
    page = laid(PageOffer(said("head", 15, HERO), lists, (said("step-1", 50),), (), None), A4, 2)
    assert page and page.head
    (hero,) = page.head.arranged.spots
    band = page.grounds["band"]
    on_band = [one for one in page.items if one.top + one.arranged.height <= band.height + HAIR]
    assert [one.left > hero.left + hero.width for one in on_band] == [True, True]
    assert page.items[2].top > band.height


def test_where_steps_have_the_whole_width_all_else_stands_in_a_margin_at_their_right() -> None:
    picture = Rectangle(20.0, 60.0, 0.6)
    steps = tuple(said(f"step-{number}", 80, picture) for number in (1, 2, 3))
    offer = PageOffer(None, (said("cautions", 200),), steps, (said("section-0", 90),), None)
    page = laid(offer, A4, 1)
    assert page
    cautions, *placed, tips = page.items
    right = max(one.left + one.width for one in placed)
    assert cautions.left == tips.left > right
    assert [one.left for one in placed] == [0.0, 0.0, 0.0]
    narrow = laid(offer, A6, 1, 8.0)
    assert narrow and {one.left for one in narrow.items} == {0.0}


def test_no_more_than_two_steps_stand_side_by_side_unless_it_is_a_strip() -> None:
    steps = tuple(said(f"step-{number}", 20, Rectangle(15.0, 60.0, 0.6)) for number in range(1, 7))
    assert laid(PageOffer(None, (), steps, (), None), A4, 2)
    assert laid(PageOffer(None, (), steps, (), None), A4, 3) is None
    assert laid(PageOffer(None, (), steps, (), None, strip=True), A4, 3)


def test_a_strip_of_one_picture_a_row_has_its_headings_beside_them() -> None:
    """Over a heading at the left of a whole line, a picture in its middle stood far off."""
    steps = tuple(said(f"step-{number}", 20, Rectangle(15.0, 60.0, 0.6)) for number in (1, 2))
    alone, above = (laid(PageOffer(None, (), steps, (), None, strip=True), A6, number, 8.0) for number in (1, 2))
    assert alone and above
    assert all(one.arranged.words_left > one.arranged.spots[0].width for one in alone.items)
    assert all(one.arranged.words_left == 0 and one.arranged.words_top > 0 for one in above.items)
