"""What fits on a page: whatever comes back stands in its frame, the largest that does, the first version that will."""

from __future__ import annotations

from bisect import bisect
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import Struct
from msgspec.structs import replace

from foldwright.render.paper import fitting
from foldwright.render.paper.arranging import LOOSE_LEADING, TIGHT_LEADING, Item, Setting, arrange, arrange_beside
from foldwright.render.paper.fitting import FOOT_PT, SIZES, Fitted, Frame, PageOffer, Placed, TooLong, fit
from foldwright.render.paper.measured import Block, Heights
from foldwright.render.paper.papers import PAPERS
from foldwright.render.units import MM_PER_POINT
from render.paper.blocks import items, monospaced

HAIR = 1e-5
# The ladder of sizes, and how wide columns may be, as they were agreed upon.
LADDER = (14, 12, 11, 10, 9.5, 9, 8.5, 8)
NARROWEST, WIDEST, MOST_COLUMNS = 13, 52, 4


class Case(Struct, frozen=True):
    versions: tuple[PageOffer, ...]
    frame: Frame


@st.composite
def cases(draw: st.DrawFn, most_items: int = 14) -> Case:
    """A page in one to four versions, each thinner than the one before."""
    paper = draw(st.sampled_from(PAPERS))
    margin = float(paper.margin_mm)
    frame = Frame(
        float(paper.width_mm) - 2 * margin, float(paper.height_mm) - 2 * margin, draw(st.sampled_from((4.0, 7.0)))
    )
    most_words = draw(st.sampled_from((10, 40, 150)))
    body = [draw(items(f"step-{number}", most_words)) for number in range(1, 1 + draw(st.integers(1, most_items)))]
    head = draw(items("head", 12, 1)) if draw(st.booleans()) else None
    foot = Block("foot", (monospaced("The Tuesday table harbourstreet.example"),), 0.4) if head else None
    versions = [PageOffer(head, tuple(body), foot, enough=draw(st.sampled_from((8.0, 9.0, 10.0))))]
    for enough in (9.0, 8.5, 8.0)[: draw(st.integers(0, 3))]:
        body = [Item(one.block, one.pictures[:-1]) for one in body if draw(st.booleans())] or body[:1]
        versions.append(PageOffer(head, tuple(body), foot, min(enough, versions[-1].enough)))
    return Case(tuple(versions), frame)


def places(found: Fitted) -> list[Placed]:
    return [one for one in (found.head, *found.items, found.foot) if one]


# --- a fitter of our own, which tries everything ----------------------------------------------------------------------


def fits_somehow(offer: PageOffer, frame: Frame, size: float) -> bool:
    """Whether the offer goes on the page at that size, tightly set, in any number of columns."""
    setting = Setting(size * MM_PER_POINT, 0.0, frame.height)
    heights = Heights()
    room = frame.height - head_and_foot(offer, frame, setting, heights)
    for number in range(1, MOST_COLUMNS + 1):
        column = (frame.width - frame.gutter * (number - 1)) / number
        if not NARROWEST <= column / setting.em <= WIDEST:
            continue
        arranged = [arrange(item, column, setting, heights) for item in offer.items]
        tall = [one.height if one else float("inf") for one in arranged]
        if stacks(tall, setting.gap, room) <= number:
            return True
    return False


def head_and_foot(offer: PageOffer, frame: Frame, setting: Setting, heights: Heights) -> float:
    taken = 0.0
    if offer.head:
        in_width = arrange_beside(offer.head, frame.width, setting, heights, 0.3) if offer.head.pictures else None
        head = in_width if offer.head.pictures else arrange(offer.head, frame.width, setting, heights)
        # A gap, and four tenths of an em for a rule.
        taken += head.height + setting.gap + 0.4 * setting.em if head else float("inf")
    if offer.foot:
        em = FOOT_PT * MM_PER_POINT
        taken += heights.of(offer.foot, frame.width / em, TIGHT_LEADING) * em + setting.em
    return taken


def stacks(tall: list[float], gap: float, room: float) -> float:
    """How many columns hold these things in their order, by trying every way to end one."""
    least = [0.0]
    for end in range(1, len(tall) + 1):
        ways = (
            least[start] + 1 for start in range(end) if sum(tall[start:end]) + gap * (end - start - 1) <= room + HAIR
        )
        least.append(min(ways, default=float("inf")))
    return least[-1]


# --- what must be true ------------------------------------------------------------------------------------------------


@given(cases())
def test_what_is_placed_stands_in_the_frame_and_nothing_on_anything(case: Case) -> None:
    found = fit(case.versions, case.frame)
    if isinstance(found, TooLong):
        return
    frame, offer = case.frame, case.versions[found.version]
    assert len(found.items) == len(offer.items)
    assert (found.head is None) is (offer.head is None) and (found.foot is None) is (offer.foot is None)
    assert found.size_pt in LADDER
    assert TIGHT_LEADING - HAIR <= found.leading <= LOOSE_LEADING + HAIR
    for one in places(found):
        assert one.left >= -HAIR and one.left + one.width <= frame.width + HAIR
        assert one.top >= -HAIR and one.top + one.arranged.height <= frame.height + HAIR
    for one, other in combinations(places(found), 2):
        apart = max(other.left - one.left - one.width, one.left - other.left - other.width)
        below = max(other.top - one.top - one.arranged.height, one.top - other.top - other.arranged.height)
        assert apart > 1 or below > 0.2 * found.size_pt * MM_PER_POINT


@given(cases())
def test_each_item_is_as_high_as_its_words_and_pictures_want(case: Case) -> None:
    found = fit(case.versions, case.frame)
    if isinstance(found, TooLong):
        return
    em = found.size_pt * MM_PER_POINT
    for item, one in zip(case.versions[found.version].items, found.items, strict=True):
        words = Heights().of(item.block, one.arranged.words_width / em, found.leading) * em
        assert one.arranged.words_height == pytest.approx(words)
        assert len(one.arranged.spots) == len(item.pictures)


@given(cases())
def test_it_is_read_down_the_column_and_then_the_next_to_the_right(case: Case) -> None:
    found = fit(case.versions, case.frame)
    if isinstance(found, TooLong):
        return
    lefts = sorted({one.left for one in found.items})
    assert len(lefts) == found.columns
    assert len({one.width for one in found.items}) == 1
    for one, after in pairwise(found.items):
        assert (after.left, after.top) > (one.left, one.top)
        if after.left > one.left:
            assert lefts.index(after.left) == lefts.index(one.left) + 1
    # All columns begin level.
    assert len({min(one.top for one in found.items if one.left == left) for left in lefts}) == 1


@settings(max_examples=60)
@given(cases())
def test_the_next_size_fits_in_no_number_of_columns(case: Case) -> None:
    found = fit(case.versions, case.frame)
    if isinstance(found, TooLong):
        for offer in case.versions:
            assert not any(fits_somehow(offer, case.frame, size) for size in LADDER)
        return
    offer = case.versions[found.version]
    assert fits_somehow(offer, case.frame, found.size_pt)
    for larger in LADDER[: LADDER.index(found.size_pt)]:
        assert not fits_somehow(offer, case.frame, larger)


@settings(max_examples=60)
@given(cases())
def test_the_first_version_that_reaches_its_size_is_taken_or_else_the_one_that_reads_largest(case: Case) -> None:
    found = fit(case.versions, case.frame)
    if isinstance(found, TooLong):
        return
    largest = [next((size for size in LADDER if fits_somehow(offer, case.frame, size)), 0) for offer in case.versions]
    reach = [number for number, offer in enumerate(case.versions) if largest[number] >= offer.enough]
    if not reach:
        assert found.version == largest.index(max(largest))
        return
    first, taken = (case.versions[number] for number in (reach[0], found.version))
    assert found.version in reach
    if taken is not first:
        # A fuller one would have left a hole whatever the number of columns.
        assert taken.pictures == first.pictures
        assert fitting._best_way(first, case.frame, largest[reach[0]], Heights()).hole > fitting._HOLE


@given(cases(), st.sampled_from(SIZES))
def test_a_side_may_be_kept_from_being_set_larger_than_another(case: Case, largest: float) -> None:
    found = fit(case.versions, case.frame, largest)
    if isinstance(found, Fitted):
        assert found.size_pt <= largest


@given(cases())
def test_the_same_page_is_fitted_in_the_same_way(case: Case) -> None:
    assert fit(case.versions, case.frame) == fit(case.versions, case.frame)


# --- when nothing fits ------------------------------------------------------------------------------------------------


@given(cases(most_items=30))
def test_what_is_too_long_tells_the_longest_blocks_of_its_thinnest_version(case: Case) -> None:
    found = fit(case.versions, case.frame)
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


def steps(words_each: int, count: int = 8) -> PageOffer:
    text = " ".join("fold" for _ in range(words_each))
    body = [Item(Block(f"step-{number}", (monospaced(text, 1.75),), 0.3)) for number in range(count)]
    return PageOffer(None, tuple(body), None)


@pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.slug)
@pytest.mark.parametrize("count", [1, 3, 8, 20])
def test_so_many_words_less_make_it_fit_about(paper: object, count: int) -> None:
    """Half as much again is enough, half of it is not, give or take a line a step: steps and lines stay whole."""
    margin = float(paper.margin_mm)
    frame = Frame(float(paper.width_mm) - 2 * margin, float(paper.height_mm) - 2 * margin, 5.0)
    longest = bisect(range(1, 2000), False, key=lambda words: isinstance(fit([steps(words, count)], frame), TooLong))
    for words in (longest + 5, round(longest * 1.1) + 1, longest * 2):
        found = fit([steps(words, count)], frame)
        assert isinstance(found, TooLong)
        missing = (words - longest) * count
        assert missing * 0.66 - 7 * count <= found.over <= missing * 1.5 + 10 * count, (words, longest)


def test_a_word_wider_than_any_column_is_named() -> None:
    block = Block("step-1", (monospaced("fold " + "a" * 300 + " fold"),), 0.0)
    found = fit([PageOffer(None, (Item(block),), None)], Frame(90.0, 130.0, 4.0))
    assert isinstance(found, TooLong)
    assert (found.over, found.too_wide, found.wide_word) == (0, "step-1", "a" * 300)


def test_a_title_with_a_word_wider_than_the_page_is_named() -> None:
    head = Block("head", (monospaced("a" * 300),), 0.0)
    found = fit([replace(steps(10), head=Item(head))], Frame(90.0, 130.0, 4.0))
    assert isinstance(found, TooLong)
    assert (found.too_wide, found.wide_word) == ("head", "a" * 300)


def unlike(*words: int) -> PageOffer:
    """Steps of so many words each."""
    texts = [" ".join("fold" for _ in range(count)) for count in words]
    body = (Block(f"step-{number}", (monospaced(text, 1.75),), 0.3) for number, text in enumerate(texts))
    return PageOffer(None, tuple(map(Item, body)), None)


def test_a_single_step_has_the_whole_width() -> None:
    found = fit([unlike(20)], Frame(190.0, 250.0, 7.0))
    assert isinstance(found, Fitted)
    assert (found.columns, found.items[0].width) == (1, 190.0)


@pytest.mark.parametrize("first", range(20, 280, 20))
def test_columns_that_leave_a_hole_are_taken_only_where_there_is_no_other_way(first: int) -> None:
    """At 14 points one column holds both steps as well, with no hole (a third is one: common practice)."""
    found = fit([unlike(first, 160)], Frame(240.0, 160.0, 7.0))
    assert isinstance(found, Fitted)
    heights = [one.arranged.height for one in found.items]
    assert found.columns == 1 or min(heights) >= 0.66 * max(heights)
