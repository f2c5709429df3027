"""A guest's diet against the kits: what meets it, what is not known, and that nothing is ever cleared in silence."""

from __future__ import annotations

from foldwright.event.facts.guests import Guest
from foldwright.event.plan.diets import DietConflict, check_diets, perhaps_eaten
from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import read_recipe


def recipe(*supplies: str) -> Recipe:
    lines = "".join(f"  {supply}\n" for supply in supplies)
    text = f"---\ntitle: Favour\nsupplies:\n{lines}---\n\n## Pack it\n\nPack it.\n"
    found = read_recipe(text, "favour/recipe.md", "favour").recipe
    assert found is not None
    return found


SWEET = recipe(
    "caramel: wrapped sweet, use 3, contains milk, soya lecithin",
    "chocolate coin: chocolate, use 2",
    "toffee: wrapped sweet, use 1, contains nothing to declare, instead fudge",
    "hazelnut wafer: use 1",
    "turkish delight: use 1",
    "latex balloon: use 1",
    "cream card: cardstock, sheet A4",
)
PLAIN = recipe("cream card: cardstock, sheet A4")


def test_what_is_in_the_kit_meets_what_a_guest_must_not_have() -> None:
    guests = [Guest("Zoë", diet="dairy free", recipe=0), Guest("Bo", diet="nut allergy", recipe=0)]
    zoe, bo = check_diets(guests, [SWEET])
    assert zoe.met == (DietConflict(0, "caramel", ("milk",)),)
    assert zoe.food == ("caramel", "chocolate coin", "toffee")
    assert zoe.unsaid == ("chocolate coin", "fudge")
    # Named for what it is made of, whatever it is said to contain; a card called cream holds no milk.
    assert bo.met == (DietConflict(0, "hazelnut wafer", ()),)


def test_words_that_are_not_understood_meet_what_is_called_so() -> None:
    (latex,) = check_diets([Guest("Zoë", diet="latex", recipe=0)], [SWEET])
    assert latex.met == (DietConflict(0, "latex balloon", ()),)
    assert latex.said.left == ("latex",)


def test_a_guest_whose_project_is_not_known_is_checked_against_all() -> None:
    (one,) = check_diets([Guest("Zoë", diet="no milk")], [PLAIN, SWEET])
    assert one.recipes == (0, 1)
    assert [met.recipe for met in one.met] == [1]
    (other,) = check_diets([Guest("Zoë", diet="no milk", recipe=0)], [PLAIN, SWEET])
    assert (other.met, other.food) == ((), ())


def test_notes_count_where_they_speak_of_a_diet_and_nothing_said_is_nobody() -> None:
    guests = [
        Guest("A", note="late; nut allergy"),
        Guest("B", note="late"),
        Guest("C", diet="none"),
        Guest("D", diet="x"),
    ]
    assert [(one.guest, one.written) for one in check_diets(guests, [SWEET])] == [(0, "late; nut allergy"), (3, "x")]


def test_supplies_of_no_known_kind_may_be_eaten() -> None:
    assert perhaps_eaten(SWEET) == ("hazelnut wafer", "turkish delight")
    assert perhaps_eaten(PLAIN) == ()
