"""The cutting plan of an event: every blank of every kit, in the sizes that are printed, from the fewest sheets."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from fractions import Fraction
from hashlib import sha256

from msgspec import Struct
from msgspec.structs import replace

from foldwright.event.facts.agreeing import grams_of, runs_one_way, sheets_used
from foldwright.event.facts.stock import OwnedSheets, ShelfLine
from foldwright.event.plan.cuts import NumberedCut, WorkedLayout, work_of
from foldwright.event.plan.model import Making, Wishes
from foldwright.event.plan.packs import sheet_price
from foldwright.event.plan.supplies import Shared, SupplyNeed, same_names, supplies_of
from foldwright.figures.as_printed import as_printed
from foldwright.finding import Place
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.slanting import hull_of, slant_that_fits
from foldwright.measure.length import System
from foldwright.measure.steps import STEPS
from foldwright.pack.cutting.cutting import cut_sheets
from foldwright.pack.cutting.laying import gives
from foldwright.pack.cutting.model import SETTING_SECONDS, CutLayout, Cutting, PieceKind, Stock, Trade
from foldwright.plan.sheets import grain_of_piece, grain_of_sheet
from foldwright.recipe.model import NamedSheet, Piece, Supply

AT_ONCE_GRAMS = 800
"""A light trimmer cuts ten sheets of 80 g/m2 at once, or as much in heavier sheets (common practice, no source)."""


HOUR = 15
"""What an hour at the trimmer counts beside the price of sheets, in money with cents (common practice, no source)."""
SQUARE_METRE = 3
"""What a square metre of card counts where nobody says its price, in the same (common practice, no source)."""
_FEW = 3
"""As many sheets more is what the least work may take."""


class WantedPieces(Struct, frozen=True):
    """Pieces of one name for all kits: how many, and as large as is printed (across x down, as the piece lies).

    One that comes out of its sheets only at a `slant` (degrees clockwise, else 0) is as large here as such a sheet:
    cuts are straight, so that the sheet is given out whole and the piece cut out of it by hand.
    """

    recipe: int
    piece: str
    count: int
    width: Fraction
    height: Fraction
    slant: float = 0.0


class SheetSize(Struct, frozen=True):
    """Sheets that may be cut. `price` is one sheet's, None when nobody says; owned ones are `count` in number."""

    name: str
    width: Fraction
    height: Fraction
    trim: Fraction
    owned: bool
    count: int | None = None
    price: Fraction | None = None
    scrap: bool = False
    place: Place | None = None
    """Where the shelf says so."""


class SheetWork(Struct, frozen=True):
    """So many sheets cut alike, and how."""

    layout: CutLayout
    worked: WorkedLayout

    @property
    def cuts(self) -> tuple[NumberedCut, ...]:
        return self.worked.cuts


class SheetPlan(Struct, frozen=True):
    """One supply: what is cut from it, from which sheets, and the cuts in working order.

    `at_once` is how many sheets the trimmer takes at a time, by their weight; 1 when that is not known.
    """

    supply: str
    colour: str
    recipes: tuple[int, ...]
    wanted: tuple[WantedPieces, ...]
    sizes: tuple[SheetSize, ...]
    cutting: Cutting
    work: tuple[SheetWork, ...]
    at_once: int
    grams: Fraction | None
    key: str
    """The same for the same pieces and sheets: what an earlier plan of them is found by."""
    step: Fraction
    """The finest mark on the scale of the trimmer's stop, in millimetres."""
    unfit: tuple[int, ...] = ()
    """Which of the sheets on the shelf (by their index in `sizes`) hold none of the pieces."""

    @property
    def bought(self) -> int:
        return sum(self.cutting.sheets(number) for number, size in enumerate(self.sizes) if not size.owned)

    @property
    def bound(self) -> int | None:
        """The fewest sheets that have to be bought however they are cut; None where two sizes are sold."""
        costs = zip(self.sizes, _sheet_costs(self.sizes), strict=True)
        prices = {cost for size, cost in costs if not size.owned}
        return int(-(-self.cutting.bound // prices.pop())) if len(prices) == 1 else None


def plan_sheets(
    makings: Sequence[Making],
    wishes: Wishes,
    shelf: Mapping[str, ShelfLine],
    known: Mapping[str, Cutting],
    told: Callable[[int, int], None] = lambda _done, _all: None,
) -> tuple[SheetPlan, ...]:
    """A plan for each supply that comes in sheets, for each of its colours; recipes that use the same share its sheets.

    `shelf` is what is owned, by the supply's name in small letters; `known` are an earlier run's cuttings by key.
    """
    step = finest_mark(makings, wishes.system)
    waiting = []
    for one in supplies_of(makings, same_names(shelf.values())):
        sizes = _sizes(one.supply, wishes, shelf.get(one.spelled))
        pieces = [piece for need in one.needs for piece in _pieces(makings[need.recipe], need)]
        if sizes and pieces:
            waiting.append((one, sizes, pieces))
    plans = []
    for done, (one, sizes, pieces) in enumerate(waiting):
        told(done, len(waiting))
        plans.append(_plan(one, sizes, pieces, step, wishes, known))
    told(len(waiting), len(waiting))
    return tuple(plans)


def _sizes(supply: Supply, wishes: Wishes, line: ShelfLine | None) -> list[SheetSize]:
    """The sheets on the shelf, then those sold in the system of the folder (all, if none is sold in it)."""
    own = [said.value for said in sheets_used(supply, wishes.system)]
    sold = [
        SheetSize(one.name, one.across.mm, one.down.mm, wishes.trim, owned=False, price=sheet_price(supply, one))
        for one in own
    ]
    shelf = [*_on_the_shelf(supply, line, own, wishes.trim)] if line else []
    # Scraps first: nobody cuts into a whole sheet while a scrap will do.
    shelf.sort(key=lambda size: (not size.scrap, size.width * size.height))
    return [*shelf, *sold]


def _on_the_shelf(supply: Supply, line: ShelfLine, own: Sequence[NamedSheet], trim: Fraction) -> Iterator[SheetSize]:
    ragged = max(trim, line.trim.value.mm) if line.trim else trim
    packed = next((pack.value.amount.number for pack in supply.packs), Fraction(0))
    rows = [(said.value, False, said.place) for said in line.sheets]
    rows += [(said.value, True, said.place) for said in line.scraps]
    if line.packs and packed:
        rows.append((OwnedSheets(int(line.packs.value * packed)), False, line.packs.place))
    if line.amount and line.counted is not None:
        rows.append((OwnedSheets(line.counted), False, line.amount.place))
    for sheets, scrap, place in rows:
        if sheets.size is not None:
            across, down = sheets.size.lengths[:2]
            yield SheetSize("", across.mm, down.mm, ragged, True, sheets.count, Fraction(0), scrap, place)
        elif own and sheets.count:
            across, down = own[0].across, own[0].down
            yield SheetSize(own[0].name, across.mm, down.mm, ragged, True, sheets.count, Fraction(0), place=place)


def _pieces(making: Making, need: SupplyNeed) -> Iterator[tuple[WantedPieces, Piece, Blank]]:
    pieces = {piece.name.value: piece for piece in making.recipe.pieces}
    flat = making.understood.flat
    for blank in flat.blanks:
        piece = pieces[blank.piece]
        mine = piece.supply and piece.supply.value.casefold() == need.supply.name.value.casefold()
        if mine and need.kits and blank.width > 0 and blank.height > 0:
            printed = as_printed(blank, making.figures, flat.lengths.by_id)
            count = (piece.count.value if piece.count else 1) * need.kits
            yield WantedPieces(need.recipe, blank.piece, count, printed.width, printed.height), piece, printed


def _plan(
    one: Shared,
    sizes: Sequence[SheetSize],
    pieces: Sequence[tuple[WantedPieces, Piece, Blank]],
    step: Fraction,
    wishes: Wishes,
    known: Mapping[str, Cutting],
) -> SheetPlan:
    supply = one.supply
    stocks = [
        Stock(size.width, size.height, cost, size.count if size.owned else None, size.trim)
        for size, cost in zip(sizes, _sheet_costs(sizes), strict=True)
    ]
    kinds, wanted = _kinds(pieces, supply, stocks)
    key = sha256(repr((kinds, stocks, wishes.fewest)).encode()).hexdigest()[:16]
    cutting = _as_before(
        _cheapest(kinds, stocks, wishes.effort, _trade(sizes, stocks, wishes)), known.get(key), kinds, stocks
    )
    work = tuple(SheetWork(each, work_of(each, stocks[each.stock], step)) for each in cutting.layouts)
    grams = grams_of(supply)
    at_once = max(1, int(AT_ONCE_GRAMS / grams)) if grams else 1
    unfit = tuple(
        number for number, size in enumerate(sizes) if size.owned and not any(map(stocks[number].holds, kinds))
    )
    return SheetPlan(
        supply.name.value,
        one.colour,
        one.recipes,
        wanted,
        tuple(sizes),
        cutting,
        work,
        at_once,
        grams,
        key,
        step,
        unfit,
    )


def _kinds(
    pieces: Sequence[tuple[WantedPieces, Piece, Blank]], supply: Supply, stocks: Sequence[Stock]
) -> tuple[list[PieceKind], tuple[WantedPieces, ...]]:
    """How each kind of piece may lie; one that fits no sheet straight, and may lie any way, is tried at a slant."""
    grained = _grain(supply)
    kinds: list[PieceKind] = []
    wanted: list[WantedPieces] = []
    for each, piece, blank in pieces:
        ways, asked = _ways(each, piece, blank, supply, grained), each
        kind = PieceKind(ways, each.count)
        asks = runs_one_way(supply) or (grained and grain_of_piece(blank, piece))
        if not asks and not any(stock.holds(kind) for stock in stocks):
            asked = _slanted(each, blank, stocks)
            kind = PieceKind(((asked.width, asked.height),), each.count) if asked.slant else kind
        kinds.append(kind)
        wanted.append(asked)
    return kinds, tuple(wanted)


def finest_mark(makings: Sequence[Making], system: System) -> Fraction:
    """What the stop can be set to: the marks of the studio's trimmer if they are of the system, else a ruler's."""
    said = (making.recipe.studio.trimmer.reads for making in makings)
    return next((one.value.mm for one in said if one and one.value.unit.system is system), STEPS[system][-1])


def _as_before(found: Cutting, before: Cutting | None, kinds: Sequence[PieceKind], stocks: Sequence[Stock]) -> Cutting:
    """What is not proven may come out otherwise each time: that of an earlier run stays, unless it was dearer.

    It was read from a file, and is believed only if it gives just the wanted pieces.
    """
    if found.proven or found.traded or before is None or before.cost > found.cost or not gives(before, kinds, stocks):
        return found
    bound = min(before.cost, max(found.bound, before.bound))
    return replace(before, bound=bound, proven=before.cost == bound)


def _sheet_costs(sizes: Sequence[SheetSize]) -> list[Fraction]:
    """What a sheet counts for: its price; where one has none all their areas, so that the least paper is bought.

    What is owned counts for nothing.
    """
    priced = all(size.price for size in sizes if not size.owned)
    return [
        Fraction(0) if size.owned else size.price if priced and size.price else size.width * size.height / 1_000_000
        for size in sizes
    ]


def _trade(sizes: Sequence[SheetSize], stocks: Sequence[Stock], wishes: Wishes) -> Trade | None:
    """What a second is worth in what `_cost` counts in."""
    sold = [(size, stock) for size, stock in zip(sizes, stocks, strict=True) if not size.owned]
    if wishes.fewest == "sheets" or not sold:
        return None
    dearest = max(stock.cost for _, stock in sold)
    if wishes.fewest == "cuts":
        # A sheet for each time the stop need not be set, though not many sheets in all.
        return Trade(dearest / SETTING_SECONDS, _FEW * dearest)
    hour = Fraction(HOUR) * (1 if wishes.digits else 100)
    if any(size.price is None for size, _ in sold):
        hour = Fraction(HOUR, SQUARE_METRE)
    return Trade(hour / 3600)


def _cheapest(kinds: Sequence[PieceKind], stocks: Sequence[Stock], effort: int, trade: Trade | None) -> Cutting:
    """The best of all sizes together and of each size that is sold alone."""
    sold = [number for number, stock in enumerate(stocks) if stock.copies is None]
    together = cut_sheets(kinds, stocks, effort, trade)
    if len(sold) < 2 or together.proven or together.traded:
        return together
    best = together
    for alone in sold:
        chosen = [number for number, stock in enumerate(stocks) if stock.copies is not None or number == alone]
        one = cut_sheets(kinds, [stocks[number] for number in chosen], effort)
        if not one.too_large and not one.short and one.cost < best.cost:
            layouts = tuple(CutLayout(chosen[each.stock], each.whole, each.copies) for each in one.layouts)
            best = Cutting(layouts, one.cost, together.bound, one.cost <= together.bound)
    return best


# --- which way round ------------------------------------------------------------------------------------------------


def _grain(supply: Supply) -> str:
    """The side its grain runs along on the sheets it is sold in, when it is the same for all of them."""
    runs = {grain_of_sheet(supply, said.value) for said in supply.sheets}
    return runs.pop() if len(runs) == 1 else ""


def _ways(
    wanted: WantedPieces, piece: Piece, blank: Blank, supply: Supply, grained: str
) -> tuple[tuple[Fraction, Fraction], ...]:
    """How a piece may lie: a pattern that runs one way comes before the grain; else as it likes."""
    upright, turned = (wanted.width, wanted.height), (wanted.height, wanted.width)
    if runs_one_way(supply):
        return (upright,)
    along = grain_of_piece(blank, piece)
    if along and grained:
        return (upright,) if along == grained else (turned,)
    return tuple(dict.fromkeys((upright, turned)))


def _slanted(wanted: WantedPieces, blank: Blank, stocks: Sequence[Stock]) -> WantedPieces:
    """The piece as a sheet of the first size, sold before owned, on which it fits at a slant; itself if on none."""
    hull = hull_of(blank)
    for stock in sorted(stocks, key=lambda one: one.copies is not None):
        across, down = stock.room
        slant = slant_that_fits(hull, float(across), float(down))
        if slant:
            return replace(wanted, width=across, height=down, slant=slant)
    return wanted


class Missing(Struct, frozen=True):
    """What cannot be had: so many of a piece that come out of no sheet, or lengths of `width` that come off no spool.

    `scarce` when sheets would be large enough, but there are too few and none is sold. A length has no piece.
    """

    supply: str
    colour: str
    recipe: int
    piece: str
    count: int
    width: Fraction
    height: Fraction = Fraction(0)
    scarce: bool = False


def missing_pieces(plan: SheetPlan) -> Iterator[Missing]:
    """The pieces of a plan that come out of none of its sheets, or of too few."""
    lacking = [(number, plan.wanted[number].count, False) for number in plan.cutting.too_large]
    for number, count, scarce in [*lacking, *((number, count, True) for number, count in plan.cutting.short)]:
        one = plan.wanted[number]
        yield Missing(plan.supply, plan.colour, one.recipe, one.piece, count, one.width, one.height, scarce)


def recipe_parts(takes: Sequence[tuple[int, Fraction]]) -> tuple[tuple[int, Fraction], ...]:
    """Each recipe's share of what is used, by its number."""
    whole = sum((take for _, take in takes), Fraction(0))
    mine = dict.fromkeys((recipe for recipe, _ in takes), Fraction(0))
    for recipe, take in takes:
        mine[recipe] += take
    return tuple((recipe, take / whole) for recipe, take in mine.items()) if whole else ()


def sheet_parts(plan: SheetPlan) -> tuple[tuple[int, Fraction], ...]:
    """The recipes' shares of the sheets: by the area of the pieces that are cut."""
    areas = dict.fromkeys(plan.recipes, Fraction(0))
    for number, one in enumerate(plan.wanted):
        if number not in plan.cutting.too_large:
            areas[one.recipe] += one.width * one.height * one.count
    return recipe_parts(tuple(areas.items()))


def sheet_worth(size: SheetSize, sold: Sequence[SheetSize]) -> tuple[str, Fraction]:
    """Which sheet that is sold it counts as, and as how much of one: itself, or its area's share of the first."""
    sides = sorted((size.width, size.height))
    same = next((one for one in sold if sorted((one.width, one.height)) == sides), None)
    if same is not None:
        return same.name, Fraction(1)
    return sold[0].name, size.width * size.height / (sold[0].width * sold[0].height)
