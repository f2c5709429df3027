"""In which order pieces are folded, against what packers and paper folders do (common practice, no source)."""

from __future__ import annotations

import pytest

from foldwright.geometry.folding.folded import tree_of
from foldwright.geometry.folding.net import Net
from foldwright.geometry.folding.order import FoldOrder, order_of
from foldwright.geometry.folding.said import order_in_words
from foldwright.pipeline import check_recipe
from geometry.folding.shapes import net_of_piece


def groups(net: Net, order: FoldOrder) -> list[set[frozenset[str]]]:
    """The names of the panels on both sides of every crease, group by group."""
    creases = [[net.creases[at] for at in group] for group in order.groups]
    return [{frozenset((net.panels[one.one].name, net.panels[one.other].name)) for one in group} for group in creases]


def test_walls_with_flaps_are_folded_before_those_that_go_over_them() -> None:
    net = net_of_piece(
        "size: 100 x 130 mm\nacross: 20 left | 60 floor | 20 right\ndown: 20 back | 90 floor | 20 front\n"
        "flaps: joined to left and right\nfold: tray"
    )
    first, second = groups(net, order_of(net, "tray"))
    assert first == {
        frozenset(pair) for pair in (("left", "floor"), ("right", "floor"), ("flap", "left"), ("flap", "right"))
    }
    assert second == {frozenset(("back", "floor")), frozenset(("front", "floor"))}


def test_flaps_that_are_stuck_outside_come_last() -> None:
    net = net_of_piece(
        "size: 100 x 130 mm\nacross: 20 left | 60 floor | 20 right\ndown: 20 back | 90 floor | 20 front\n"
        "flaps: joined to left and right, outside\nfold: tray"
    )
    first, second = groups(net, order_of(net, "tray", outside=True))
    assert first == {frozenset(("back", "floor")), frozenset(("front", "floor"))} and len(second) == 4


def test_a_tube_is_closed_at_once() -> None:
    net = net_of_piece("size: 190 x 85 mm\nacross: 62 | 27 | 62 | 27 | 12 glue flap\nfold: sleeve")
    order = order_of(net, "sleeve")
    assert len(order.groups) == 1 and len(order.row) == 5 and not any(order.ends)


def test_leaves_that_would_lie_on_one_another_are_folded_in_turn_and_others_at_once() -> None:
    letter = net_of_piece("size: 297 x 210 mm\nacross: 99 left | 100 middle | 98 right\nfold: tri-fold")
    assert groups(letter, order_of(letter, "tri-fold")) == [
        {frozenset(("middle", "right"))},
        {frozenset(("left", "middle"))},
    ]
    gate = net_of_piece("size: 200 x 100 mm\nacross: 50 left | 100 middle | 50 right\nfold: gate")
    assert len(order_of(gate, "gate").groups) == 1


def test_an_envelope_is_shut_from_the_sides_and_its_top_comes_last() -> None:
    net = net_of_piece(
        "size: 200 x 250 mm\nacross: 20 left | rest body | 20 right\ndown: 60 top | rest body | 90 bottom\n"
        "corners: cut away\nfold: envelope"
    )
    moved = [{name for pair in group for name in pair} - {"body"} for group in groups(net, order_of(net, "envelope"))]
    assert moved == [{"left", "right"}, {"bottom"}, {"top"}]


def test_its_author_has_the_last_word() -> None:
    net = net_of_piece("size: 297 x 210 mm\nacross: 99 left | 100 middle | 98 right\nfold: tri-fold")
    said = order_of(net, "tri-fold", said=(("left",), ("right",)))
    assert groups(net, said) == [{frozenset(("left", "middle"))}, {frozenset(("middle", "right"))}]


def test_a_pocket_is_folded_up_before_the_leaves_which_bend_it_the_other_way() -> None:
    """A sheet folded twice over has, where the folds cross, three folds one way and one the other (Maekawa's theorem:
    mountains and valleys at a flat-folded corner differ by two), and folded so it does not tear."""
    net = net_of_piece(
        "size: 300 x 260 mm\nacross: 100 left | 100 middle | 100 right\ndown: 200 page | 60 pocket\nfold: 180, 180, 180"
    )
    order = order_of(net)
    sources = [{net.creases[at].source.side for at in group} for group in order.groups]
    assert sources[0] == {"down"} and all(side == {"across"} for side in sources[1:])
    for number in (1, 2):
        corner = [order.angles[at] for at, one in enumerate(net.creases) if _ends_at(one, (100.0 * number, 200.0))]
        assert sorted(corner) in ([-180.0, 180.0, 180.0, 180.0], [-180.0, -180.0, -180.0, 180.0])
    at = {id(crease): number for number, crease in enumerate(net.creases)}
    assert tree_of(net).folded(lambda crease: order.angles[at[id(crease)]]).opened == ()


def _ends_at(crease: object, place: tuple[float, float]) -> bool:
    return any(end == pytest.approx(place) for end in (crease.start, crease.end))  # type: ignore[attr-defined]


def test_the_words_of_a_step_may_tell_the_order() -> None:
    words = "Fold the pocket up. Then fold the right leaf over it, and last the left leaf."
    assert _order_told("200 page | 60 pocket", words) == (("pocket",), ("right",), ("left",))
    assert _order_told("200 page | 60 pocket", "Fold the pocket and the left leaf, from left to right.") == ()


def _order_told(down: str, words: str) -> tuple[tuple[str, ...], ...]:
    text = (
        "---\ntitle: A\nmakes: 1 a\nmeasured in: millimetres\nsupplies:\n  card: cardstock, sheet A3\ntools: scissors\n"
        f"pieces:\n  folder:\n    from: card\n    size: 300 x 260 mm\n    across: 3 of 100\n    down: {down}\n"
        f"    fold: 180, 180, 180\n---\n## Fold\ndo: fold folder\n\n{words}\n"
    )
    known = check_recipe(text, "recipe.md", "a").understood
    assert known is not None
    return order_in_words(known.flat.blanks[0], known.recipe.steps)


def test_the_two_sides_of_what_is_turned_in_are_folded_together_and_then_its_two_ends() -> None:
    """As bookbinders do it, two edges that face each other after the other two (from memory)."""
    net = net_of_piece("fold: turned in, 15 mm\nfinished: 80 x 110 mm")
    order = order_of(net, "turned in")
    assert len(order.groups) == 2
    ways = [{abs(net.creases[at].start[0] - net.creases[at].end[0]) < 1e-6 for at in group} for group in order.groups]
    assert ways == [{False}, {True}]
    narrow = net_of_piece("size: 300 x 260 mm\nacross: 3 of 100\ndown: 200 page | 60 pocket\nfold: 180, 180, 180")
    assert len(order_of(narrow).groups) == 3
