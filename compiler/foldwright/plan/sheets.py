"""Which sheets the pieces come out of, how many of each with plain straight cuts, and whether the trimmer suffices."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.thickness import is_heavy
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.slanting import hull_of, slant_that_fits
from foldwright.measure.length import Length, Unit
from foldwright.recipe.model import NamedSheet, Piece, Recipe, Supply
from foldwright.vocabulary import tool_of

if TYPE_CHECKING:
    from foldwright.geometry.pieces import Flat


_FOLDED_FLAT = frozenset({"card", "gate", "tri-fold", "accordion"})
"""Forms whose folds are creased sharp, where the grain matters most."""
FEW = 3
"""With more pieces in a row than this, one row less is no great loss (common practice, no source)."""


class SheetGrid(Struct, frozen=True):
    """A plain grid of one piece on a sheet: how many side by side and one below another, and what is left over (mm)."""

    turned: bool
    across: int
    down: int
    spare_across: Fraction
    spare_down: Fraction

    @property
    def number(self) -> int:
        return self.across * self.down

    @property
    def uses_all(self) -> bool:
        """No trim to spare: a few pieces fill a direction to the last hair, so that a short sheet costs a whole row."""
        rows = ((self.across, self.spare_across), (self.down, self.spare_down))
        return any(1 < number <= FEW and not spare for number, spare in rows)


class Yield(Struct, frozen=True):
    """What one sheet gives of one piece. `best` keeps the rules of grain and pattern and is None when none comes out.

    `against` is the layout that would break the rule `rule` (`grain` or `pattern`), when only that one works.
    """

    piece: str
    supply: str
    sheet: NamedSheet
    best: SheetGrid | None
    against: SheetGrid | None = None
    rule: str = ""

    @property
    def number(self) -> int:
        return self.best.number if self.best else 0


class Sheets(Struct, frozen=True):
    """The yield of every sheet for every piece cut from it, in order of the pieces, then of the sheets as named."""

    yields: tuple[Yield, ...]
    findings: tuple[Finding, ...]


def check_sheets(recipe: Recipe, flat: Flat) -> Sheets:
    """Lay every blank on every sheet its supply is sold in. Sizes are exact; no kerf, no margin."""
    supplies = {supply.name.value.casefold(): supply for supply in recipe.supplies}
    pieces = {piece.name.value: piece for piece in recipe.pieces}
    yields: list[Yield] = []
    findings: list[Finding] = []
    for blank in flat.blanks:
        piece = pieces.get(blank.piece)
        supply = supplies.get(piece.supply.value.casefold()) if piece and piece.supply else None
        if piece is None or supply is None or not supply.sheets or blank.width <= 0 or blank.height <= 0:
            continue
        found = [_yield(blank, piece, supply, said.value) for said in supply.sheets]
        yields += found
        if not blank.unsure:
            findings += _findings(found, blank, piece, flat)
            findings += _across_the_fold(found, blank, piece, supply, flat)
    return Sheets(tuple(yields), tuple(findings))


def sheets_needed(recipe: Recipe, sheets: Sheets) -> dict[str, int]:
    """By supply, how many sheets are enough for one making, whichever of those it is sold in.

    Pieces lie in rows of one kind, and rows one below another: sure to come out, and now and then a sheet too many.
    Nothing is said of a supply of which a piece does not come out.
    """
    needed: dict[str, int] = {}
    for supply, _, laid in _laid(recipe, sheets):
        number = len(laid)
        needed[supply] = 0 if not number or needed.get(supply) == 0 else max(number, needed.get(supply, 0))
    return {supply: number for supply, number in needed.items() if number}


class Row(Struct, frozen=True):
    """Pieces of one kind side by side on a sheet: how far they reach from its left edge, and how high they are (mm)."""

    wide: Fraction
    high: Fraction


def _laid(recipe: Recipe, sheets: Sheets) -> Iterator[tuple[str, NamedSheet, list[list[Row]]]]:
    """The rows on every sheet that one making takes, for each supply and each of the sheets it is sold in."""
    counts = {piece.name.value: piece.count.value if piece.count else 1 for piece in recipe.pieces}
    found: dict[tuple[str, str], list[Yield]] = {}
    for one in sheets.yields:
        found.setdefault((one.supply, one.sheet.name), []).append(one)
    for (supply, _), yields in found.items():
        yield supply, yields[0].sheet, _rows_on_sheets([(one, counts[one.piece]) for one in yields])


def _rows_on_sheets(pieces: Sequence[tuple[Yield, int]]) -> list[list[Row]]:
    """The tallest rows first, each on the first sheet with room for it; none when a piece does not come out."""
    rows: list[Row] = []
    for one, count in pieces:
        if one.best is None:
            return []
        wide = (one.sheet.across.mm - one.best.spare_across) / one.best.across
        high = (one.sheet.down.mm - one.best.spare_down) / one.best.down
        full, over = divmod(count, one.best.across)
        rows += [Row(wide * one.best.across, high)] * full + [Row(wide * over, high)] * bool(over)
    laid: list[list[Row]] = []
    room: list[Fraction] = []
    for row in sorted(rows, key=lambda row: (-row.high, -row.wide)):
        at = next((number for number, left in enumerate(room) if left >= row.high), None)
        if at is None:
            at = len(room)
            room.append(pieces[0][0].sheet.down.mm)
            laid.append([])
        room[at] -= row.high
        laid[at].append(row)
    return laid


class Offcut(Struct, frozen=True):
    """A rectangle that is left of a sheet once one making is cut from it, as it lay there (mm), and of how many sheets.

    `grain` is the side of it the grain runs along; empty where nobody says.
    """

    supply: str
    sheet: NamedSheet
    across: Fraction
    down: Fraction
    count: int
    grain: str


_USEFUL = Fraction(10)
"""What is narrower than so many millimetres is waste (a reasoned guess)."""


def offcuts_of(recipe: Recipe, sheets: Sheets) -> tuple[Offcut, ...]:
    """What is left over beside and below the rows, whichever of its sheets a supply is cut from."""
    supplies = {supply.name.value: supply for supply in recipe.supplies}
    found = []
    for supply, sheet, laid in _laid(recipe, sheets):
        sizes = Counter(size for rows in laid for size in _left_of(rows, sheet) if min(size) >= _USEFUL)
        grain = grain_of_sheet(supplies[supply], sheet)
        found += [Offcut(supply, sheet, *size, count, grain) for size, count in sizes.items()]
    return tuple(found)


def _left_of(rows: Sequence[Row], sheet: NamedSheet) -> Iterator[tuple[Fraction, Fraction]]:
    """Beside rows that reach equally far, all of them together; and below the last row."""
    for wide, alike in groupby(rows, key=lambda row: row.wide):
        yield sheet.across.mm - wide, sum((row.high for row in alike), Fraction(0))
    yield sheet.across.mm, sheet.down.mm - sum((row.high for row in rows), Fraction(0))


def _yield(blank: Blank, piece: Piece, supply: Supply, sheet: NamedSheet) -> Yield:
    rule, turned = _rule(blank, piece, supply, sheet)
    layouts = [_layout(blank, sheet, turn) for turn in (False, True)]
    allowed = [layout for layout in layouts if turned is None or layout.turned is turned]
    best = max(allowed, key=lambda layout: (layout.number, not layout.uses_all))
    if best.number:
        return Yield(piece.name.value, supply.name.value, sheet, best)
    against = max(layouts, key=lambda layout: layout.number)
    return Yield(piece.name.value, supply.name.value, sheet, None, against if against.number else None, rule)


def _layout(blank: Blank, sheet: NamedSheet, turned: bool) -> SheetGrid:
    width, height = (blank.height, blank.width) if turned else (blank.width, blank.height)
    across, spare_across = divmod(sheet.across.mm, width)
    down, spare_down = divmod(sheet.down.mm, height)
    return SheetGrid(turned, int(across), int(down), spare_across, spare_down)


# --- which way round a piece may lie ----------------------------------------------------------------------------


def _rule(blank: Blank, piece: Piece, supply: Supply, sheet: NamedSheet) -> tuple[str, bool | None]:
    """The rule that settles whether the piece lies turned on the sheet, and its answer; None when it may lie freely.

    A pattern that runs one way comes before the grain.
    """
    if supply.pattern and "one" in supply.pattern.value.casefold().split():
        return "pattern", False
    wanted = grain_of_piece(blank, piece)
    runs = grain_of_sheet(supply, sheet)
    if wanted and runs:
        return "grain", wanted != runs
    return "", None


def grain_of_sheet(supply: Supply, sheet: NamedSheet) -> str:
    """The side of the sheet its grain runs along; `grain long` is along the longer one."""
    word = supply.grain.value.casefold() if supply.grain else ""
    return _side_called(word, sheet.across.mm, sheet.down.mm)


def _side_called(word: str, across: Fraction, down: Fraction) -> str:
    """The side that a word calls the long or the short one."""
    longer, shorter = ("across", "down") if across > down else ("down", "across")
    return "" if across == down else longer if "long" in word else shorter if "short" in word else ""


def grain_of_piece(blank: Blank, piece: Piece) -> str:
    """The side of the blank the grain is to run along, as the author said (`along the fold`, `along the long side`)."""
    word = piece.grain.value.casefold() if piece.grain else ""
    if "fold" in word or "score" in word:
        return _along_the_fold(blank)
    if "across" in word or "down" in word:
        return "across" if "across" in word else "down"
    return _side_called(word, blank.width, blank.height)


def _along_the_fold(blank: Blank) -> str:
    """The side its folds run along: a score between panels in a row runs at a right angle to the row."""
    rows = (len(blank.across) > 1, len(blank.down) > 1)
    return {(True, False): "down", (False, True): "across"}.get(rows, "")


# --- what is told -----------------------------------------------------------------------------------------------


def _findings(yields: list[Yield], blank: Blank, piece: Piece, flat: Flat) -> Iterator[Finding]:
    place = place_of_size(piece)
    facts: dict[str, object] = {"piece": blank.piece, "supply": yields[0].supply, **_size(blank, flat)}
    giving = [one for one in yields if one.best]
    if not giving:
        yield _askew(yields, blank, place, facts) or _no_sheet(yields, blank, place, facts)
        return
    for one in yields:
        if one.best is None:
            code = f"sheet-only-against-{one.rule}" if one.against else "sheet-too-small"
            yield Finding.of(code, Strength.THOUGHT, place, **facts, sheet=one.sheet.name, other=giving[0].sheet.name)
    most, least = (pick(giving, key=lambda one: one.number) for pick in (max, min))
    if least.number * 2 <= most.number:
        facts_of_both = {
            "sheet": least.sheet.name,
            "count": least.number,
            "other": most.sheet.name,
            "more": most.number,
        }
        yield Finding.of("sheet-yields-half", Strength.THOUGHT, place, **facts, **facts_of_both)
    tight = next((one for one in giving if one.best and one.best.uses_all), None)
    if tight and not blank.doubtful:
        own = {"sheet": tight.sheet.name, "count": tight.number}
        yield Finding.of("no-trim-to-spare", Strength.THOUGHT, place, **facts, **own)


def _across_the_fold(yields: list[Yield], blank: Blank, piece: Piece, supply: Supply, flat: Flat) -> Iterator[Finding]:
    """Heavy card that is folded flat, and most come out with the grain across its fold; nobody says how it runs."""
    wanted = _along_the_fold(blank)
    if piece.grain or blank.form not in _FOLDED_FLAT or not wanted or not is_heavy(flat.cards.get(blank.piece), supply):
        return
    across: list[tuple[Yield, int]] = []
    for one in yields:
        runs = grain_of_sheet(supply, one.sheet)
        if one.best is None or one.rule or not runs:
            continue
        along = _layout(blank, one.sheet, wanted != runs)
        if along.turned is one.best.turned or along.number >= one.best.number:
            return
        across.append((one, along.number))
    if across:
        one, left = across[0]
        facts: dict[str, object] = {"piece": blank.piece, "supply": one.supply, "sheet": one.sheet.name}
        code = "fold-across-the-grain" if left else "fold-only-across-the-grain"
        yield Finding.of(code, Strength.THOUGHT, place_of_size(piece), **facts, number=one.number, left=left)


def _askew(yields: list[Yield], blank: Blank, place: Place, facts: dict[str, object]) -> Finding | None:
    """It comes out of none of its sheets but at a slant, which no plan of straight cuts lays out."""
    if blank.doubtful or any(one.rule for one in yields):
        return None
    for one in yields:
        slant = slant_that_fits(hull_of(blank), float(one.sheet.across.mm), float(one.sheet.down.mm))
        if slant is not None:
            own = {"sheet": one.sheet.name, "angle": f"{abs(slant):g}"}
            code = "piece-fits-turned-right" if slant > 0 else "piece-fits-turned-left"
            return Finding.of(code, Strength.THOUGHT, place, **facts, **own)
    return None


def _no_sheet(yields: list[Yield], blank: Blank, place: Place, facts: dict[str, object]) -> Finding:
    """The piece comes out of none of its sheets: why, measured on the one that comes nearest."""
    turnable = next((one for one in yields if one.against), None)
    nearest = turnable or min(yields, key=lambda one: _overhang(blank, one.sheet))
    sheet = nearest.sheet
    code = f"piece-only-against-{nearest.rule}" if turnable else "piece-larger-than-sheet"
    own = {"sheet": sheet.name, "sheet_across": sheet.across, "sheet_down": sheet.down, "count": len(yields)}
    return Finding.of(code, Strength.MISFIT, place, **facts, **own)


def _overhang(blank: Blank, sheet: NamedSheet) -> Fraction:
    """By how much the piece sticks out of the sheet, lying the better way."""
    nothing = Fraction(0)
    return min(
        max(width - sheet.across.mm, nothing) + max(height - sheet.down.mm, nothing)
        for width, height in ((blank.width, blank.height), (blank.height, blank.width))
    )


def _size(blank: Blank, flat: Flat) -> dict[str, object]:
    by_id = flat.lengths.by_id
    return {
        side: by_id.get(LengthId(blank.piece, side, "size"), Length(mm, Unit.MILLIMETRE))
        for side, mm in (("across", blank.width), ("down", blank.height))
    }


def place_of_size(piece: Piece) -> Place:
    """Where the author said how large a piece is."""
    said = piece.size or piece.relative or piece.inside or piece.inside_relative or piece.name
    return said.place


# --- one pass of the trimmer ------------------------------------------------------------------------------------------


def check_trimmer(recipe: Recipe, flat: Flat) -> tuple[Finding, ...]:
    """A thought for every piece with a straight cut, or a score, longer than the trimmer's bed."""
    bed = recipe.studio.trimmer.bed
    if bed is None or not _trims(recipe):
        return ()
    supplies = {supply.name.value.casefold(): supply for supply in recipe.supplies}
    blanks = {blank.piece: blank for blank in flat.blanks}
    found = []
    for piece in recipe.pieces:
        blank = blanks.get(piece.name.value)
        supply = supplies.get(piece.supply.value.casefold()) if piece.supply else None
        if blank is None or blank.doubtful or blank.round or piece.outline is not None:
            continue
        long = {"across": blank.width, "down": blank.height}
        too_long = [side for side in _passes(blank, supply) if long[side] > bed.value.mm]
        if too_long:
            length = flat.lengths.by_id[LengthId(blank.piece, too_long[0], "size")]
            facts = {"piece": blank.piece, "length": length, "bed": bed.value}
            found.append(Finding.of("longer-than-the-bed", Strength.THOUGHT, place_of_size(piece), **facts))
    return tuple(found)


def _trims(recipe: Recipe) -> bool:
    """Whether a trimmer is among the tools; a recipe that lists none may use the studio's."""
    kinds = [tool_of(tool.name.value) for tool in recipe.tools]
    return not kinds or any(kind is not None and kind.name == "paper trimmer" for kind in kinds)


def _passes(blank: Blank, supply: Supply | None) -> Iterator[str]:
    """The sides along which the piece is cut or scored. A whole sheet is scored, and not cut."""
    sizes = {frozenset((sheet.value.across.mm, sheet.value.down.mm)) for sheet in (supply.sheets if supply else ())}
    whole = frozenset((blank.width, blank.height)) in sizes
    for side, scored in (("across", blank.down), ("down", blank.across)):
        if not whole or len(scored) > 1:
            yield side
