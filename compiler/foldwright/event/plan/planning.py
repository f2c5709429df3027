"""The whole plan of an event from recipes and how many of each: cutting, shopping, costs, preparation, the class."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.event.facts.guests import Guest
from foldwright.event.facts.stock import ShelfLine
from foldwright.event.plan.beforehand import Beforehand, beforehand_of, pieces_given
from foldwright.event.plan.class_length import ClassLength, ClassStep, class_length
from foldwright.event.plan.cutting import Missing, SheetPlan, plan_sheets
from foldwright.event.plan.jobs import Jobs, jobs_of, supplies_in_bag
from foldwright.event.plan.model import Making, Wishes
from foldwright.event.plan.money import Costs, costs_of
from foldwright.event.plan.preparing import Preparation, plan_preparation
from foldwright.event.plan.shopping import ShoppingLine, shop
from foldwright.event.plan.supplies import same_names, supplies_of
from foldwright.event.plan.tools import (
    ClassTable,
    Needed,
    consumables_needed,
    tables_of,
    tools_needed,
    with_bought,
    with_owned,
)
from foldwright.pack.cutting.model import Cutting
from foldwright.recipe.model import When


class Event(Struct, frozen=True):
    """Everything worked out. One preparation for all, class lengths by recipe; None where there is nothing to do."""

    makings: tuple[Making, ...]
    wishes: Wishes
    sheets: tuple[SheetPlan, ...]
    shopping: tuple[ShoppingLine, ...]
    costs: Costs
    jobs: Jobs
    preparation: Preparation | None
    classes: tuple[ClassLength | None, ...]
    tables: tuple[ClassTable, ...]
    beforehand: tuple[Beforehand, ...]
    """What the cutting plan leaves to do, by recipe."""
    guests: tuple[Guest, ...] = ()
    tools: tuple[Needed, ...] = ()
    consumables: tuple[Needed, ...] = ()
    """What sticks or colours and lies on the tables."""

    @property
    def missing(self) -> tuple[Missing, ...]:
        """What comes out of no sheet and off no spool: sums and counts are not whole while there is any."""
        return tuple(one for line in self.shopping for one in line.missing)

    def slug(self, recipe: int) -> str:
        """The name of a recipe's folder, by the recipe's number from nought."""
        return self.makings[recipe].understood.recipe.slug

    @property
    def people(self) -> int:
        return sum(making.kits for making in self.makings)


def plan_event(
    makings: Sequence[Making],
    wishes: Wishes,
    shelf: Mapping[str, ShelfLine],
    known: Mapping[str, Cutting],
    guests: Sequence[Guest] = (),
    told: Callable[[int, int], None] = lambda _done, _all: None,
) -> Event:
    """Plan it. `shelf` is what is owned, by the supply's name in small letters.

    `known` are the cuttings of an earlier run, which stay where nothing better is proven. `told` hears of how many
    supplies the cutting is planned, and how many there are.
    """
    sheets = plan_sheets(makings, wishes, shelf, known, told)
    shopping = shop(makings, sheets, shelf, wishes.spool_end)
    made = sum(making.all_kits for making in makings)
    tables = tables_of([making.kits for making in makings], wishes.per_table, guests)
    beforehand = tuple(
        beforehand_of(making.recipe, making.understood.flat, pieces_given(number, sheets))
        for number, making in enumerate(makings)
    )
    in_bags = [supplies_in_bag(making.recipe) for making in makings]
    jobs = jobs_of(makings, sheets, in_bags, [one.steps for one in beforehand], shelf)
    return Event(
        tuple(makings),
        wishes,
        sheets,
        shopping,
        costs_of([line.cost for line in shopping], [making.kits for making in makings], wishes.costs, made),
        jobs,
        plan_preparation(jobs.tasks, wishes.helpers, wishes.learning),
        tuple(_class(making, one.steps) for making, one in zip(makings, beforehand, strict=True)),
        tables,
        beforehand,
        tuple(guests),
        with_owned(tools_needed(makings, tables, wishes.helpers), shelf),
        with_bought(consumables_needed(makings, tables, supplies_of(makings, same_names(shelf.values()))), shopping),
    )


def _class(making: Making, beforehand: Collection[int]) -> ClassLength | None:
    """Without the steps of which nothing is left."""
    recipe, times = making.recipe, making.understood.times
    steps = [
        ClassStep(step.number, time.hands_on, time.get_ready, time.waiting, time.meanwhile, share, step.optional)
        for step, time in zip(recipe.steps, times.steps, strict=True)
        for share in (step.share.value[0] if step.share else 0,)
        if step.when is When.IN_CLASS and step.number not in beforehand
    ]
    return class_length(steps, making.kits) if steps else None


def kits_needed(people: int, spare: Fraction) -> int:
    """How many spare kits a share of spares makes, rounded up."""
    return int(-(-people * spare // 1))
