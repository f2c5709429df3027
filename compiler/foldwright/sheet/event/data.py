"""A planned event as data: `kit.json`. Lengths are exact, in millimetres, as text (`127/2`); money is decimal text."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from foldwright.pack.cutting.model import Cutting, Layout, Part, Row
from foldwright.plan.event.class_length import ClassLength
from foldwright.plan.event.cuts import Cut
from foldwright.plan.event.cutting import SheetPlan, SheetWork
from foldwright.plan.event.model import Making
from foldwright.plan.event.planning import Event
from foldwright.plan.event.preparing import Preparation
from foldwright.plan.event.shopping import ShoppingLine
from foldwright.sheet.data import exact_mm
from foldwright.sheet.event.model import NO_OCCASION, Occasion

VERSION = 1
type Data = dict[str, Any]


def event_json(event: Event, occasion: Occasion = NO_OCCASION) -> str:
    """The whole plan; the same text for the same plan."""
    data: Data = {
        "version": VERSION,
        "units": event.wishes.system.name.lower(),
        "called": occasion.called or None,
        "on": occasion.day or None,
        "at": occasion.place or None,
        "people": event.people,
        "helpers": event.wishes.helpers,
        "money": event.wishes.money or None,
        "recipes": [_recipe(event, number, making) for number, making in enumerate(event.makings)],
        "cutting": [_sheets(event, plan) for plan in event.sheets],
        "shopping": [_line(line) for line in event.shopping],
        "costs": {
            "used_up": _sum(event.costs.used_up),
            "to_buy": _sum(event.costs.to_buy),
            "used_up_each": _sum(event.costs.used_up_each),
            "to_buy_each": _sum(event.costs.to_buy_each),
            "not_counted": list(event.costs.not_counted),
        },
    }
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"


def _sum(money: Decimal | None) -> str | None:
    return None if money is None else str(money)


def _recipe(event: Event, number: int, making: Making) -> Data:
    recipe = making.understood.recipe
    preparation, length = event.preparations[number], event.classes[number]
    return {
        "slug": recipe.slug,
        "title": recipe.title.value,
        "kits": making.kits,
        "spare": making.spare,
        "samples": making.samples,
        "preparation": _preparation(preparation) if preparation else None,
        "class": _class(length) if length else None,
        "cut_beforehand": {
            "pieces": sorted(event.beforehand[number].pieces),
            "steps": sorted(event.beforehand[number].steps),
        },
    }


def _preparation(one: Preparation) -> Data:
    return {
        "way": one.way.value,
        "finish_seconds": one.timeline.finish,
        "whole_kits_seconds": one.whole_kits,
        "stations_seconds": one.stations,
        "bound_seconds": one.bound,
        "work_seconds": one.work,
        "batch": one.timeline.batch,
        "learning": str(one.rate) if one.rate is not None else None,
        "stations": [list(steps) for steps in one.balance.stations],
        "station_seconds": list(one.balance.times),
        "balance_proven": one.balance.proven,
        "shares": [
            {"helper": share.helper, "steps": [{"step": step, "kits": kits} for step, kits in share.steps]}
            for share in one.shares
        ],
        "by_helpers": [{"helpers": each.helpers, "finish_seconds": each.seconds} for each in one.by_helpers],
        "timeline": [
            {"helper": span.helper, "step": span.step, "start": span.start, "end": span.end, "kits": span.kits}
            for span in one.timeline.spans
        ],
    }


def _class(length: ClassLength) -> Data:
    return {
        "usual_seconds": length.usual,
        "slow_seconds": length.slow,
        "steps": [
            {"step": step.number, "turns": step.turns, "start": step.start, "seconds": step.seconds}
            for step in length.steps
        ],
    }


# --- cutting ----------------------------------------------------------------------------------------------------------


def _sheets(event: Event, plan: SheetPlan) -> Data:
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
                "there_are": size.count,
                "used": cutting.sheets(number),
            }
            for number, size in enumerate(plan.sizes)
        ],
        "bought": plan.bought,
        "bound": plan.bound,
        "proven": cutting.proven,
        "too_large": [plan.wanted[number].piece for number in cutting.too_large],
        "short": [{"piece": plan.wanted[number].piece, "count": count} for number, count in cutting.short],
        "at_once": plan.at_once,
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
    }


def _tree(part: Part) -> Data:
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
    layouts = tuple(Layout(one["sheet"], _part(one["tree"]), one["copies"]) for one in plan["layouts"])
    return Cutting(layouts, Fraction(plan["cost"]), Fraction(plan["cost_bound"]), plan["proven"])


def _part(data: Data) -> Part:
    row = Row(data["row"]) if "row" in data else None
    parts = tuple(map(_part, data.get("parts", ())))
    return Part(Fraction(data["across"]), Fraction(data["down"]), data.get("piece"), row, parts)


def _places(part: Part, trim: Fraction) -> Iterator[tuple[int, str, str, str, str]]:
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


def _cut(plan: SheetPlan, cut: Cut) -> Data:
    left = cut.left
    return {
        "number": cut.number,
        "of": cut.of,
        "count": cut.count,
        "side": cut.row.value,
        "stop": exact_mm(cut.stop),
        "times": cut.times,
        "trim": cut.trim,
        "gives": {
            "each": cut.each,
            "name": plan.wanted[cut.piece].piece if cut.piece is not None else cut.name,
            "is_piece": cut.piece is not None,
            "across": exact_mm(cut.width),
            "down": exact_mm(cut.height),
        },
        "leaves": {
            "name": plan.wanted[left.piece].piece if left.piece is not None else left.name,
            "is_piece": left.piece is not None,
            "falls_off": left.offcut,
            "keep": left.kept,
            "across": exact_mm(left.width),
            "down": exact_mm(left.height),
        }
        if left.name
        else None,
    }


# --- shopping ---------------------------------------------------------------------------------------------------------


def _line(line: ShoppingLine) -> Data:
    return {
        "supply": line.supply.name.value,
        "colour": line.colour or None,
        "why": line.why.value,
        "optional": line.supply.optional,
        "unit": line.unit or None,
        "needed": exact_mm(line.needed),
        "on_shelf": exact_mm(line.had),
        "buy": [
            {
                "packs": one.count,
                "of": exact_mm(one.pack.amount.number),
                "unit": one.pack.amount.unit or one.pack.amount.noun or None,
                "price": None if one.pack.price is None else str(one.pack.price),
            }
            for one in line.bought
        ],
        "left_over": exact_mm(line.left_over),
        "used_up": _sum(line.cost.used_up),
        "to_buy": _sum(line.cost.to_buy),
        "stand_in": line.stand_in or None,
        "short": line.short,
    }
