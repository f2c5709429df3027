"""The format of `kit.json`, as types: their fields are its keys, their docstrings stand in its JSON Schema.

Names of recipes are the names of their folders (`slug`); money is decimal text in the event's `money`.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

from msgspec import Meta, field

from foldwright.document.data_format import Count, DataPart, Exact, Ordinal, Ratio, Seconds
from foldwright.event.document.identity import Shop
from foldwright.event.plan.jobs import What
from foldwright.event.plan.preparing import Sharing
from foldwright.event.plan.shopping import Why
from foldwright.measure.length import System
from foldwright.pack.cutting.model import Arrangement

type Index = Annotated[int, Meta(ge=0, description="Counts from 0.")]


# --- recipes, tables and guests ---------------------------------------------------------------------------------------


class ClassStepData(DataPart, frozen=True):
    """A step in class: in how many turns it is done at what is shared, when it begins and how long it takes."""

    step: Ordinal
    turns: Ordinal
    start: Seconds
    seconds: Seconds


class ClassData(DataPart, frozen=True):
    """How long a class takes at the usual pace, and with the slower makers."""

    usual_seconds: Seconds
    slow_seconds: Seconds
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


class TableData(DataPart, frozen=True):
    """A table: what is made at it, and how many sit there."""

    name: str
    recipe: str
    people: Count


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

    job: Index
    start: Ratio
    each: Ratio


class JobData(DataPart, frozen=True):
    """Something to do before class, `count` times. `get_ready` is once for each who does it, `set_up` once for each
    lot, `wait` after each lot, with nobody busy; `after` are the jobs to be done before, kit by kit. No more than
    `machines` people can be at it at once (0: any number), and jobs with the same `machine` share them.
    """

    job: Index
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
    finish_seconds: Seconds


class SpanData(DataPart, frozen=True):
    """What a helper does from `start` to `end`: `count` of a job, from the `first` (job 0 is a break)."""

    helper: Ordinal
    job: Index
    start: Seconds
    end: Seconds
    first: Count
    count: Count


class PreparationData(DataPart, frozen=True):
    """How the helpers share the work, `work_seconds` of one person alone; no way is done before `bound_seconds`."""

    way: Sharing
    finish_seconds: Seconds
    together_seconds: Seconds
    stations_seconds: Seconds
    bound_seconds: Seconds
    work_seconds: Seconds
    batch: Count
    learning: Annotated[Ratio | None, Meta(description="What each doubling leaves of the time for one.")]
    trimmers: Annotated[Count, Meta(description="0 when nobody says.")]
    jobs: tuple[JobData, ...]
    cut_already: tuple[CutStepData, ...]
    stations: tuple[StationData, ...]
    balance_proven: bool
    by_helpers: tuple[FinishData, ...]
    timeline: tuple[SpanData, ...]


# --- cutting ----------------------------------------------------------------------------------------------------------


class WantedData(DataPart, frozen=True):
    """Pieces of one kind."""

    recipe: str
    piece: str
    count: Count
    across: Exact
    down: Exact


class StockData(DataPart, frozen=True):
    """Sheets of one size, owned or sold. `there_are` is null for as many as are bought; `trim` goes off all round."""

    across: Exact
    down: Exact
    trim: Exact
    owned: bool
    scrap: bool
    there_are: Count | None
    used: Count


class TreeData(DataPart, frozen=True, omit_defaults=True):
    """A rectangle of a layout: a piece (by its index), a row of parts, or an offcut (neither of them)."""

    across: Exact
    down: Exact
    piece: Index | None = None
    row: Arrangement | None = None
    parts: tuple[TreeData, ...] = ()


class LaidPieceData(DataPart, frozen=True):
    """A piece as it lies, its corner from the top left of the sheet."""

    piece: str
    left: Exact
    top: Exact
    across: Exact
    down: Exact


class PartData(DataPart, frozen=True):
    """Something to cut: the sheet, or the strip that has a letter. `squared` of its edges were cut true, and `rest`
    counts the rows that are already off.
    """

    letter: str | None
    squared: Count
    rest: Count


class GivenData(DataPart, frozen=True):
    """What a cut gives of each part: so many of a piece, or of a part to go on with."""

    each: Count
    part: PartData | None
    piece: str | None
    across: Exact
    down: Exact


class LeavesData(DataPart, frozen=True):
    """What is left of a part after its cuts: a piece, a part to go on with, or what falls off (to keep or not)."""

    part: PartData | None
    piece: str | None
    falls_off: bool
    keep: bool
    across: Exact
    down: Exact


class CutData(DataPart, frozen=True):
    """One setting of the stop; or (`trim`, without a stop) an edge squared up, `leaves` sticking out past the blade.

    `fence` is the length of the edge along the fence; `turn` whether each part is turned a quarter first, from how it
    came off the trimmer (blade edge to fence, fence edge to stop); `on_scale` whether the scale shows the number.
    """

    number: Ordinal
    of: PartData
    count: Count
    side: Arrangement
    stop: Exact | None
    on_scale: bool
    fence: Exact
    turn: bool
    times: Count
    trim: bool
    gives: GivenData
    leaves: LeavesData | None


class StripData(DataPart, frozen=True):
    """Where a part that has a letter lies on the sheet."""

    name: str
    left: Exact
    top: Exact
    across: Exact
    down: Exact


class LayoutData(DataPart, frozen=True):
    """So many sheets (an index of `sheets`) cut alike: as rectangles, as places, and as cuts in the order of work."""

    sheet: Index
    copies: Count
    stages: Count
    tree: TreeData
    places: tuple[LaidPieceData, ...]
    cuts: tuple[CutData, ...]
    strips: tuple[StripData, ...]


class TradedData(DataPart, frozen=True):
    """So many sheets more than the fewest, for so many layouts less."""

    sheets: Count
    layouts: Count


class ShortData(DataPart, frozen=True):
    """How many of a piece the sheets there are do not give."""

    piece: str
    count: Count


class CuttingData(DataPart, frozen=True):
    """How the pieces of one supply come out of sheets. `bound` is the fewest sheets to buy however they are cut, and
    `proven` says that no cheaper way can exist; `step` is the finest mark of the trimmer's scale, `key` what an
    earlier plan of the same pieces and sheets is found by.
    """

    supply: str
    colour: str | None
    recipes: tuple[str, ...]
    pieces: tuple[WantedData, ...]
    sheets: tuple[StockData, ...]
    bought: Count
    bound: Count | None
    proven: bool
    too_large: tuple[str, ...]
    traded: TradedData | None
    short: tuple[ShortData, ...]
    at_once: Annotated[Count, Meta(description="How many sheets the trimmer takes at a time.")]
    step: Exact
    key: str
    cost: Ratio
    cost_bound: Ratio
    layouts: tuple[LayoutData, ...]


class SpoolLengthsData(DataPart, frozen=True):
    """So many of one length, for the kits of some recipes."""

    recipes: tuple[str, ...]
    length: Exact
    count: Count


class SpoolWorkData(DataPart, frozen=True):
    """Spools that are cut alike, numbered from `first`; `lengths` are those of one, `left` what remains of it."""

    first: Ordinal
    spools: Count
    length: Exact
    owned: bool
    lengths: tuple[SpoolLengthsData, ...]
    left: Exact


class SpoolsData(DataPart, frozen=True):
    """Which lengths of a supply come off which spool."""

    supply: str
    colour: str | None
    work: tuple[SpoolWorkData, ...]


# --- shopping, the room and costs -------------------------------------------------------------------------------------


class PacksData(DataPart, frozen=True):
    """So many packs of so much each; a unit is `mm` for lengths, null for what is counted."""

    packs: Count
    of: Ratio
    unit: str | None
    sheet: str | None
    price: Decimal | None
    sum: Decimal | None


class ThingNeedData(DataPart, frozen=True):
    """Which recipe needs a thing, by the name it has there."""

    recipe: str
    supply: str
    kits: Count
    optional: bool


class SheetSizeData(DataPart, frozen=True):
    """A size of sheet that is used."""

    name: str
    across: Exact
    down: Exact


class TakenData(DataPart, frozen=True):
    """So many, of so many alike, that are taken from the shelf, with the sides of a sheet or a length alone."""

    taken: Count
    there_are: Count
    sides: tuple[Exact, ...]
    scrap: bool


class ShoppingData(DataPart, frozen=True):
    """One supply in one colour: what is needed, what is there, what is bought and left over, and what identifies it.

    Amounts are in `unit` (`mm` for lengths, null: counted); weights in grams a square metre, sizes in millimetres.
    """

    supply: str
    colour: str | None
    why: Why
    optional: bool
    unit: str | None
    needed: Ratio
    on_shelf: Ratio
    used_of_shelf: Ratio
    buy: tuple[PacksData, ...]
    left_over: Ratio
    used_up: Decimal | None
    to_buy: Decimal | None
    stand_in: str | None
    short: bool
    counted: bool
    recipes: tuple[str, ...]
    needs: tuple[ThingNeedData, ...]
    shop: Shop
    kind: str | None
    weight_gsm: Ratio | None
    thickness: Exact | None
    width: Exact | None
    size: tuple[Exact, ...] | None
    sheets: tuple[SheetSizeData, ...]
    pattern: str | None
    grain: str | None
    contains: tuple[str, ...]
    from_shelf: tuple[TakenData, ...]


class RoomThingData(DataPart, frozen=True):
    """A thing that is shared: how many on each table, in the room, before class and in all, and how many lack."""

    name: str
    colour: str | None
    recipes: tuple[str, ...]
    count: Count
    at_table: tuple[Count, ...]
    in_room: Count
    before_class: Count
    optional: bool
    have: Count
    plenty: bool
    lacking: Count


class RoomData(DataPart, frozen=True):
    """Tools, and what sticks or colours, that must be in the room; `at_table` goes by the order of `tables`."""

    tables: tuple[TableData, ...]
    tools: tuple[RoomThingData, ...]
    consumables: tuple[RoomThingData, ...]


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
    across: Exact
    down: Exact | None
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
