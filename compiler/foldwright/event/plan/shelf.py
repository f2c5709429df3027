"""What of the studio's shelf an event may use: each line of it meets a supply in one of its colours, or a tool.

A line that meets nothing, or of which nothing can be used, is told where it stands.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.event.facts.stock import Shelf, ShelfLine, check_stock
from foldwright.event.plan.cutting import SheetPlan
from foldwright.event.plan.supplies import SameAs, Shared, Words, key_of
from foldwright.event.plan.tools import is_meant
from foldwright.finding import Finding, Place, Strength
from foldwright.measure.amounts import Dimension
from foldwright.recipe.facts.writing import write_amount
from foldwright.recipe.model import Amount, Said

_MOST_UNMET = 5
"""So many lines that meet nothing are told one by one, the others in one: the shelf is the whole studio's."""


class ShelfMatches(Struct, frozen=True):
    """Lines of the shelf by what they are lines of: what an event looks up, in small letters; and all there is to say.

    `supplies` are the lines of supplies, each with what it is.
    """

    lines: dict[str, ShelfLine]
    supplies: tuple[tuple[ShelfLine, Shared], ...]
    findings: tuple[Finding, ...]


def met_by(shelf: Shelf, shared: Sequence[Shared], tools: Sequence[str], same: SameAs) -> ShelfMatches:
    """Every line of the shelf and what it meets. `tools` are the names of those of the recipes."""
    found = _ShelfMatcher(shared, tools, same)
    for line in shelf.lines:
        found.take(line)
    near = check_stock(replace(shelf, lines=tuple(found.unmet)), [*(one.supply.name.value for one in shared), *tools])
    places = {finding.place for finding in near}
    unmet = [line for line in found.unmet if line.name.place not in places]
    findings = [*found.findings, *near, *_unmet(unmet)]
    # A thing that may stand in for another is looked up by its own name, whether it is planned or not.
    lines = {line.name.value.casefold(): line for line in shelf.lines} | found.lines
    return ShelfMatches(
        lines, tuple(found.supplies), tuple(sorted(findings, key=lambda one: one.place.start if one.place else 0))
    )


def _unmet(lines: Sequence[ShelfLine]) -> Iterator[Finding]:
    several = len(lines) > _MOST_UNMET
    for line in lines[: _MOST_UNMET - 1 if several else _MOST_UNMET]:
        yield _told("stock-unmet", line.name, said=line.name.value)
    if several:
        rest = lines[_MOST_UNMET - 1 :]
        yield _told("stock-unmet-more", rest[0].name, names=tuple(line.name.value for line in rest))


def _told(code: str, at: Said[str] | Place, **facts: object) -> Finding:
    return Finding.of(code, Strength.THOUGHT, at if isinstance(at, Place) else at.place, **facts)


class _ShelfMatcher:
    """Takes the lines one after the other."""

    def __init__(self, shared: Sequence[Shared], tools: Sequence[str], same: SameAs) -> None:
        self.lines: dict[str, ShelfLine] = {}
        self.supplies: list[tuple[ShelfLine, Shared]] = []
        self.findings: list[Finding] = []
        self.unmet: list[ShelfLine] = []
        self._shared, self._tools, self._same = shared, tools, same
        self._stand_ins = {
            key_of(said.value.name) for one in shared for need in one.needs for said in need.supply.instead
        }
        self._own_names = {key_of(need.supply.name.value) for one in shared for need in one.needs}

    def take(self, line: ShelfLine) -> None:
        if line.same and line == ShelfLine(line.name, same=line.same):
            # It only says what a thing is called.
            if key_of(line.name.value) not in self._own_names:
                self.unmet.append(line)
            return
        said = self._goes_by(line.name.value)
        candidates = self._candidates(said)
        # What only one of several is called in its own recipe is that one.
        own = [
            one
            for one in candidates
            if any(key_of(need.supply.name.value) == key_of(line.name.value) for need in one.needs)
        ]
        candidates = own if len(own) == 1 else candidates
        if len(candidates) > 1:
            self._which(line, candidates)
        elif candidates:
            self._meet(line, candidates[0])
        elif any(is_meant(said, tool) for tool in self._tools):
            self.lines.setdefault(said.casefold(), line)
            if not line.plenty and line.counted is None:
                self.findings.append(_told("stock-tool-uncounted", line.name, said=line.name.value))
        elif known := self._of_other_colours(said):
            self.findings.append(_told("stock-colour-unmet", line.name, **known))
        elif key_of(line.name.value) not in self._stand_ins:
            self.unmet.append(line)

    def _goes_by(self, name: str) -> str:
        met = set[Words]()
        while (key := key_of(name)) in self._same and key not in met:
            met.add(key)
            name = self._same[key]
        return name

    def _candidates(self, said: str) -> list[Shared]:
        """What a name may mean: as the shopping list spells it; its words in another order; or without what tells it
        apart from others.
        """
        words = key_of(said)
        spelled = [(one, key_of(one.spelled)) for one in self._shared]
        for alike in (
            [one for one, own in spelled if own == words],
            [one for one, own in spelled if sorted(own) == sorted(words)],
        ):
            if alike:
                return alike
        return [
            one
            for one in self._shared
            if words == key_of(one.name) or sorted(words) == sorted(key_of(f"{one.name} {one.colour}"))
        ]

    def _which(self, line: ShelfLine, candidates: Sequence[Shared]) -> None:
        names = tuple(
            f"{one.supply.name.value}, {one.colour}" if one.colour else one.supply.name.value for one in candidates
        )
        self.findings.append(_told("stock-which", line.name, said=line.name.value, names=names))

    def _of_other_colours(self, said: str) -> dict[str, object]:
        """A planned supply of which the shelf has another colour."""
        words = key_of(said)
        for one in sorted(self._shared, key=lambda one: -len(key_of(one.name))):
            own = key_of(one.name)
            colours = tuple(
                dict.fromkeys(each.colour for each in self._shared if each.name == one.name and each.colour)
            )
            if colours and len(own) < len(words) and (words[: len(own)] == own or words[-len(own) :] == own):
                return {"said": said, "name": one.name, "colours": colours}
        return {}

    def _meet(self, line: ShelfLine, one: Shared) -> None:
        if one.spelled in self.lines:
            first = self.lines[one.spelled].name.value
            self.findings.append(_told("stock-met-twice", line.name, said=line.name.value, first=first))
            return
        if not one.is_cut and line.sheets and all(said.value.size is None for said in line.sheets) and not line.amount:
            # `felt: 6 sheets`, of which two are used: they are counted.
            count = Fraction(sum(said.value.count for said in line.sheets))
            amount = Said(Amount(Dimension.COUNT, count, "", "sheets"), line.sheets[0].place)
            line = replace(line, sheets=(), amount=amount)
        self.findings += _uncounted(line, one)
        self.lines[one.spelled] = line
        self.supplies.append((line, one))


def _uncounted(line: ShelfLine, one: Shared) -> Iterator[Finding]:
    """What is on the shelf in a way in which the supply is not used."""
    name = one.supply.name.value
    if line.packs and not one.supply.packs:
        yield _told("stock-pack-unknown", line.packs.place, name=name)
    if line.packs and len(one.supply.packs) > 1:
        packs = tuple(write_amount(said.value.amount) for said in one.supply.packs)
        yield _told("stock-which-pack", line.packs.place, name=name, packs=packs, first=packs[0])
    if one.is_cut:
        other = [said.place for said in line.lengths]
        other += [line.amount.place] if line.amount and line.counted is None else []
        for place in other:
            yield _told("stock-not-sheets", place, name=name)
    else:
        for said in (*line.sheets, *line.scraps):
            yield _told("stock-only-sheets", said.place, name=name)


def sheets_unfit(plans: Sequence[SheetPlan]) -> tuple[Finding, ...]:
    """Sheets and scraps on the shelf out of which none of the pieces comes."""
    return tuple(
        _told("stock-sheet-unfit", size.place, name=plan.supply)
        for plan in plans
        for number in plan.unfit
        for size in (plan.sizes[number],)
        if size.place
    )
