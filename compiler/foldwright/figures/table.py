"""A recipe's lengths laid out in whole ticks: those that are looked at, and those that are printed as their sums."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import lcm

from msgspec import Struct

from foldwright.figures.group import Rules
from foldwright.figures.problem import Constraint, Problem, Terms, added, groups_of, in_ticks, less
from foldwright.geometry.lengths import AtLeast, Clearance, Equal, LengthId, Lengths, Relation, Rest, Sum, Within
from foldwright.measure.length import Length, System, Unit

_PLAIN_FRACTION = 64
"""The largest denominator an author writes; with it or three decimals a number was written, else worked out."""


WORDS = "words"
"""The `piece` of a length that stands only in the words: no trimmer has to read it."""


class WrittenSum(Struct, frozen=True):
    """A sum whose total somebody wrote in the system of the page: it stands as written, and its parts come to it."""

    total: LengthId
    parts: tuple[LengthId, ...]


type Stated = Relation | WrittenSum

_LAST_TO_GIVE = (Equal, Within, Sum, AtLeast, Clearance, WrittenSum)
"""Where not all can hold together, what comes later here gives way: no paper is larger than its sheet."""


class FigureTable(Struct, frozen=True):
    """`names` are the lengths of the problem, in order of mention: all that is compared with its exact length.

    `exact` has every length in ticks; `terms` say of each which of the `names` it is printed as the sum of (one that is
    compared, of itself alone). `stated` are the recipe's relations, and behind them the totals that stand as written; a
    row's source is a place in it. `rests` are what is left between two others, in equal parts: their terms come to all
    of it. `written` are all lengths that stand as written unless something makes them give.
    """

    lengths: Lengths
    system: System
    ticks: int
    names: tuple[LengthId, ...]
    exact: Mapping[LengthId, int]
    terms: Mapping[LengthId, Terms]
    problem: Problem
    rules: Rules
    stated: tuple[Stated, ...]
    rests: Mapping[LengthId, Rest]
    contradicted: tuple[Relation, ...]
    written: frozenset[LengthId]

    def length(self, ticks: int) -> Length:
        unit = Unit.INCH if self.system is System.IMPERIAL else Unit.MILLIMETRE
        return Length(Fraction(ticks, self.ticks), unit)

    @property
    def joined(self) -> list[Terms]:
        """What belongs together: by a relation, or because a total has them as its parts."""
        joined = [row.terms for row in self.problem.rows]
        return [*joined, *(terms for terms in self.terms.values() if len(terms) > 1)]

    def groups(self) -> list[list[int]]:
        """The lengths that belong together."""
        return groups_of(len(self.names), self.joined)


class Marks(Struct, frozen=True):
    """The marks figures may fall on, in millimetres: what becomes of it in ticks are the `Rules`."""

    steps: tuple[Fraction, ...]
    finer: tuple[Fraction, ...]
    reach: Fraction
    kept: str = ""


def lay_out(lengths: Lengths, system: System, marks: Marks) -> FigureTable:
    """What the recipe's own numbers already contradict is left out of the problem."""
    all_steps = (*marks.steps, *marks.finer)
    ticks = lcm(marks.reach.denominator, *(step.denominator for step in all_steps))
    ticks = lcm(ticks, *(length.mm.denominator for length in lengths.by_id.values()))
    exact = {name: in_ticks(length.mm, ticks) for name, length in lengths.by_id.items()}
    steps, finer = (tuple(in_ticks(step, ticks) for step in some) for some in (marks.steps, marks.finer))
    rules = Rules(steps, finer, in_ticks(marks.reach, ticks), marks.kept)
    written = _stand_as_written(lengths, system, exact, rules)
    holding = _holding(lengths.relations, exact, ticks)
    sums = _sums(lengths.relations, holding)
    rests = {
        one.length: one
        for one, holds in zip(lengths.relations, holding, strict=True)
        if isinstance(one, Rest) and holds and one.length not in sums
    }
    names = tuple(name for name in exact if name not in sums and name not in rests)
    terms = _terms(names, sums, rests)
    fixed = tuple(name in written for name in names)
    totals = tuple(
        WrittenSum(total, one.parts)
        for total, one in sums.items()
        if total in written and not all(fixed[index] for index, _ in terms[total])
    )
    stated = (*lengths.relations, *totals)
    rows = []
    for source, relation in enumerate(stated):
        if isinstance(relation, Rest) or (isinstance(relation, Sum) and sums.get(relation.total) is relation):
            continue
        if source >= len(holding) or holding[source]:
            row = _row(relation, source, terms, exact, ticks)
            if row.terms and not all(fixed[index] for index, _ in row.terms):
                rows.append(row)
    rows.sort(key=lambda row: _LAST_TO_GIVE.index(type(stated[row.source])))
    problem = Problem(tuple(exact[name] for name in names), fixed, tuple(rows))
    contradicted = tuple(one for one, holds in zip(lengths.relations, holding, strict=True) if not holds)
    return FigureTable(
        lengths, system, ticks, names, exact, terms, problem, rules, stated, rests, contradicted, written
    )


# --- what stands as written -------------------------------------------------------------------------------------------


def _stand_as_written(
    lengths: Lengths, system: System, exact: Mapping[LengthId, int], rules: Rules
) -> frozenset[LengthId]:
    """Which lengths print as written: in this system, by a person, and (where a step is kept) on one of its marks."""
    written = {
        name
        for name, length in lengths.by_id.items()
        if length.unit.system is system
        and name not in lengths.worked_out
        and (length.value.denominator <= _PLAIN_FRACTION or 1000 % length.value.denominator == 0)
        and not (rules.kept and exact[name] % rules.steps[0])
    }
    # In a sum of lengths from both systems, what lies on no mark was added up or left over, not written.
    off_marks = {name for name in written if exact[name] % rules.finest}
    for relation in lengths.relations if off_marks else ():
        members = named_in(relation)
        if isinstance(relation, Sum) and not off_marks.isdisjoint(members) and not written.issuperset(members):
            written -= off_marks.intersection(members)
    return frozenset(written)


# --- sums -------------------------------------------------------------------------------------------------------------


def _holding(relations: Sequence[Relation], exact: Mapping[LengthId, int], ticks: int) -> list[bool]:
    """Whether each relation holds in the recipe's own numbers."""
    themselves: dict[LengthId, Terms] = {name: ((index, 1),) for index, name in enumerate(exact)}
    values = list(exact.values())
    return [
        exact[one.length] * one.parts == exact[one.outer] - exact[one.inner]
        if isinstance(one, Rest)
        else _row(one, 0, themselves, exact, ticks).holds(values)
        for one in relations
    ]


def _sums(relations: Sequence[Relation], holding: Sequence[bool]) -> dict[LengthId, Sum]:
    """For each length that is printed as a sum, the first that says so."""
    sums: dict[LengthId, Sum] = {}
    stated = (one for one, holds in zip(relations, holding, strict=True) if holds and isinstance(one, Sum))
    for relation in stated:
        known = relation.held or relation.total in sums
        if not known and not _rests_on(relation.parts, relation.total, sums):
            sums[relation.total] = relation
    return sums


def _rests_on(parts: Sequence[LengthId], name: LengthId, sums: Mapping[LengthId, Sum]) -> bool:
    return any(part == name or (part in sums and _rests_on(sums[part].parts, name, sums)) for part in parts)


def _terms(
    names: Sequence[LengthId], sums: Mapping[LengthId, Sum], rests: Mapping[LengthId, Rest]
) -> dict[LengthId, Terms]:
    terms: dict[LengthId, Terms] = {name: ((index, 1),) for index, name in enumerate(names)}

    def of(name: LengthId) -> Terms:
        if name not in terms:
            terms[name] = added(term for part in sums[name].parts for term in of(part))
        return terms[name]

    for total in sums:
        of(total)
    for name, rest in rests.items():
        terms[name] = less(terms[rest.outer], terms[rest.inner])
    return terms


# --- rows -------------------------------------------------------------------------------------------------------------


def named_in(relation: Stated) -> tuple[LengthId, ...]:
    """The lengths a relation speaks of, the whole before its parts."""
    match relation:
        case Sum(total, parts) | WrittenSum(total, parts):
            return (total, *parts)
        case Equal(one, other):
            return (one, other)
        case Clearance(outer, inner):
            return (outer, inner)
        case Within(length) | AtLeast(length):
            return (length,)
        case Rest(length, outer, inner):
            return (length, outer, inner)


def _row(
    relation: Sum | Equal | Clearance | Within | AtLeast | WrittenSum,
    source: int,
    terms: Mapping[LengthId, Terms],
    exact: Mapping[LengthId, int],
    ticks: int,
) -> Constraint:
    match relation:
        case WrittenSum(total):
            return Constraint(terms[total], exact[total], exact[total], source)
        case Sum(total, parts):
            together = [term for part in parts for term in terms[part]]
            return Constraint(less(together, terms[total]), 0, 0, source)
        case Equal(one, other):
            return Constraint(less(terms[one], terms[other]), 0, 0, source)
        case Clearance(outer, inner):
            gap = exact[outer] - exact[inner]
            return Constraint(less(terms[outer], terms[inner]), 1, None, source, gap)
        case Within(length, limit):
            return Constraint(terms[length], 0, in_ticks(limit, ticks), source)
        case AtLeast(length, least):
            return Constraint(terms[length], -in_ticks(-least, ticks), None, source)
