"""What the sheets of a plan count as, scraps among them, and which share of a supply each recipe has."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from foldwright.event.plan.cutting import SheetPlan, SheetSize


def recipe_parts(takes: Sequence[tuple[int, Fraction]]) -> tuple[tuple[int, Fraction], ...]:
    """Each recipe's share of what is used, by its number."""
    whole = sum((take for _, take in takes), Fraction(0))
    mine = dict.fromkeys((recipe for recipe, _ in takes), Fraction(0))
    for recipe, take in takes:
        mine[recipe] += take
    return tuple((recipe, take / whole) for recipe, take in mine.items()) if whole else ()


def sheet_parts(plan: SheetPlan) -> tuple[tuple[int, Fraction], ...]:
    """The recipes' shares of the sheets: by the area of the pieces that are cut."""
    areas = dict.fromkeys(plan.recipes, Fraction(0))
    for number, one in enumerate(plan.wanted):
        if number not in plan.cutting.too_large:
            areas[one.recipe] += one.width * one.height * one.count
    return recipe_parts(tuple(areas.items()))


def sheet_worth(size: SheetSize, sold: Sequence[SheetSize]) -> tuple[str, Fraction]:
    """Which sheet that is sold it counts as, and as how much of one: itself, or its area's share of the first."""
    sides = sorted((size.width, size.height))
    same = next((one for one in sold if sorted((one.width, one.height)) == sides), None)
    if same is not None:
        return same.name, Fraction(1)
    return sold[0].name, size.width * size.height / (sold[0].width * sold[0].height)
