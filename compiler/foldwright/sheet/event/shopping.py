"""The shopping list and the costs in words. Prices stand in the costs, the CSV and the data, and nowhere else."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from foldwright.measure.amounts import Dimension
from foldwright.measure.portions import Rounding
from foldwright.plan.event.planning import Event
from foldwright.plan.event.shopping import Bought, ShoppingLine, Why
from foldwright.recipe.model import Amount, Supply
from foldwright.sheet.catalogue import Catalogue
from foldwright.sheet.event.cutting import called
from foldwright.sheet.event.lengths import Lengths
from foldwright.sheet.event.model import EventPaper, EventPart, For, Table, Tick, Ticks, Words
from foldwright.sheet.event.money import Money
from foldwright.sheet.wording import number_words
from foldwright.vocabulary import kind_of

SHOPS = ("paper", "stationer", "haberdasher", "grocer", "craft", "other")
_HABERDASHERY = frozenset({"twine", "ribbon", "elastic", "wire", "bow", "button"})
_STATIONERY = frozenset(
    {"ink", "paint", "embossing powder", "varnish", "spray paint", "glitter", "envelope", "sticker", "tag"}
)


def shop_of(supply: Supply) -> str:
    """The kind of shop a supply is bought in."""
    kind = kind_of(supply.kind.value if supply.kind else supply.name.value)
    if supply.sheets or (kind and kind.sheet):
        return "paper"
    if kind is None or kind.name == "other":
        return "other"
    if kind.food:
        return "grocer"
    if kind.name in _HABERDASHERY:
        return "haberdasher"
    if kind.adhesive or kind.name in _STATIONERY:
        return "stationer"
    return "craft"


def shopping_paper(event: Event, lengths: Lengths, words: Catalogue) -> EventPaper:
    """What to buy to tick, by kind of shop; then what to look for; then what there is nothing to buy of."""
    told = _Told(event, lengths, words)
    buys = [line for line in event.shopping if line.buys or line.why is Why.NO_PACK]
    look = [line for line in event.shopping if line.why in (Why.LITTLE, Why.UNSAID)]
    rest = [line for line in event.shopping if line not in buys and line not in look]
    by_shop = {shop: [line for line in buys if shop_of(line.supply) == shop] for shop in SHOPS}
    parts: list[EventPart] = [
        Ticks(words.say(f"event.shop.{shop}"), tuple(map(told.tick, mine))) for shop, mine in by_shop.items() if mine
    ]
    if look:
        parts.append(Ticks(words.say("event.shopping.look"), tuple(map(told.tick, look))))
    if rest:
        parts.append(Ticks(words.say("event.shopping.nothing"), tuple(map(told.tick, rest))))
    title, summary = words.say("event.shopping.title"), words.say("event.shopping.summary")
    return EventPaper("shopping-list", title, summary, tuple(parts))


class _Told:
    """Lines of the list."""

    def __init__(self, event: Event, lengths: Lengths, words: Catalogue) -> None:
        self._event, self._lengths, self._words = event, lengths, words

    def _say(self, key: str, **facts: object) -> str:
        return self._words.say(f"event.shopping.{key}", **facts)

    def tick(self, line: ShoppingLine) -> Tick:
        packs = self._words.listed([self.packs(one) for one in line.bought])
        name = self.name(line)
        return Tick(f"{name}: {packs}" if packs else name, "; ".join(self._asides(line)))

    def name(self, line: ShoppingLine) -> str:
        return called(line.supply.name.value, line.colour, self._words)

    def packs(self, one: Bought) -> str:
        return self._say("pack", count=one.count, amount=self.amount_of(one.pack.amount))

    def amount_of(self, amount: Amount) -> str:
        if amount.dimension is not Dimension.COUNT:
            return self._lengths.sold(amount)
        return f"{number_words(amount.number, decimal=True)} {amount.noun}".strip()

    def amount(self, line: ShoppingLine, number: Fraction, rounding: Rounding = Rounding.DOWN) -> str:
        """What is needed is rounded up, what there is or is left over down."""
        if line.sheets is not None:
            return self._words.say("event.cutting.needs", count=int(number))
        if line.unit:
            return self._lengths.reckoned(number, line.unit, rounding)
        return number_words(_readable(number), decimal=True)

    def _asides(self, line: ShoppingLine) -> Iterator[str]:
        if line.supply.optional:
            yield self._say("aside-optional")
        if line.why in (Why.LITTLE, Why.UNSAID, Why.PLENTY):
            yield self._say({Why.LITTLE: "little", Why.UNSAID: "unsaid", Why.PLENTY: "plenty"}[line.why])
            return
        if line.why is Why.NO_PACK:
            yield self._say("no-pack", needed=self.amount(line, line.needed, Rounding.UP))
        else:
            yield self._say("aside-needed", needed=self.amount(line, line.needed, Rounding.UP))
        if line.had and (had := self.amount(line, line.had)):
            yield self._say("aside-had", had=had)
        if line.bought and line.left_over and (left := self.amount(line, line.left_over)):
            yield self._say("aside-left", left=left)
        if line.short:
            yield self._say("aside-short")
        if line.counted:
            yield self._say("aside-counted")
        if line.stand_in:
            yield self._say("aside-stand-in", name=line.stand_in)


def _readable(number: Fraction) -> Fraction:
    """To a hundredth, where it would be a strange fraction: what is over of a litre."""
    return number if number.denominator <= 64 else Fraction(round(number * 100), 100)


CSV_COLUMNS = ("supply", "shop", "needed", "shelf", "packs", "pack", "price", "sum", "left", "note")


def csv_rows(event: Event, lengths: Lengths, words: Catalogue) -> list[tuple[str, ...]]:
    """The list as rows for a spreadsheet, a head first: a row for every kind of pack."""
    told = _Told(event, lengths, words)
    rows = [tuple(words.say(f"event.shopping.column-{name}") for name in CSV_COLUMNS)]
    for line in event.shopping:
        note = "; ".join(told._asides(line))
        for one in line.bought or (None,):
            price = one.pack.price if one else None
            rows.append(
                (
                    told.name(line),
                    words.say(f"event.shop.{shop_of(line.supply)}"),
                    told.amount(line, line.needed, Rounding.UP) if line.why in (Why.COUNTED, Why.NO_PACK) else "",
                    told.amount(line, line.had) if line.had else "",
                    str(one.count) if one else "0",
                    told.amount_of(one.pack.amount) if one else "",
                    "" if price is None else str(price),
                    "" if price is None or one is None else str(price * one.count),
                    told.amount(line, line.left_over) if line.left_over else "",
                    note,
                )
            )
    return rows


def costs_paper(event: Event, words: Catalogue) -> EventPaper:
    """What is used up and what is bought, by supply, a kit and in all; the fee at a margin, or the margin at a fee."""
    money = Money(event.wishes.money, event.wishes.digits, words.language)
    costs = event.costs
    counted = [line for line in event.shopping if not line.supply.optional]
    rows = tuple(
        (
            called(line.supply.name.value, line.colour, words),
            money.said(line.cost.used_up),
            money.said(line.cost.to_buy),
        )
        for line in counted
        if line.cost.used_up is not None or line.cost.to_buy is not None
    )

    def say(key: str, **facts: object) -> str:
        return words.say(f"event.costs.{key}", **facts)

    columns = (say("column-supply"), say("column-used"), say("column-buy"))
    table = Table(
        "", columns, rows, frozenset({1, 2}), (say("event"), money.said(costs.used_up), money.said(costs.to_buy))
    )
    each = Table(
        "", columns, ((say("kit"), money.said(costs.used_up_each), money.said(costs.to_buy_each)),), frozenset({1, 2})
    )
    notes = [say("used-means")]
    if costs.not_counted:
        notes.append(say("not-counted", names=tuple(dict.fromkeys(costs.not_counted))))
    if optional := tuple(line.supply.name.value for line in event.shopping if line.supply.optional):
        notes.append(say("optional", names=tuple(dict.fromkeys(optional))))
    notes += _fees(event, money, words)
    if not event.wishes.money:
        notes.append(say("no-money"))
    return EventPaper("costs", say("title"), say("summary"), (table, each, Words("", tuple(notes))), whose=For.STUDIO)


def _fees(event: Event, money: Money, words: Catalogue) -> Iterator[str]:
    from foldwright.plan.event.money import margin_at, price_a_head

    wishes, each = event.wishes, event.costs.to_buy_each
    if wishes.margin is not None:
        fee = price_a_head(each, wishes.margin, wishes.digits)
        share = money.percent(wishes.margin)
        yield words.say("event.costs.fee-at", margin=share, fee=money.said(fee), people=event.people)
    if wishes.fee is not None:
        margin = margin_at(each, wishes.fee)
        if margin < 0:
            loss = money.said(Decimal(each) - wishes.fee)
            yield words.say("event.costs.loss-at", fee=money.said(wishes.fee), loss=loss)
        else:
            yield words.say("event.costs.margin-at", fee=money.said(wishes.fee), margin=money.percent(margin))
