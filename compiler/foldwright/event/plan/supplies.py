"""The supplies of an event, each once however many recipes use it: what they agree on is shared, what differs is apart.

What one recipe says and the others do not holds for all of them. As soon as two say different things, those that say
the same go together, and each of them is a thing of its own, called by its recipes. The order of recipes is nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from foldwright.event.facts.agreeing import (
    FACTS,
    packs_agree,
    packs_by_amount,
    packs_together,
    prices_agree,
    same_sheets,
    sheet_prices,
)
from foldwright.event.facts.stock import ShelfLine
from foldwright.event.plan.model import Making, shares
from foldwright.recipe.hazards import allergens_named
from foldwright.recipe.model import Recipe, Said, Supply
from foldwright.vocabulary.names import plain_words

type Words = tuple[str, ...]
type SameAs = Mapping[Words, str]
"""What a supply is called, as plain words, and the name by which it goes instead."""


class SupplyNeed(Struct, frozen=True):
    """What one recipe (by its number) takes of a supply in one of its colours: its own facts, and for how many kits.

    `name` and `colour` are those by which it goes.
    """

    recipe: int
    supply: Supply
    kits: int
    name: str
    colour: str


class Shared(Struct, frozen=True):
    """One thing as it is bought, in one colour (empty: none is said, or the name says it).

    `supply` has the name that all papers use, and the facts its recipes agree on; `name` is the name without what tells
    it apart from others of that name.
    """

    supply: Supply
    colour: str
    needs: tuple[SupplyNeed, ...]
    name: str
    is_cut: bool
    """Pieces are cut from it, out of sheets."""

    @property
    def recipes(self) -> tuple[int, ...]:
        return tuple(sorted({need.recipe for need in self.needs}))

    @property
    def spelled(self) -> str:
        """What the shelf calls it: `ink pad brown` for one of several colours."""
        return f"{self.supply.name.value} {self.colour}".strip().casefold()


def supplies_of(makings: Sequence[Making], same: SameAs | None = None) -> tuple[Shared, ...]:
    """Each supply once for each of its colours, in the order in which the recipes name them."""
    found = needs_by_name(makings, same or {})
    return tuple(one for several in found.values() for one in _shared(several, makings))


def needs_by_name(makings: Sequence[Making], same: SameAs) -> dict[tuple[Words, str], list[SupplyNeed]]:
    """What the recipes take, by the name and the colour of a supply."""
    found: dict[tuple[Words, str], list[SupplyNeed]] = {}
    names = SupplyNames([making.recipe for making in makings], same)
    for number, making in enumerate(makings):
        for supply in making.recipe.supplies:
            colours = colours_of(supply)
            for colour, kits in zip(colours, shares(making.all_kits, len(colours)), strict=True):
                name, colour = names.called(supply.name.value, colour)
                key = key_of(name), colour.casefold()
                found.setdefault(key, []).append(SupplyNeed(number, supply, kits, name, colour))
    return found


def colours_of(supply: Supply) -> tuple[str, ...]:
    """The colours its kits are shared out to; one without a name if none is said, or the supply's name says it."""
    names = tuple(said.value for said in supply.colours)
    if len(names) == 1 and set(plain_words(names[0])) <= set(plain_words(supply.name.value)):
        return ("",)
    return names or ("",)


def key_of(name: str) -> Words:
    """What a name comes to: small and capital letters, plurals and marks do not matter."""
    return plain_words(name) or (name.casefold(),)


def same_names(lines: Iterable[ShelfLine]) -> SameAs:
    """The other names that a shelf says things go by: `rose card: same as wrap card, rose`."""
    return {key_of(line.name.value): line.same.value for line in lines if line.same}


class SupplyNames:
    """The name and colour by which a supply of a recipe goes."""

    def __init__(self, recipes: Sequence[Recipe], same: SameAs) -> None:
        self._same = same
        self._known: dict[Words, tuple[str, str]] = {}
        supplies = [supply for recipe in recipes for supply in recipe.supplies]
        for supply in sorted(supplies, key=lambda one: one.name.value):
            for colour in ("", *colours_of(supply)):
                self._known.setdefault(key_of(f"{supply.name.value} {colour}"), (supply.name.value, colour))

    def called(self, name: str, colour: str) -> tuple[str, str]:
        """Names that go round in a circle are one thing, called by the first of them in the alphabet."""
        met: list[tuple[str, str]] = []
        while True:
            whole, alone = key_of(f"{name} {colour}"), key_of(name)
            key = whole if whole in self._same else alone
            if key not in self._same:
                return name, colour
            if (name, colour) in met:
                return min(met[met.index((name, colour)) :])
            met.append((name, colour))
            meant, its_colour = self._known.get(key_of(self._same[key]), (self._same[key], ""))
            name, colour = meant, its_colour or ("" if key == whole else colour)

    def key(self, name: str) -> Words:
        """What the name comes to, whatever its colour."""
        return key_of(self.called(name, "")[0])


# --- what goes together ----------------------------------------------------------------------------------------------


def _shared(needs: Sequence[SupplyNeed], makings: Sequence[Making]) -> Iterator[Shared]:
    """The needs of one name and colour, as few things as they agree to be."""
    spelled, colour = min(need.name for need in needs), min(need.colour for need in needs)
    differing = facts_apart(needs, makings)
    groups: dict[tuple[Hashable, ...], list[SupplyNeed]] = {}
    for need in needs:
        groups.setdefault(tuple(fact(need) for fact in differing.values()), []).append(need)
    for group in groups.values():
        group.sort(key=lambda need: _order(makings[need.recipe].recipe))
    names = _names(spelled, list(groups.values()), makings)
    for name, group in zip(names, groups.values(), strict=True):
        supply = _together(name, colour, group)
        is_cut = bool(supply.sheets) and any(_way(need, makings) == _PIECES for need in group)
        yield Shared(supply, colour, tuple(group), spelled, is_cut)


def _names(spelled: str, groups: Sequence[Sequence[SupplyNeed]], makings: Sequence[Making]) -> list[str]:
    """What each of several things of one name is called: by its recipes, whose files tell those of one title apart."""
    if len(groups) == 1:
        return [spelled]
    recipes = [[makings[need.recipe].recipe for need in group] for group in groups]
    titles = [", ".join(dict.fromkeys(map(told_title, group))) for group in recipes]
    if len(set(titles)) < len(titles):
        titles = [", ".join(dict.fromkeys(recipe.slug for recipe in group)) for group in recipes]
    if len(set(titles)) < len(titles):
        # One recipe has two of the same name: `dot` and `dots`.
        titles = [", ".join(dict.fromkeys(need.supply.name.value for need in group)) for group in groups]
    return [f"{spelled} ({title})" for title in titles]


def facts_apart(needs: Sequence[SupplyNeed], makings: Sequence[Making]) -> dict[str, Callable[[SupplyNeed], Hashable]]:
    """The facts of which two of the needs say different things, and what each says of them; None is nothing."""
    facts: dict[str, Callable[[SupplyNeed], Hashable]] = {
        word: lambda need, fact=fact: fact(need.supply)  # type: ignore[misc]
        for word, fact in FACTS.items()
    }
    system = makings[needs[0].recipe].figures.system
    facts["sheet"] = lambda need: same_sheets(need.supply, system)
    facts["use"] = lambda need: _way(need, makings)
    differing = {word: fact for word, fact in facts.items() if len({fact(need) for need in needs} - {None}) > 1}
    if not prices_agree(sheet_prices(need.supply) for need in needs):
        differing["sheet"] = lambda need: frozenset(sheet_prices(need.supply).items()) or None
    if not packs_agree(packs_by_amount(need.supply) for need in needs):
        differing["pack"] = lambda need: frozenset(packs_by_amount(need.supply).items()) or None
    return differing


_PIECES = "pieces"


def _way(need: SupplyNeed, makings: Sequence[Making]) -> Hashable:
    """How it is used up: pieces are cut from it, or an amount is taken; nothing where neither is known."""
    recipe, name = makings[need.recipe].recipe, need.supply.name.value.casefold()
    if any(piece.supply and piece.supply.value.casefold() == name for piece in recipe.pieces):
        return _PIECES if need.supply.sheets or need.supply.use is None else need.supply.use.value.dimension.value
    return need.supply.use.value.dimension.value if need.supply.use else None


def _order(recipe: Recipe) -> tuple[str, str, str]:
    return recipe.slug, recipe.size, recipe.title.value


def told_title(recipe: Recipe) -> str:
    """`Drawer box, large`."""
    return f"{recipe.title.value}, {recipe.size}" if recipe.size else recipe.title.value


def _together(name: str, colour: str, needs: Sequence[SupplyNeed]) -> Supply:
    """One supply that says what any of them says; they agree, so that it does not matter which."""
    supplies = [need.supply for need in needs]
    first = supplies[0]

    def said(word: str) -> Any:
        return next((value for supply in supplies if (value := getattr(supply, word))), getattr(first, word))

    everywhere = [said for said in first.instead if all(_may_stand_in(said.value.name, one) for one in supplies)]
    contains = {one.casefold(): Said(one, supply.name.place) for supply in supplies for one in allergens_named(supply)}
    return replace(
        first,
        name=Said(name, first.name.place),
        **{word: said(word) for word in (*FACTS, "use", "note")},
        sheets=max(supplies, key=lambda supply: (len(sheet_prices(supply)), bool(supply.sheets))).sheets,
        packs=packs_together(supplies),
        instead=tuple(everywhere),
        colours=(Said(colour, first.name.place),) if colour else (),
        little=any(supply.little for supply in supplies),
        optional=all(supply.optional for supply in supplies),
        contains=tuple(contains[key] for key in sorted(contains)) or said("contains"),
        upright=any(supply.upright for supply in supplies),
    )


def _may_stand_in(name: str, supply: Supply) -> bool:
    return any(said.value.name.casefold() == name.casefold() for said in supply.instead)


# --- what it contains ------------------------------------------------------------------------------------------------


def allergens_united(recipes: Sequence[Recipe], same: SameAs) -> list[Recipe]:
    """The recipes, each supply with all that any of them says it contains: a label rather names too much."""
    names = SupplyNames(recipes, same)
    contained: dict[Words, dict[str, str]] = {}
    for recipe in sorted(recipes, key=_order):
        for supply in recipe.supplies:
            mine = contained.setdefault(names.key(supply.name.value), {})
            for one in allergens_named(supply):
                mine.setdefault(one.casefold(), one)
    return [
        replace(recipe, supplies=tuple(_holding(one, contained[names.key(one.name.value)]) for one in recipe.supplies))
        for recipe in recipes
    ]


def _holding(supply: Supply, allergens: Mapping[str, str]) -> Supply:
    own = {one.casefold() for one in allergens_named(supply)}
    more = [Said(allergens[key], supply.name.place) for key in sorted(allergens.keys() - own)]
    if not more:
        return supply
    return replace(supply, contains=(*(said for said in supply.contains if said.value.casefold() in own), *more))
