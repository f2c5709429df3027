"""Things on pages: nothing over the edge, nothing over another, everything in its order."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.render.paper.flowing import Flow, FlowingThing, flow

ROOM, GAP = 100.0, 4.0


def test_things_follow_one_another_and_go_on_over_the_page():
    found = flow([FlowingThing(40), FlowingThing(30), FlowingThing(30)], GAP, ROOM)
    assert [(stand.page, stand.before) for stand in found.stands] == [(0, 0.0), (0, GAP), (1, 0.0)]
    assert (found.pages, found.spare, found.blank) == (2, 70.0, pytest.approx(26.0))


def test_a_picture_reaches_down_beside_the_next_words():
    found = flow([FlowingThing(20, beside=50), FlowingThing(20), FlowingThing(10, broad=True)], GAP, ROOM)
    # The third takes both columns, so that it stands under the picture: 10 more than the words would have it.
    assert [stand.before for stand in found.stands] == [0.0, GAP, 10.0]
    assert found.spare == pytest.approx(100 - 50 - GAP - 10)


def test_a_picture_in_the_way_moves_the_next_one_down_its_words_and_no_further():
    pictures = [FlowingThing(20, beside=40), FlowingThing(20, beside=30)]
    second = flow(pictures, GAP, ROOM).stands[1]
    # The words could begin at 24, the picture at 44 only: half of 20 down the words, which move down to 34 for it.
    assert (second.before, second.lower) == (pytest.approx(14.0), pytest.approx(10.0))


def test_words_alone_are_as_wide_as_the_page_only_where_no_picture_is():
    things = [
        FlowingThing(30, alone=20),
        FlowingThing(20, beside=50),
        FlowingThing(30, alone=20),
        FlowingThing(30, alone=20),
    ]
    assert [stand.alone for stand in flow(things, GAP, ROOM).stands] == [True, False, False, True]


def test_a_thing_higher_than_a_page_is_broken_and_leaves_its_last_page_to_itself():
    found = flow([FlowingThing(10), FlowingThing(150), FlowingThing(10)], GAP, ROOM)
    assert [(stand.page, stand.broken) for stand in found.stands] == [(0, False), (1, True), (3, False)]
    assert found.broken


_THINGS = st.lists(
    st.builds(
        FlowingThing,
        st.floats(1, ROOM),
        st.one_of(st.just(0.0), st.floats(1, ROOM)),
        st.booleans(),
        st.one_of(st.none(), st.floats(1, 20)),
    ).map(lambda thing: FlowingThing(thing.height, 0.0 if thing.broad else thing.beside, thing.broad)),
    min_size=1,
    max_size=15,
)


@given(_THINGS)
def test_nothing_lies_over_another_or_over_the_edge(things: list[FlowingThing]):
    found = flow(things, GAP, ROOM)
    words: dict[int, float] = {}
    pictures: dict[int, float] = {}
    last = 0
    for thing, stand in zip(things, found.stands, strict=True):
        assert stand.page in (last, last + 1)
        last = stand.page
        assert stand.before >= 0 and 0 <= stand.lower <= thing.height / 2 + 1e-9
        top = words.get(stand.page, 0.0) + stand.before
        if thing.broad or thing.beside:
            assert top + stand.lower >= pictures.get(stand.page, 0.0)
        words[stand.page] = top + thing.height
        if thing.broad or thing.beside:
            pictures[stand.page] = top + stand.lower + (thing.height if thing.broad else thing.beside)
        assert max(words[stand.page], pictures.get(stand.page, 0.0)) <= ROOM + 1e-6
    assert found.pages == last + 1
    assert found.spare == pytest.approx(max(0.0, ROOM - max(words[last], pictures.get(last, 0.0))))


@given(_THINGS)
def test_more_room_never_takes_more_pages_than_one_thing_each(things: list[FlowingThing]):
    def pages(of: Flow) -> int:
        return of.pages

    assert 1 <= pages(flow(things, GAP, ROOM)) <= len(things)
    assert pages(flow(things, GAP, 10_000.0)) == 1
