"""What can be made with what there is: recipes held against the studio's shelf, most complete first.

Amounts are counted: enough sheets for the pieces, a length that is long enough in one, as many as it takes. What is
there of which nobody says how much is taken to be enough. Tools count only where the shelf lists any.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from enum import Enum
from fractions import Fraction
from functools import cached_property

from msgspec import Struct
from msgspec.structs import replace

from foldwright.event.facts.stock import OwnedSheets, Shelf, ShelfLine
from foldwright.event.plan.tools import is_meant
from foldwright.library.cutting_out import Rectangle, Scale, times_out
from foldwright.measure.amounts import Dimension, quantity
from foldwright.outputs.entry import Amount, CutFrom, Entry, Need, key_of
from foldwright.recipe.model import Amount as SaidAmount
from foldwright.vocabulary import kind_of

_MOST_SHEETS = 30
"""So many sheets of a size are laid at most: one making takes no more."""


class Standing(Enum):
    """How it stands with one thing a recipe needs."""

    THERE = "there"
    INSTEAD = "instead"
    """Something that is there may stand in."""
    SHORT = "short"
    """Some is there, and not enough."""
    LACKING = "lacking"


class Held(Struct, frozen=True):
    """One thing a recipe needs; `by` is what the shelf calls it, or what may stand in."""

    need: Need
    standing: Standing
    by: str = ""


class Match(Struct, frozen=True, dict=True):
    """A recipe and how it stands with everything it cannot do without."""

    entry: Entry
    held: tuple[Held, ...]

    @cached_property
    def lacking(self) -> tuple[Held, ...]:
        """What is not there, or not enough of it."""
        return tuple(one for one in self.held if one.standing in (Standing.SHORT, Standing.LACKING))

    @cached_property
    def standing_in(self) -> tuple[Held, ...]:
        return tuple(one for one in self.held if one.standing is Standing.INSTEAD)


def what_can_be_made(entries: Sequence[Entry], shelf: Shelf) -> tuple[Match, ...]:
    """Every recipe, those that lack least first, then those in which least stands in for something else."""
    there = _There(shelf, entries)
    return tuple(
        sorted(
            (Match(entry, there.held(entry)) for entry in entries),
            key=lambda one: (len(one.lacking), len(one.standing_in), one.entry.title.casefold(), one.entry.slug),
        )
    )


def names_there(entries: Sequence[Entry], shelf: Shelf) -> tuple[str, ...]:
    """What recipes call a thing that is there, enough of it for one of them; and what may stand in, by its author."""
    held = [one for match in what_can_be_made(entries, shelf) for one in match.held]
    found = {one.need.name for one in held if one.standing is Standing.THERE}
    found |= {one.by for one in held if one.by in one.need.instead}
    return tuple(sorted(found))


def needs_of(entry: Entry, tools: bool) -> tuple[Need, ...]:
    """What it cannot do without; its tools only where they are asked for."""
    return tuple(need for need in (*entry.needs, *(entry.tools if tools else ())) if not need.optional)


class _There:
    """The lines of a shelf by the names they go by."""

    def __init__(self, shelf: Shelf, entries: Sequence[Entry]) -> None:
        self._same = {_in_order(key_of(line.name.value)): line.same.value for line in shelf.lines if line.same}
        self._lines = tuple(line for line in shelf.lines if not _only_named(line))
        self._by_name = {self._goes_by(line.name.value): line for line in reversed(self._lines)}
        papers = (paper for entry in entries for paper in entry.cut_from)
        self._sheets = {self._goes_by(paper.supply): paper.sheets for paper in papers}
        tools = {tool.name for entry in entries for tool in entry.tools}
        self.tools = any(is_meant(line.name.value, tool) for line in self._lines for tool in tools)

    def held(self, entry: Entry) -> tuple[Held, ...]:
        """How it stands with all a recipe needs. What stands in for one thing does not stand in for another as well."""
        needs = needs_of(entry, self.tools)
        lines = {need.key: self._line(need) or self._tool(need, entry) for need in needs}
        there = {key: line for key, line in lines.items() if line}
        papers = {key_of(paper.supply): paper for paper in entry.cut_from if paper.cuts}
        enough = {
            need.key for need in needs if need.key in there and _enough(there[need.key], need, papers.get(need.key))
        }
        taken = {there[key].name.value for key in enough if not there[key].plenty}
        found = []
        for need in needs:
            if need.key in enough:
                found.append(Held(need, Standing.THERE, there[need.key].name.value))
            elif other := self._instead(need, papers.get(need.key), taken):
                taken |= set() if other.plenty else {other.name.value}
                found.append(Held(need, Standing.INSTEAD, other.name.value))
            elif line := lines[need.key]:
                found.append(Held(need, Standing.SHORT, line.name.value))
            else:
                found.append(Held(need, Standing.LACKING))
        return tuple(found)

    def _goes_by(self, name: str) -> str:
        """The last of the names that `same as` leads to, its words in one order."""
        met = [_in_order(key_of(name))]
        while met[-1] in self._same and (key := _in_order(key_of(self._same[met[-1]]))) not in met:
            met.append(key)
        return met[-1]

    def _line(self, need: Need) -> ShelfLine | None:
        """What is called so, in one of its colours if it has any."""
        names = (need.name, *(f"{need.name} {colour}" for colour in need.colours))
        return next((line for name in names if (line := self._by_name.get(self._goes_by(name)))), None)

    def _tool(self, need: Need, entry: Entry) -> ShelfLine | None:
        """A tool by any name that means it."""
        if need not in entry.tools:
            return None
        return next((line for line in self._lines if is_meant(line.name.value, need.name)), None)

    def _instead(self, need: Need, paper: CutFrom | None, taken: Collection[str]) -> ShelfLine | None:
        """What its author lets stand in, else enough of another of its kind; nothing that is `taken`."""
        by_author = (self._by_name.get(self._goes_by(name)) for name in need.instead)
        kind = kind_of(need.kind) if need.kind else None
        alike = (line for line in self._lines if kind and kind_of(line.name.value) is kind)
        enough = (line for line in alike if _enough(line, need, self._of(line, paper)))
        return next((line for line in (*by_author, *enough) if line and line.name.value not in taken), None)

    def _of(self, line: ShelfLine, paper: CutFrom | None) -> CutFrom | None:
        """The same pieces, cut from the sheets that recipes say of another paper."""
        return replace(paper, sheets=self._sheets.get(self._goes_by(line.name.value), ())) if paper else None


def _only_named(line: ShelfLine) -> bool:
    """Whether a line says no more than what a thing is called."""
    return line.same is not None and line == ShelfLine(line.name, same=line.same)


def _in_order(key: str) -> str:
    """The words of a name in one order: `ink pad brown` and `brown ink pad` are one."""
    return " ".join(sorted(key.split()))


# --- enough of it -----------------------------------------------------------------------------------------------------


def _enough(line: ShelfLine, need: Need, paper: CutFrom | None) -> bool:
    """Whether there is enough; `paper` has the pieces where it is something to cut them from."""
    wanted = need.amount
    if line.plenty or wanted is None:
        return True
    if paper and wanted.unit == "sheet":
        return _enough_paper(line, paper, need)
    number = Fraction(wanted.number)
    lengths = [said.value.length.mm for said in line.lengths]
    if wanted.dimension == Dimension.LENGTH.value:
        lengths += [line.amount.value.length.mm] if line.amount and line.amount.value.length else []
        lengths += [Fraction(pack.number) for pack in need.packs if line.packs and pack.dimension == wanted.dimension]
        return any(length >= number for length in lengths)
    return _counted(line, wanted, need) >= number


def _counted(line: ShelfLine, wanted: Amount, need: Need) -> Fraction:
    """How much there is of what is measured as it is wanted, in the unit in which it is wanted."""
    owned = sum((Fraction(said.value.count) for said in line.sheets), Fraction(0))
    found = owned if wanted.dimension == Dimension.COUNT.value else Fraction(0)
    if line.amount:
        found += _in_unit(line.amount.value, wanted)
    if line.packs and (pack := next((one for one in need.packs if one.dimension == wanted.dimension), None)):
        found += line.packs.value * _in_unit(_said(pack), wanted)
    return found


def _said(amount: Amount) -> SaidAmount:
    return SaidAmount(Dimension(amount.dimension), Fraction(amount.number), amount.unit)


def _in_unit(amount: SaidAmount, wanted: Amount) -> Fraction:
    """An amount in another unit; nothing where it measures something else."""
    if amount.dimension.value != wanted.dimension:
        return Fraction(0)
    if amount.dimension is Dimension.COUNT or amount.unit == wanted.unit:
        return amount.number
    return Fraction(amount.quantity.to(quantity(Fraction(1), wanted.unit).units).magnitude)


# --- enough paper -----------------------------------------------------------------------------------------------------


def _enough_paper(line: ShelfLine, paper: CutFrom, need: Need) -> bool:
    """Whether all its pieces come out of the sheets and scraps there are."""
    sizes = list(_sizes(line, paper, need))
    lengths = [length for size in sizes for length in (str(size[0]), str(size[1]))]
    scale = Scale.of([*lengths, *(side for cut in paper.cuts for side in (cut.across, cut.down))])
    papers = [
        Rectangle(scale.whole(str(across)), scale.whole(str(down)), grain)
        for across, down, grain, count in sizes
        for _ in range(min(count, _MOST_SHEETS))
    ]
    return times_out(scale.wanted(paper.cuts), papers, 1) > 0


def _sizes(line: ShelfLine, paper: CutFrom, need: Need) -> Iterator[tuple[Fraction, Fraction, str, int]]:
    """The sheets and scraps without what is ragged of them: how far across and down, along which side the grain runs
    if that is known, and how many.
    """
    trim = 2 * line.trim.value.mm if line.trim else Fraction(0)
    own = [(Fraction(sheet.across), Fraction(sheet.down), sheet.grain) for sheet in paper.sheets[:1]]
    grains = {(Fraction(sheet.across), Fraction(sheet.down)): sheet.grain for sheet in paper.sheets}
    scraps = paper.sheets[0].grain if paper.sheets else ""
    for owned, otherwise in [*((s.value, "") for s in line.sheets), *((s.value, scraps) for s in line.scraps)]:
        for across, down, grain in _size(owned, own, grains, otherwise):
            if min(across, down) > trim:
                yield across - trim, down - trim, grain, owned.count
    counted = line.counted or 0
    if line.packs:
        counted += int(line.packs.value * next((Fraction(p.number) for p in need.packs if p.dimension == "count"), 1))
    if counted:
        yield from ((across - trim, down - trim, grain, counted) for across, down, grain in own)


def _size(
    owned: OwnedSheets,
    own: Sequence[tuple[Fraction, Fraction, str]],
    grains: Mapping[tuple[Fraction, Fraction], str],
    otherwise: str,
) -> Sequence[tuple[Fraction, Fraction, str]]:
    if owned.size is None:
        return own
    across, down = (length.mm for length in owned.size.lengths[:2])
    return ((across, down, grains.get((across, down), otherwise)),)
