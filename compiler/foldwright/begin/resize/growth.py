"""How lengths grow: so many times as long, on marks that are easy to find; and where places on a side come to lie."""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate

from msgspec import Struct

from foldwright.begin.draft.blanks import STEPS
from foldwright.measure.length import Length, Unit
from foldwright.measure.steps import STEPS as RULER

_HALF = Fraction(1, 2)


def up(mm: Fraction, step: Fraction) -> Fraction:
    """The least multiple of a step that is no less."""
    return -(-mm // step) * step


def nearest(mm: Fraction, step: Fraction) -> Fraction:
    """The nearest multiple of a step, the larger one from the very middle; never nothing. Without a step the same."""
    if not step:
        return mm
    return max((mm / step + _HALF) // 1, 1) * step


def on_ruler(mm: Fraction, unit: Unit, larger: bool) -> Fraction:
    """A length as a ruler of the unit's system shows it: what lies between its finest marks is taken up, or down."""
    finest = RULER[unit.system][-1]
    return up(mm, finest) if larger else mm // finest * finest


class Growth(Struct, frozen=True):
    """So many times as long. With a scale of 1 everything stays as it is, but for what follows from something else.

    `exact` is for what would not fold if its numbers were rounded one by one.
    """

    scale: Fraction
    step: Length
    exact: bool = False

    def mark(self, unit: Unit) -> Fraction:
        """The step, or the usual one of the other system where a length is written in that (mm). Nothing if exact."""
        if self.exact:
            return Fraction(0)
        step = self.step if unit.system is self.step.unit.system else STEPS[unit.system]
        return step.mm

    def grown(self, old: Length) -> Length:
        """A length so many times as long, on the nearest mark."""
        if self.scale == 1 or not old.mm:
            return old
        return Length(nearest(old.mm * self.scale, self.mark(old.unit)), old.unit)

    def spaced(self, old: Length, times: int) -> Length:
        """What is repeated so often: on a mark, unless that would move the last of them by more than a step."""
        grown = self.grown(old)
        exact = Length(old.mm * self.scale, old.unit)
        return grown if abs(grown.mm - exact.mm) * times <= self.mark(old.unit) else exact


class Stretch(Struct, frozen=True):
    """One side of a piece: how long each of its panels was and is (mm). Places go with their panels."""

    panels: tuple[tuple[Fraction, Fraction], ...]

    @property
    def old(self) -> Fraction:
        return sum((one for one, _ in self.panels), Fraction(0))

    @property
    def new(self) -> Fraction:
        return sum((other for _, other in self.panels), Fraction(0))

    def place(self, mm: Fraction) -> Fraction:
        """Where a place that was so far from the left or the top edge is now, exactly."""
        start = end = Fraction(0)
        for old, new in self.panels:
            if mm <= start + old:
                return end + (mm - start) * new / old
            start, end = start + old, end + new
        return end + (mm - start)

    def marked(self, mm: Fraction, mark: Fraction) -> Fraction:
        """The same on a mark, counted from the nearer edge so that twins stay twins; what is on a score stays on it."""
        there = self.place(mm)
        edges = accumulate((old for old, _ in self.panels), initial=Fraction(0))
        if there == mm or mm in edges:
            return there
        from_the_end = self.new - there
        return nearest(there, mark) if there <= from_the_end else self.new - nearest(from_the_end, mark)
