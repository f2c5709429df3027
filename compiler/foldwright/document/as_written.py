"""Lengths set as their author wrote them, for who reads no sheet. Figures are asked for only where nobody wrote any."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from functools import cached_property

from foldwright.document.catalogue import Catalogue
from foldwright.geometry.lengths import LengthId, Lengths
from foldwright.measure.length import Length, System
from foldwright.measure.printed import Printed
from foldwright.measure.steps import BETWEEN_LINES
from foldwright.measure.writing import plain_cross, write_at, write_exact

_FINEST = 64
"""The finest mark of an inch ruler (common practice, no source)."""


class WrittenLengths:
    """Sets lengths in plain characters, each in its own unit and exact.

    A piece that was worked out (from the room inside it and a card's thickness) is set as the page will print it:
    So is a length that no ruler in its own unit can show, as a border left by two unit systems. `figures` gives that
    in a unit system, and is called only then.
    """

    def __init__(
        self, lengths: Lengths, words: Catalogue, figures: Callable[[System], Mapping[LengthId, Printed]]
    ) -> None:
        self._lengths = lengths
        self._words = words
        self._figures = figures
        self._by_system: dict[System, Mapping[LengthId, Printed]] = {}

    def has(self, name: LengthId) -> bool:
        return name in self._lengths.by_id

    def alike(self, names: Sequence[LengthId]) -> bool:
        return len({self._written(name).plain for name in names}) == 1

    def single(self, name: LengthId) -> str:
        return self._written(name).plain

    def cross(self, *names: LengthId) -> str:
        return plain_cross([self._written(name) for name in names])

    def listed(self, names: Sequence[LengthId]) -> str:
        printed = [self._written(name) for name in names]
        return self._words.listed([*_numbers(printed[:-1], printed[-1]), printed[-1].plain])

    def added(self, names: Sequence[LengthId]) -> str:
        *parts, total = [self._written(name) for name in names]
        return f"{' + '.join(_numbers(parts, total))} = {total.plain}"

    def room(self, outer: LengthId, inner: LengthId, parts: int) -> str:
        wide, narrow = self._written(outer), self._written(inner)
        return write_exact(Length((wide.mm - narrow.mm) / parts, wide.unit)).plain

    def room_at_least(self, outer: LengthId, inner: LengthId, parts: int, taken: Fraction) -> str | None:
        printed = least_room(self._written(outer), self._written(inner), parts, taken)
        return printed.plain if printed else None

    def alone(self, *lengths: Length) -> str:
        return plain_cross([write_exact(length) for length in lengths])

    def thickness(self, length: Length) -> str:
        return write_exact(length).plain

    def _written(self, name: LengthId) -> Printed:
        if name.piece in self._worked_out:
            return self._printed(self._worked_out[name.piece])[name]
        length = self._lengths.by_id[name]
        exact = write_exact(length)
        return exact if exact.denominator <= _FINEST else self._printed(length.unit.system)[name]

    @cached_property
    def _worked_out(self) -> dict[str, System]:
        """Every piece in which a length was worked out, and its own system."""
        return {name.piece: self._lengths.by_id[name].unit.system for name in self._lengths.worked_out}

    def _printed(self, system: System) -> Mapping[LengthId, Printed]:
        if system not in self._by_system:
            self._by_system[system] = self._figures(system)
        return self._by_system[system]


def _numbers(printed: Sequence[Printed], last: Printed) -> list[str]:
    """Numbers before another: one unit behind them all when they share it, else each its own."""
    shared = all(one.unit is last.unit for one in printed)
    return [one.number if shared else one.plain for one in printed]


def least_room(outer: Printed, inner: Printed, parts: int, taken: Fraction) -> Printed | None:
    """What is left between two printed lengths when `taken` is off it, in so many parts; None when nothing is.

    On the finest step of the unit system and never rounded up.
    """
    step = BETWEEN_LINES[outer.unit.system][-1]
    left = (outer.mm - inner.mm - taken) / parts // step * step
    return write_at(left, outer.unit, step) if left > 0 else None
