"""Which figures stand for a length in each system: those of the closed figures, by identity; others on their own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import lru_cache

from foldwright.bind.words import Binding
from foldwright.figures.closing import close
from foldwright.figures.model import Figures
from foldwright.geometry.lengths import LengthId, Lengths
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.printed import Printed
from foldwright.measure.prose import Found, find_measures
from foldwright.measure.writing import write_exact
from foldwright.recipe.words import Measure
from foldwright.sheet.typeset import Typesetter
from foldwright.sheet.words import Both, Measured, Phrase, Plain, Run, Runs
from foldwright.vocabulary import length_acts


class Measures:
    """All printed lengths of one recipe, ready to be set."""

    def __init__(self, figures: Mapping[System, Figures], binding: Binding, setter: Typesetter) -> None:
        self._imperial = figures[System.IMPERIAL].printed
        self._metric = figures[System.METRIC].printed
        self._bound = binding.ids
        self._setter = setter

    def has(self, name: LengthId) -> bool:
        return name in self._imperial

    def printed(self, name: LengthId) -> Both[Printed]:
        return Both(self._imperial[name], self._metric[name])

    def single(self, name: LengthId) -> Both[Phrase]:
        return Both(self._setter.single(self._imperial[name]), self._setter.single(self._metric[name]))

    def cross(self, *names: LengthId) -> Both[Phrase]:
        """`5 x 4 1/4 in`."""
        imperial, metric = self._figures(names)
        return Both(self._setter.cross(imperial), self._setter.cross(metric))

    def listed(self, names: Sequence[LengthId]) -> Both[Phrase]:
        """`3/4, 1 1/2 and 2 in`."""
        imperial, metric = self._figures(names)
        return Both(self._setter.listed(imperial), self._setter.listed(metric))

    def in_words(self, measure: Measure) -> Measured:
        """A measure of the author's words, as it is bound."""
        names = self._bound.get(measure.place)
        if names is None:
            return self.loose(measure.lengths, measure.joiners, measure.hyphenated, measure.said)
        imperial, metric = (_as_written(measure.lengths, figures) for figures in self._figures(names))
        phrase = self._setter.phrase
        joiners, hyphenated = measure.joiners, measure.hyphenated
        return Measured(Both(phrase(imperial, joiners, hyphenated), phrase(metric, joiners, hyphenated)), measure.said)

    def loose(
        self, lengths: Sequence[Length], joiners: tuple[str, ...] = (), hyphenated: bool = False, said: str = ""
    ) -> Measured:
        """Lengths that belong to no piece, so that nothing has to add up with them."""
        both = [
            self._setter.phrase(tuple(printed_alone(length, system) for length in lengths), joiners, hyphenated)
            for system in (System.IMPERIAL, System.METRIC)
        ]
        return Measured(Both(*both), said)

    def loose_cross(self, lengths: Sequence[Length]) -> Measured:
        return self.loose(lengths, (" x ",) * (len(lengths) - 1))

    def text(self, text: str) -> Runs:
        """A line of the author's facts as runs, its measures found and printed in both systems."""
        if text.isascii() and not any(map(str.isdigit, text)):
            return (Plain(text),) if text else ()
        found = _found(text)
        runs: list[Run] = []
        at = 0
        for measure in found.measures:
            runs.append(Plain(_without(text, at, measure.start, found.cancelled)))
            said = text[measure.start : measure.end]
            runs.append(self.loose(measure.lengths, measure.joiners, measure.hyphenated, said))
            at = measure.end
        runs.append(Plain(_without(text, at, len(text), found.cancelled)))
        return tuple(run for run in runs if run != Plain(""))

    def _figures(self, names: Sequence[LengthId]) -> tuple[tuple[Printed, ...], tuple[Printed, ...]]:
        return tuple([self._imperial[name] for name in names]), tuple([self._metric[name] for name in names])


@lru_cache(maxsize=1024)
def _found(text: str) -> Found:
    return find_measures(text, length_acts())


def _without(text: str, start: int, end: int, dropped: tuple[int, ...]) -> str:
    return "".join(text[at] for at in range(start, end) if at not in dropped) if dropped else text[start:end]


def printed_alone(length: Length, system: System) -> Printed:
    """A length nothing else depends on, as it prints in a system."""
    return _alone(length.mm, length.unit, system)


@lru_cache(maxsize=4096)
def _alone(mm: Fraction, unit: Unit, system: System) -> Printed:
    # Keyed by the unit as well: two equal lengths may have been written in different units.
    name = LengthId("words", "alone", "1")
    return close(Lengths({name: Length(mm, unit)}, ()), system)[name]


def _as_written(lengths: Sequence[Length], printed: Sequence[Printed]) -> tuple[Printed, ...]:
    """The figures, in the author's own unit where they say just what was written: `1 cm` of a 10 mm panel."""
    return tuple(
        write_exact(length) if figure.mm == length.mm and figure.unit.system is length.unit.system else figure
        for length, figure in zip(lengths, printed, strict=True)
    )
