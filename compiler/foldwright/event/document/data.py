"""A planned event as data: `kit.json`. Lengths are exact, in millimetres, as text (`127/2`); money is decimal text."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from foldwright.document.data_format import copied, encoded
from foldwright.event.document import kit_data as kit
from foldwright.event.document.cutting_data import cutting_data, spools_data
from foldwright.event.document.model import NO_OCCASION, Occasion
from foldwright.event.document.shopping_data import room_data, shopping_data
from foldwright.event.facts.guests import Guest
from foldwright.event.plan.cutting import Missing
from foldwright.event.plan.jobs import PlannedJob
from foldwright.event.plan.model import Making
from foldwright.event.plan.money import margin_at, price_a_head, rounded
from foldwright.event.plan.planning import Event
from foldwright.event.plan.preparing import Preparation


def event_json(event: Event, occasion: Occasion = NO_OCCASION) -> str:
    """The whole plan as JSON text; the same text for the same plan."""
    return encoded(event_data(event, occasion), indent=1)


def event_data(event: Event, occasion: Occasion = NO_OCCASION) -> kit.KitData:
    """The whole plan."""
    return kit.KitData(
        version=3,
        units=event.wishes.system,
        called=occasion.called or None,
        on=occasion.day or None,
        at=occasion.place or None,
        people=event.people,
        helpers=event.wishes.helpers,
        money=event.wishes.money or None,
        recipes=tuple([_recipe(event, number, making) for number, making in enumerate(event.makings)]),
        tables=tuple(
            [kit.SeatedTableData(one.name, event.slug(one.recipe), one.people, one.guests) for one in event.tables]
        ),
        guests=tuple([_guest(event, guest) for guest in event.guests]),
        preparation=_preparation(event, event.preparation) if event.preparation else None,
        cutting=tuple([cutting_data(event, plan) for plan in event.sheets]),
        spools=tuple([spools_data(event, line) for line in event.shopping if line.spools]),
        shopping=tuple([shopping_data(event, line) for line in event.shopping]),
        room=room_data(event),
        costs=_costs(event),
        missing=tuple([_missing(event, one) for one in event.missing]),
    )


def _recipe(event: Event, number: int, making: Making) -> kit.RecipeData:
    done, length = event.beforehand[number], event.classes[number]
    cut = kit.CutBeforehandData(tuple(sorted(done.pieces)), tuple(sorted(done.steps)))
    return copied(kit.RecipeData, making, slug=event.slug(number), class_=length, cut_beforehand=cut)


def _guest(event: Event, guest: Guest) -> kit.GuestData:
    return copied(kit.GuestData, guest, recipe=None if guest.recipe is None else event.slug(guest.recipe))


# --- preparing --------------------------------------------------------------------------------------------------------


def _preparation(event: Event, one: Preparation) -> kit.PreparationData:
    balance, timeline = one.balance, one.timeline
    return copied(
        kit.PreparationData,
        one,
        finish=timeline.finish,
        batch=timeline.batch,
        trimmers=event.jobs.trimmers,
        jobs=tuple([_job(event, job) for job in event.jobs.jobs]),
        cut_already=tuple([kit.CutStepData(event.slug(recipe), step) for recipe, step in event.jobs.cut]),
        row=tuple(map(kit.StationData, balance.stations, balance.people, balance.times)),
        balance_proven=balance.proven,
        timeline=timeline.spans,
    )


def _job(event: Event, job: PlannedJob) -> kit.JobData:
    return copied(
        kit.JobData,
        job.task,
        what=job.what,
        recipe=event.slug(job.recipe) if job.recipe >= 0 else None,
        step=job.step or None,
        cutting=job.plan if job.plan >= 0 else None,
        layout=job.layout + 1 or None,
        supply=job.supply or None,
    )


# --- costs ------------------------------------------------------------------------------------------------------------


def _costs(event: Event) -> kit.CostsData:
    costs, wishes = event.costs, event.wishes

    def money(exact: Fraction) -> Decimal:
        """Rounded to the minor unit, once."""
        return rounded(exact, wishes.digits)

    whole = not event.missing
    return kit.CostsData(
        used_up=money(costs.used_up),
        to_buy=money(costs.to_buy),
        used_up_each=money(costs.used_up / costs.kits),
        to_buy_each=money(costs.to_buy / costs.kits),
        not_counted=costs.not_counted,
        by_recipe=tuple(
            [
                kit.RecipeCostsData(
                    event.slug(number),
                    one.kits,
                    *map(money, (one.used_up, one.to_buy, one.used_up_each, one.to_buy_each)),
                )
                for number, one in enumerate(costs.recipes)
            ]
        ),
        other=tuple([kit.OtherCostData(one.name, one.amount, one.each, money(paid)) for one, paid in costs.other]),
        whole=money(costs.whole),
        whole_each=money(costs.whole_each),
        fee_at_margin=price_a_head(costs.whole_each, wishes.margin, wishes.digits)
        if wishes.margin is not None and whole
        else None,
        margin_at_fee=margin_at(costs.whole_each, wishes.fee) if wishes.fee is not None and whole else None,
    )


def _missing(event: Event, one: Missing) -> kit.MissingData:
    """A length of a spool is no piece and has no height."""
    return copied(kit.MissingData, one, recipe=event.slug(one.recipe), height=one.height if one.piece else None)
