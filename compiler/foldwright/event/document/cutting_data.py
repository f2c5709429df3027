"""How sheets and spools are cut, as data for `kit.json`; and a plan of sheets read back from it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

import msgspec
from msgspec import Struct

from foldwright.document.data_format import decoded
from foldwright.event.document.kit_data import (
    CutData,
    CuttingData,
    GivenData,
    LaidPieceData,
    LayoutData,
    LeavesData,
    PartData,
    ShortData,
    SpoolLengthsData,
    SpoolsData,
    SpoolWorkData,
    StockData,
    StripData,
    TradedData,
    TreeData,
    WantedData,
)
from foldwright.event.plan.cuts import CutPart, Left, NumberedCut
from foldwright.event.plan.cutting import SheetPlan, SheetWork
from foldwright.event.plan.planning import Event
from foldwright.event.plan.shopping import ShoppingLine
from foldwright.event.plan.taken import spool_work
from foldwright.pack.cutting.model import Arrangement, CutLayout, Cutting, Rectangle


def cutting_data(event: Event, plan: SheetPlan) -> CuttingData:
    """How the sheets of one supply are cut."""
    cutting = plan.cutting
    return CuttingData(
        supply=plan.supply,
        colour=plan.colour or None,
        recipes=tuple(map(event.slug, plan.recipes)),
        pieces=tuple(
            [WantedData(event.slug(one.recipe), one.piece, one.count, one.width, one.height) for one in plan.wanted]
        ),
        sheets=tuple(
            [
                StockData(
                    size.width, size.height, size.trim, size.owned, size.scrap, size.count, cutting.sheets(number)
                )
                for number, size in enumerate(plan.sizes)
            ]
        ),
        bought=plan.bought,
        bound=plan.bound,
        proven=cutting.proven,
        too_large=tuple([plan.wanted[number].piece for number in cutting.too_large]),
        traded=TradedData(cutting.traded.sheets, cutting.traded.layouts) if cutting.traded else None,
        short=tuple([ShortData(plan.wanted[number].piece, count) for number, count in cutting.short]),
        at_once=plan.at_once,
        step=plan.step,
        key=plan.key,
        cost=cutting.cost,
        cost_bound=cutting.bound,
        layouts=tuple([_layout(plan, work) for work in plan.work]),
    )


def _layout(plan: SheetPlan, work: SheetWork) -> LayoutData:
    layout = work.layout
    return LayoutData(
        sheet=layout.stock,
        copies=layout.copies,
        stages=layout.whole.stages,
        tree=_tree(layout.whole),
        places=tuple(_places(plan, layout.whole, plan.sizes[layout.stock].trim)),
        cuts=tuple([_cut(plan, cut) for cut in work.cuts]),
        strips=tuple([StripData(one.name, one.left, one.top, one.width, one.height) for one in work.worked.strips]),
    )


def _tree(part: Rectangle) -> TreeData:
    return TreeData(part.width, part.height, part.kind, part.row, tuple(map(_tree, part.parts)))


def _places(plan: SheetPlan, part: Rectangle, trim: Fraction) -> Iterator[LaidPieceData]:
    """Every piece: its corner from the sheet's top left, its size as it lies."""
    waiting = [(part, trim, trim)]
    while waiting:
        one, left, top = waiting.pop()
        if one.kind is not None:
            yield LaidPieceData(plan.wanted[one.kind].piece, left, top, one.width, one.height)
        inner = []
        for smaller in one.parts:
            inner.append((smaller, left, top))
            if one.row is Arrangement.ACROSS:
                left += smaller.width
            else:
                top += smaller.height
        waiting += reversed(inner)


def _cut(plan: SheetPlan, cut: NumberedCut) -> CutData:
    return CutData(
        number=cut.number,
        of=_part(cut.of),
        count=cut.count,
        side=cut.row,
        stop=None if cut.trim else cut.stop,
        on_scale=cut.on_scale,
        fence=cut.fence,
        turn=cut.turn,
        times=cut.times,
        trim=cut.trim,
        gives=GivenData(
            cut.each, _part(cut.part) if cut.part else None, _piece(plan, cut.piece), cut.width, cut.height
        ),
        leaves=None if cut.left.nothing else _leaves(plan, cut.left),
    )


def _leaves(plan: SheetPlan, left: Left) -> LeavesData:
    part = _part(left.part) if left.part else None
    return LeavesData(part, _piece(plan, left.piece), left.offcut, left.kept, left.width, left.height)


def _part(part: CutPart) -> PartData:
    return PartData(part.letter or None, part.squared, part.rest)


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
    layouts = tuple([CutLayout(one.sheet, _rectangle(one.tree), one.copies) for one in plan.layouts])
    return Cutting(layouts, plan.cost, plan.cost_bound, plan.proven)


def _rectangle(tree: TreeData) -> Rectangle:
    return Rectangle(tree.across, tree.down, tree.piece, tree.row, tuple(map(_rectangle, tree.parts)))


# --- spools -----------------------------------------------------------------------------------------------------------


def spools_data(event: Event, line: ShoppingLine) -> SpoolsData:
    """Which lengths come off which spool."""
    return SpoolsData(
        supply=line.supply.name.value,
        colour=line.colour or None,
        work=tuple(
            [
                SpoolWorkData(
                    first=work.first,
                    spools=work.spools,
                    length=work.length,
                    owned=work.owned,
                    lengths=tuple(
                        [
                            SpoolLengthsData(tuple(map(event.slug, one.recipes)), one.length, one.count)
                            for one in work.lengths
                        ]
                    ),
                    left=work.left,
                )
                for work in spool_work(line)
            ]
        ),
    )
