"""Things in rooms: against hand arithmetic, puzzles with known answers, and an overlap check of this file's own."""

from __future__ import annotations

import random
import time
from fractions import Fraction
from itertools import combinations, permutations
from math import prod

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.pack.model import Answer, Packing, Size, Thing
from foldwright.pack.packing import most_that_go_in, pack
from workbench.long import tries

F = Fraction


def thing(a: object, b: object, c: object, upright: bool = False) -> Thing:
    return Thing((F(str(a)), F(str(b)), F(str(c))), upright)


def room(a: object, b: object, c: object) -> Size:
    return F(str(a)), F(str(b)), F(str(c))


def assert_sound(packing: Packing, things: list[Thing], space: Size) -> None:
    """Every thing once, inside, lying as it may, and any two apart in some direction."""
    assert sorted(one.thing for one in packing.laid) == list(range(len(things)))
    for one in packing.laid:
        own = things[one.thing]
        assert sorted(one.size) == sorted(own.size)
        assert not own.upright or one.size[2] == own.size[2]
        assert all(at >= 0 and at + long <= wide for at, long, wide in zip(one.at, one.size, space, strict=True))
    for one, other in combinations(packing.laid, 2):
        assert any(
            one.at[axis] + one.size[axis] <= other.at[axis] or other.at[axis] + other.size[axis] <= one.at[axis]
            for axis in range(3)
        )


def test_sweets_on_edge_end_to_end() -> None:
    """Three of 1 1/8 x 3/4 x 1/2 in in a tray 3.444 x 0.72 x 0.74 in: not flat (3/4 is more than 0.72), but on edge,
    1/2 across... and 3/4 high is more than 0.74; in walls of 1.75 they stand (by hand)."""
    sweets = [thing("1.125", "0.75", "0.5")] * 3
    assert pack(sweets, room("3.444", "0.72", "0.74")).answer is Answer.DOES_NOT
    high = pack(sweets, room("3.444", "0.72", "1.75"))
    assert high.answer is Answer.GOES_IN
    assert_sound(high, sweets, room("3.444", "0.72", "1.75"))
    on_edge = pack(sweets, room("3.444", "0.52", "0.76"))
    assert on_edge.left == (F("0.069"), F("0.02"), F("0.01"))


def test_what_is_missing_is_told_in_the_one_direction_that_would_do() -> None:
    """Two layers of 20 mm where there are 36.8: two fit, three do not."""
    blocks = [thing(60, 40, 20)] * 3
    space = room(62, 42, "56.8")
    assert pack(blocks[:2], space).answer is Answer.GOES_IN
    three = pack(blocks, space)
    assert three.answer is Answer.DOES_NOT and three.short == (2, F("3.2"))
    assert most_that_go_in(blocks[0], 3, space) == 2
    assert pack(blocks, room(62, 42, 60)).answer is Answer.GOES_IN


def test_what_stands_upright_is_not_laid_on_its_side() -> None:
    bottle = thing(20, 20, 60, upright=True)
    assert pack([bottle], room(70, 30, 30)).answer is Answer.DOES_NOT
    assert pack([thing(20, 20, 60)], room(70, 30, 30)).answer is Answer.GOES_IN


def test_the_nine_pieces_that_fill_a_cube_of_three() -> None:
    """Six 1 x 2 x 2 and three single cubes fill 3 x 3 x 3, though no row or layer does it (the puzzle of Slothouwer and
    Graatsma, from memory). A tenth piece does not go in: there is no volume left."""
    pieces = [thing(1, 2, 2)] * 6 + [thing(1, 1, 1)] * 3
    packing = pack(pieces, room(3, 3, 3))
    assert packing.answer is Answer.GOES_IN and packing.left == (0, 0, 0)
    assert_sound(packing, pieces, room(3, 3, 3))
    assert pack([*pieces, thing(1, 1, 1)], room(3, 3, 3)).answer is Answer.DOES_NOT


def test_where_no_way_is_found_and_none_ruled_out_it_says_so() -> None:
    """27 blocks of 4 x 5 x 6 do go into a cube of 15 (Hoffman's puzzle, from memory), in a way that is hard to find:
    that they do not must never be claimed."""
    packing = pack([thing(4, 5, 6)] * 27, room(15, 15, 15))
    assert packing.answer is not Answer.DOES_NOT


def sawn(seed: int, count: int) -> list[Thing]:
    """So many blocks sawn from one of 120 x 90 x 60."""
    luck, pieces = random.Random(seed), [(120, 90, 60)]
    while len(pieces) < count:
        at = luck.randrange(len(pieces))
        axis = luck.choice([axis for axis in range(3) if pieces[at][axis] > 1])
        near, far = list(pieces[at]), list(pieces[at])
        near[axis] = luck.randrange(1, pieces[at][axis])
        far[axis] -= near[axis]
        pieces[at : at + 1] = [(near[0], near[1], near[2]), (far[0], far[1], far[2])]
    return [thing(*piece) for piece in pieces]


@pytest.mark.parametrize("count", [7, 9, 12])
@pytest.mark.parametrize("seed", range(4))
def test_more_pieces_than_can_be_tried_in_every_way_still_go_back_into_their_block(seed: int, count: int) -> None:
    things, space = sawn(seed, count), room(120, 90, 60)
    packing = pack(things, space)
    assert packing.answer is Answer.GOES_IN
    assert_sound(packing, things, space)


def test_kinds_by_the_dozen_lie_in_blocks() -> None:
    things = [thing(20, 30, 40)] * 100 + [thing(13, 17, 19)] * 100
    packing = pack(things, room(200, 200, 90))
    assert packing.answer is Answer.GOES_IN
    assert_sound(packing, things, room(200, 200, 90))


def test_the_answer_does_not_hang_on_how_quick_the_machine_is(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing in the room for packing looks at a clock: with every clock taken away the answers are the same."""
    cases = [([thing(4, 5, 6)] * 27, room(15, 15, 15)), (sawn(5, 20), room(120, 90, 60))]
    before = [pack(*case) for case in cases]
    for name in ("time", "monotonic", "perf_counter", "process_time", "thread_time"):
        monkeypatch.delattr(time, name)
    after = [pack(*case) for case in cases]
    monkeypatch.undo()
    assert before == after


def test_thousands_of_things_alike_are_counted_not_tried() -> None:
    things = [thing(1, 1, 1)] * 4000
    assert pack(things, room(20, 20, 10)).answer is Answer.GOES_IN
    assert pack(things, room(20, 20, "9.5")).answer is Answer.DOES_NOT


lengths = st.integers(2, 80).map(lambda number: F(number, 2))


@settings(max_examples=tries(40, 120))
@given(st.data(), st.tuples(lengths, lengths, lengths))
def test_pieces_sawn_from_a_block_go_back_into_its_room(data: st.DataObject, block: Size) -> None:
    pieces = [block]
    for _ in range(data.draw(st.integers(0, 4))):
        number = data.draw(st.integers(0, len(pieces) - 1))
        axis = data.draw(st.integers(0, 2))
        whole = pieces[number]
        at = whole[axis] * data.draw(st.sampled_from([F(1, 4), F(1, 3), F(1, 2), F(2, 3)]))
        one, other = list(whole), list(whole)
        one[axis], other[axis] = at, whole[axis] - at
        pieces[number : number + 1] = [(one[0], one[1], one[2]), (other[0], other[1], other[2])]
    things = [Thing(data.draw(st.sampled_from(Thing(piece).ways))) for piece in pieces]
    packing = pack(things, block)
    assert packing.answer is not Answer.DOES_NOT
    if packing.answer is Answer.GOES_IN:
        assert_sound(packing, things, block)
        assert packing.left == (0, 0, 0)


@settings(max_examples=tries(100, 200))
@given(st.tuples(lengths, lengths, lengths), st.integers(1, 12), st.tuples(lengths, lengths, lengths))
def test_things_alike_against_every_row_and_layer(size: Size, count: int, space: Size) -> None:
    """A plain count of rows and layers, way by way; what it finds must go in, and what goes in must be sound."""
    things = [Thing(size)] * count
    plain = any(
        prod(int(wide // long) for wide, long in zip(space, way, strict=True)) >= count for way in permutations(size)
    )
    packing = pack(things, space)
    assert not plain or packing.answer is Answer.GOES_IN
    if packing.answer is Answer.GOES_IN:
        assert_sound(packing, things, space)
    if packing.short is not None:
        axis, missing = packing.short
        grown = list(space)
        grown[axis] += missing
        assert pack(things, (grown[0], grown[1], grown[2])).answer is Answer.GOES_IN


@pytest.mark.parametrize("count", [1, 5])
def test_more_than_the_room_never_goes_in(count: int) -> None:
    assert pack([thing(10, 10, 10)] * (count + 1), room(10, 10, 10 * count)).answer is Answer.DOES_NOT
