"""Lengths set as their author wrote them, for who reads no sheet. Figures are asked for only where nobody wrote any."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cached_property

from foldwright.document.catalogue import Catalogue
from foldwright.document.typeset import LengthSetter, typesetter
from foldwright.document.words import SetMeasure
from foldwright.geometry.lengths import LengthId, Lengths
from foldwright.measure.length import Length, System
from foldwright.measure.printed import Printed
from foldwright.measure.writing import plain_cross, write_exact

_FINEST = 64
"""The finest mark of an inch ruler (common practice, no source)."""


class WrittenLengths(LengthSetter[str]):
    """Sets lengths in plain characters, each in its own unit and exact.

    A piece that was worked out (from the room inside it and a card's thickness) is set as the page will print it:
    So is a length that no ruler in its own unit can show, as a border left by two unit systems. `figures` gives that
    in a unit system, and is called only then.
    """

    def __init__(
        self, lengths: Lengths, words: Catalogue, figures: Callable[[System], Mapping[LengthId, Printed]]
    ) -> None:
        super().__init__(typesetter(words.language))
        self._lengths = lengths
        self._figures_in = figures
        self._by_system: dict[System, Mapping[LengthId, Printed]] = {}

    def has(self, name: LengthId) -> bool:
        return name in self._lengths.by_id

    def alone(self, *lengths: Length) -> str:
        return plain_cross([write_exact(length) for length in lengths])

    def thickness(self, length: Length) -> str:
        return write_exact(length).plain

    def _figures(self, names: Sequence[LengthId]) -> Sequence[tuple[Printed, ...]]:
        return [tuple(map(self._written, names))]

    def _told(self, phrases: Iterable[SetMeasure]) -> str:
        (phrase,) = phrases
        return phrase.plain

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
            self._by_system[system] = self._figures_in(system)
        return self._by_system[system]
