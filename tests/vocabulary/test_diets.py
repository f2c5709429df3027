"""What guests write of their diets, understood; whatever is not understood is left over, to be asked about."""

from __future__ import annotations

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.vocabulary.allergens import ALLERGENS
from foldwright.vocabulary.diets import AVOIDED, diet_of, speaks_of_diet


@pytest.mark.parametrize(
    ("text", "allergens", "others", "left"),
    [
        ("no nuts", ("nuts", "peanuts"), (), ()),
        ("Nut-free, please", ("nuts", "peanuts"), (), ()),
        ("peanut allergy (severe)", ("peanuts",), (), ()),
        ("coeliac", ("gluten",), (), ()),
        ("lactose intolerant", ("milk",), (), ()),
        ("dairy-free + egg-free", ("milk", "eggs"), (), ()),
        ("shellfish", ("crustaceans", "molluscs"), (), ()),
        ("allergic to kiwi and nuts", ("nuts", "peanuts"), (), ("kiwi",)),
        ("vegetarian", ("fish", "crustaceans", "molluscs"), ("meat", "gelatine"), ()),
        ("halal", (), ("pork", "gelatine", "alcohol"), ()),
        ("sans gluten, sans œufs", ("gluten", "eggs"), (), ()),
        ("Nüsse, Erdnüsse, Sellerie", ("nuts", "peanuts", "celery"), (), ()),
        ("frutta secca, latte", ("milk",), (), ("frutta", "secca")),
        ("yes", (), (), ("yes",)),
        ("see e-mail", (), (), ("see", "mail")),
        ("?", (), (), ("?",)),
        ("Allergies: Pêches", (), (), ("Pêches",)),
        ("allergy", (), (), ("allergy",)),
    ],
)
def test_what_is_written(text: str, allergens: tuple[str, ...], others: tuple[str, ...], left: tuple[str, ...]) -> None:
    said = diet_of(text)
    assert (said.allergens, said.others, said.left) == (allergens, others, left)


@pytest.mark.parametrize("text", ["", "-", "none", "No", "n/a", "keine", "aucune", "no allergies", "eats everything"])
def test_what_says_that_there_is_nothing(text: str) -> None:
    said = diet_of(text)
    assert (said.avoided, said.left) == ((), ())


def test_a_vegan_keeps_from_all_animals_of_the_list() -> None:
    """Annex II of Regulation (EU) No 1169/2011: of animals it has crustaceans, eggs, fish, milk, molluscs."""
    assert {*diet_of("vegan").allergens} == {"crustaceans", "eggs", "fish", "milk", "molluscs"}


def test_every_allergen_of_the_list_is_understood_by_its_own_name_and_can_be_said() -> None:
    words = catalogue()
    for allergen in ALLERGENS:
        for form in (allergen.name, *allergen.forms):
            assert allergen.name in diet_of(f"allergic to {form}").allergens
        assert words.has(f"event.avoid.{allergen.name}")
    for avoided, _ in AVOIDED:
        names = (*avoided.allergens, *avoided.others, *((avoided.name,) if avoided.ask else ()))
        assert [name for name in names if not words.has(f"event.avoid.{name}")] == []


def test_a_note_speaks_of_a_diet_only_where_it_does() -> None:
    assert speaks_of_diet("comes late; nut allergy")
    assert speaks_of_diet("kiwi allergy")
    assert not speaks_of_diet("comes late, wheelchair")
