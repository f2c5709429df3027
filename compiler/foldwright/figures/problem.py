"""Closing as whole numbers: every length in ticks, every relation a row of terms that must come to something.

A tick is a part of a millimetre so small that every length and every step is a whole number of them: nothing here is
rounded unless it is meant to be. What is printed as the sum of other lengths is none of these lengths (see `summing`).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

type Terms = tuple[tuple[int, int], ...]
"""The index of a length, and how often it counts."""


class Constraint(Struct, frozen=True):
    """The terms must come to `least` or more, and to `most` or less (None is no limit).

    `gap` is the designed clearance where the row is one; its `least` depends on the step. `source` is the place of the
    relation among those of the table.
    """

    terms: Terms
    least: int
    most: int | None
    source: int
    gap: int | None = None

    @property
    def is_sum(self) -> bool:
        """Whether there is one number it must come to."""
        return self.least == self.most

    @property
    def is_equality(self) -> bool:
        """Whether the row says no more than that two lengths are equal."""
        return self.least == self.most == 0 and sorted(times for _, times in self.terms) == [-1, 1]

    def holds(self, values: Sequence[int]) -> bool:
        total = 0
        for index, times in self.terms:
            total += times * values[index]
        return self.least <= total and (self.most is None or total <= self.most)

    def at(self, step: int) -> Constraint:
        """The row as it stands at a step: a clearance above nothing, and at least as designed less half a step."""
        if self.gap is None:
            return self
        return replace(self, least=max(1, -((step - 2 * self.gap) // 2)))


class Problem(Struct, frozen=True):
    """Exact ticks in order of mention, which lengths are fixed, and the rows.

    `weights` say how many lengths each stands for; without them each stands for one.
    """

    exact: tuple[int, ...]
    fixed: tuple[bool, ...]
    rows: tuple[Constraint, ...]
    weights: tuple[int, ...] = ()

    @property
    def each_weight(self) -> tuple[int, ...]:
        return self.weights or (1,) * len(self.exact)

    @property
    def freedom(self) -> int:
        """How many lengths can be chosen before sums settle the rest (at most)."""
        return sum(not self.fixed[index] for index in self.related) - sum(row.is_sum for row in self.rows)

    @property
    def related(self) -> frozenset[int]:
        """The lengths some row speaks of; each of the others takes its nearest value."""
        return frozenset(index for row in self.rows for index, _ in row.terms)

    def at(self, step: int) -> Problem:
        """The problem with its clearances as they stand at a step."""
        return replace(self, rows=tuple(row.at(step) for row in self.rows))

    def on_grid(self, step: int) -> bool:
        """Whether the fixed lengths leave every sum a multiple of the step to be made up by the free ones."""
        return not any(
            (row.least - sum(times * self.exact[index] for index, times in row.terms if self.fixed[index])) % step
            for row in self.rows
            if row.is_sum
        )

    def released(self) -> Problem:
        """The problem with no length fixed."""
        return replace(self, fixed=(False,) * len(self.fixed))

    def nearest(self, step: int) -> list[int]:
        """Every length at its nearest value on its own, whatever the rows say."""
        return [exact if fixed else nearest(exact, step) for exact, fixed in zip(self.exact, self.fixed, strict=True)]

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
        fixed = tuple(self.fixed[index] for index in members)
        return Problem(tuple(self.exact[index] for index in members), fixed, rows)


def merged(problem: Problem) -> tuple[Problem, list[int]]:
    """The problem with equal lengths made one, and for each length the place of the one that stands for it.

    The first in order of mention stands for the others, so the order holds. What equals a length that stands as
    written stands as that one does.
    """
    pairs = {row.source: row for row in problem.rows if row.is_equality}
    groups = groups_of(len(problem.exact), [row.terms for row in pairs.values()])
    place = {index: position for position, members in enumerate(groups) for index in members}
    smaller = Problem(
        tuple(problem.exact[members[0]] for members in groups),
        tuple(any(problem.fixed[index] for index in members) for members in groups),
        tuple(
            replace(row, terms=added((place[index], count) for index, count in row.terms))
            for row in problem.rows
            if row.source not in pairs
        ),
        tuple(map(len, groups)),
    )
    return smaller, [place[index] for index in range(len(problem.exact))]


def added(terms: Iterable[tuple[int, int]]) -> Terms:
    """Terms with each index once; what cancels out is gone."""
    times: dict[int, int] = {}
    for index, count in terms:
        times[index] = times.get(index, 0) + count
    return tuple((index, count) for index, count in times.items() if count)


def less(terms: Iterable[tuple[int, int]], others: Terms) -> Terms:
    """The terms of a difference."""
    return added([*terms, *((index, -times) for index, times in others)])


def nearest(exact: int, step: int) -> int:
    """The nearest multiple of the step, the smaller from the very middle; above nothing."""
    value = -((step - 2 * exact) // (2 * step)) * step
    return step if value <= 0 < exact else value


def in_ticks(mm: Fraction, ticks: int) -> int:
    """Millimetres as whole ticks, downwards where a limit does not fall on one."""
    return mm.numerator * ticks // mm.denominator


def groups_of(count: int, joined: Iterable[Terms]) -> list[list[int]]:
    """The lengths that terms join, each group in order of mention; a length in none is a group alone."""
    leader = list(range(count))

    def lead(index: int) -> int:
        while leader[index] != index:
            leader[index] = leader[leader[index]]
            index = leader[index]
        return index

    for terms in joined:
        first = lead(terms[0][0])
        for index, _ in terms[1:]:
            other = lead(index)
            if other != first:
                leader[max(first, other)] = first = min(first, other)
    members: dict[int, list[int]] = {}
    for index in range(count):
        members.setdefault(lead(index), []).append(index)
    return list(members.values())
