"""What guests must not have against what their kits hold. What is not known is told so: nothing is ever cleared."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from foldwright.event.facts.guests import Guest
from foldwright.recipe.hazards import allergens_named, contents_unsaid
from foldwright.recipe.model import Recipe, Supply
from foldwright.recipe.needs import supply_kind
from foldwright.vocabulary.allergens import allergens_in
from foldwright.vocabulary.diets import DietSaid, diet_of, speaks_of_diet
from foldwright.vocabulary.names import plain_words


class DietConflict(Struct, frozen=True):
    """A supply that holds what a guest must not have: what, in the recipe's words; empty where its name says so."""

    recipe: int
    supply: str
    what: tuple[str, ...]


class DietCheck(Struct, frozen=True):
    """One guest with something to heed. `recipes` are the numbers of those that may be meant: all, if none is said.

    `written` is the guest's own words, `food` what is eaten of the kit, `unsaid` that of which nobody says what it
    contains.
    """

    guest: int
    written: str
    said: DietSaid
    recipes: tuple[int, ...]
    met: tuple[DietConflict, ...]
    food: tuple[str, ...]
    unsaid: tuple[str, ...]


def check_diets(guests: Sequence[Guest], recipes: Sequence[Recipe]) -> tuple[DietCheck, ...]:
    """Those of whom a diet or an allergy is written, in the order of the list."""
    found = []
    for number, guest in enumerate(guests):
        written = diet_written(guest)
        said = diet_of(written)
        if said.avoided or said.left:
            meant = (guest.recipe,) if guest.recipe is not None else tuple(range(len(recipes)))
            found.append(_check(number, written, said, meant, recipes))
    return tuple(found)


def diet_written(guest: Guest) -> str:
    """The diet, and the note where it speaks of one."""
    note = guest.note if speaks_of_diet(guest.note) else ""
    return "; ".join(filter(None, (guest.diet if _says_any(guest.diet) else "", note)))


def _says_any(diet: str) -> bool:
    said = diet_of(diet)
    return bool(said.avoided or said.left)


def _check(guest: int, written: str, said: DietSaid, meant: tuple[int, ...], recipes: Sequence[Recipe]) -> DietCheck:
    supplies = [(number, supply) for number in meant for supply in recipes[number].supplies]
    met = tuple(one for number, supply in supplies for one in _met(number, supply, said))
    food = [supply for _, supply in supplies if _eaten(supply)]
    unsaid = [supply.name.value for supply in food if contents_unsaid(supply)]
    # What may stand in for it contains something else.
    unsaid += [said_of.value.name for supply in food for said_of in supply.instead]
    return DietCheck(
        guest,
        written,
        said,
        meant,
        met,
        tuple(dict.fromkeys(supply.name.value for supply in food)),
        tuple(dict.fromkeys(unsaid)),
    )


def _eaten(supply: Supply) -> bool:
    kind = supply_kind(supply)
    return bool(supply.contains) or (kind is not None and kind.food)


def perhaps_eaten(recipe: Recipe) -> tuple[str, ...]:
    """Supplies of no known kind, of which nobody says what they contain either: whether they are eaten is not known."""
    return tuple(
        supply.name.value
        for supply in recipe.supplies
        if supply_kind(supply) is None and not supply.contains and not supply.sheets
    )


def _met(recipe: int, supply: Supply, said: DietSaid) -> Iterator[DietConflict]:
    """What is said to be in it, then what it is called: `hazelnut wafer` need not say that it contains nuts."""
    what = tuple(one for one in allergens_named(supply) if _meets(one, said))
    kind = supply_kind(supply)
    called = " ".join((supply.name.value, supply.kind.value if supply.kind else ""))
    named = (_eaten(supply) or kind is None) and _meets(called, said)
    # What is not understood may be no food at all, such as latex or wool.
    named = named or not _words(said.left).isdisjoint(plain_words(called))
    if what or named:
        yield DietConflict(recipe, supply.name.value, what)


def _meets(text: str, said: DietSaid) -> bool:
    allergens = {one.name for one in allergens_in(text)}
    named = _words((*said.left, *said.others))
    return not allergens.isdisjoint(said.allergens) or not named.isdisjoint(plain_words(text))


def _words(texts: Iterable[str]) -> frozenset[str]:
    return frozenset(word for text in texts for word in plain_words(text))
