"""The kinds of bags of a recipe: the same in each, but for the colours of what comes in several."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from msgspec import Struct

from foldwright.event.plan.model import Making, shares
from foldwright.recipe.model import Recipe


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
