"""What recipes and the shelf of an event say of one supply that does not go together; told with both places.

Amounts that cannot be added up stop the plan; of what is only said differently each is bought apart.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from msgspec import Struct

from foldwright.event.facts.agreeing import places_of
from foldwright.event.facts.stock import ShelfLine
from foldwright.event.plan.model import Making
from foldwright.event.plan.supplies import SameAs, SupplyNeed, colours_of, facts_apart, needs_by_name
from foldwright.finding import Finding, LineTable, Place, Strength
from foldwright.measure.amounts import Dimension
from foldwright.recipe.facts.writing import write_amount
from foldwright.recipe.hazards import allergens_named
from foldwright.recipe.model import Amount, Recipe, Said, Supply

APART = frozenset({"counted-apart", "measured-apart", "ounces-apart", "sheets-apart", "elsewhere-apart"})
"""The findings with which no shopping list can be reckoned."""


class Planned(Struct, frozen=True):
    """A recipe of an event and the lines of its text."""

    recipe: Recipe
    lines: LineTable


class _Used(Struct, frozen=True):
    """An amount, where it stands, and for another recipe's its title and line."""

    amount: Amount
    place: Place
    title: str
    line: int


def recipes_apart(
    planned: Sequence[Planned], called: Callable[[str], Hashable] = str.casefold
) -> list[tuple[int, Finding]]:
    """What one recipe says of a supply against what an earlier one says of the same; by the number of the recipe.

    Names that come to the same, as they are `called`, are one supply.
    """
    first: dict[Hashable, _Used] = {}
    found = []
    for number, one in enumerate(planned):
        for supply in one.recipe.supplies:
            name = called(supply.name.value)
            for used in _used(one, supply):
                before = first.setdefault(name, used)
                if before.amount.dimension is not used.amount.dimension:
                    found.append((number, _elsewhere(supply.name.value, Said(used.amount, used.place), before)))
                    break
    return found


def shelf_apart(met: Iterable[tuple[ShelfLine, int, Supply]], planned: Sequence[Planned]) -> list[Finding]:
    """What is on the shelf against what a recipe, by its number, says of the same supply; each line once."""
    found: dict[Place, Finding] = {}
    for line, number, supply in met:
        used = next(_used(planned[number], supply), None)
        for amount in _had(line) if used else ():
            if used and amount.value.dimension is not used.amount.dimension:
                found.setdefault(amount.place, _elsewhere(supply.name.value, amount, used))
    return list(found.values())


def _used(one: Planned, supply: Supply) -> Iterator[_Used]:
    """What is used of it and how it is sold, as far as that has to be added up."""
    amounts = [Said(pack.value.amount, pack.place) for pack in supply.packs]
    for said in ([supply.use] if supply.use else []) + amounts:
        line, _ = one.lines.line_and_column(said.place.start)
        yield _Used(said.value, said.place, one.recipe.title.value, line)


def _had(line: ShelfLine) -> Iterator[Said[Amount]]:
    if line.amount:
        yield line.amount
    for said in line.lengths:
        length = said.value.length
        yield Said(Amount(Dimension.LENGTH, length.value, length.unit.symbol, length=length), said.place)


def _elsewhere(name: str, here: Said[Amount], there: _Used) -> Finding:
    return Finding.of(
        "elsewhere-apart",
        Strength.MISFIT,
        here.place,
        name=name,
        here=write_amount(here.value),
        there=write_amount(there.amount),
        title=there.title,
        line=there.line,
    )


type Told = tuple[int, Finding]
"""A finding and the number of the recipe in whose text its place is."""


def supplies_apart(makings: Sequence[Making], planned: Sequence[Planned], same: SameAs) -> list[Told]:
    """Everything that recipes say differently of the same thing, each once, in the order of the recipes."""
    by_name = sorted(needs_by_name(makings, same).items(), key=lambda one: one[0][0])
    found: list[Told] = []
    for _, alike in groupby(by_name, key=lambda one: one[0][0]):
        needs = [needs for _, needs in alike]
        for each in needs:
            found += _facts(each, facts_apart(each, makings), planned)
            found += _optional(each, planned)
        every = sorted((need for each in needs for need in each), key=lambda need: need.recipe)
        found += _colours(every, planned)
        found += _contents(every, planned)
    hushed = [{code.value for code in one.recipe.hushed} for one in planned]
    told = [
        (number, finding)
        for number, finding in dict.fromkeys(found)
        if finding.strength > Strength.THOUGHT or finding.code not in hushed[number]
    ]
    return sorted(told, key=lambda one: (one[0], one[1].place.start if one[1].place else 0))


def _facts(
    needs: Sequence[SupplyNeed], differing: Mapping[str, Callable[[SupplyNeed], Hashable]], planned: Sequence[Planned]
) -> Iterator[Told]:
    for word, fact in differing.items():
        first = next(need for need in needs if fact(need) is not None)
        for need in needs:
            if fact(need) == fact(first):
                continue
            code = "supply-used-apart" if word == "use" else "supply-apart" if fact(need) else "supply-apart-unsaid"
            yield need.recipe, _finding(code, need, first, word, planned)


def _optional(needs: Sequence[SupplyNeed], planned: Sequence[Planned]) -> Iterator[Told]:
    needed = next((need for need in needs if not need.supply.optional), None)
    for need in needs:
        if needed and need.supply.optional:
            yield need.recipe, _finding("supply-optional-apart", need, needed, "optional", planned)


def _colours(needs: Sequence[SupplyNeed], planned: Sequence[Planned]) -> Iterator[Told]:
    first = needs[0]
    for need in needs[1:]:
        renamed = need.name != need.supply.name.value or first.name != first.supply.name.value
        if renamed or _colours_said(need.supply) == _colours_said(first.supply):
            continue
        said = "apart" if need.supply.colours and first.supply.colours else "unsaid"
        here, there = (need, first) if first.supply.colours else (first, need)
        yield here.recipe, _finding(f"supply-colours-{said}", here, there, "colour", planned)


def _colours_said(supply: Supply) -> frozenset[str]:
    return frozenset(colour.casefold() for colour in colours_of(supply))


def _contents(needs: Sequence[SupplyNeed], planned: Sequence[Planned]) -> Iterator[Told]:
    """Allergens that only some of the recipes name: the labels of all of them name them."""
    named = {need.recipe: frozenset(one.casefold() for one in allergens_named(need.supply)) for need in needs}
    every = frozenset().union(*named.values())
    for need in needs:
        there = next((one for one in needs if named[one.recipe] - named[need.recipe]), None)
        if there is None or named[need.recipe] == every:
            continue
        if need.supply.contains:
            yield need.recipe, _finding("supply-contains-apart", need, there, "contains", planned, Strength.MISFIT)
        else:
            yield need.recipe, _finding("supply-contains-unsaid", need, there, "contains", planned)


def _finding(
    code: str,
    here: SupplyNeed,
    there: SupplyNeed,
    word: str,
    planned: Sequence[Planned],
    strength: Strength = Strength.THOUGHT,
) -> Finding:
    place, other = _place(here, word), _place(there, word)
    elsewhere = planned[there.recipe]
    line, _ = elsewhere.lines.line_and_column(other.start)
    return Finding.of(
        code,
        strength,
        place,
        name=here.supply.name.value,
        word=word,
        here=planned[here.recipe].lines.between(place.start, place.end),
        there=elsewhere.lines.between(other.start, other.end),
        title=elsewhere.recipe.title.value,
        line=line,
    )


def _place(need: SupplyNeed, word: str) -> Place:
    return places_of(need.supply).get(word, need.supply.name.place)
