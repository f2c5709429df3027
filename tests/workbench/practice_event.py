"""A small event planned in process, for tests of its plan, its papers and its pictures. No test."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from foldwright.event.document.model import Beside, EventPart
from foldwright.event.facts.stock import read_stock
from foldwright.event.plan.model import Making, Wishes, WorkedRecipe
from foldwright.event.plan.planning import Event, plan_event
from foldwright.measure.length import System
from foldwright.pipeline import check_recipe

RECIPE = """---
title: Practice box
makes: 1 box
measured in: {unit}
supplies:
  jute twine: twine, use 36 in, pack 20 yd at 5.25
  blue card: cardstock, weight 220 g/m2, sheet {sheet}, pack 10 sheets at 2.00
pieces:
  base:
    from: blue card
    size: {base}
  band:
    from: blue card
    count: 3
    size: {band}
  label:
    from: blue card
    count: 2
    size: {label}
---

## Cut all

do: cut base, band and label
"""
INCHES = {
    "unit": "inches",
    "sheet": "8 1/2 x 11 in",
    "base": "5 x 4 1/4 in",
    "band": "1 x 3 1/8 in",
    "label": "2 x 2 in",
}
METRIC = {"unit": "millimetres", "sheet": "A4", "base": "127 x 96 mm", "band": "21 x 133 mm", "label": "47 x 47 mm"}


def event_of(facts: dict[str, str], system: System, kits: int, trim: int = 0, shelf: str = "") -> Event:
    understood = check_recipe(RECIPE.format(**facts), "practice/recipe.md", "practice").understood
    assert understood is not None
    worked = WorkedRecipe(understood.recipe, understood.flat, understood.times)
    lines = read_stock(shelf, "stock.yaml")[0].lines if shelf else ()
    owned = {line.name.value.casefold(): line for line in lines}
    making = Making(worked, understood.figures[system], kits)
    return plan_event([making], Wishes(system=system, trim=Fraction(trim)), owned, {})


def one_by_one(parts: Iterable[EventPart]) -> Iterator[EventPart]:
    """The parts of a paper, those that stand side by side one after the other."""
    for part in parts:
        if isinstance(part, Beside):
            yield from (inner for column in part.columns for inner in column)
        else:
            yield part
