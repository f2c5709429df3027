"""What is on the studio's shelf: `stock.yaml`, a supply a line, or its facts on lines of their own.

charcoal card: 6 sheets, scraps 3 of 5 x 11 in or 4 x 6 in
gingham card:
  sheets: 2 of 12 x 12 in
  scraps: 3 of 6 x 12 in or 2 1/2 x 12 in
  trim: 1/8 in
cotton twine: 2 of 20 yd, 4 yd
foam square: 120
caramel: 1 pack, 15
hot glue: plenty
rose card: same as wrap card, rose
scissors: 20

`sheets`, `scraps` and `lengths` hold for what follows until another word is said; a size without a number is one.
`same as` is the name a thing goes by in other recipes, and takes the rest of its line. Tools stand there as well.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from foldwright.event.facts.stock_parts import NOUNS, STOCK_WORDS, StockPart, parts_of
from foldwright.finding import Finding, Place, Strength
from foldwright.measure.amounts import Dimension
from foldwright.measure.length import Length
from foldwright.measure.reading import read_number
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.amounts import read_amount, read_sheet
from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.entries import first_of_each, named_entries
from foldwright.recipe.facts.known import unbraced
from foldwright.recipe.facts.limits import MOST_FACTS
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.structure import Node, read_structure
from foldwright.recipe.facts.unprintable import gated
from foldwright.recipe.facts.values import length_in
from foldwright.recipe.model import Amount, Dims, Said

MOST_OWNED = 1_000_000
"""Of anything on the shelf."""

_DASHES = re.compile(r"^[^\S\n]*(?:-{3,}|[–—−]+)[^\S\n]*$", re.MULTILINE)
_ONCE = frozenset({"packs", "amount", "plenty", "trim", "same as"})
_SINGLES = frozenset({"loose", "single", "singles", "single ones", "left"})
"""Nouns that say no more than the number before them."""
_NOTHING = frozenset({"none", "nothing", "no", "gone", "used up", "out"})


class OwnedSheets(Struct, frozen=True):
    """`count` sheets or scraps of one size, across x down as the sheet lay: the pattern is upright and the grain runs
    as in the sheet. Without a `size` they are the recipe's own sheet; a scrap always has one.
    """

    count: int
    size: Dims | None = None


class OwnedLengths(Struct, frozen=True):
    """`count` spools or pieces of something sold by length, each `length` long."""

    count: int
    length: Length


class ShelfLine(Struct, frozen=True):
    """What there is of one supply. `packs` are unopened, as the recipe sells them; `amount` comes beside them.

    `trim` is ragged and taken off every side of each sheet and scrap. `plenty`: enough, however many are made.
    """

    name: Said[str]
    sheets: tuple[Said[OwnedSheets], ...] = ()
    scraps: tuple[Said[OwnedSheets], ...] = ()
    lengths: tuple[Said[OwnedLengths], ...] = ()
    amount: Said[Amount] | None = None
    packs: Said[Fraction] | None = None
    plenty: bool = False
    trim: Said[Length] | None = None
    same: Said[str] | None = None
    """What it is called in other recipes: `wrap card, rose`."""

    @property
    def counted(self) -> int | None:
        """How many things are said to be there by their number; None where no number is said."""
        amount = self.amount.value if self.amount else None
        return int(amount.number) if amount and amount.dimension is Dimension.COUNT else None


class Shelf(Struct, frozen=True):
    """The supplies on the shelf in the order of the file; names differ in more than small and capital letters."""

    lines: tuple[ShelfLine, ...]
    file: str


def read_stock(text: str, file: str) -> tuple[Shelf, tuple[Finding, ...]]:
    """The shelf and all that is the matter with its file, in order. Whatever the text, a finding and no exception."""
    complaints = Complaints()
    kept = text = gated(text, file, complaints)
    if len(text) > MOST_FACTS:
        kept = text[: text.rfind("\n", 0, MOST_FACTS) + 1]
        complaints.fault("stock-too-long", Place(file, len(kept), len(kept)), file=file, most=MOST_FACTS)
    bare = _DASHES.sub(lambda dashes: " " * len(dashes[0]), kept)
    nodes = read_structure(bare, file, 0, complaints)
    if not nodes and not complaints.findings:
        complaints.thought("stock-empty", Place(file, 0, 0), file=file)
    entries = named_entries(Node(None, None, nodes), complaints)
    lines = first_of_each(_read_line(name, node, complaints) for name, node in entries)
    findings = sorted(complaints.findings, key=lambda finding: finding.place.start if finding.place else 0)
    return Shelf(lines, file), tuple(findings)


def check_stock(shelf: Shelf, supply_names: Iterable[str]) -> tuple[Finding, ...]:
    """Names on the shelf that are nearly, but not quite, a planned supply which the shelf has not got.

    The shelf is the whole studio's, so a name that no recipe has is nothing to speak of by itself.
    """
    planned = {" ".join(name.split()).casefold(): name for name in supply_names}
    owned = {line.name.value.casefold() for line in shelf.lines}
    missing = [name for small, name in planned.items() if small not in owned]
    findings = []
    for line in shelf.lines:
        near = "" if line.name.value.casefold() in planned else nearest(line.name.value, missing, 0.85)
        if near:
            facts = {"said": line.name.value, "nearest": near}
            findings.append(Finding.of("stock-name-near", Strength.THOUGHT, line.name.place, **facts))
    return tuple(findings)


# --- one supply -----------------------------------------------------------------------------------------------------


def _read_line(name: Phrase, node: Node, complaints: Complaints) -> ShelfLine:
    whole = unbraced(node.written, complaints)
    if not whole.text:
        complaints.fault("nothing-said", name, word=name.plain)
    found: dict[str, list[Said[Any]]] = {word: [] for word in STOCK_WORDS.words}
    first: dict[str, Phrase] = {}
    for part in parts_of(whole, complaints):
        earlier = first.setdefault(part.word, part.said)
        if part.word in _ONCE and earlier is not part.said:
            complaints.fault("said-twice", part.said, word=part.word, first=earlier.plain)
        elif (owned := _READERS[part.word](part, complaints)) is not None:
            found[part.word].append(Said(owned, part.said.place))
    line = ShelfLine(
        Said(name.plain, name.place),
        sheets=tuple(found["sheets"]),
        scraps=tuple(found["scraps"]),
        lengths=tuple(found["lengths"]),
        **{word: found[word][0] for word in ("amount", "packs", "trim") if found[word]},
        plenty="plenty" in first,
        same=found["same as"][0] if found["same as"] else None,
    )
    _check_together(line, first, complaints)
    return line


def _check_together(line: ShelfLine, said: Mapping[str, Phrase], complaints: Complaints) -> None:
    """What cannot stand beside something else that is said of the supply."""
    if "plenty" in said and said.keys() - {"plenty", "trim", "same as"}:
        complaints.thought("stock-plenty-and-more", said["plenty"])
    if line.trim is None:
        return
    if not said.keys() & {"sheets", "scraps", "amount"}:
        complaints.fault("stock-trim-of-what", said["trim"])
    for owned in (*line.sheets, *line.scraps):
        size = owned.value.size
        if size and 2 * line.trim.value.mm >= min(length.mm for length in size.lengths):
            complaints.fault("stock-trim-leaves-nothing", owned.place, trim=line.trim.value)


# --- single values --------------------------------------------------------------------------------------------------


def _read[T](reading: T | Unreadable, said: Phrase, complaints: Complaints) -> T | None:
    """What was read; None where it cannot be, which is complained of."""
    if isinstance(reading, Unreadable):
        complaints.unreadable(reading, said)
        return None
    return reading


def _number_of(part: StockPart, complaints: Complaints) -> Fraction | None:
    """How many are said, above nought and within reason; one when nothing is said."""
    count = part.count
    if count is None or count.text.lower() in ("a", "an"):
        return Fraction(1)
    number = _read(read_number(count.text), count, complaints)
    return number if number is not None and _is_sensible(number, count, complaints) else None


def _is_sensible(number: Fraction, said: Phrase, complaints: Complaints) -> bool:
    if number == 0:
        complaints.fault("stock-nothing", said)
    elif number > MOST_OWNED:
        complaints.fault("stock-too-many", said, most=f"{MOST_OWNED:,}")
    return 0 < number <= MOST_OWNED


def _whole_of(part: StockPart, complaints: Complaints) -> int | None:
    number = _number_of(part, complaints)
    if number is not None and number.denominator != 1:
        complaints.fault("stock-part-of-one", part.said)
        return None
    return None if number is None else int(number)


def _sheets_of(part: StockPart, complaints: Complaints) -> OwnedSheets | None:
    count = _whole_of(part, complaints)
    if not part.size.text:
        if part.word == "scraps":
            complaints.fault("stock-scrap-size", part.said)
        elif part.count is None:
            complaints.fault("stock-unclear", part.said)
        elif count:
            return OwnedSheets(count)
        return None
    size = _read(read_sheet(part.size.text), part.size, complaints)
    return OwnedSheets(count, Dims((size.across, size.down))) if count and size else None


def _lengths_of(part: StockPart, complaints: Complaints) -> OwnedLengths | None:
    count = _whole_of(part, complaints)
    if not part.size.text:
        alone = part.count and part.count == part.rest
        complaints.fault("no-unit" if alone else "stock-unclear", part.said)
        return None
    length = _read(length_in(part.size.text), part.size, complaints)
    return OwnedLengths(count, length) if count and length else None


def _packs_of(part: StockPart, complaints: Complaints) -> Fraction | None:
    if part.count is None:
        complaints.fault("stock-unclear", part.said)
        return None
    if part.size.text:
        complaints.fault("stock-pack-size", part.said)
        return None
    return _number_of(part, complaints)


def _same_of(part: StockPart, complaints: Complaints) -> str | None:
    if not part.rest.text:
        complaints.fault("nothing-said", part.said, word="same as")
    return part.rest.plain or None


def _amount_of(part: StockPart, complaints: Complaints) -> Amount | None:
    amount = read_amount(part.rest.text)
    if isinstance(amount, Unreadable):
        _unreadable_amount(amount, part, complaints)
        return None
    noun = amount.noun.lower()
    if near := nearest(noun, (*NOUNS, *STOCK_WORDS.spellings), 0.85) if noun else "":
        complaints.fault("unknown-word", part.said, word=noun, nearest=near, known=STOCK_WORDS.words)
        return None
    if not _is_sensible(amount.number, part.rest, complaints):
        return None
    return replace(amount, noun="") if noun in _SINGLES else amount


def _unreadable_amount(why: Unreadable, part: StockPart, complaints: Complaints) -> None:
    word = part.said.plain.partition(" ")[0]
    near = nearest(word, STOCK_WORDS.spellings, 0.75)
    if why.code == "no-amount" or part.rest.plain.lower() in _NOTHING:
        complaints.fault("stock-nothing", part.rest)
    elif why.code != "no-number":
        complaints.unreadable(why, part.rest)
    elif near:
        complaints.fault("unknown-word", part.said, word=word, nearest=near, known=STOCK_WORDS.words)
    else:
        complaints.fault("stock-unclear", part.said)


_READERS: Mapping[str, Callable[[StockPart, Complaints], object]] = MappingProxyType(
    {
        "sheets": _sheets_of,
        "scraps": _sheets_of,
        "lengths": _lengths_of,
        "packs": _packs_of,
        "amount": _amount_of,
        "trim": lambda part, complaints: _read(length_in(part.rest.text), part.rest, complaints),
        "plenty": lambda _part, _complaints: True,
        "same as": _same_of,
    }
)
