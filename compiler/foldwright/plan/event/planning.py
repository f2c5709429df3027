"""The whole plan of an event from recipes and how many of each: cutting, shopping, costs, preparation, the class."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.measure.amounts import Dimension
from foldwright.pack.cutting.model import Cutting
from foldwright.plan.event.class_length import ClassLength, ClassStep, class_length
from foldwright.plan.event.cutting import SheetPlan, plan_sheets
from foldwright.plan.event.jobs import Jobs, jobs_of
from foldwright.plan.event.model import Making, Wishes
from foldwright.plan.event.money import Costs, costs_of
from foldwright.plan.event.preparing import Preparation, plan_preparation
from foldwright.plan.event.shopping import ShoppingLine, shop
from foldwright.plan.event.tables import Table, tables_of
from foldwright.recipe.model import Recipe, When
from foldwright.recipe.stock import ShelfLine
from foldwright.vocabulary import kind_of


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
    tables: tuple[Table, ...]

    @property
    def people(self) -> int:
        return sum(making.kits for making in self.makings)


def plan_event(
    makings: Sequence[Making], wishes: Wishes, shelf: Mapping[str, ShelfLine], known: Mapping[str, Cutting]
) -> Event:
    """Plan it. `shelf` is what is owned, by the supply's name in small letters.

    `known` are the cuttings of an earlier run, which stay where nothing better is proven.
    """
    sheets = plan_sheets(makings, wishes.system, shelf, wishes.trim, wishes.effort, known)
    shopping = shop(makings, sheets, shelf, wishes.digits, wishes.spool_end)
    jobs = jobs_of(makings, sheets, [supplies_in_bag(making.understood.recipe) for making in makings], shelf)
    counted = [line.cost for line in shopping if not line.supply.optional]
    return Event(
        tuple(makings),
        wishes,
        sheets,
        shopping,
        costs_of(counted, sum(making.kits for making in makings)),
        jobs,
        plan_preparation(jobs.tasks, wishes.helpers, wishes.learning),
        tuple(_class(making) for making in makings),
        tables_of([making.kits for making in makings], wishes.per_table),
    )


def _class(making: Making) -> ClassLength | None:
    recipe, times = making.understood.recipe, making.understood.times
    steps = [
        ClassStep(
            number=step.number,
            hands_on=time.hands_on,
            get_ready=time.get_ready,
            waiting=time.waiting,
            meanwhile=time.meanwhile,
            share=step.share.value[0] if step.share else 0,
            optional=step.optional,
        )
        for step, time in zip(recipe.steps, times.steps, strict=True)
        if step.when is When.IN_CLASS
    ]
    return class_length(steps, making.kits) if steps else None


def kits_needed(people: int, spare: Fraction) -> int:
    """How many spare kits a share of spares makes, rounded up."""
    return int(-(-people * spare // 1))


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
