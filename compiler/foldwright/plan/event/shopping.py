"""What to buy for an event, in packs as they are sold, after what is on the shelf; and what each supply costs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from enum import Enum
from fractions import Fraction

from msgspec import Struct

from foldwright.measure.amounts import Dimension, Quantity, number_of, quantity
from foldwright.measure.length import System, millimetres
from foldwright.measure.portions import in_system
from foldwright.pack.spools import Spool, SpoolPlan, cut_lengths
from foldwright.pack.spools import Wanted as WantedLength
from foldwright.plan.event.cutting import SheetPlan, colours_of, owned_name, part_of, supplies_of
from foldwright.plan.event.model import Making
from foldwright.plan.event.money import CostLine
from foldwright.plan.event.packs import Offer, cheapest_packs
from foldwright.recipe.model import Amount, Pack, Supply
from foldwright.recipe.stock import ShelfLine


class Why(Enum):
    """Why a supply is bought as it is, or is not."""

    COUNTED = "counted"
    LITTLE = "a little"
    """Of some things nobody says how much; see that there is one."""
    UNSAID = "amount not said"
    NO_PACK = "pack not said"
    PLENTY = "plenty on the shelf"


class Bought(Struct, frozen=True):
    """So many packs of a kind."""

    pack: Pack
    count: int


class ShoppingLine(Struct, frozen=True):
    """One supply (in one colour): what is needed of it, what is there, which packs are bought, what is left over.

    Amounts are in `unit` (empty: counted, `mm` for lengths); `stand_in` is what the shelf has that may be used instead.
    """

    supply: Supply
    colour: str
    recipes: tuple[int, ...]
    why: Why
    needed: Fraction
    unit: str
    had: Fraction
    used_of_had: Fraction
    bought: tuple[Bought, ...]
    left_over: Fraction
    cost: CostLine
    spools: SpoolPlan | None = None
    sheets: SheetPlan | None = None
    stand_in: str = ""
    short: bool = False
    """Not all of it can be had: a length that comes off no spool, a piece out of no sheet."""
    counted: bool = False
    """No plan was found: it is bought by plain counting, enough and perhaps too much."""

    @property
    def lacks(self) -> bool:
        """Whether it is sold, but not so that all of it can be had as planned."""
        return self.counted or (self.short and self.why is Why.COUNTED)

    @property
    def buys(self) -> bool:
        return any(one.count for one in self.bought)


def shop(
    makings: Sequence[Making],
    sheets: Sequence[SheetPlan],
    shelf: Mapping[str, ShelfLine],
    digits: int,
    spool_end: Fraction = Fraction(0),
) -> tuple[ShoppingLine, ...]:
    """A line for each supply of the recipes, in their order; `digits` are those of the money's minor unit."""
    plans = {(plan.supply.casefold(), plan.colour, plan.recipes): plan for plan in sheets}
    found = []
    for supply, users in supplies_of(makings):
        for colour, part in colours_of(supply):
            plan = plans.get((supply.name.value.casefold(), colour, users))
            line = shelf.get(owned_name(supply, colour))
            found.append(_Buyer(supply, colour, users, line, digits, spool_end, shelf).line(makings, part, plan))
    return tuple(found)


class _Buyer:
    """Buys one supply."""

    def __init__(
        self,
        supply: Supply,
        colour: str,
        users: tuple[int, ...],
        line: ShelfLine | None,
        digits: int,
        spool_end: Fraction,
        shelf: Mapping[str, ShelfLine],
    ) -> None:
        self._supply, self._colour, self._users, self._owned = supply, colour, users, line
        self._digits, self._spool_end, self._shelf = digits, spool_end, shelf

    def line(self, makings: Sequence[Making], part: tuple[int, int], plan: SheetPlan | None) -> ShoppingLine:
        if self._owned is not None and self._owned.plenty:
            return self._plain(Why.PLENTY)
        if plan is not None:
            return self._sheets(plan)
        mine = [makings[number] for number in self._users]
        uses = [(making, self._use(making)) for making in mine]
        counted = [(part_of(making.all_kits, part), use) for making, use in uses if use is not None]
        if not counted:
            return self._plain(Why.LITTLE if self._supply.little else Why.UNSAID)
        if all(use.dimension is Dimension.LENGTH for _, use in counted):
            system = mine[0].figures.system
            return self._lengths([(_cut_off(use, system), kits) for kits, use in counted])
        return self._amounts(counted)

    def _use(self, making: Making) -> Amount | None:
        """What this recipe uses of it: the same supply may say another amount in each."""
        mine = (
            one
            for one in making.understood.recipe.supplies
            if one.name.value.casefold() == self._supply.name.value.casefold()
        )
        return next((one.use.value for one in mine if one.use), None)

    def _plain(self, why: Why) -> ShoppingLine:
        nothing = Fraction(0)
        cost = CostLine(self._supply.name.value, None, None)
        if why is Why.PLENTY:
            cost = CostLine(self._supply.name.value, Decimal(0), Decimal(0))
        return ShoppingLine(
            self._supply, self._colour, self._users, why, nothing, "", nothing, nothing, (), nothing, cost
        )

    # --- sheets ------------------------------------------------------------------------------------------------------

    def _sheets(self, plan: SheetPlan) -> ShoppingLine:
        cutting = plan.cutting
        owned = sum(cutting.sheets(number) for number, size in enumerate(plan.sizes) if size.owned)
        had = sum(size.count or 0 for size in plan.sizes if size.owned)
        packs = [pack.value for pack in self._supply.packs if pack.value.amount.dimension is Dimension.COUNT]
        made = self._buy(Fraction(plan.bought), packs)
        return self._told(
            made,
            Fraction(plan.bought + owned),
            "",
            Fraction(had),
            Fraction(owned),
            sheets=plan,
            short=bool(cutting.too_large or cutting.short),
        )

    # --- spools ------------------------------------------------------------------------------------------------------

    def _lengths(self, uses: Sequence[tuple[Fraction, int]]) -> ShoppingLine:
        packs = [pack.value for pack in self._supply.packs if pack.value.amount.length is not None]
        owned = self._owned.lengths if self._owned else ()
        spools = [Spool(said.value.length.mm, said.value.count, None) for said in owned]
        if self._owned and self._owned.packs and packs and packs[0].amount.length:
            spools.append(Spool(packs[0].amount.length.mm, int(self._owned.packs.value), None))
        first_sold = len(spools)
        spools += [Spool(pack.amount.length.mm, None, pack.price) for pack in packs if pack.amount.length]
        needed = sum((length * kits for length, kits in uses), Fraction(0))
        had = sum((spool.length * (spool.copies or 0) for spool in spools[:first_sold]), Fraction(0))
        plan = cut_lengths([WantedLength(length, kits) for length, kits in uses], spools, self._spool_end)
        counts = [
            sum(way.spools for way in plan.ways if way.spool == first_sold + number) for number in range(len(packs))
        ]
        bought = tuple(Bought(pack, count) for pack, count in zip(packs, counts, strict=True) if count)
        length = sum((one.pack.amount.length.mm * one.count for one in bought if one.pack.amount.length), Fraction(0))
        begun = sum((spools[way.spool].length * way.spools for way in plan.ways if way.spool < first_sold), Fraction(0))
        cut_off = sum(
            (uses[kind][0] * count * way.spools for way in plan.ways for kind, count in enumerate(way.counts)),
            Fraction(0),
        )
        made = _Made(bought, length + begun - cut_off, _price(bought), not packs and begun < needed)
        return self._told(made, needed, "mm", had, min(begun, needed), spools=plan, short=bool(plan.too_long))

    # --- everything else ---------------------------------------------------------------------------------------------

    def _amounts(self, counted: Sequence[tuple[int, Amount]]) -> ShoppingLine:
        """What is told in one unit: as the packs are, else as the recipe does. All sums are pint's."""
        packs = [pack.value for pack in self._supply.packs]
        unit = packs[0].amount.unit if packs else counted[0][1].unit
        needed = number_of(sum((use.quantity * kits for kits, use in counted), start=quantity(Fraction(0), unit)), unit)
        had = number_of(self._had(unit, packs), unit)
        made = self._buy(max(Fraction(0), needed - had), packs, unit)
        return self._told(made, needed, unit, had, min(had, needed))

    def _had(self, unit: str, packs: Sequence[Pack]) -> Quantity:
        had = quantity(Fraction(0), unit)
        if self._owned and self._owned.amount:
            had += self._owned.amount.value.quantity
        if self._owned and self._owned.packs and packs:
            had += packs[0].amount.quantity * self._owned.packs.value
        return had

    # --- packs -------------------------------------------------------------------------------------------------------

    def _buy(self, needed: Fraction, packs: Sequence[Pack], unit: str = "") -> _Made:
        if not packs or needed <= 0:
            return _Made((), Fraction(0), Decimal(0) if needed <= 0 else None, needed > 0)
        mix = cheapest_packs(needed, [Offer(_in_unit(pack.amount, unit), pack.price) for pack in packs])
        bought = tuple(Bought(pack, count) for pack, count in zip(packs, mix.counts, strict=True) if count)
        return _Made(bought, mix.left_over, _price(bought), unsold=False)

    def _told(
        self,
        made: _Made,
        needed: Fraction,
        unit: str,
        had: Fraction,
        used_of_had: Fraction,
        sheets: SheetPlan | None = None,
        spools: SpoolPlan | None = None,
        short: bool = False,
    ) -> ShoppingLine:
        price = self._unit_price(made.bought, unit)
        used = None if price is None else Decimal(0) + _rounded(price * needed, self._digits)
        cost = CostLine(self._supply.name.value, used, made.price)
        return ShoppingLine(
            self._supply,
            self._colour,
            self._users,
            Why.NO_PACK if made.unsold else Why.COUNTED,
            needed,
            unit,
            had,
            used_of_had,
            made.bought,
            made.left_over,
            cost,
            spools,
            sheets,
            self._stand_in() if made.bought or made.unsold else "",
            short,
            bool((spools and spools.counted) or (sheets and sheets.cutting.counted)),
        )

    def _unit_price(self, bought: Sequence[Bought], unit: str) -> Fraction | None:
        """What one costs: in the packs that are bought, else in the cheapest that is sold."""
        packs = [one.pack for one in bought for _ in range(one.count)] or [pack.value for pack in self._supply.packs]
        priced = [(Fraction(pack.price), _in_unit(pack.amount, unit)) for pack in packs if pack.price is not None]
        if not priced or len(priced) < len(packs):
            return None
        if bought:
            return sum((price for price, _ in priced), Fraction(0)) / sum((amount for _, amount in priced), Fraction(0))
        return min(price / amount for price, amount in priced)

    def _stand_in(self) -> str:
        """What may be used instead and is on the shelf."""
        for said in self._supply.instead:
            line = self._shelf.get(said.value.name.casefold())
            if line is not None:
                return said.value.name
        return ""


class _Made(Struct, frozen=True):
    """What was bought. `unsold` when nobody says in what packs it is sold."""

    bought: tuple[Bought, ...]
    left_over: Fraction
    price: Decimal | None
    unsold: bool


def _price(bought: Sequence[Bought]) -> Decimal | None:
    """All packs together; None when one has no price."""
    prices = [one.pack.price * one.count if one.pack.price is not None else None for one in bought]
    known = [price for price in prices if price is not None]
    return sum(known, Decimal(0)) if len(known) == len(prices) else None


def _rounded(value: Fraction, digits: int) -> Decimal:
    return Decimal(round(value * 10**digits)).scaleb(-digits)


def _cut_off(use: Amount, system: System) -> Fraction:
    """Millimetres cut off a spool, as the pages of the folder's system say."""
    portion = in_system(use.number, use.unit, system)
    return portion.number * millimetres(portion.unit)


def _in_unit(amount: Amount, unit: str) -> Fraction:
    """An amount in a unit that measures the same; lengths, which are told in millimetres, need no pint for it."""
    return amount.length.mm if amount.length and unit == "mm" else number_of(amount.quantity, unit)
