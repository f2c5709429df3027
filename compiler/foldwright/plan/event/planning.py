"""The whole plan of an event from recipes and how many of each: cutting, shopping, costs, preparation, the class."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.measure.amounts import Dimension
from foldwright.pack.cutting.model import Cutting
from foldwright.plan.event.balancing import Task
from foldwright.plan.event.class_length import ClassLength, ClassStep, class_length
from foldwright.plan.event.cutting import How, SheetPlan, plan_sheets
from foldwright.plan.event.model import Making, Wishes
from foldwright.plan.event.money import Costs, costs_of
from foldwright.plan.event.preparing import Preparation, plan_preparation
from foldwright.plan.event.shopping import ShoppingLine, shop
from foldwright.plan.event.tables import Table, tables_of
from foldwright.plan.times import StepTime
from foldwright.recipe.model import Recipe, Step, When
from foldwright.recipe.stock import ShelfLine
from foldwright.vocabulary import kind_of


class Event(Struct, frozen=True):
    """Everything worked out. Preparations and class lengths are by recipe; None where there is nothing to do."""

    makings: tuple[Making, ...]
    wishes: Wishes
    sheets: tuple[SheetPlan, ...]
    shopping: tuple[ShoppingLine, ...]
    costs: Costs
    preparations: tuple[Preparation | None, ...]
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
    sheets = plan_sheets(
        makings, wishes.system, shelf, wishes.trim, How(wishes.effort, wishes.fewest, wishes.digits), known
    )
    shopping = shop(makings, sheets, shelf, wishes.digits, wishes.spool_end)
    counted = [line.cost for line in shopping if not line.supply.optional]
    return Event(
        tuple(makings),
        wishes,
        sheets,
        shopping,
        costs_of(counted, sum(making.kits for making in makings)),
        tuple(_preparation(making, wishes) for making in makings),
        tuple(_class(making) for making in makings),
        tables_of([making.kits for making in makings], wishes.per_table),
    )


def _preparation(making: Making, wishes: Wishes) -> Preparation | None:
    recipe, times = making.understood.recipe, making.understood.times
    steps = [step for step in recipe.steps if step.when is When.BEFORE_CLASS and not step.optional]
    if not steps:
        return None
    tasks = [_task(step, times.steps[step.number - 1], steps) for step in steps]
    return plan_preparation(tasks, making.all_kits, wishes.helpers, wishes.learning)


def _task(step: Step, time: StepTime, steps: Sequence[Step]) -> Task:
    share = step.share.value if step.share else None
    return Task(
        number=step.number,
        seconds=time.hands_on,
        get_ready=time.get_ready,
        wait=time.waiting,
        after=tuple(other.number for other in steps if other.number < step.number and _follows(step, other)),
        machine=share[1] if share else "",
        machines=share[0] if share else 0,
    )


def _follows(step: Step, other: Step) -> bool:
    """Steps that work on the same piece keep their order; one that names no piece comes after all before it."""
    mine, its = _subjects(step), _subjects(other)
    return not mine or not its or not mine.isdisjoint(its)


def _subjects(step: Step) -> set[str]:
    return {subject for doing in step.doings for subject in doing.subjects}


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
