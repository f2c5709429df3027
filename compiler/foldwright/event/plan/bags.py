"""What goes into each bag of a recipe: the same in all, but for the colours of what comes in several."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from msgspec import Struct

from foldwright.event.plan.model import Making, shares
from foldwright.measure.amounts import Dimension
from foldwright.recipe.model import Recipe
from foldwright.vocabulary import kind_of


class Bags(Struct, frozen=True):
    """So many bags alike, and the colour in them of each supply that comes in several."""

    count: int
    colours: dict[str, str]


def bags_of(making: Making, packed: frozenset[str]) -> tuple[Bags, ...]:
    """As few kinds as can be: each colour goes into as many bags as are planned of it, one colour after the other.

    `packed` are the supplies that go into bags, or of which pieces do; one kind where none has several colours.
    """
    names = _colours(making.recipe, packed)
    if not names:
        return (Bags(making.all_kits, {}),)
    found = Counter(zip(*(_by_bag(colours, making.all_kits) for colours in names.values()), strict=True))
    return tuple(Bags(count, dict(zip(names, colours, strict=True))) for colours, count in found.items())


def _by_bag(colours: Sequence[str], bags: int) -> Iterator[str]:
    """The colour of each bag, from the first to the last."""
    for colour, share in zip(colours, shares(bags, len(colours)), strict=True):
        yield from [colour] * share


def _colours(recipe: Recipe, packed: frozenset[str]) -> dict[str, list[str]]:
    return {
        supply.name.value: [said.value for said in supply.colours]
        for supply in recipe.supplies
        if len(supply.colours) > 1 and supply.name.value in packed
    }


def supplies_in_bag(recipe: Recipe) -> tuple[str, ...]:
    """What goes into each bag, counted or cut to length; not what sticks and comes off a roll or out of a bottle."""
    found = []
    for supply in recipe.supplies:
        kind = kind_of(supply.kind.value if supply.kind else supply.name.value)
        shared = (
            kind is not None
            and kind.adhesive
            and (supply.use is None or supply.use.value.dimension is not Dimension.COUNT)
        )
        if supply.use is not None and not shared and not supply.sheets:
            found.append(supply.name.value)
    return tuple(found)
