"""One supply in several recipes: what they agree on is shared, what differs is bought apart, and order is nothing."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from event.plan.events import making_of, recipe_text
from foldwright.event.facts.stock import ShelfLine, read_stock
from foldwright.event.plan.model import Making, Wishes
from foldwright.event.plan.planning import Event, plan_event
from foldwright.event.plan.supplies import allergens_united, key_of, supplies_of
from foldwright.measure.length import System
from foldwright.recipe.hazards import allergens_named


@cache
def made(supplies: str, kits: int = 10, title: str = "Alpha", size: str = "100 x 140 mm") -> Making:
    text = recipe_text(supplies, title=title, pieces=f"  p:\n    from: card\n    size: {size}\n")
    return making_of(text, kits, title.lower())


def planned(*makings: Making, shelf: str = "") -> Event:
    lines = read_stock(shelf, "stock.yaml")[0].lines if shelf else ()
    owned: dict[str, ShelfLine] = {line.name.value.casefold(): line for line in lines}
    return plan_event(makings, Wishes(System.METRIC), owned, {})


def lines(event: Event) -> dict[str, tuple[object, ...]]:
    """What stands on every line, by its name: nothing of the order of recipes is left in it."""
    slugs = [making.understood.recipe.slug for making in event.makings]
    return {
        f"{line.supply.name.value}, {line.colour}".strip(", "): (
            line.needed, line.unit, line.why, [(one.pack, one.count) for one in line.bought], line.left_over, line.had,
            line.cost.used_up, line.cost.to_buy, sorted(slugs[number] for number in line.recipes),
            line.supply.optional, [said.value for said in line.supply.contains], line.stand_in,
        )
        for line in event.shopping
    }  # fmt: skip


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("bead: beads, use 3, pack 10 at 5.00", "bead: beads, use 2"),
        ("bead: beads, use 3, pack 10 at 5.00", "Beads: bead, use 2, pack 10"),
        ("bead: use 3, pack 10 beads at 5.00", "bead: beads, use 2, pack 10 at 5.0"),
        ("bead: beads, use 3, pack 10 at 5.00 or 50 at 20.00", "bead: beads, use 2, pack 50"),
        ("bead: beads, use 3, pack 10 at 5.00, optional", "bead: beads, use 2, pack 10 at 5.00"),
        ("tape: tape, width 6 mm, use 30 cm, pack 10 m at 3.00", "tape: tape, use 1 m, width 0.6 cm, pack 1000 cm"),
        ("sand: filler, use 10 g, pack 1 kg at 2.00", "sand: filler, use 20 g, pack 1000 g at 2.00"),
        ("red bead: use 3, colour red, pack 10 at 5.00", "red bead: use 3, pack 10"),
        ("cord: twine, thickness 12 pt, use 1 m, pack 20 m", "cord: twine, thickness 0.3 mm, use 1 m"),
    ],
)
def test_what_agrees_is_bought_together(one: str, other: str) -> None:
    event = planned(made(one), made(other, title="Beta"))
    assert [len(line.recipes) for line in event.shopping] == [2, 2], lines(event)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("bead: beads, use 3, pack 10 at 5.00", "bead: beads, use 3, pack 10 at 4.00"),
        ("bead: beads, use 3, pack 10 at 5.00", "bead: beads, use 3, pack 20 at 5.00"),
        ("bead: beads, use 3, pack 10 or 20", "bead: beads, use 3, pack 20 or 30"),
        ("bead: beads, use 3, size 4 mm", "bead: beads, use 3, size 5 mm"),
        ("bead: beads, use 3", "bead: buttons, use 3"),
        ("tape: tape, width 6 mm, use 30 cm, pack 10 m at 3.00", "tape: tape, width 12 mm, use 30 cm, pack 10 m at 3"),
    ],
)
def test_what_differs_is_bought_apart_and_each_is_called_by_its_recipe(one: str, other: str) -> None:
    event = planned(made(one), made(other, title="Beta"))
    name = one.partition(":")[0]
    assert [line.supply.name.value for line in event.shopping] == ["card", f"{name} (Alpha)", f"{name} (Beta)"]
    assert [line.recipes for line in event.shopping] == [(0, 1), (0,), (1,)]


def test_recipes_of_one_title_are_told_apart_by_their_files() -> None:
    texts = [recipe_text(f"bead: use 1, pack 10 at {price}") for price in ("5.00", "4.00")]
    makings = [making_of(text, 10, slug) for text, slug in zip(texts, ("one", "two"), strict=True)]
    assert [one.supply.name.value for one in supplies_of(makings)] == ["card", "bead (one)", "bead (two)"]
    both = making_of(recipe_text("dot: use 1, pack 10\ndots: use 2, pack 20"), 10)
    assert [one.supply.name.value for one in supplies_of([both])] == ["card", "dot (dot)", "dot (dots)"]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("card: cardstock, sheet A4, weight 160 g/m2", "card: cardstock, sheet A4, weight 220 g/m2"),
        ("card: cardstock, sheet A4", "card: cardstock, sheet A3"),
        ("card: cardstock, sheet A4, grain long", "card: cardstock, sheet A4, grain short"),
        ("card: cardstock, sheet A4, pattern one way", "card: cardstock, sheet A4, pattern two ways"),
    ],
)
def test_card_that_differs_is_cut_apart(one: str, other: str) -> None:
    event = planned(made(one), made(other, title="Beta"))
    assert [plan.supply for plan in event.sheets] == ["card (Alpha)", "card (Beta)"]


def test_the_same_card_in_other_words_is_cut_together() -> None:
    """80 lb cover is 216 g/m2 (the pound and the basic size of cover, 20 x 26 in); letter is not sold here."""
    one = made("card: cardstock, sheet 8 1/2 x 11 in or A4, weight 80 lb cover")
    other = made("card: card, sheet 297 x 210 mm, weight 216 g/m2", title="Beta")
    third = made("card: cardstock", title="Gamma")
    event = planned(one, other, third)
    # Four pieces of 100 x 140 mm come out of A4: thirty take eight sheets.
    assert [(plan.recipes, plan.bought) for plan in event.sheets] == [((0, 1, 2), 8)]


def test_who_says_nothing_goes_with_neither_of_two_that_differ() -> None:
    widths = {"Alpha": "width 6 mm, ", "Beta": "", "Gamma": "width 12 mm, ", "Delta": "width 6 mm, "}
    makings = [made(f"tape: tape, {width}use 1 m, pack 10 m", title=title) for title, width in widths.items()]
    names = sorted(one.supply.name.value for one in supplies_of(makings) if one.name == "tape")
    assert names == ["tape (Alpha, Delta)", "tape (Beta)", "tape (Gamma)"]


def test_colours_are_bought_each_for_the_kits_that_take_it() -> None:
    one = made("bow: bow, use 1, colour rose or teal, pack 5 at 1.00", kits=7)
    other = made("bow: bow, use 1, colour rose, pack 5 at 1.00", kits=3, title="Beta")
    third = made("bow: bow, use 1, pack 5 at 2.00", kits=2, title="Gamma")
    event = planned(one, other, third)
    needed = {name: line[0] for name, line in lines(event).items() if name != "card"}
    # Seven kits of two colours: four of the first, three of the second; who says no colour has a line of its own.
    assert needed == {"bow, rose": 4 + 3, "bow, teal": 3, "bow": 2}


def test_other_names_for_one_thing() -> None:
    shelf = "rose card: same as wrap card, rose\nour twine: same as twine\n"
    facts = "cardstock, sheet A4, pack 10 sheets at 2.00"
    one = making_of(
        recipe_text(
            f"wrap card: {facts}, colour rose or teal\ntwine: use 1 m, pack 10 m",
            title="Alpha", pieces="  p:\n    from: wrap card\n    size: 100 x 140 mm\n",
        ), 8, "alpha",
    )  # fmt: skip
    other = making_of(
        recipe_text(
            f"rose card: {facts}\nour twine: use 1 m",
            title="Beta", pieces="  p:\n    from: rose card\n    size: 100 x 140 mm\n",
        ), 6, "beta",
    )  # fmt: skip
    event = planned(other, one, shelf=shelf)
    # Ten roses out of A4, four to a sheet; four teals; fourteen metres of twine.
    assert {name: (line[0], line[8]) for name, line in lines(event).items()} == {
        "wrap card, rose": (3, ["alpha", "beta"]),
        "wrap card, teal": (1, ["alpha"]),
        "twine": (14000, ["alpha", "beta"]),
    }


def test_names_that_go_round_in_a_circle_are_one_thing() -> None:
    shelf = "bead: same as gem\ngem: same as stone\nstone: same as bead\nrock: same as gem\npebble: same as pebble\n"
    makings = [made(f"{name}: use 1", title=name) for name in ("gem", "rock", "bead", "stone", "pebble")]
    event = planned(*makings, shelf=shelf)
    assert [(line.supply.name.value, line.needed) for line in event.shopping[1:]] == [("bead", 40), ("pebble", 10)]


def test_what_one_recipe_calls_an_allergen_the_labels_of_all_name() -> None:
    makings = [
        made("fudge: wrapped sweet, use 1, pack 10 at 1.00, contains milk"),
        made("Fudge: wrapped sweet, use 1, pack 10 at 2.00, contains nuts", title="Beta"),
        made("fudge: wrapped sweet, use 1, contains nothing to declare", title="Gamma"),
        made("toffee: wrapped sweet, use 1, contains soya", title="Delta"),
    ]
    united = allergens_united([making.understood.recipe for making in makings], {key_of("toffee"): "fudge"})
    named = [[sorted(allergens_named(supply)) for supply in recipe.supplies[1:]] for recipe in united]
    assert named == [[["milk", "nuts", "soya"]]] * 4


def test_optional_in_one_and_needed_in_the_other_is_bought_for_both_and_needed() -> None:
    event = planned(
        made("bead: beads, use 3, pack 10 at 5.00, optional"), made("bead: beads, use 3, pack 10 at 5.00", title="Beta")
    )
    bead = event.shopping[1]
    assert (bead.needed, bead.supply.optional) == (60, False)
    assert [need.supply.optional for need in bead.needs] == [True, False]


POOL = """\
bead: beads, use 3, optional, pack 10 at 5.00
fudge: wrapped sweet, use 1, pack 10 at 1.00, contains milk
tape: tape, width 6 mm, use 35 cm, pack 10 m at 3.00, instead wet glue or dots

bead: beads, use 2, pack 10 at 5.00
fudge: wrapped sweet, use 2, pack 10 at 1.00
tape: tape, width 12 mm, use 30 cm, pack 5 m at 9.00
card: cardstock, sheet A4, colour rose or teal

bead: beads, use 3, pack 10 at 4.00
fudge: wrapped sweet, use 1, pack 50 at 4.00, contains nuts
tape: tape, use 20 cm, pack 10 m
ribbon: ribbon, use 500 mm, pack 5 m at 2.20

bead: use 1
ribbon: ribbon, use 250 mm, pack 5 m
card: cardstock, sheet A4, colour rose

ribbon: ribbon, use 1 m
fudge: a little
card: cardstock, sheet A4, pack 10 sheets at 2.00, weight 160 g/m2
tape: tape, width 6 mm, use 1 m, instead dots
""".split("\n\n")
"""Five recipes that agree in some things and differ in others."""


@settings(max_examples=3)
@given(st.permutations(range(5)), st.lists(st.integers(1, 40), min_size=5, max_size=5), st.integers(3, 5))
def test_the_order_of_recipes_changes_nothing(order: Sequence[int], kits: Sequence[int], count: int) -> None:
    some = [
        made(POOL[number], kits[number], f"R{number}", f"{50 + 50 * (number % 2)} x 90 mm") for number in order[:count]
    ]
    first = lines(planned(*some))
    for other in (some[::-1], [*some[1:], some[0]]):
        assert lines(planned(*other)) == first
