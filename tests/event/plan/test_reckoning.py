"""A thousand events whose sums are reckoned a second way, to the last coin; and what must not change a sum."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from event.plan.reckoned import Made, coins, made_up, reckoned, stock, written
from foldwright.event.document.data import event_json
from foldwright.event.facts.stock import ShelfLine, read_stock
from foldwright.event.plan.model import Making, Wishes, WorkedRecipe
from foldwright.event.plan.money import OtherCost
from foldwright.event.plan.planning import Event, plan_event
from foldwright.measure.length import System
from foldwright.pipeline import check_recipe
from workbench.kit_schema import checked_kit
from workbench.long import every

ALL = 1000
EVENTS = every(range(ALL), 46)
AT_ONCE = 10


def worked(text: str, slug: str) -> tuple[WorkedRecipe, Any]:
    understood = check_recipe(text, f"{slug}/recipe.md", slug).understood
    assert understood is not None, text
    return WorkedRecipe(understood.recipe, understood.flat, understood.times), understood.figures[System.METRIC]


def shelf(text: str) -> dict[str, ShelfLine]:
    lines = read_stock(text, "stock.yaml")[0].lines if text else ()
    return {line.name.value.casefold(): line for line in lines}


def wishes(made: Made) -> Wishes:
    return Wishes(
        System.METRIC,
        fee=Decimal(coins(made.fee, made.digits)),
        margin=Fraction(made.margin, 100),
        money=made.money,
        digits=made.digits,
        costs=tuple(OtherCost(name, Decimal(coins(cost, made.digits)), each) for name, cost, each in made.other),
    )


def makings(made: Made) -> list[Making]:
    return [
        Making(*worked(written(made, number), f"recipe-{number}"), *counts) for number, counts in enumerate(made.kits)
    ]


def planned(made: Made) -> Event:
    return plan_event(makings(made), wishes(made), shelf(stock(made)), {})


@pytest.mark.parametrize("first", range(0, len(EVENTS), AT_ONCE))
def test_no_sum_differs_by_a_coin(first: int) -> None:
    for seed in EVENTS[first : first + AT_ONCE]:
        made = made_up(seed)
        data = checked_kit(event_json(planned(made)))
        expected = reckoned(made, {plan["supply"]: plan for plan in data["cutting"]})
        costs = data["costs"]
        lines = {line["supply"]: (line["used_up"], line["to_buy"]) for line in data["shopping"]}
        del lines["string"]
        told = {key: costs[key] for key in ("used_up", "to_buy", "used_up_each", "to_buy_each", "whole", "whole_each")}
        recipes = [(one["used_up_each"], one["to_buy_each"]) for one in costs["by_recipe"]]
        told |= {"lines": lines, "recipes": recipes, "fee": costs["fee_at_margin"]}
        margin = expected.pop("margin")
        assert told == expected, f"event {seed}"
        assert abs(Fraction(costs["margin_at_fee"]) - Fraction(margin)) < Fraction(1, 10**40), f"event {seed}"


# --- what must not change a sum ---------------------------------------------------------------------------------------


def sums(event: Event) -> dict[str, Any]:
    """What is bought and used up of each supply, and in all; exactly."""
    lines = {line.supply.name.value: (line.cost.used_up, line.cost.to_buy, line.needed) for line in event.shopping}
    return {"lines": lines, "all": (event.costs.used_up, event.costs.to_buy, event.costs.whole_each)}


@pytest.mark.parametrize("seed", range(1, 1000, 200))
def test_the_order_of_recipes_and_of_supplies_changes_no_sum(seed: int) -> None:
    made = made_up(seed)
    before = planned(made)
    turned = plan_event(makings(made)[::-1], wishes(made), shelf(stock(made)), {})
    assert sums(turned) == sums(before)
    assert turned.costs.recipes[::-1] == before.costs.recipes
    made.things.reverse()
    assert sums(planned(made)) == sums(before)


@pytest.mark.parametrize("seed", range(2, 1000, 200))
def test_an_event_in_two_parts_that_are_bought_together_costs_the_same(seed: int) -> None:
    """So many kits of a recipe, or some of them and the rest."""
    made = made_up(seed)
    whole = makings(made)
    parts = [
        Making(one.understood, one.figures, kits, *extra)
        for one in whole
        for kits, *extra in [(one.kits // 2, one.spare, 0), (one.kits - one.kits // 2, 0, one.samples)]
        if kits
    ]
    together, apart = planned(made), plan_event(parts, wishes(made), shelf(stock(made)), {})
    assert sums(apart) == sums(together)
    assert sum(one.used_up for one in apart.costs.recipes) == apart.costs.used_up
    assert sum(one.to_buy for one in apart.costs.recipes) == apart.costs.to_buy
