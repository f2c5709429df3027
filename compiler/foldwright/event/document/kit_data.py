"""The format of `kit.json`, as types: their fields are its keys, their docstrings stand in its JSON Schema.

Names of recipes are the names of their folders (`slug`); money is decimal text in the event's `money`. A field goes by
the name of what it is copied from, where that is one of the plan's own values, and has the name of its key beside it.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

from msgspec import Meta, field

from foldwright.document.data_format import Count, DataPart, Exact, Ordinal, Ratio, Seconds
from foldwright.event.document.cutting_data import CuttingData, Index, SpoolsData
from foldwright.event.document.shopping_data import RoomData, ShoppingData
from foldwright.event.plan.jobs import What
from foldwright.event.plan.preparing import Sharing
from foldwright.measure.length import System

# --- recipes, tables and guests ---------------------------------------------------------------------------------------


class ClassStepData(DataPart, frozen=True):
    """A step in class: in how many turns it is done at what is shared, when it begins and how long it takes."""

    number: Ordinal = field(name="step")
    turns: Ordinal
    start: Seconds
    seconds: Seconds


class ClassData(DataPart, frozen=True):
    """How long a class takes at the usual pace, and with the slower makers."""

    usual: Seconds = field(name="usual_seconds")
    slow: Seconds = field(name="slow_seconds")
    steps: tuple[ClassStepData, ...]


class CutBeforehandData(DataPart, frozen=True):
    """The pieces that the cutting plan gives, and the steps it leaves nothing to do of."""

    pieces: tuple[str, ...]
    steps: tuple[Ordinal, ...]


class RecipeData(DataPart, frozen=True, kw_only=True):
    """A recipe and how many are made of it: kits for people, spare ones and samples."""

    slug: str
    title: str
    kits: Count
    spare: Count
    samples: Count
    class_: Annotated[ClassData | None, Meta(description="Null when no length is known.")] = field(name="class")
    cut_beforehand: CutBeforehandData


class SeatedTableData(DataPart, frozen=True):
    """A table and those who sit at it, by their places in `guests`."""

    name: str
    recipe: str
    people: Count
    guests: tuple[Index, ...]


class GuestData(DataPart, frozen=True):
    """As the list has it; `recipe` is what its project and size mean, if that is known."""

    name: str
    table: str | None
    project: str | None
    size: str | None
    diet: str | None
    note: str | None
    recipe: str | None


# --- preparing --------------------------------------------------------------------------------------------------------


class NeedData(DataPart, frozen=True):
    """Of another job one must be done for `each` of this one, after the first `start`."""

    task: Index = field(name="job")
    start: Ratio
    each: Ratio


class JobData(DataPart, frozen=True):
    """Something to do before class, `count` times. `get_ready` is once for each who does it, `set_up` once for each
    lot, `wait` after each lot, with nobody busy; `after` are the jobs to be done before, kit by kit. No more than
    `machines` people can be at it at once (0: any number), and jobs with the same `machine` share them.
    """

    number: Index = field(name="job")
    what: What
    recipe: str | None
    step: Ordinal | None
    cutting: Annotated[Index | None, Meta(description="The plan in `cutting`, from 0.")]
    layout: Annotated[Ordinal | None, Meta(description="The layout of that plan, from 1.")]
    supply: str | None
    count: Count
    seconds: Seconds
    get_ready: Seconds
    set_up: Seconds
    wait: Seconds
    machine: str | None
    machines: Count
    after: tuple[Index, ...]
    needs: tuple[NeedData, ...]


class CutStepData(DataPart, frozen=True):
    """A step that the cutting plan leaves nothing to do of."""

    recipe: str
    step: Ordinal


class StationData(DataPart, frozen=True):
    """Jobs for one station in a row, its helpers, and the hands-on time at it."""

    jobs: tuple[Index, ...]
    helpers: Count
    seconds: Seconds


class FinishData(DataPart, frozen=True):
    """When so many helpers would be done."""

    helpers: Ordinal
    seconds: Seconds = field(name="finish_seconds")


class SpanData(DataPart, frozen=True):
    """What a helper does from `start` to `end`: `count` of a job, from the `first` (job 0 is a break)."""

    helper: Ordinal
    task: Index = field(name="job")
    start: Seconds
    end: Seconds
    first: Count
    count: Count


class PreparationData(DataPart, frozen=True):
    """How the helpers share the work, `work_seconds` of one person alone; no way is done before `bound_seconds`."""

    way: Sharing
    finish: Seconds = field(name="finish_seconds")
    together: Seconds = field(name="together_seconds")
    stations: Seconds = field(name="stations_seconds")
    bound: Seconds = field(name="bound_seconds")
    work: Seconds = field(name="work_seconds")
    batch: Count
    rate: Annotated[Ratio | None, Meta(description="What each doubling leaves of the time for one.")] = field(
        name="learning"
    )
    trimmers: Annotated[Count, Meta(description="0 when nobody says.")]
    jobs: tuple[JobData, ...]
    cut_already: tuple[CutStepData, ...]
    row: tuple[StationData, ...] = field(name="stations")
    balance_proven: bool
    by_helpers: tuple[FinishData, ...]
    timeline: tuple[SpanData, ...]


# --- costs ------------------------------------------------------------------------------------------------------------


class RecipeCostsData(DataPart, frozen=True):
    """What the supplies of one recipe cost; each kit bears its share of spare ones and samples."""

    slug: str
    kits: Count
    used_up: Decimal
    to_buy: Decimal
    used_up_each: Decimal
    to_buy_each: Decimal


class OtherCostData(DataPart, frozen=True):
    """What is paid besides supplies: once, or for each kit."""

    name: str
    amount: Decimal
    each: bool
    sum: Decimal


class CostsData(DataPart, frozen=True):
    """`used_up` and `to_buy` are those of the supplies; `whole` is what is bought and the other costs."""

    used_up: Decimal
    to_buy: Decimal
    used_up_each: Decimal
    to_buy_each: Decimal
    not_counted: tuple[str, ...]
    by_recipe: tuple[RecipeCostsData, ...]
    other: tuple[OtherCostData, ...]
    whole: Decimal
    whole_each: Decimal
    fee_at_margin: Decimal | None
    margin_at_fee: Ratio | None


class MissingData(DataPart, frozen=True):
    """Pieces that come out of no sheet, or (`piece` and `down` null) lengths that come off no spool."""

    supply: str
    colour: str | None
    recipe: str
    piece: str | None
    count: Count
    width: Exact = field(name="across")
    height: Exact | None = field(name="down")
    scarce: bool


class KitData(DataPart, frozen=True):
    """A planned event. A key that is added, goes or changes its meaning raises the version."""

    version: Literal[3]
    units: System
    called: str | None
    on: str | None
    at: str | None
    people: Count
    helpers: Count
    money: Annotated[str | None, Meta(description="Its code as in ISO 4217.")]
    recipes: tuple[RecipeData, ...]
    tables: tuple[SeatedTableData, ...]
    guests: tuple[GuestData, ...]
    preparation: PreparationData | None
    cutting: tuple[CuttingData, ...]
    spools: tuple[SpoolsData, ...]
    shopping: tuple[ShoppingData, ...]
    room: RoomData
    costs: CostsData
    missing: tuple[MissingData, ...]
