"""How sheets and spools are cut, as data for `kit.json`; and a plan of sheets read back from it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

import msgspec
from msgspec import Meta, Struct, convert, field

from foldwright.document.data_format import Count, DataPart, Exact, Ordinal, Ratio, copied, decoded
from foldwright.event.plan.cuts import CutPart, NumberedCut
from foldwright.event.plan.cutting import SheetPlan, SheetWork
from foldwright.event.plan.planning import Event
from foldwright.event.plan.shopping import ShoppingLine
from foldwright.event.plan.taken import spool_work
from foldwright.pack.cutting.model import Arrangement, CutLayout, Cutting, Rectangle

type Index = Annotated[int, Meta(ge=0, description="Counts from 0.")]


class WantedData(DataPart, frozen=True):
    """Pieces of one kind."""

    recipe: str
    piece: str
    count: Count
    width: Exact = field(name="across")
    height: Exact = field(name="down")


class StockData(DataPart, frozen=True):
    """Sheets of one size, owned or sold. `there_are` is null for as many as are bought; `trim` goes off all round."""

    width: Exact = field(name="across")
    height: Exact = field(name="down")
    trim: Exact
    owned: bool
    scrap: bool
    count: Count | None = field(name="there_are")
    used: Count


class TreeData(DataPart, frozen=True, omit_defaults=True):
    """A rectangle of a layout: a piece (by its index), a row of parts, or an offcut (neither of them)."""

    width: Exact = field(name="across")
    height: Exact = field(name="down")
    kind: Index | None = field(name="piece", default=None)
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
    width: Exact = field(name="across")
    height: Exact = field(name="down")


class LeavesData(DataPart, frozen=True):
    """What is left of a part after its cuts: a piece, a part to go on with, or what falls off (to keep or not)."""

    part: PartData | None
    piece: str | None
    offcut: bool = field(name="falls_off")
    kept: bool = field(name="keep")
    width: Exact = field(name="across")
    height: Exact = field(name="down")


class CutData(DataPart, frozen=True):
    """One setting of the stop; or (`trim`, without a stop) an edge squared up, `leaves` sticking out past the blade.

    `fence` is the length of the edge along the fence; `turn` whether each part is turned a quarter first, from how it
    came off the trimmer (blade edge to fence, fence edge to stop); `on_scale` whether the scale shows the number.
    """

    number: Ordinal
    of: PartData
    count: Count
    row: Arrangement = field(name="side")
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
    width: Exact = field(name="across")
    height: Exact = field(name="down")


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


# --- from a plan ------------------------------------------------------------------------------------------------------


def cutting_data(event: Event, plan: SheetPlan) -> CuttingData:
    """How the sheets of one supply are cut."""
    cutting = plan.cutting
    return copied(
        CuttingData,
        plan,
        recipes=tuple(map(event.slug, plan.recipes)),
        pieces=tuple([copied(WantedData, one, recipe=event.slug(one.recipe)) for one in plan.wanted]),
        sheets=tuple([copied(StockData, size, used=cutting.sheets(number)) for number, size in enumerate(plan.sizes)]),
        proven=cutting.proven,
        too_large=tuple([plan.wanted[number].piece for number in cutting.too_large]),
        traded=cutting.traded,
        short=tuple([ShortData(plan.wanted[number].piece, count) for number, count in cutting.short]),
        cost=cutting.cost,
        cost_bound=cutting.bound,
        layouts=tuple([_layout(plan, work) for work in plan.work]),
    )


def _layout(plan: SheetPlan, work: SheetWork) -> LayoutData:
    layout, trim = work.layout, plan.sizes[work.layout.stock].trim
    return LayoutData(
        sheet=layout.stock,
        copies=layout.copies,
        stages=layout.whole.stages,
        tree=convert(layout.whole, TreeData, from_attributes=True),
        places=tuple(
            [
                LaidPieceData(plan.wanted[kind].piece, left, top, piece.width, piece.height)
                for kind, piece, left, top in layout.whole.placed(trim, trim)
            ]
        ),
        cuts=tuple([_cut(plan, cut) for cut in work.cuts]),
        strips=convert(work.worked.strips, tuple[StripData, ...], from_attributes=True),
    )


def _cut(plan: SheetPlan, cut: NumberedCut) -> CutData:
    left = cut.left
    gives = copied(GivenData, cut, part=_part(cut.part), piece=_piece(plan, cut.piece))
    leaves = copied(LeavesData, left, part=_part(left.part), piece=_piece(plan, left.piece))
    stop = None if cut.trim else cut.stop
    return copied(CutData, cut, of=_part(cut.of), stop=stop, gives=gives, leaves=None if left.nothing else leaves)


def _part(part: CutPart | None) -> PartData | None:
    return copied(PartData, part) if part else None


def _piece(plan: SheetPlan, number: int | None) -> str | None:
    return None if number is None else plan.wanted[number].piece


# --- an earlier plan --------------------------------------------------------------------------------------------------


class _EarlierKit(Struct, frozen=True):
    cutting: tuple[CuttingData, ...]


def cuttings_in(text: str) -> Mapping[str, Cutting]:
    """The cuttings of a `kit.json` by their keys; none of what is not as it was written."""
    try:
        plans = decoded(text, _EarlierKit).cutting
    except (msgspec.DecodeError, ArithmeticError, ValueError):
        return {}
    return {plan.key: _cutting(plan) for plan in plans if not plan.too_large and not plan.short}


def _cutting(plan: CuttingData) -> Cutting:
    layouts = tuple(
        [CutLayout(one.sheet, convert(one.tree, Rectangle, from_attributes=True), one.copies) for one in plan.layouts]
    )
    return Cutting(layouts, plan.cost, plan.cost_bound, plan.proven)


# --- spools -----------------------------------------------------------------------------------------------------------


def spools_data(event: Event, line: ShoppingLine) -> SpoolsData:
    """Which lengths come off which spool."""
    work = []
    for one in spool_work(line):
        lengths = [copied(SpoolLengthsData, each, recipes=tuple(map(event.slug, each.recipes))) for each in one.lengths]
        work.append(copied(SpoolWorkData, one, lengths=tuple(lengths)))
    return SpoolsData(line.supply.name.value, line.colour or None, tuple(work))
