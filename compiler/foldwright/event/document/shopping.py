"""The shopping list in words. Prices stand in the costs, the CSV and the data, and nowhere else."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Literal

from foldwright.document.catalogue import Catalogue
from foldwright.document.supplies import is_a_sheet_name, weight_phrases
from foldwright.document.wording import number_words
from foldwright.event.document.model import EventPart, PaperText, Tick, Ticks
from foldwright.event.document.tables import room_asides, room_parts
from foldwright.event.document.writing import EventSource, LengthWriter, SectionWriter, called
from foldwright.event.facts.agreeing import sheets_used
from foldwright.event.plan.packs import is_single
from foldwright.event.plan.planning import Event
from foldwright.event.plan.shopping import Bought, ShoppingLine, Why
from foldwright.event.plan.supplies import SupplyNeed, told_title
from foldwright.event.plan.taken import taken_from_shelf
from foldwright.measure.amounts import Dimension
from foldwright.measure.length import Length
from foldwright.measure.portions import Rounding
from foldwright.measure.writing import write_readable
from foldwright.recipe.model import Dims, NamedSheet, Supply
from foldwright.vocabulary import kind_of
from foldwright.vocabulary.names import plain_words

type Shop = Literal["paper", "stationer", "haberdasher", "grocer", "craft", "other"]
SHOPS: tuple[Shop, ...] = ("paper", "stationer", "haberdasher", "grocer", "craft", "other")
_HABERDASHERY = frozenset({"twine", "ribbon", "elastic", "wire", "bow", "button"})
_STATIONERY = frozenset(
    {"ink", "paint", "embossing powder", "varnish", "spray paint", "glitter", "envelope", "sticker", "tag"}
)


def shop_of(supply: Supply) -> Shop:
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


FACTS = ("kind", "weight", "thickness", "width", "size", "sheet", "pattern", "grain")
"""In the order in which a shop assistant asks."""


def identity_of(supply: Supply, lengths: LengthWriter) -> dict[str, str]:
    """What its recipes say of it, each of the FACTS in words by itself; empty where no recipe says it."""
    words, system = lengths.words, lengths.system
    kind = supply.kind.value if supply.kind else ""
    sheets = [_sheet(said.value, lengths) for said in sheets_used(supply, system)]
    return {
        "kind": "" if set(plain_words(kind)) <= set(plain_words(supply.name.value)) else kind,
        "weight": weight_phrases(supply.weight.value, words).of(system).plain if supply.weight else "",
        "thickness": _sold((supply.thickness.value,), lengths) if supply.thickness else "",
        "width": _sold((supply.width.value,), lengths) if supply.width else "",
        "size": _size(supply.size.value, lengths) if supply.size else "",
        "sheet": words.say("list.or").join(sheets),
        "pattern": supply.pattern.value if supply.pattern and supply.pattern.value != "any way" else "",
        "grain": supply.grain.value if supply.grain and supply.grain.value != "none" else "",
    }


def identified(supply: Supply, lengths: LengthWriter) -> str:
    """`cardstock, 270 g/m², A4 sheets, pattern one way`; empty where nothing is said."""
    facts = identity_of(supply, lengths)
    parts = (lengths.words.say(f"event.identity.{word}", fact=fact) for word, fact in facts.items() if fact)
    return lengths.words.say("list.comma").join(parts)


def _size(size: Dims, lengths: LengthWriter) -> str:
    sold = _sold(size.lengths, lengths)
    return lengths.words.say("event.round", size=sold) if size.round else sold


def _sold(sides: tuple[Length, ...], lengths: LengthWriter) -> str:
    """As written, since so it stands in the shop, and exactly in the folder's own unit."""
    written = _cross(sides, lengths)
    if all(one.unit.system is lengths.system for one in sides):
        return written
    here = _cross(tuple(Length(one.mm, lengths.unit) for one in sides), lengths)
    return lengths.words.say("event.sold", written=written, here=here)


def _cross(sides: tuple[Length, ...], lengths: LengthWriter) -> str:
    """`1 x 5/8 x 1/2 in`: the unit once, where it is that of all."""
    alike = len({one.unit for one in sides}) == 1
    told = [write_readable(one).number if alike else lengths.written(one) for one in sides[:-1]]
    return lengths.words.say("event.cross").join([*told, lengths.written(sides[-1])])


def _sheet(sheet: NamedSheet, lengths: LengthWriter) -> str:
    return sheet.name if is_a_sheet_name(sheet.name) else _sold((sheet.across, sheet.down), lengths)


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
