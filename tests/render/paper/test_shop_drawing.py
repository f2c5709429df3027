"""The shop drawing: lines on the squares of the paper, the title block at the lower right, numbers on no picture."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from foldwright.measure.length import System
from foldwright.render.paper.arranging import Item, PlacedArea, Setting
from foldwright.render.paper.compositions.page import Frame, LaidPage, PageOffer, Placed
from foldwright.render.paper.compositions.shop_drawing import shop_drawing
from foldwright.render.paper.measured import Block, Heights
from foldwright.render.paper.papers import A4, FOUR_BY_SIX, HALF_LETTER, LETTER, PAPERS, Paper
from foldwright.render.units import MM_PER_POINT
from render.paper.blocks import Rectangle, items, monospaced, pictures

HAIR = 1e-6
LINE = 0.25
"""How thick a line is, in millimetres: it lies with its middle on that of the squares."""
SQUARES = {System.IMPERIAL: 25.4 / 4, System.METRIC: 5.0}
"""A quarter of an inch, or five millimetres: what the look is drawn on."""
WORDS = "Cut the card to size and score it twice, then turn it."


def block(name: str, words: str) -> Block:
    return Block(name, (monospaced(words),), 0.2)


def offer(steps: int, pictures: int = 1) -> PageOffer:
    shown = tuple(Rectangle(18.0, 90.0, 0.7 + 0.2 * number) for number in range(pictures))
    head = Item(block("head", "Drawer box"), (Rectangle(18.0, 200.0, 0.8),))
    asides = (Item(block("supplies", WORDS)), Item(block("cautions", WORDS)))
    items = tuple(Item(block(f"step-{number}", WORDS), shown) for number in range(1, steps + 1))
    return PageOffer(head, asides, items, (), Item(block("foot", "The Tuesday table")))


def laid(paper: Paper, steps: int, columns: int, pictures: int = 1, size_pt: float = 8.0) -> LaidPage:
    frame = Frame.of(paper, 4.0)
    page = shop_drawing(
        offer(steps, pictures), frame, Setting(size_pt * MM_PER_POINT, 0.0, frame.height), Heights(), columns
    )
    assert page and page.over <= HAIR
    return page


def lined(page: LaidPage) -> dict[str, PlacedArea]:
    """What has lines round it, by the middle of the lines."""
    return {
        name: PlacedArea(one.left + LINE / 2, one.top + LINE / 2, one.width - LINE, one.height - LINE)
        for name, one in page.grounds.items()
        if name.startswith(("panel", "title-block", "sheet"))
    }


def uneven(length: float, square: float) -> float:
    return abs(length / square - round(length / square))


@pytest.mark.parametrize("paper", PAPERS, ids=lambda one: one.slug)
@pytest.mark.parametrize("steps", [3, 4, 5])
def test_all_lines_lie_on_the_squares(paper: Paper, steps: int) -> None:
    # A small paper's lines may lie on quarters of a square.
    square = SQUARES[paper.system] / (4 if paper.small else 1)
    found = lined(laid(paper, steps, 2))
    sheet = found["sheet"]
    assert len(found) >= steps + 3
    for one in found.values():
        for length in (one.left - sheet.left, one.top - sheet.top, one.width, one.height):
            assert uneven(length, square) < 1e-3, one


@pytest.mark.parametrize(("paper", "columns"), [(LETTER, 3), (A4, 3), (FOUR_BY_SIX, 2)])
@pytest.mark.parametrize("steps", [3, 4, 5, 6])
def test_the_title_block_is_at_the_lower_right(paper: Paper, columns: int, steps: int) -> None:
    page = laid(paper, steps, columns)
    found = lined(page)
    sheet, title = found["sheet"], found["title-block"]
    assert title.left + title.width == pytest.approx(sheet.left + sheet.width)
    assert title.top + title.height == pytest.approx(sheet.top + sheet.height)
    assert page.head
    words = page.head.arranged
    assert title.left < words.words_left and words.words_left + words.words_width < title.left + title.width
    assert title.top < words.words_top and words.words_top + words.words_height < title.top + title.height + HAIR


@pytest.mark.parametrize("pictures", [1, 2])
@pytest.mark.parametrize("columns", [1, 2, 3])
def test_no_picture_lies_under_the_number_of_its_panel(columns: int, pictures: int) -> None:
    # The look sets it 1.6 ems of 1.1 of the type's size high and wide (themes/workbench/card.css).
    corner = 1.6 * 1.1 * 8.0 * MM_PER_POINT
    for one in laid(LETTER, 2 if columns == 1 else 3, columns, pictures).items[2:]:
        assert len(one.arranged.spots) == pictures
        assert all(spot.left > corner or spot.top > corner for spot in one.arranged.spots)


def test_pictures_that_have_no_room_over_their_words_stand_beside_them() -> None:
    roomy, tight = laid(LETTER, 4, 2), laid(HALF_LETTER, 8, 2)
    assert all(one.arranged.words_top > one.arranged.spots[0].top for one in roomy.items[2:])
    assert all(one.arranged.words_left > one.arranged.spots[0].left for one in tight.items[2:])


# --- any page ---------------------------------------------------------------------------------------------------------


@st.composite
def pages(draw: st.DrawFn) -> tuple[PageOffer, LaidPage] | None:
    """Any offer laid out, if it has room."""
    steps = tuple(draw(items(f"step-{number}", 40)) for number in range(1, draw(st.integers(2, 8))))
    plans = tuple(draw(st.lists(pictures(), min_size=1, max_size=2)))
    pieces = [replace(draw(items("pieces", 3)), pictures=plans)] * draw(st.booleans())
    hero = tuple(draw(st.lists(pictures(), max_size=1)))
    head = replace(draw(items("head", 20)), pictures=hero) if draw(st.booleans()) else None
    before = tuple(draw(items(name, 60, 0)) for name in ("supplies", "cautions")[: draw(st.integers(0, 2))])
    foot = Item(block("foot", "The Tuesday table")) if draw(st.booleans()) else None
    offered = PageOffer(head, (*before, *pieces), steps, (), foot)
    frame = Frame.of(draw(st.sampled_from(PAPERS)), 4.0)
    size, loose, grown = draw(st.sampled_from((8.0, 9.5))), draw(st.sampled_from((0.0, 0.7))), draw(st.floats(0.0, 2.0))
    setting = Setting(size * MM_PER_POINT, loose, frame.height, enlarged=grown)
    page = shop_drawing(offered, frame, setting, Heights(), draw(st.integers(1, 4)))
    return (offered, page) if page and page.over <= HAIR else None


def parts(one: Placed) -> Iterator[PlacedArea]:
    """The words of an item and its pictures, as they lie on the page."""
    arranged = one.arranged
    words = PlacedArea(arranged.words_left, arranged.words_top, arranged.words_width, arranged.words_height)
    for spot in (words, *arranged.spots):
        yield PlacedArea(one.left + spot.left, one.top + spot.top, spot.width, spot.height)


def apart(one: PlacedArea, other: PlacedArea) -> bool:
    across = max(one.left - other.left - other.width, other.left - one.left - one.width)
    return max(across, one.top - other.top - other.height, other.top - one.top - one.height) > -1e-3


def inside(one: PlacedArea, other: PlacedArea) -> bool:
    return (
        min(one.left - other.left, one.top - other.top) > -1e-3
        and one.left + one.width < other.left + other.width + 1e-3
        and one.top + one.height < other.top + other.height + 1e-3
    )


@given(pages())
def test_nothing_lies_over_anything_else_or_past_the_sheet(laid_out: tuple[PageOffer, LaidPage] | None) -> None:
    if laid_out is None:
        return
    _, page = laid_out
    placed = [*page.items, *(one for one in (page.head, page.foot) if one)]
    everything = [part for one in placed for part in parts(one)]
    assert all(inside(part, lined(page)["sheet"]) for part in everything)
    for one, other in combinations(everything, 2):
        assert apart(one, other), (one, other)


@given(pages())
def test_pictures_and_words_lie_in_the_panel_of_their_step(laid_out: tuple[PageOffer, LaidPage] | None) -> None:
    if laid_out is None:
        return
    offered, page = laid_out
    panels = [area for name, area in lined(page).items() if name.startswith("panel panel-")]
    drawn = [
        one
        for item, one in zip(offered.items, page.items, strict=True)
        if item.pictures or item.block.name.startswith("step-")
    ]
    assert len(panels) == len(drawn)
    for panel, one in zip(panels, drawn, strict=True):
        assert all(inside(part, panel) for part in parts(one))
