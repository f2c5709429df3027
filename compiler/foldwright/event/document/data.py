"""A planned event as data: `kit.json`. Lengths are exact, in millimetres, as text (`127/2`); money is decimal text."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

from foldwright.document.data import exact_mm
from foldwright.event.document.cutting_data import sheets_data, spools_data
from foldwright.event.document.model import NO_OCCASION, Occasion
from foldwright.event.document.room_data import room_data, thing_data
from foldwright.event.facts.guests import Guest
from foldwright.event.plan.class_length import ClassLength
from foldwright.event.plan.jobs import PlannedJob
from foldwright.event.plan.missing import Missing
from foldwright.event.plan.model import Making
from foldwright.event.plan.money import margin_at, price_a_head, rounded
from foldwright.event.plan.planning import Event
from foldwright.event.plan.shopping import ShoppingLine
from foldwright.event.plan.tables import ClassTable

VERSION = 2
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
        "tables": [_table(event, table) for table in event.tables],
        "guests": [_guest(event, guest) for guest in event.guests],
        "preparation": _preparation(event) if event.preparation else None,
        "cutting": [sheets_data(event, plan) for plan in event.sheets],
        "spools": [spools_data(event, line) for line in event.shopping if line.spools],
        "shopping": [{**_line(event, line), **thing_data(event, line)} for line in event.shopping],
        "room": room_data(event),
        "costs": _costs(event),
        "missing": [_missing(event, one) for one in event.missing],
    }
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"


def _sum(event: Event, exact: Fraction | None) -> str | None:
    """Rounded to the minor unit of the money, once."""
    return None if exact is None else str(rounded(exact, event.wishes.digits))


def _recipe(event: Event, number: int, making: Making) -> Data:
    recipe = making.understood.recipe
    length = event.classes[number]
    return {
        "slug": recipe.slug,
        "title": recipe.title.value,
        "kits": making.kits,
        "spare": making.spare,
        "samples": making.samples,
        "class": _class(length) if length else None,
        "cut_beforehand": {
            "pieces": sorted(event.beforehand[number].pieces),
            "steps": sorted(event.beforehand[number].steps),
        },
    }


def _table(event: Event, table: ClassTable) -> Data:
    return {
        "name": table.name,
        "recipe": event.makings[table.recipe].understood.recipe.slug,
        "people": table.people,
        "guests": list(table.guests),
    }


def _guest(event: Event, guest: Guest) -> Data:
    """As the list has it; `recipe` is what its project and size mean, if that is known."""
    return {
        "name": guest.name,
        "table": guest.table or None,
        "project": guest.project or None,
        "size": guest.size or None,
        "diet": guest.diet or None,
        "note": guest.note or None,
        "recipe": None if guest.recipe is None else event.makings[guest.recipe].understood.recipe.slug,
    }


def _preparation(event: Event) -> Data:
    one = event.preparation
    assert one is not None
    return {
        "way": one.way.value,
        "finish_seconds": one.timeline.finish,
        "together_seconds": one.together,
        "stations_seconds": one.stations,
        "bound_seconds": one.bound,
        "work_seconds": one.work,
        "batch": one.timeline.batch,
        "learning": str(one.rate) if one.rate is not None else None,
        "trimmers": event.jobs.trimmers,
        "jobs": [_job(event, job) for job in event.jobs.jobs],
        "cut_already": [
            {"recipe": event.makings[recipe].understood.recipe.slug, "step": step} for recipe, step in event.jobs.cut
        ],
        "stations": [
            {"jobs": list(jobs), "helpers": people, "seconds": seconds}
            for jobs, people, seconds in zip(one.balance.stations, one.balance.people, one.balance.times, strict=True)
        ],
        "balance_proven": one.balance.proven,
        "by_helpers": [{"helpers": each.helpers, "finish_seconds": each.seconds} for each in one.by_helpers],
        "timeline": [
            {
                "helper": span.helper,
                "job": span.task,
                "start": span.start,
                "end": span.end,
                "first": span.first,
                "count": span.count,
            }
            for span in one.timeline.spans
        ],
    }


def _job(event: Event, job: PlannedJob) -> Data:
    """What there are `count` of; of `needs` one for `each` of this job after the first `start`."""
    task = job.task
    return {
        "job": task.number,
        "what": job.what.value,
        "recipe": event.makings[job.recipe].understood.recipe.slug if job.recipe >= 0 else None,
        "step": job.step or None,
        "cutting": job.plan if job.plan >= 0 else None,
        "layout": job.layout + 1 or None,
        "supply": job.supply or None,
        "count": task.count,
        "seconds": task.seconds,
        "get_ready": task.get_ready,
        "set_up": task.set_up,
        "wait": task.wait,
        "machine": task.machine or None,
        "machines": task.machines,
        "after": list(task.after),
        "needs": [{"job": need.task, "start": str(need.start), "each": str(need.each)} for need in task.needs],
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


# --- shopping and costs -----------------------------------------------------------------------------------------------


def _line(event: Event, line: ShoppingLine) -> Data:
    return {
        "supply": line.supply.name.value,
        "colour": line.colour or None,
        "why": line.why.value,
        "optional": line.supply.optional,
        "unit": line.unit or None,
        "needed": exact_mm(line.needed),
        "on_shelf": exact_mm(line.had),
        "used_of_shelf": exact_mm(line.used_of_had),
        "buy": [
            {
                "packs": one.count,
                "of": exact_mm(one.pack.amount.number),
                "unit": one.pack.amount.unit or one.pack.amount.noun or None,
                "sheet": one.sheet or None,
                "price": None if one.pack.price is None else str(one.pack.price),
                "sum": _sum(event, one.price),
            }
            for one in line.bought
        ],
        "left_over": exact_mm(line.left_over),
        "used_up": _sum(event, line.cost.used_up),
        "to_buy": _sum(event, line.cost.to_buy),
        "stand_in": line.stand_in or None,
        "short": line.short,
        "counted": line.counted,
    }


def _costs(event: Event) -> Data:
    """`used_up` and `to_buy` are those of the supplies; `whole` is what is bought and the other costs."""
    costs, wishes = event.costs, event.wishes
    fee = wishes.margin is not None and not event.missing
    margin = wishes.fee is not None and not event.missing
    return {
        "used_up": _sum(event, costs.used_up),
        "to_buy": _sum(event, costs.to_buy),
        "used_up_each": _sum(event, costs.used_up / costs.kits),
        "to_buy_each": _sum(event, costs.to_buy / costs.kits),
        "not_counted": list(costs.not_counted),
        "by_recipe": [
            {
                "slug": making.understood.recipe.slug,
                "kits": one.kits,
                "used_up": _sum(event, one.used_up),
                "to_buy": _sum(event, one.to_buy),
                "used_up_each": _sum(event, one.used_up_each),
                "to_buy_each": _sum(event, one.to_buy_each),
            }
            for making, one in zip(event.makings, costs.recipes, strict=True)
        ],
        "other": [
            {"name": one.name, "amount": str(one.amount), "each": one.each, "sum": _sum(event, paid)}
            for one, paid in costs.other
        ],
        "whole": _sum(event, costs.whole),
        "whole_each": _sum(event, costs.whole_each),
        "fee_at_margin": str(price_a_head(costs.whole_each, wishes.margin, wishes.digits))
        if wishes.margin is not None and fee
        else None,
        "margin_at_fee": str(margin_at(costs.whole_each, wishes.fee)) if wishes.fee is not None and margin else None,
    }


def _missing(event: Event, one: Missing) -> Data:
    """A length of a spool is no piece and has no height."""
    return {
        "supply": one.supply,
        "colour": one.colour or None,
        "recipe": event.makings[one.recipe].understood.recipe.slug,
        "piece": one.piece or None,
        "count": one.count,
        "across": exact_mm(one.width),
        "down": exact_mm(one.height) if one.piece else None,
        "scarce": one.scarce,
    }
