"""How likely each blank is by all that was read: what makers do, times what rulers and hands do, over all sides at
once.

Habit and ruler are the same for the whole sample, and what is not known of them is shared by all sides. Given both,
the sides do not depend on each other: so the chance of everything that was read is a sum over habits and rulers of a
product over sides, and each blank has its part of it (Bayes' theorem).
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from itertools import accumulate
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.begin.recover.habits import Habits, habits_of, log_priors
from foldwright.begin.recover.model import Sample, SampleSide
from foldwright.begin.recover.near import rows_near
from foldwright.begin.recover.ruler import Rulers, likelihoods, rulers_of, slip_chance
from foldwright.measure.length import System

if TYPE_CHECKING:
    from fractions import Fraction

    from foldwright.begin.recover.habits import Floats, Wholes

_OTHER_SYSTEM = 0.05
"""How many samples come from somebody who works in the other system than whoever measures (a reasoned guess)."""
_LEAST = 60.0
"""What is less likely than the likeliest by the exponential of this is as good as impossible."""
_MOST_TRIED = 4
"""Rows of a side that are tried with those of all others, the likeliest of them."""
_ROUNDS = 3
"""So often the rows of all sides together are bettered by another one of a side."""
_SURE = 0.8
"""What is told of ruler and folds is at least so likely."""


class WeighedSide(Struct, frozen=True):
    """The rows that a side may be (in parts of the finest mark), with the logarithms of how likely each of them is made
    (`prior`, by habit) and what was read of it (`likely`, by ruler), and of their sum over all rows (`evidence`)."""

    side: SampleSide
    rows: Wholes
    prior: Floats
    likely: Floats
    evidence: Floats


class WeighedSample:
    """All sides of a sample in one system. Every chance is a part of the exponential of `scale`."""

    def __init__(self, sample: Sample, system: System, habits: Habits) -> None:
        import numpy as np

        self.system = system
        self._habits = habits
        self._rulers = rulers_of(sample)
        share = float(sample.share_in(system))
        other = _OTHER_SYSTEM * (1 - share) + (1 - _OTHER_SYSTEM) * share
        sides = [side for piece in sample.pieces for side in piece.sides]
        panels = sum(side.count for side in sides)
        self.sides = tuple(_weighed(side, rows_near(side, habits, panels), habits, self._rulers) for side in sides)
        with np.errstate(divide="ignore"):
            self._weights: Floats = np.log(other * habits.shares[:, None] * self._rulers.shares)
        self._evidence = self._weights + np.sum([side.evidence for side in self.sides], axis=0)
        self.scale = float(self._evidence.max())

    @property
    def chance(self) -> float:
        """How likely all that was read is, in this system."""
        return self._sum(self._evidence)

    def _sum(self, logarithms: Floats) -> float:
        import numpy as np

        return float(np.exp(logarithms - self.scale).sum())

    @cached_property
    def orders(self) -> tuple[tuple[int, ...], ...]:
        """The likeliest rows of each side, whatever the others are."""
        import numpy as np

        found = []
        for side in self.sides:
            rest = np.exp(np.maximum(self._evidence - side.evidence - (self._evidence - side.evidence).max(), -_LEAST))
            prior, likely = (np.exp(one - one.max()) for one in (side.prior, side.likely))
            chances = ((prior @ rest) * likely).sum(axis=1)
            found.append(tuple(map(int, np.argsort(-chances)[:_MOST_TRIED])))
        return tuple(found)

    def together(self, rows: Sequence[int]) -> float:
        """How likely what was read is, and these rows of all sides."""
        return self._sum(self._by_habit_and_ruler(rows))

    def _by_habit_and_ruler(self, rows: Sequence[int]) -> Floats:
        both = list(zip(self.sides, rows, strict=True))
        prior = sum(side.prior[row] for side, row in both)
        likely = sum(side.likely[row] for side, row in both)
        found: Floats = self._weights + prior[:, None] + likely
        return found

    def _by_ruler(self, rows: Sequence[int]) -> Floats:
        """How likely each ruler is, if these are the rows."""
        import numpy as np

        found = self._by_habit_and_ruler(rows)
        chances: Floats = np.exp(found - found.max()).sum(axis=0)
        return chances / chances.sum()

    @cached_property
    def likeliest(self) -> tuple[int, ...]:
        """The likeliest rows of all sides together: those of each by itself, then bettered side by side."""
        best = tuple(order[0] for order in self.orders)
        for _ in range(_ROUNDS):
            tried = max([best, *self.others(best)], key=self.together)
            if tried == best:
                break
            best = tried
        return best

    def others(self, rows: Sequence[int]) -> list[tuple[int, ...]]:
        """The same rows with another one for one of the sides."""
        return [
            (*rows[:at], row, *rows[at + 1 :])
            for at, order in enumerate(self.orders)
            for row in order
            if row != rows[at]
        ]

    def panels(self, rows: Sequence[int]) -> tuple[tuple[Fraction, ...], ...]:
        """The panels (mm) of all sides."""
        finest = self._habits.marks[-1]
        found = (side.rows[row] for side, row in zip(self.sides, rows, strict=True))
        return tuple(tuple(int(parts) * finest for parts in row) for row in found)

    def ruler(self, rows: Sequence[int]) -> tuple[float, float]:
        """How far the ruler's nought is off and what each fold takes (mm); nothing where that is not sure."""
        chances = self._by_ruler(rows)
        found = []
        for values in (self._rulers.zero, self._rulers.fold):
            off = abs(values) > 0
            share = float(chances[off].sum())
            found.append(float((values * chances)[off].sum()) / share if share > _SURE else 0.0)
        return found[0], found[1]

    def slips(self, rows: Sequence[int], number: int) -> tuple[int, ...]:
        """Which readings of a side are likelier slips than not, by their places in it."""
        side = self.sides[number]
        chances = self._by_ruler(rows)
        lines = [0.0, *accumulate(map(float, self.panels(rows)[number]))]
        spans = (lines[one.end] - lines[one.start] for one in side.side.readings)
        odds = [
            float((slip_chance(one, span, self._rulers) * chances).sum())
            for one, span in zip(side.side.readings, spans, strict=True)
        ]
        return tuple(at for at, chance in enumerate(odds) if chance > 1 / 2)


def weigh(sample: Sample, system: System) -> WeighedSample | None:
    """The blanks of a sample in one system; None when its maker is known to work in the other."""
    readings = (reading for piece in sample.pieces for side in piece.sides for reading in side.readings)
    habits = habits_of(system, sample.made_in, min(reading.bound.mm for reading in readings))
    return WeighedSample(sample, system, habits) if habits else None


def _weighed(side: SampleSide, rows: Wholes, habits: Habits, rulers: Rulers) -> WeighedSide:
    import numpy as np

    prior = log_priors(rows, habits)
    lines = np.cumsum(np.column_stack([np.zeros(len(rows), dtype=np.int64), rows]), axis=1)
    spans = np.column_stack([lines[:, one.end] - lines[:, one.start] for one in side.readings])
    likely = likelihoods(side, spans * float(habits.marks[-1]), rulers)
    worth = prior.max(axis=1) + likely.max(axis=1)
    kept = worth > worth.max() - _LEAST / 2
    prior, likely = prior[kept], likely[kept]
    tops = prior.max(), likely.max()
    evidence = np.exp(np.maximum(prior - tops[0], -_LEAST)).T @ np.exp(np.maximum(likely - tops[1], -_LEAST))
    return WeighedSide(side, rows[kept], prior, likely, np.log(evidence) + sum(tops))
