"""The shopping list in words. Prices stand in the costs, the CSV and the data, and nowhere else."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from foldwright.document.catalogue import Catalogue
from foldwright.document.wording import number_words
from foldwright.event.document.identity import FACTS, SHOPS, identified, identity_of, shop_of
from foldwright.event.document.model import EventPart, PaperText, Tick, Ticks
from foldwright.event.document.tables import room_asides, room_parts
from foldwright.event.document.writing import EventSource, LengthWriter, SectionWriter, called
from foldwright.event.plan.packs import is_single
from foldwright.event.plan.planning import Event
from foldwright.event.plan.shopping import Bought, ShoppingLine, Why
from foldwright.event.plan.supplies import SupplyNeed, told_title
from foldwright.event.plan.taken import taken_from_shelf
from foldwright.measure.amounts import Dimension
from foldwright.measure.portions import Rounding


def shopping_paper(source: EventSource) -> PaperText:
    """What to buy to tick, by kind of shop; then what to look for; then what there is nothing to buy of."""
    event, words, told = source.event, source.words, _ShoppingPaper(source)
    buys = [line for line in event.shopping if line.buys or line.why is Why.NO_PACK]
    shared = {(one.name, one.colour) for one in event.consumables}
    small = [line for line in event.shopping if line.why in (Why.LITTLE, Why.UNSAID)]
    look = [line for line in small if (line.supply.name.value, line.colour) not in shared]
    rest = [line for line in event.shopping if line not in buys and line not in small]
    by_shop = {shop: [line for line in buys if shop_of(line.supply) == shop] for shop in SHOPS}
    parts: list[EventPart] = [
        Ticks(words.say(f"event.shop.{shop}"), tuple(map(told.tick, mine))) for shop, mine in by_shop.items() if mine
    ]
    if look:
        parts.append(Ticks(words.say("event.shopping.look"), tuple(map(told.tick, look))))
    if rest:
        parts.append(Ticks(words.say("event.shopping.nothing"), tuple(map(told.tick, rest))))
    parts += room_parts(event, words)
    return PaperText(words.say("event.shopping.summary"), tuple(parts))


class _ShoppingPaper(SectionWriter):
    """Lines of the list."""

    section = "shopping"

    def tick(self, line: ShoppingLine) -> Tick:
        packs = self._words.listed([packs_words(one, self._lengths, self._words) for one in line.bought])
        name = self._words.say("list.comma").join(
            filter(None, (self.name(line), identified(line.supply, self._lengths)))
        )
        return Tick(f"{name}: {packs}" if packs else name, "; ".join(self._asides(line)))

    def name(self, line: ShoppingLine) -> str:
        return called(line.supply.name.value, line.colour, self._words)

    def amount(self, line: ShoppingLine, number: Fraction, rounding: Rounding = Rounding.DOWN) -> str:
        """What is needed is rounded up, what there is or is left over down."""
        if line.sheets is not None:
            return self._words.say("event.cutting.needs", count=int(number))
        if line.unit:
            return self._lengths.reckoned(number, line.unit, rounding)
        return number_words(_readable(number), decimal=True)

    def needed(self, line: ShoppingLine) -> str:
        return self._sheets(line, used=True) or self.amount(line, line.needed, Rounding.UP)

    def had(self, line: ShoppingLine) -> str:
        return self._sheets(line, used=False) or self.amount(line, line.had)

    def _sheets(self, line: ShoppingLine, used: bool) -> str:
        """Sheets and scraps that are taken, or that are on the shelf; empty for what does not come in sheets."""
        if line.sheets is None:
            return ""
        counts = {False: 0, True: 0}
        for number, size in enumerate(line.sheets.sizes):
            counts[size.scrap] += line.sheets.cutting.sheets(number) if used else size.count or 0
        keys = ((False, "cutting.needs"), (True, "shopping.scraps"))
        told = [self._words.say(f"event.{key}", count=counts[scrap]) for scrap, key in keys if counts[scrap]]
        return self._words.listed(told)

    def _asides(self, line: ShoppingLine) -> Iterator[str]:
        yield from self._of_recipes(line)
        if line.why in (Why.LITTLE, Why.UNSAID, Why.PLENTY):
            yield self._say({Why.LITTLE: "little", Why.UNSAID: "unsaid", Why.PLENTY: "plenty"}[line.why])
            if line.owned is not None and line.why is not Why.PLENTY:
                yield self._say("there")
            return
        if line.why is Why.NO_PACK:
            yield self._say("no-pack", needed=self.needed(line))
        else:
            yield self._say("aside-needed", needed=self.needed(line))
        if line.had and (had := self.had(line)):
            yield self._say("aside-had", had=had)
        if taken := list(from_shelf(line, self._lengths)):
            yield self._say("aside-taken", sizes=self._words.listed(taken))
        if line.bought and line.left_over and (left := self.amount(line, line.left_over)):
            yield self._say("aside-left", left=left)
        if line.short:
            yield self._say("aside-short")
        if line.counted:
            yield self._say("aside-counted")
        if line.stand_in:
            yield self._say("aside-stand-in", name=line.stand_in)

    def _of_recipes(self, line: ShoppingLine) -> Iterator[str]:
        """What is not so in all of its recipes."""
        makings = self._event.makings

        def titles(needs: list[SupplyNeed]) -> tuple[str, ...]:
            return tuple(dict.fromkeys(told_title(makings[need.recipe].recipe) for need in needs))

        if line.supply.optional:
            yield self._say("aside-optional")
        elif optional := [need for need in line.needs if need.supply.optional]:
            yield self._say("aside-optional-in", recipes=titles(optional))
        if line.why is Why.COUNTED and (little := [need for need in line.needs if need.supply.little]):
            yield self._say("aside-little", recipes=titles(little))


def from_shelf(line: ShoppingLine, lengths: LengthWriter) -> Iterator[str]:
    """Which scraps, sheets and begun spools are taken: `2 of 4 scraps of 5 x 11 in`."""
    words = lengths.words
    for one in taken_from_shelf(line):
        if len(one.sides) > 1:
            kind, size = "scraps" if one.scrap else "sheets", one.name or lengths.size(*one.sides)
        else:
            kind, size = "spools", lengths.reckoned(one.sides[0], "mm", Rounding.DOWN)
        every = "all-" if one.count == one.there_are else ""
        yield words.say(f"event.shopping.taken-{every}{kind}", count=one.there_are, taken=one.count, size=size)


def packs_words(one: Bought, lengths: LengthWriter, words: Catalogue) -> str:
    """`2 packs of 24 sheets`, `2 packs of 24 sheets (A4)`, `12 sheets of A4`."""
    if is_single(one.pack):
        sheets = words.say("event.cutting.needs", count=one.count)
        return words.say("event.shopping.of-size", sheets=sheets, size=one.sheet)
    return words.say("event.shopping.pack", count=one.count, amount=pack_words(one, lengths, words))


def pack_words(one: Bought, lengths: LengthWriter, words: Catalogue) -> str:
    """What a pack holds: `24 sheets`, `24 sheets (A4)`, `20 yd`."""
    amount = one.pack.amount
    if amount.dimension is not Dimension.COUNT:
        return lengths.sold(amount)
    number = f"{number_words(amount.number, decimal=True)} {amount.noun}".strip()
    return words.say("event.shopping.pack-size", amount=number, size=one.sheet) if one.sheet else number


def _readable(number: Fraction) -> Fraction:
    """To a hundredth, where it would be a strange fraction: what is over of a litre."""
    return number if number.denominator <= 64 else Fraction(round(number * 100), 100)


CSV_COLUMNS = ("supply", "shop", "needed", "shelf", "packs", "pack", "price", "sum", "left", "note", *FACTS, "recipes")


def csv_rows(source: EventSource) -> list[tuple[str, ...]]:
    """The list as rows for a spreadsheet, a head first: a row for every kind of pack."""
    event, words, lengths = source.event, source.words, source.lengths
    told = _ShoppingPaper(source)
    rows = [tuple(words.say(f"event.shopping.column-{name}") for name in CSV_COLUMNS)]
    for line in event.shopping:
        note = "; ".join(told._asides(line))
        identity = identity_of(line.supply, lengths)
        titles = [told_title(event.makings[number].recipe) for number in line.recipes]
        # A spreadsheet is searched with ordinary spaces.
        facts = (*(" ".join(identity[word].split()) for word in FACTS), "; ".join(titles))
        for one in line.bought or (None,):
            price = one.pack.price if one else None
            holds = pack_words(one, lengths, words) if one else ""
            rows.append(
                (
                    told.name(line),
                    words.say(f"event.shop.{shop_of(line.supply)}"),
                    told.needed(line) if line.why in (Why.COUNTED, Why.NO_PACK) else "",
                    told.had(line) if line.had else "",
                    str(one.count) if one else "0",
                    holds,
                    "" if price is None else str(price),
                    "" if price is None or one is None else str(price * one.count),
                    told.amount(line, line.left_over) if line.left_over else "",
                    note,
                    *facts,
                )
            )
    return [*rows, *_room_rows(event, words)]


def _room_rows(event: Event, words: Catalogue) -> Iterator[tuple[str, ...]]:
    """What has to be in the room: how many in all, how many there are, how many are lacking."""
    for one in (*event.consumables, *event.tools):
        heading = words.say("event.room.tables" if one in event.consumables else "event.room.tools")
        have = "" if one.plenty else str(one.have)
        note = "; ".join(room_asides(one, event, words))
        titles = "; ".join(told_title(event.makings[number].recipe) for number in one.recipes)
        name = called(one.name, one.colour, words)
        row = (name, heading, str(one.count), have, str(one.lacking), "", "", "", "", note)
        yield (*row, *("" for _ in FACTS), titles)
