"""What to buy for an event, in packs as they are sold, after what is on the shelf; and what each supply costs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from enum import Enum
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.event.facts.stock import ShelfLine
from foldwright.event.plan.cutting import Missing, SheetPlan, missing_pieces, recipe_parts, sheet_parts, sheet_worth
from foldwright.event.plan.model import Making
from foldwright.event.plan.money import CostLine
from foldwright.event.plan.packs import PackOffer, cheapest_packs, is_single, sheet_packs
from foldwright.event.plan.supplies import Shared, SupplyNeed, same_names, supplies_of
from foldwright.measure.amounts import Dimension, Quantity, number_of, quantity
from foldwright.measure.length import System, millimetres
from foldwright.measure.portions import in_system
from foldwright.pack.spools import Spool, SpoolPlan, WantedLength, cut_lengths
from foldwright.recipe.model import Amount, Pack, Supply


class Why(Enum):
    """Why a supply is bought as it is, or is not."""

    COUNTED = "counted"
    LITTLE = "a little"
    """Of some things nobody says how much; see that there is one."""
    UNSAID = "amount not said"
    NO_PACK = "pack not said"
    PLENTY = "plenty on the shelf"


class Bought(Struct, frozen=True):
    """So many packs of a kind. `sheet` is the size, where one is said of which they are."""

    pack: Pack
    count: int
    sheet: str = ""

    @property
    def price(self) -> Fraction | None:
        return None if self.pack.price is None else Fraction(self.pack.price) * self.count


class LengthWanted(Struct, frozen=True):
    """So many of one length in millimetres, for the kits of some recipes."""

    recipes: tuple[int, ...]
    length: Fraction
    count: int


class ShoppingLine(Struct, frozen=True):
    """One supply (in one colour): what is needed of it, what is there, which packs are bought, what is left over.

    Amounts are in `unit` (empty: counted, `mm` for lengths); `stand_in` is what the shelf has that may be used instead.
    Of sheets, a scrap or one of another size counts as the share of a sheet that its area is. `used_of_had` is what is
    taken from the shelf: a begun spool with all its length. What is bought and taken is `needed` and `left_over`.
    """

    supply: Supply
    colour: str
    recipes: tuple[int, ...]
    why: Why
    cost: CostLine
    needed: Fraction = Fraction(0)
    unit: str = ""
    had: Fraction = Fraction(0)
    used_of_had: Fraction = Fraction(0)
    bought: tuple[Bought, ...] = ()
    left_over: Fraction = Fraction(0)
    spools: SpoolPlan | None = None
    sheets: SheetPlan | None = None
    stand_in: str = ""
    missing: tuple[Missing, ...] = ()
    reels: tuple[Spool, ...] = ()
    """The spools that `spools` counts by, owned ones (with `copies`) first."""
    lengths: tuple[LengthWanted, ...] = ()
    """The lengths that `spools` counts by."""
    needs: tuple[SupplyNeed, ...] = ()
    """What each recipe takes of it."""
    owned: ShelfLine | None = None
    """What the shelf says of it."""

    @property
    def counted(self) -> bool:
        """No plan was found: it is bought by plain counting, enough and perhaps too much."""
        return bool((self.spools and self.spools.counted) or (self.sheets and self.sheets.cutting.counted))

    @property
    def short(self) -> bool:
        """Not all of it can be had."""
        return bool(self.missing)

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
    spool_end: Fraction = Fraction(0),
) -> tuple[ShoppingLine, ...]:
    """A line for each supply of the recipes, in their order."""
    plans = {(plan.supply, plan.colour): plan for plan in sheets}
    found = []
    for one in supplies_of(makings, same_names(shelf.values())):
        plan = plans.get((one.supply.name.value, one.colour))
        found.append(_Buyer(one, spool_end, shelf).line(makings, plan))
    return tuple(found)


class _Buyer:
    """Buys one supply."""

    def __init__(self, one: Shared, spool_end: Fraction, shelf: Mapping[str, ShelfLine]) -> None:
        self._supply, self._colour, self._users, self._needs = one.supply, one.colour, one.recipes, one.needs
        self._owned = shelf.get(one.spelled)
        self._spool_end, self._shelf = spool_end, shelf

    def line(self, makings: Sequence[Making], plan: SheetPlan | None) -> ShoppingLine:
        if self._owned is not None and self._owned.plenty:
            return self._plain(Why.PLENTY)
        if plan is not None:
            return self._sheets(plan)
        # The same supply may say another amount in each recipe.
        counted = [
            _Counted(need.recipe, need.supply.use.value, need.kits, makings[need.recipe].figures.system)
            for need in self._needs
            if need.supply.use
        ]
        if not counted:
            return self._plain(Why.LITTLE if self._supply.little else Why.UNSAID)
        if all(one.use.dimension is Dimension.LENGTH for one in counted):
            return self._lengths(counted)
        return self._amounts(counted)

    def _plain(self, why: Why) -> ShoppingLine:
        price = Fraction(0) if why is Why.PLENTY else None
        return self._line(why, CostLine(self._supply.name.value, price, price))

    def _line(self, why: Why, cost: CostLine) -> ShoppingLine:
        line = ShoppingLine(self._supply, self._colour, self._users, why, cost)
        return replace(line, needs=self._needs, owned=self._owned)

    # --- sheets ------------------------------------------------------------------------------------------------------

    def _sheets(self, plan: SheetPlan) -> ShoppingLine:
        """Each size that is sold is bought by itself."""
        sizes = [(size, plan.cutting.sheets(number)) for number, size in enumerate(plan.sizes)]
        named = [said.value for said in self._supply.sheets]
        sold = [(size, count) for size, count in sizes if not size.owned]
        bought: list[Bought] = []
        left_over, unsold = Fraction(0), False
        prices: dict[str, Fraction | None] = {}
        for size, count in sold:
            packs = sheet_packs(self._supply, next(one for one in named if one.name == size.name))
            several = len(sold) > 1 or any(map(is_single, packs))
            made = self._buy(Fraction(count), packs, sheet=size.name if several else "")
            bought += made.bought
            left_over, unsold = left_over + made.left_over, unsold or made.unsold
            prices[size.name] = _unit_price(made.bought, packs, "")
        whole = sold[0][0] if sold else next((size for size, _ in sizes if not size.scrap), sizes[0][0])
        if not sold:
            prices[whole.name] = _unit_price((), [pack.value for pack in self._supply.packs], "")
        worths = [sheet_worth(size, [one for one, _ in sold] or [whole]) for size, _ in sizes]
        used = [
            (None if price is None else price * share * count) if count else Fraction(0)
            for (_, count), (like, share) in zip(sizes, worths, strict=True)
            for price in (prices[like],)
        ]
        counts = [(size, count * share) for (size, count), (_, share) in zip(sizes, worths, strict=True)]
        owned = sum((count for size, count in counts if size.owned), Fraction(0))
        had = sum(
            ((size.count or 0) * share for size, (_, share) in zip(plan.sizes, worths, strict=True) if size.owned),
            Fraction(0),
        )
        needed = sum((count for _, count in counts), Fraction(0))
        used_up = None if None in used else sum((price for price in used if price is not None), Fraction(0))
        told = self._told(_Purchase(tuple(bought), left_over, unsold), used_up, sheet_parts(plan))
        missing = tuple(missing_pieces(plan))
        return replace(told, needed=needed, had=had, used_of_had=owned, sheets=plan, missing=missing)

    # --- spools ------------------------------------------------------------------------------------------------------

    def _lengths(self, counted: Sequence[_Counted]) -> ShoppingLine:
        packs = [pack.value for pack in self._supply.packs if pack.value.amount.length is not None]
        owned = self._owned.lengths if self._owned else ()
        spools = [Spool(said.value.length.mm, said.value.count, None) for said in owned]
        if self._owned and self._owned.packs and packs and packs[0].amount.length:
            spools.append(Spool(packs[0].amount.length.mm, int(self._owned.packs.value), None))
        first_sold = len(spools)
        spools += [Spool(pack.amount.length.mm, None, pack.price) for pack in packs if pack.amount.length]
        lengths = [_cut_off(one.use, one.system) for one in counted]
        wanted = _together(counted, lengths)
        had = sum((spool.length * (spool.copies or 0) for spool in spools[:first_sold]), Fraction(0))
        plan = cut_lengths([WantedLength(one.length, one.count) for one in wanted], spools, self._spool_end)
        counts = [
            sum(way.spools for way in plan.ways if way.spool == first_sold + number) for number in range(len(packs))
        ]
        bought = tuple(Bought(pack, count) for pack, count in zip(packs, counts, strict=True) if count)
        new = sum((one.pack.amount.length.mm * one.count for one in bought if one.pack.amount.length), Fraction(0))
        begun = sum((spools[way.spool].length * way.spools for way in plan.ways if way.spool < first_sold), Fraction(0))
        given = _given(wanted, plan)
        takes, missing = [], []
        for length, one in zip(lengths, counted, strict=True):
            mine = min(one.kits, given[length])
            given[length] -= mine
            takes.append((one.recipe, length * mine))
            if packs and mine < one.kits:
                name = self._supply.name.value
                missing.append(Missing(name, self._colour, one.recipe, "", one.kits - mine, length))
        cut = sum((take for _, take in takes), Fraction(0))
        needed = sum((one.length * one.count for one in wanted), Fraction(0))
        made = _Purchase(bought, new + begun - cut, not packs and begun < needed)
        price = _unit_price(bought, packs, "mm")
        used = None if price is None else price * cut
        told = self._told(made, used, recipe_parts(takes))
        told = replace(told, needed=needed, unit="mm", had=had, used_of_had=begun, missing=tuple(missing))
        return replace(told, spools=plan, reels=tuple(spools), lengths=wanted)

    # --- everything else ---------------------------------------------------------------------------------------------

    def _amounts(self, counted: Sequence[_Counted]) -> ShoppingLine:
        """What is told in one unit: as the packs are, else as the recipe does. All sums are pint's."""
        packs = [pack.value for pack in self._supply.packs]
        unit = packs[0].amount.unit if packs else counted[0].use.unit
        takes = [(one.recipe, number_of(one.use.quantity * one.kits, unit)) for one in counted]
        needed = sum((take for _, take in takes), Fraction(0))
        had = number_of(self._had(unit, packs), unit)
        made = self._buy(max(Fraction(0), needed - had), packs, unit)
        price = _unit_price(made.bought, packs, unit)
        used = None if price is None else price * needed
        told = self._told(made, used, recipe_parts(takes))
        return replace(told, needed=needed, unit=unit, had=had, used_of_had=min(had, needed))

    def _had(self, unit: str, packs: Sequence[Pack]) -> Quantity:
        had = quantity(Fraction(0), unit)
        if self._owned and self._owned.amount:
            had += self._owned.amount.value.quantity
        if self._owned and self._owned.packs and packs:
            had += packs[0].amount.quantity * self._owned.packs.value
        return had

    # --- packs -------------------------------------------------------------------------------------------------------

    def _buy(self, needed: Fraction, packs: Sequence[Pack], unit: str = "", sheet: str = "") -> _Purchase:
        if not packs or needed <= 0:
            return _Purchase((), Fraction(0), needed > 0)
        mix = cheapest_packs(needed, [PackOffer(_in_unit(pack.amount, unit), pack.price) for pack in packs])
        bought = tuple(Bought(pack, count, sheet) for pack, count in zip(packs, mix.counts, strict=True) if count)
        return _Purchase(bought, mix.left_over, unsold=False)

    def _told(self, made: _Purchase, used_up: Fraction | None, parts: tuple[tuple[int, Fraction], ...]) -> ShoppingLine:
        """What was bought, and what is used up for how much."""
        cost = CostLine(self._supply.name.value, used_up, None if made.unsold else _price(made.bought), parts)
        line = self._line(Why.NO_PACK if made.unsold else Why.COUNTED, cost)
        stand_in = self._stand_in() if made.bought or made.unsold else ""
        return replace(line, bought=made.bought, left_over=made.left_over, stand_in=stand_in)

    def _stand_in(self) -> str:
        """What may be used instead and is on the shelf."""
        names = (said.value.name for said in self._supply.instead)
        return next((name for name in names if name.casefold() in self._shelf), "")


class _Counted(Struct, frozen=True):
    """What one recipe uses for each of so many kits; `system` is that of its figures."""

    recipe: int
    use: Amount
    kits: int
    system: System


def _together(counted: Sequence[_Counted], lengths: Sequence[Fraction]) -> tuple[LengthWanted, ...]:
    """What several recipes want of one length, counted together; the longest first."""
    found = []
    for length in sorted(set(lengths), reverse=True):
        mine = [one for one, own in zip(counted, lengths, strict=True) if own == length]
        found.append(LengthWanted(tuple(one.recipe for one in mine), length, sum(one.kits for one in mine)))
    return tuple(found)


class _Purchase(Struct, frozen=True):
    """What was bought. `unsold` when nobody says in what packs it is sold."""

    bought: tuple[Bought, ...]
    left_over: Fraction
    unsold: bool


def _given(wanted: Sequence[LengthWanted], plan: SpoolPlan) -> Counter[Fraction]:
    """How many of each length come off the spools."""
    given = Counter[Fraction]()
    for way in plan.ways:
        for one, count in zip(wanted, way.counts, strict=True):
            given[one.length] += count * way.spools
    return given


def _price(bought: Sequence[Bought]) -> Fraction | None:
    """All packs together; None when one has no price."""
    prices = [one.price for one in bought]
    known = [price for price in prices if price is not None]
    return sum(known, Fraction(0)) if len(known) == len(prices) else None


def _unit_price(bought: Sequence[Bought], packs: Sequence[Pack], unit: str) -> Fraction | None:
    """What one costs: in the packs that are bought, else in the cheapest of those that are sold."""
    if bought:
        price = _price(bought)
        held = sum((_in_unit(one.pack.amount, unit) * one.count for one in bought), Fraction(0))
        return None if price is None else price / held
    priced = [Fraction(pack.price) / _in_unit(pack.amount, unit) for pack in packs if pack.price is not None]
    return min(priced, default=None)


def _cut_off(use: Amount, system: System) -> Fraction:
    """Millimetres cut off a spool, as the pages of the folder's system say."""
    portion = in_system(use.number, use.unit, system)
    return portion.number * millimetres(portion.unit)


def _in_unit(amount: Amount, unit: str) -> Fraction:
    """An amount in a unit that measures the same; lengths, which are told in millimetres, need no pint for it."""
    return amount.length.mm if amount.length and unit == "mm" else number_of(amount.quantity, unit)
