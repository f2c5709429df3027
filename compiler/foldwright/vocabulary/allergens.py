"""Allergens that must be named on food: the European list of fourteen and the nine of the United States.

Sources: Regulation (EU) No 1169/2011, Annex II, in its order; the nine major food allergens of the United States
(Food Allergen Labeling and Consumer Protection Act, with sesame added by the FASTER Act from 1 January 2023).
"""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct

from foldwright.vocabulary.names import KnownNames


class Allergen(Struct, frozen=True):
    """`number` is the place in Annex II."""

    name: str
    number: int
    forms: tuple[str, ...] = ()


ALLERGENS: tuple[Allergen, ...] = (
    Allergen("gluten", 1, ("wheat", "rye", "barley", "oat", "cereal", "spelt", "flour", "cereals containing gluten")),
    Allergen("crustaceans", 2, ("crustacean", "crustacean shellfish", "shellfish", "prawn", "crab", "lobster")),
    Allergen("eggs", 3, ("egg",)),
    Allergen("fish", 4),
    Allergen("peanuts", 5, ("peanut", "groundnut")),
    Allergen("soybeans", 6, ("soya", "soy", "soybean", "soya lecithin", "soy lecithin")),
    Allergen("milk", 7, ("lactose", "butter", "cream", "dairy", "whey")),
    Allergen(
        "nuts",
        8,
        ("nut", "tree nut", "almond", "hazelnut", "walnut", "cashew", "pecan", "brazil nut", "pistachio", "macadamia"),
    ),
    Allergen("celery", 9, ("celeriac",)),
    Allergen("mustard", 10),
    Allergen("sesame", 11, ("sesame seed",)),
    Allergen("sulphites", 12, ("sulphur dioxide", "sulfite", "sulphite", "sulfur dioxide")),
    Allergen("lupin", 13, ("lupine",)),
    Allergen("molluscs", 14, ("mollusc", "mollusk", "mussel", "oyster", "squid")),
)

NOTHING = frozenset({"nothing to declare", "nothing", "none", "no allergens", "nothing to be declared"})
"""What is written under `contains` of food in which there is none of them."""

_NAMES = KnownNames.of((allergen, (allergen.name, *allergen.forms)) for allergen in ALLERGENS)


@lru_cache(maxsize=512)
def allergens_in(text: str) -> tuple[Allergen, ...]:
    """The allergens a text names, in order: `milk, soya and nuts`."""
    return _NAMES.all_in(text)


def declares_nothing(text: str) -> bool:
    """`nothing to declare` answers the question what food contains, and names nothing."""
    return " ".join(text.casefold().split()) in NOTHING
