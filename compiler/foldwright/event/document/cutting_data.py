"""How sheets and spools are cut, as data for `kit.json`; and a plan of sheets read back from it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

from foldwright.document.data import exact_mm
from foldwright.event.plan.cuts import CutPart, NumberedCut
from foldwright.event.plan.cutting import SheetPlan, SheetWork
from foldwright.event.plan.planning import Event
from foldwright.event.plan.shopping import ShoppingLine
from foldwright.event.plan.spools import spool_work
from foldwright.pack.cutting.model import Arrangement, CutLayout, Cutting, Rectangle

type Data = dict[str, Any]


def sheets_data(event: Event, plan: SheetPlan) -> Data:
    cutting = plan.cutting
    return {
        "supply": plan.supply,
        "colour": plan.colour or None,
        "recipes": [event.makings[number].understood.recipe.slug for number in plan.recipes],
        "pieces": [
            {
                "recipe": event.makings[one.recipe].understood.recipe.slug,
                "piece": one.piece,
                "count": one.count,
                "across": exact_mm(one.width),
                "down": exact_mm(one.height),
            }
            for one in plan.wanted
        ],
        "sheets": [
            {
                "across": exact_mm(size.width),
                "down": exact_mm(size.height),
                "trim": exact_mm(size.trim),
                "owned": size.owned,
                "scrap": size.scrap,
                "there_are": size.count,
                "used": cutting.sheets(number),
            }
            for number, size in enumerate(plan.sizes)
        ],
        "bought": plan.bought,
        "bound": plan.bound,
        "proven": cutting.proven,
        "too_large": [plan.wanted[number].piece for number in cutting.too_large],
        "traded": {"sheets": cutting.traded.sheets, "layouts": cutting.traded.layouts} if cutting.traded else None,
        "short": [{"piece": plan.wanted[number].piece, "count": count} for number, count in cutting.short],
        "at_once": plan.at_once,
        "step": exact_mm(plan.step),
        "key": plan.key,
        "cost": str(cutting.cost),
        "cost_bound": str(cutting.bound),
        "layouts": [_layout(plan, work) for work in plan.work],
    }


def _layout(plan: SheetPlan, work: SheetWork) -> Data:
    return {
        "sheet": work.layout.stock,
        "copies": work.layout.copies,
        "stages": work.layout.whole.stages,
        "tree": _tree(work.layout.whole),
        "places": [
            {"piece": plan.wanted[kind].piece, "left": left, "top": top, "across": across, "down": down}
            for kind, left, top, across, down in _places(work.layout.whole, plan.sizes[work.layout.stock].trim)
        ],
        "cuts": [_cut(plan, cut) for cut in work.cuts],
        "strips": [
            {"name": one.name, "left": exact_mm(one.left), "top": exact_mm(one.top)}
            | {"across": exact_mm(one.width), "down": exact_mm(one.height)}
            for one in work.worked.strips
        ],
    }


def _tree(part: Rectangle) -> Data:
    """A rectangle, what it is (a piece by its index, or a row of parts), for a later run to take up again."""
    data: Data = {"across": exact_mm(part.width), "down": exact_mm(part.height)}
    if part.kind is not None:
        return {**data, "piece": part.kind}
    return {**data, "row": part.row.value, "parts": list(map(_tree, part.parts))} if part.row else data


def cuttings_in(text: str) -> Mapping[str, Cutting]:
    """The cuttings of a `kit.json` by their keys; none of what is not as it was written."""
    try:
        plans = json.loads(text)["cutting"]
        return {plan["key"]: _cutting(plan) for plan in plans if not plan["too_large"] and not plan["short"]}
    except (ValueError, LookupError, TypeError, ArithmeticError):
        return {}


def _cutting(plan: Data) -> Cutting:
    layouts = tuple(CutLayout(one["sheet"], _part(one["tree"]), one["copies"]) for one in plan["layouts"])
    return Cutting(layouts, Fraction(plan["cost"]), Fraction(plan["cost_bound"]), plan["proven"])


def _part(data: Data) -> Rectangle:
    row = Arrangement(data["row"]) if "row" in data else None
    parts = tuple(map(_part, data.get("parts", ())))
    return Rectangle(Fraction(data["across"]), Fraction(data["down"]), data.get("piece"), row, parts)


def _places(part: Rectangle, trim: Fraction) -> Iterator[tuple[int, str, str, str, str]]:
    """Every piece: which, its corner from the sheet's top left, its size as it lies."""
    waiting = [(part, trim, trim)]
    while waiting:
        one, left, top = waiting.pop()
        if one.kind is not None:
            yield one.kind, exact_mm(left), exact_mm(top), exact_mm(one.width), exact_mm(one.height)
        inner = []
        for smaller in one.parts:
            inner.append((smaller, left, top))
            if one.row is not None and one.row.value == "across":
                left += smaller.width
            else:
                top += smaller.height
        waiting += reversed(inner)


def _cut(plan: SheetPlan, cut: NumberedCut) -> Data:
    """One setting of the stop; or (`trim`, without a stop) an edge squared up, `leaves` sticking out past the blade.

    `fence` is the length of the edge along the fence; `turn` whether each part is turned a quarter first, from how it
    came off the trimmer (blade edge to fence, fence edge to stop); `on_scale` whether the scale shows the number.
    """
    left = cut.left
    return {
        "number": cut.number,
        "of": _called(cut.of),
        "count": cut.count,
        "side": cut.row.value,
        "stop": None if cut.trim else exact_mm(cut.stop),
        "on_scale": cut.on_scale,
        "fence": exact_mm(cut.fence),
        "turn": cut.turn,
        "times": cut.times,
        "trim": cut.trim,
        "gives": {
            "each": cut.each,
            "part": _called(cut.part),
            "piece": None if cut.piece is None else plan.wanted[cut.piece].piece,
            "across": exact_mm(cut.width),
            "down": exact_mm(cut.height),
        },
        "leaves": {
            "part": _called(left.part),
            "piece": None if left.piece is None else plan.wanted[left.piece].piece,
            "falls_off": left.offcut,
            "keep": left.kept,
            "across": exact_mm(left.width),
            "down": exact_mm(left.height),
        }
        if not left.nothing
        else None,
    }


def _called(part: CutPart | None) -> Data | None:
    """A sheet has no letter; `squared` of its edges were cut true, and `rest` is what is left after so many rows."""
    return None if part is None else {"letter": part.letter or None, "squared": part.squared, "rest": part.rest}


def spools_data(event: Event, line: ShoppingLine) -> Data:
    """Which lengths come off which spool: spools from `first` on are cut alike, `lengths` are those of one."""
    return {
        "supply": line.supply.name.value,
        "colour": line.colour or None,
        "work": [
            {
                "first": work.first,
                "spools": work.spools,
                "length": exact_mm(work.length),
                "owned": work.owned,
                "lengths": [
                    {
                        "recipes": [event.makings[number].understood.recipe.slug for number in one.recipes],
                        "length": exact_mm(one.length),
                        "count": one.count,
                    }
                    for one in work.lengths
                ],
                "left": exact_mm(work.left),
            }
            for work in spool_work(line)
        ],
    }
