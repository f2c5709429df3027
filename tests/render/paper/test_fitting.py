"""What fits on a page, in each composition: it stands in its frame, pictures lead, the first good version is taken."""

from __future__ import annotations

from bisect import bisect
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import Struct
from msgspec.structs import replace

from foldwright.render.paper.arranging import LOOSE_LEADING, TIGHT_LEADING, Item
from foldwright.render.paper.compositions.page import Compose, Frame, LaidPage, PageOffer, Placed
from foldwright.render.paper.compositions.table import COMPOSE
from foldwright.render.paper.fitting import Fitted, TooLong, fit, ladder
from foldwright.render.paper.measured import Block, Heights
from foldwright.render.paper.papers import PAPERS, Paper
from foldwright.render.themes import Composition
from foldwright.render.units import MM_PER_POINT
from render.paper.blocks import Rectangle, items, monospaced
from workbench.long import tries

HAIR = 1e-4
FIFTH = 0.2
MOST_COLUMNS = 4


class Case(Struct, frozen=True):
    paper: Paper
    versions: tuple[PageOffer, ...]
    frame: Frame


@st.composite
def cases(draw: st.DrawFn, most_items: int = 10) -> Case:
    """A page in one to three versions, each thinner than the one before."""
    paper = draw(st.sampled_from(PAPERS))
    frame = Frame.of(paper, draw(st.sampled_from((4.0, 7.0))))
    most_words = draw(st.sampled_from((10, 40, 90)))
    steps = [draw(items(f"step-{number}", most_words, 2)) for number in range(1, 1 + draw(st.integers(1, most_items)))]
    asides = [draw(items(name, 30, 0)) for name in ("supplies", "tools", "cautions")[: draw(st.integers(0, 3))]]
    hero = (Rectangle(18.0, 200.0, draw(st.sampled_from((0.6, 0.8, 1.2)))),) if draw(st.booleans()) else ()
    head = Item(draw(items("head", 12, 0)).block, hero) if draw(st.booleans()) else None
    foot = Item(Block("foot", (monospaced("The Tuesday table harbourstreet.example"),), 0.4)) if head else None
    share = draw(st.sampled_from((0.0, 0.2)))
    versions = [PageOffer(head, tuple(asides), tuple(steps), (), foot, share)]
    for _ in range(draw(st.integers(0, 2))):
        steps = [Item(one.block, one.pictures[:-1]) for one in steps]
        versions.append(PageOffer(head, tuple(asides[:1]), tuple(steps), (), foot, 0.0))
    return Case(paper, tuple(versions), frame)


compositions = st.sampled_from(list(Composition))


def fitted(case: Case, composition: Composition) -> Fitted | TooLong:
    return fit(case.versions, case.frame, COMPOSE[composition], case.paper.sizes_pt, case.paper.last_pt)


def places(page: LaidPage) -> list[Placed]:
    return [one for one in (*page.items, page.foot) if one]


# --- what must be true ------------------------------------------------------------------------------------------------


@settings(max_examples=tries(20, 100))
@given(cases(), compositions)
def test_what_is_placed_stands_in_the_frame_and_nothing_on_anything(case: Case, composition: Composition) -> None:
    found = fitted(case, composition)
    if isinstance(found, TooLong):
        return
    page, frame, offer = found.page, case.frame, case.versions[found.version]
    assert len(page.items) == len(offer.items)
    assert (page.head is None) is (offer.head is None) and (page.foot is None) is (offer.foot is None)
    assert found.size_pt in (*case.paper.sizes_pt, *case.paper.last_pt)
    assert TIGHT_LEADING - HAIR <= found.leading <= LOOSE_LEADING + HAIR
    rooms = [room for one in places(page) for room in parts(one)] + (parts(page.head) if page.head else [])
    for left, top, right, bottom in rooms:
        assert left >= -HAIR and right <= frame.width + HAIR
        assert top >= -HAIR and bottom <= frame.height + HAIR
    for one, other in combinations(rooms, 2):
        assert (
            one[0] >= other[2] - HAIR
            or other[0] >= one[2] - HAIR
            or one[1] >= other[3] - HAIR
            or (other[1] >= one[3] - HAIR)
        )


def parts(one: Placed) -> list[tuple[float, float, float, float]]:
    """The words of an item and each of its pictures, as left, top, right and bottom."""
    arranged = one.arranged
    left, top = one.left + arranged.words_left, one.top + arranged.words_top
    words = (left, top, left + arranged.words_width, top + arranged.words_height)
    pictures = [
        (one.left + spot.left, one.top + spot.top, one.left + spot.left + spot.width, one.top + spot.top + spot.height)
        for spot in arranged.spots
    ]
    return [words, *pictures] if arranged.words_height else pictures


@settings(max_examples=tries(20, 100))
@given(cases(), compositions)
def test_words_have_the_height_they_want_and_every_picture_its_place(case: Case, composition: Composition) -> None:
    found = fitted(case, composition)
    if isinstance(found, TooLong):
        return
    em = found.size_pt * MM_PER_POINT
    for item, one in zip(case.versions[found.version].items, found.page.items, strict=True):
        words = Heights().of(item.block, one.arranged.words_width / em, found.leading) * em
        assert one.arranged.words_height >= words - HAIR
        assert len(one.arranged.spots) == len(item.pictures)
        for picture, spot in zip(item.pictures, one.arranged.spots, strict=True):
            assert spot.width >= picture.least_mm - HAIR
            assert spot.height == pytest.approx(picture.height_at(spot.width))


@settings(max_examples=tries(20, 100))
@given(cases(), compositions)
def test_the_finished_thing_has_a_fifth_of_the_paper(case: Case, composition: Composition) -> None:
    """Unless it is so broad that it would be wider than its place."""
    found = fitted(case, composition)
    if isinstance(found, TooLong) or not found.page.head or not found.page.head.arranged.spots:
        return
    (spot,) = found.page.head.arranged.spots
    assert spot.height >= FIFTH * float(case.paper.height_mm) or spot.width > 0.4 * case.frame.width


@settings(max_examples=tries(12, 60))
@given(cases(), compositions)
def test_the_same_page_is_fitted_in_the_same_way(case: Case, composition: Composition) -> None:
    assert fitted(case, composition) == fitted(case, composition)


def fits_somewhere(offer: PageOffer, case: Case, compose: Compose, size: float) -> bool:
    """Whether the offer goes on the page at that size with small pictures, tightly set, in any number of columns."""
    tight = replace(ladder((size,))[0], size_pt=size).setting(case.frame)
    pages = (compose(offer, case.frame, tight, Heights(), number) for number in range(1, MOST_COLUMNS + 1))
    return any(page is not None and page.over <= HAIR for page in pages)


@settings(max_examples=tries(12, 60))
@given(cases(most_items=16), compositions)
def test_nothing_that_fits_is_refused(case: Case, composition: Composition) -> None:
    """Tried anew in the columns in which a line has some thirteen to sixty ems."""
    found = fitted(case, composition)
    if isinstance(found, Fitted):
        return
    smallest = case.paper.smallest_pt
    em = smallest * MM_PER_POINT
    for number in range(1, MOST_COLUMNS + 1):
        if not 13 <= case.frame.column(number) / em <= 62:
            continue
        tight = ladder((smallest,))[0].setting(case.frame)
        for offer in case.versions:
            page = COMPOSE[composition](offer, case.frame, tight, Heights(), number)
            assert page is None or page.over > 0


@settings(max_examples=tries(12, 60))
@given(cases(), compositions)
def test_a_fuller_version_that_shows_enough_is_not_passed_over(case: Case, composition: Composition) -> None:
    found = fitted(case, composition)
    if isinstance(found, TooLong):
        return
    for offer in case.versions[: found.version]:
        # It fits nowhere in the usual sizes, shows too little there, or leaves a hole in its columns.
        rungs = ladder(case.paper.sizes_pt)
        for number in range(1, MOST_COLUMNS + 1):
            page = COMPOSE[composition](offer, case.frame, rungs[0].setting(case.frame), Heights(), number)
            if page and page.over <= 0 and 13 <= case.frame.column(number) / (rungs[0].size_pt * MM_PER_POINT) <= 62:
                alone = fit([replace(offer, enough=0.0)], case.frame, COMPOSE[composition], case.paper.sizes_pt)
                assert isinstance(alone, Fitted)
                share = alone.page.pictured / (case.frame.width * case.frame.height)
                assert share < offer.enough or alone.page.hole > 0.3


# --- a ladder ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.slug)
def test_type_grows_only_after_pictures_have(paper: Paper) -> None:
    rungs = ladder(paper.sizes_pt)
    small = [rung for rung in rungs if rung.enlarged < 1]
    assert {rung.size_pt for rung in small} == {paper.sizes_pt[0]}
    sizes = [rung.size_pt for rung in rungs]
    assert sizes == sorted(sizes) and {*sizes} == {*paper.sizes_pt}


@pytest.mark.parametrize("composition", list(Composition))
def test_a_step_picture_takes_two_fifths_of_its_column(composition: Composition) -> None:
    """Those of an even shape; a tall one may be narrower, lest it fill the page."""
    case = Case(PAPERS[0], (), Frame.of(PAPERS[0], 7.0))
    steps = tuple(
        Item(Block(f"step-{number}", (monospaced("fold " * 12, 1.75),), 0.3), (Rectangle(15.0, 200.0, 0.7),))
        for number in range(1, 7)
    )
    head = Item(Block("head", (monospaced("A box"),), 0.3), (Rectangle(15.0, 200.0, 0.8),))
    offer = PageOffer(head, (), steps, (), None)
    found = fit([offer], case.frame, COMPOSE[composition], case.paper.sizes_pt)
    assert isinstance(found, Fitted)
    for one in found.page.items:
        assert one.arranged.spots[0].width >= 0.4 * one.width - 2.0


# --- when nothing fits ------------------------------------------------------------------------------------------------


@settings(max_examples=tries(12, 60))
@given(cases(most_items=24), compositions)
def test_what_is_too_long_tells_the_longest_blocks_of_its_thinnest_version(
    case: Case, composition: Composition
) -> None:
    found = fitted(case, composition)
    if isinstance(found, Fitted):
        return
    last = case.versions[-1]
    counted = {item.block.name: item.block.words for item in last.items}
    assert [words for _, words in found.longest] == sorted(counted.values(), reverse=True)[:3]
    assert all(counted[name] == words for name, words in found.longest)
    if found.too_wide:
        assert found.over == 0 and found.wide_word
    else:
        assert 1 <= found.over <= sum(counted.values())


def wordy(words_each: int, count: int = 8) -> PageOffer:
    text = " ".join("fold" for _ in range(words_each))
    steps = tuple(Item(Block(f"step-{number}", (monospaced(text, 1.75),), 0.3)) for number in range(count))
    return PageOffer(None, (), steps, (), None)


@pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.slug)
@pytest.mark.parametrize("count", [1, 3, 8, 20])
def test_so_many_words_less_make_it_fit_about(paper: Paper, count: int) -> None:
    """Half as much again is enough, half of it is not, give or take a line a step: steps and lines stay whole."""
    frame = Frame.of(paper, 5.0)

    def tried(words: int) -> Fitted | TooLong:
        return fit([wordy(words, count)], frame, COMPOSE[Composition.HOUSEHOLD_BOOK], paper.sizes_pt, paper.last_pt)

    longest = bisect(range(1, 2000), False, key=lambda words: isinstance(tried(words), TooLong))
    for words in (longest + 5, round(longest * 1.1) + 1, longest * 2):
        found = tried(words)
        assert isinstance(found, TooLong)
        missing = (words - longest) * count
        assert missing * 0.66 - 7 * count <= found.over <= missing * 1.5 + 10 * count, (words, longest)


@pytest.mark.parametrize("composition", list(Composition))
def test_a_word_wider_than_any_column_is_named(composition: Composition) -> None:
    block = Block("step-1", (monospaced("fold " + "a" * 300 + " fold"),), 0.0)
    offer = PageOffer(None, (), (Item(block),), (), None)
    found = fit([offer], Frame(90.0, 130.0, 4.0, 140.0), COMPOSE[composition], (8.0,))
    assert isinstance(found, TooLong)
    assert (found.over, found.too_wide, found.wide_word) == (0, "step-1", "a" * 300)


@pytest.mark.parametrize("composition", list(Composition))
def test_a_title_with_a_word_wider_than_the_page_is_named(composition: Composition) -> None:
    head = Block("head", (monospaced("a" * 300),), 0.0)
    offer = replace(wordy(10), head=Item(head))
    found = fit([offer], Frame(90.0, 130.0, 4.0, 140.0), COMPOSE[composition], (8.0,))
    assert isinstance(found, TooLong)
    assert (found.too_wide, found.wide_word) == ("head", "a" * 300)
