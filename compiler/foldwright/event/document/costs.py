"""The costs in words, for the studio alone: supplies, each recipe's kit, what is paid besides, fee and margin."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from foldwright.event.document.model import EventPart, PaperTable, PaperText, PaperWords
from foldwright.event.document.shopping import packs_words
from foldwright.event.document.writing import EventSource, Money, SectionWriter, called, not_whole
from foldwright.event.plan.money import margin_at, price_a_head, rounded
from foldwright.event.plan.shopping import Bought, ShoppingLine


def costs_paper(source: EventSource) -> PaperText | None:
    """What is used up and what is bought, by supply, a kit and in all; other costs; the fee or the margin of it all.

    None where no price is known and none is asked for.
    """
    event, words, told = source.event, source.words, _CostsPaper(source)
    if not (told.priced or event.costs.other or event.wishes.fee is not None or event.wishes.margin is not None):
        return None
    parts: list[EventPart] = list(not_whole(event, words))
    if told.priced:
        parts += [told.supplies(), told.kits()]
    if any(line.bought for line in event.shopping):
        parts.append(told.packs())
    if event.costs.other:
        parts += [told.other(), told.whole()]
    parts.append(PaperWords("", tuple(told.notes())))
    return PaperText(words.say("event.costs.summary"), tuple(parts))


class _CostsPaper(SectionWriter):
    """The parts of the paper."""

    section = "costs"

    def __init__(self, source: EventSource) -> None:
        super().__init__(source)
        self._money = Money(source.event.wishes.money, source.event.wishes.digits, source.words.locale)
        costs = [(line, line.cost) for line in source.event.shopping]
        self.priced = [line for line, cost in costs if cost.used_up is not None or cost.to_buy is not None]

    def _name(self, line: ShoppingLine) -> str:
        name = called(line.supply.name.value, line.colour, self._words)
        return self._say("optional-name", name=name) if line.supply.optional else name

    def supplies(self) -> PaperTable:
        """Every supply that has a price."""
        costs, said = self._event.costs, self._money.said
        rows = tuple((self._name(line), said(line.cost.used_up), said(line.cost.to_buy)) for line in self.priced)
        foot = self._say("event"), said(costs.used_up), said(costs.to_buy)
        return PaperTable("", self._columns("supply", "used", "buy"), rows, frozenset({1, 2}), foot)

    def kits(self) -> PaperTable:
        """What supplies each kit costs, spare ones and samples shared out; of several recipes each by itself."""
        costs, said = self._event.costs, self._money.said
        if len(costs.recipes) == 1:
            rows = ((self._say("kit"), said(costs.recipes[0].used_up_each), said(costs.recipes[0].to_buy_each)),)
            return PaperTable("", self._columns("supply", "used", "buy"), rows, frozenset({1, 2}))
        many = tuple(
            (
                making.title,
                str(one.kits),
                said(one.used_up_each),
                said(one.to_buy_each),
                said(one.used_up),
                said(one.to_buy),
            )
            for making, one in zip(self._event.makings, costs.recipes, strict=True)
        )
        foot = self._say("event"), str(costs.kits), "", "", said(costs.used_up), said(costs.to_buy)
        columns = self._columns("recipe", "kits", "used-each", "buy-each", "used", "buy")
        return PaperTable(self._say("by-recipe"), columns, many, frozenset({1, 2, 3, 4, 5}), foot)

    def packs(self) -> PaperTable:
        """What is paid for, pack by pack; sheets of each size by themselves."""
        bought = [(line, one) for line in self._event.shopping for one in line.bought]
        columns = self._columns("supply", "packs", "price", "sum")
        rows = tuple(self._pack(line, one) for line, one in bought)
        foot = self._say("event"), "", "", self._money.said(self._event.costs.to_buy)
        return PaperTable(self._say("packs"), columns, rows, frozenset({2, 3}), foot)

    def _pack(self, line: ShoppingLine, one: Bought) -> tuple[str, str, str, str]:
        price = one.pack.price
        packs = packs_words(one, self._lengths, self._words)
        said = self._money.said
        return self._name(line), packs, self._money.as_written(price), said(one.price)

    def other(self) -> PaperTable:
        """What was said to be paid besides."""
        made = sum(making.all_kits for making in self._event.makings)
        rows = tuple(
            (
                one.name,
                self._say("for-each", count=made) if one.each else self._say("once"),
                self._money.as_written(one.amount),
                self._money.said(paid),
            )
            for one, paid in self._event.costs.other
        )
        foot = self._say("event"), "", "", self._money.said(self._event.costs.other_sum)
        columns = self._columns("other", "times", "amount", "sum")
        return PaperTable(self._say("others"), columns, rows, frozenset({2, 3}), foot)

    def whole(self) -> PaperTable:
        """All that is paid, and a person's share of it."""
        costs, said = self._event.costs, self._money.said
        people = costs.kits
        rows = (
            (self._say("supplies"), said(costs.to_buy), said(costs.to_buy / people)),
            (self._say("others"), said(costs.other_sum), said(costs.other_sum / people)),
        )
        foot = self._say("whole"), said(costs.whole), said(costs.whole_each)
        return PaperTable(self._say("whole"), self._columns("what", "sum", "person"), rows, frozenset({1, 2}), foot)

    # --- notes -------------------------------------------------------------------------------------------------------

    def notes(self) -> Iterator[str]:
        costs, event = self._event.costs, self._event
        if self.priced:
            yield self._say("used-means")
        if any(making.spare or making.samples for making in event.makings):
            yield self._say("spare")
        if len(event.makings) > 1:
            yield self._say("shared")
        if any(size.scrap for line in event.shopping if line.sheets for size in line.sheets.sizes):
            yield self._say("scraps")
        if any(line.supply.optional for line in event.shopping):
            yield self._say("optional")
        if costs.not_counted:
            yield self._say("not-counted", names=tuple(dict.fromkeys(costs.not_counted)))
        if self._adds_up_otherwise():
            yield self._say("rounded")
        yield from self._fees()
        if not event.wishes.money:
            yield self._say("no-money")

    def _adds_up_otherwise(self) -> bool:
        """Whether the printed lines of a column come to something else than its printed sum."""
        costs, lines = self._event.costs, [line.cost for line in self._event.shopping]
        columns: list[tuple[Sequence[Fraction | None], Fraction]] = [
            ([line.used_up for line in lines], costs.used_up),
            ([line.to_buy for line in lines], costs.to_buy),
            ([one.used_up for one in costs.recipes], costs.used_up),
            ([one.to_buy for one in costs.recipes], costs.to_buy),
            ([paid for _, paid in costs.other], costs.other_sum),
            ([costs.to_buy, costs.other_sum], costs.whole),
            ([costs.to_buy / costs.kits, costs.other_sum / costs.kits], costs.whole_each),
        ]
        digits = self._event.wishes.digits
        return any(
            sum((Fraction(rounded(one, digits)) for one in column if one is not None), Fraction(0))
            != Fraction(rounded(whole, digits))
            for column, whole in columns
        )

    def _fees(self) -> Iterator[str]:
        """The fee at a margin and the margin at a fee, of all that is paid; none while that is not whole."""
        wishes, costs, said = self._event.wishes, self._event.costs, self._money.said
        if wishes.margin is None and wishes.fee is None:
            return
        if self._event.missing:
            yield self._say("no-fee")
            return
        each = costs.whole_each
        of = self._say("of-all" if costs.other else "of-supplies")
        if wishes.margin is not None:
            fee = price_a_head(each, wishes.margin, wishes.digits)
            share = self._money.percent(wishes.margin)
            yield self._say("fee-at", margin=share, fee=said(Fraction(fee)), people=costs.kits, of=of)
        if wishes.fee is not None:
            margin = margin_at(each, wishes.fee)
            fee_said = said(Fraction(wishes.fee))
            if margin < 0:
                yield self._say("loss-at", fee=fee_said, loss=said(each - Fraction(wishes.fee)), of=of)
            else:
                yield self._say("margin-at", fee=fee_said, margin=self._money.percent(margin), of=of)
