"""Closing as whole numbers: every length in ticks, every relation a row of terms that must come to something.

A tick is a part of a millimetre so small that every length and every step is a whole number of them: nothing here is
rounded unless it is meant to be.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.lengths import Clearance, Equal, LengthId, Sum


class Row(Struct, frozen=True):
    """The terms (index of a length, how often it counts) must come to `least` or more, and to `most` or less.

    `most` None is no limit. `gap` is the designed clearance where the row is one; its `least` depends on the step.
    `source` is the place of the relation among the recipe's relations.
    """

    terms: tuple[tuple[int, int], ...]
    least: int
    most: int | None
    source: int
    gap: int | None = None

    @property
    def is_equality(self) -> bool:
        """Whether the row says no more than that two lengths are equal."""
        return (
            self.least == self.most == 0 and len(self.terms) == 2 and self.terms[0][1] == -self.terms[1][1] in (1, -1)
        )

    def holds(self, values: Sequence[int]) -> bool:
        total = 0
        for index, times in self.terms:
            total += times * values[index]
        return self.least <= total and (self.most is None or total <= self.most)

    def at(self, step: int) -> Row:
        """The row as it stands at a step: a clearance above nothing, and at least as designed less half a step."""
        if self.gap is None:
            return self
        return replace(self, least=max(1, -((step - 2 * self.gap) // 2)))


class Problem(Struct, frozen=True):
    """Exact ticks in order of mention, which lengths are fixed, the largest each may be (None: any), and the rows.

    `weights` say how many lengths each stands for; without them each stands for one.
    """

    exact: tuple[int, ...]
    fixed: tuple[bool, ...]
    ceilings: tuple[int | None, ...]
    rows: tuple[Row, ...]
    weights: tuple[int, ...] = ()

    @property
    def each_weight(self) -> tuple[int, ...]:
        return self.weights or (1,) * len(self.exact)

    @property
    def freedom(self) -> int:
        """How many lengths can be chosen before sums and equalities settle the rest (at most)."""
        return self.fixed.count(False) - sum(row.most is not None for row in self.rows)

    def at(self, step: int) -> Problem:
        """The problem with its clearances as they stand at a step."""
        return replace(self, rows=tuple(row.at(step) for row in self.rows))

    def on_grid(self, step: int) -> bool:
        """Whether the fixed lengths leave every sum a multiple of the step to be made up by the free ones."""
        return not any(
            row.most is not None
            and sum(times * self.exact[index] for index, times in row.terms if self.fixed[index]) % step
            for row in self.rows
        )

    def released(self) -> Problem:
        """The problem with no length fixed."""
        return replace(self, fixed=(False,) * len(self.fixed))

    def nearest(self, step: int) -> list[int]:
        """Every length at its nearest value on its own, whatever the rows say."""
        return [
            exact if fixed else nearest(exact, step, ceiling)
            for exact, fixed, ceiling in zip(self.exact, self.fixed, self.ceilings, strict=True)
        ]

    def deviation(self, values: Sequence[int]) -> int:
        """The farthest any length has moved."""
        return max(abs(value - exact) for value, exact in zip(values, self.exact, strict=True))

    def part(self, members: Sequence[int]) -> Problem:
        """The problem of these lengths alone; `members` is a whole group, so that no row is cut in two."""
        local = {index: position for position, index in enumerate(members)}
        rows = tuple(
            replace(row, terms=tuple((local[index], times) for index, times in row.terms))
            for row in self.rows
            if row.terms[0][0] in local
        )
        return Problem(
            tuple(self.exact[index] for index in members),
            tuple(self.fixed[index] for index in members),
            tuple(self.ceilings[index] for index in members),
            rows,
        )


def merged(problem: Problem) -> tuple[Problem, list[int]]:
    """The problem with equal lengths made one, and for each length the place of the one that stands for it.

    The first in order of mention stands for the others, so the order holds. A free length equal to a fixed one stays
    apart: it has to lie on the step, the fixed one need not.
    """
    pairs = {row.source: row for row in problem.rows if row.is_equality and _alike(row, problem.fixed)}
    groups = groups_of(len(problem.exact), tuple(pairs.values()))
    place = {index: position for position, members in enumerate(groups) for index in members}
    ceilings = (min((c for i in members if (c := problem.ceilings[i]) is not None), default=None) for members in groups)
    smaller = Problem(
        tuple(problem.exact[members[0]] for members in groups),
        tuple(problem.fixed[members[0]] for members in groups),
        tuple(ceilings),
        tuple(_with_places(row, place) for row in problem.rows if row.source not in pairs),
        tuple(len(members) for members in groups),
    )
    return smaller, [place[index] for index in range(len(problem.exact))]


def _alike(row: Row, fixed: Sequence[bool]) -> bool:
    return fixed[row.terms[0][0]] == fixed[row.terms[1][0]]


def _with_places(row: Row, place: Mapping[int, int]) -> Row:
    times: dict[int, int] = {}
    for index, count in row.terms:
        times[place[index]] = times.get(place[index], 0) + count
    return replace(row, terms=tuple((index, count) for index, count in times.items() if count))


def row_of(relation: Sum | Equal | Clearance, source: int, index: Mapping[LengthId, int], exact: Sequence[int]) -> Row:
    """The row a relation becomes."""
    match relation:
        case Sum(total, parts):
            times = {index[total]: -1}
            for part in parts:
                position = index[part]
                times[position] = times.get(position, 0) + 1
            return Row(tuple(times.items()), 0, 0, source)
        case Equal(one, other):
            return Row(((index[one], 1), (index[other], -1)), 0, 0, source)
        case Clearance(outer, inner):
            gap = exact[index[outer]] - exact[index[inner]]
            return Row(((index[outer], 1), (index[inner], -1)), 1, None, source, gap)


def nearest(exact: int, step: int, ceiling: int | None = None) -> int:
    """The nearest multiple of the step, the smaller from the very middle; above nothing, and under the ceiling."""
    value = -((step - 2 * exact) // (2 * step)) * step
    if value <= 0 < exact:
        value = step
    if ceiling is not None and value > ceiling:
        value = ceiling // step * step
    return value


def in_ticks(mm: Fraction, ticks: int) -> int:
    """Millimetres as whole ticks, downwards where a limit does not fall on one."""
    return mm.numerator * ticks // mm.denominator


def groups_of(count: int, rows: Sequence[Row]) -> list[list[int]]:
    """The lengths that rows join, each group in order of mention; a length no row speaks of is a group alone."""
    leader = list(range(count))

    def lead(index: int) -> int:
        while leader[index] != index:
            leader[index] = leader[leader[index]]
            index = leader[index]
        return index

    for row in rows:
        first = lead(row.terms[0][0])
        for index, _ in row.terms[1:]:
            other = lead(index)
            if other != first:
                leader[max(first, other)] = first = min(first, other)
    members: dict[int, list[int]] = {}
    for index in range(count):
        members.setdefault(lead(index), []).append(index)
    return list(members.values())
