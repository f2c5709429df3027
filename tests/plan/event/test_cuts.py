"""The numbered cuts of an event, replayed from its data alone, end with exactly the right pieces."""

from __future__ import annotations

import json
from collections import Counter
from fractions import Fraction

import pytest

from cutting_verifier import ImpossibleError, replay
from foldwright.measure.length import System
from foldwright.pipeline import check_recipe
from foldwright.plan.event.model import Making, Wishes, Worked
from foldwright.plan.event.planning import plan_event
from foldwright.recipe.stock import read_stock
from foldwright.sheet.event.data import cuttings_in, event_json

RECIPE = """---
title: Practice box
makes: 1 box
measured in: {unit}
supplies:
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


def planned(facts: dict[str, str], system: System, kits: int, trim: int = 0, shelf: str = "") -> str:
    understood = check_recipe(RECIPE.format(**facts), "practice/recipe.md", "practice").understood
    assert understood is not None
    worked = Worked(understood.recipe, understood.flat, understood.times)
    lines = read_stock(shelf, "stock.yaml")[0].lines if shelf else ()
    owned = {line.name.value.casefold(): line for line in lines}
    making = Making(worked, understood.figures[system], kits)
    return event_json(plan_event([making], Wishes(system=system, trim=Fraction(trim)), owned, {}))


@pytest.mark.parametrize("facts", [INCHES, METRIC], ids=["inches", "millimetres"])
@pytest.mark.parametrize("system", list(System))
@pytest.mark.parametrize(("kits", "trim"), [(1, 0), (23, 0), (100, 3)])
def test_every_cut_can_be_made_and_all_pieces_come_of_them(
    facts: dict[str, str], system: System, kits: int, trim: int
) -> None:
    (plan,) = json.loads(planned(facts, system, kits, trim, "blue card: 2 sheets, scraps 3 of 150 x 140 mm"))["cutting"]
    came: Counter[tuple[str, Fraction, Fraction]] = Counter()
    for layout in plan["layouts"]:
        came += replay(layout, plan["sheets"][layout["sheet"]])
    for piece in plan["pieces"]:
        across, down = Fraction(piece["across"]), Fraction(piece["down"])
        ways = {(across, down), (down, across)}
        assert sum(came[piece["piece"], *way] for way in ways) == piece["count"]
    assert sum(came.values()) == sum(piece["count"] for piece in plan["pieces"])
    assert plan["sheets"][0]["used"] <= 3


def test_the_verifier_refuses_cuts_that_cannot_be_made() -> None:
    (plan,) = json.loads(planned(INCHES, System.IMPERIAL, 23))["cutting"]
    layout = plan["layouts"][0]
    for change in ({"stop": "400"}, {"count": 10**6}, {"of": "Z"}):
        cuts = [{**layout["cuts"][0], **change}, *layout["cuts"][1:]]
        with pytest.raises((ImpossibleError, ValueError)):
            replay({**layout, "cuts": cuts}, plan["sheets"][layout["sheet"]])


def test_an_earlier_plan_is_read_back_as_it_was() -> None:
    text = planned(METRIC, System.METRIC, 23)
    (plan,) = json.loads(text)["cutting"]
    (cutting,) = cuttings_in(text).values()
    assert (str(cutting.cost), cutting.proven) == (plan["cost"], plan["proven"])
    assert [one.copies for one in cutting.layouts] == [one["copies"] for one in plan["layouts"]]
    assert cuttings_in("{}") == {}
    assert cuttings_in("no data") == {}
