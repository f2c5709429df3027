"""What goes into each bag."""

from __future__ import annotations

from foldwright.measure.amounts import Dimension
from foldwright.recipe.model import Recipe
from foldwright.vocabulary import kind_of


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
