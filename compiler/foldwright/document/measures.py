"""Which figures stand for a length in each system: those of the closed figures, by identity; others on their own."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache

from foldwright.bind.words import Binding
from foldwright.document.amounts_in_words import set_amounts
from foldwright.document.quote_marks import curled, curled_runs
from foldwright.document.typeset import LengthSetter, Typesetter
from foldwright.document.words import Both, MeasureInWords, Passage, Run, Runs, SetMeasure
from foldwright.figures.closing import close
from foldwright.figures.model import Figures
from foldwright.geometry.lengths import LengthId, Lengths
from foldwright.measure.amounts import AMOUNT_UNITS, Dimension
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.portions import Rounding, in_system
from foldwright.measure.printed import Printed
from foldwright.measure.prose import ProseMeasures, find_measures
from foldwright.measure.reading import read_lengths_cross
from foldwright.measure.unreadable import Unreadable
from foldwright.measure.writing import typographic, write_exact
from foldwright.recipe.model import Supply
from foldwright.recipe.words import Block, Measure, Text, changed, changed_runs
from foldwright.vocabulary import kind_of, length_acts
from foldwright.vocabulary.supplies import OFF_A_ROLL

_THIN = {System.IMPERIAL: (Unit.INCH, 1000), System.METRIC: (Unit.MILLIMETRE, 100)}
"""Paper is told apart by thousandths of an inch or hundredths of a millimetre (common practice, no source)."""
_THINNER_THAN_ANY_STEP = Fraction(1)
"""Millimetres. A shorter length is a thickness, and no ruler is held to it."""
_FINEST_MARK = 64
"""Parts of an inch on the finest ruler (common practice, no source)."""

_MEASURE_AND_NOUN = re.compile(
    r"(?P<measure>[0-9¼½¾⅛⅜⅝⅞][^,;:()a-wyz]*[ -]?(?:in|inch|ft|foot|yd|yard|mm|cm|m))(?P<joint>[ -])"
    r"(?=[a-z])(?!(?:x|one|two|three|four|a|an|the|each|all)\b)",
    re.IGNORECASE,
)
"""A measure at the very start of a name; `4 in 1 tool` and `2 in one glue` are none."""

_OF_WHAT = re.compile(
    r"\s*(?:long\s+)?(?:(?:length|piece|strip)s?\s+)?(?:of\s+)(?P<what>(?:[^\W\d_]+[ -]){0,3}[^\W\d_]+)", re.IGNORECASE
)


class Measures(LengthSetter[Both[SetMeasure]]):
    """All printed lengths of one recipe, ready to be set."""

    def __init__(
        self,
        figures: Mapping[System, Figures],
        binding: Binding,
        setter: Typesetter,
        supplies: Sequence[Supply] = (),
    ) -> None:
        super().__init__(setter)
        self._printed = [figures[system].printed for system in System]
        self._numbers = {system: printed.numbers for system, printed in figures.items()}
        self._bound, self._free = binding.ids, binding.free
        self._used = {said.value.length for said in (supply.use for supply in supplies) if said and said.value.length}

    def has(self, name: LengthId) -> bool:
        return name in self._printed[0]

    def labels(self, names: Iterable[LengthId]) -> Both[dict[LengthId, str]]:
        """What the lengths of a picture read, those that are printed."""
        shown = [name for name in names if self.has(name)]
        return Both(*({name: typographic(printed[name]) for name in shown} for printed in self._printed))

    def _figures(self, names: Sequence[LengthId]) -> Sequence[tuple[Printed, ...]]:
        return [tuple([printed[name] for name in names]) for printed in self._printed]

    def _told(self, phrases: Iterable[SetMeasure]) -> Both[SetMeasure]:
        return Both(*phrases)

    def alone(self, *lengths: Length) -> Both[SetMeasure]:
        return self.loose_cross(lengths).phrases

    def thickness(self, length: Length) -> Both[SetMeasure]:
        """How thick a card is: far less than any ruler's mark, so to thousandths of an inch or hundredths of a mm."""
        return Both(*(self._setter.single(_thin(length, system)) for system in System))

    def in_words(self, measure: Measure, after: str = "") -> MeasureInWords:
        """A measure of the author's words, as it is bound. `after` are the words that follow it."""
        names = self._bound.get(measure.place)
        free = names is None or names[0] in self._free
        # In another size it may be another length than the one that is written.
        lengths = [self._free.get(name, said) for name, said in zip(names or (), measure.lengths, strict=False)]
        if free and (by_eye := self._by_eye(lengths or measure.lengths, after)):
            return MeasureInWords(by_eye, measure.said)
        if names is None:
            return self.loose(measure.lengths, measure.joiners, measure.hyphenated, measure.said)
        written = [_as_written(measure.lengths, figures) for figures in self._figures(names)]
        both = (self._setter.phrase(one, measure.joiners, measure.hyphenated) for one in written)
        return MeasureInWords(self._told(both), measure.said)

    def _by_eye(self, lengths: Sequence[Length], after: str) -> Both[SetMeasure] | None:
        """One length that no piece has, if no ruler is held to it: cut off a roll, or how thick something is."""
        first, *others = lengths
        if others:
            return None
        if first in self._used or _off_a_roll(after):
            return self.amount(first.value, first.unit.symbol, Rounding.UP).phrases
        return self.thickness(first) if first.mm < _THINNER_THAN_ANY_STEP else None

    def loose(
        self, lengths: Sequence[Length], joiners: tuple[str, ...] = (), hyphenated: bool = False, said: str = ""
    ) -> MeasureInWords:
        """Lengths that belong to no piece, so that nothing has to add up with them."""
        both = [
            self._setter.phrase(
                tuple(_alone(length.mm, length.unit, system, self._numbers[system]) for length in lengths),
                joiners,
                hyphenated,
            )
            for system in System
        ]
        return MeasureInWords(Both(*both), said)

    def amount(self, number: Fraction, unit: str, rounding: Rounding) -> MeasureInWords:
        """How much of a supply, in both systems: what closes with nothing, so it may be measured out by eye."""
        return MeasureInWords(Both(*(self._portion(number, unit, system, rounding) for system in System)))

    def _portion(self, number: Fraction, unit: str, system: System, rounding: Rounding) -> SetMeasure:
        portion = in_system(number, unit, system, rounding)
        if AMOUNT_UNITS[portion.unit].dimension is Dimension.LENGTH:
            return self._setter.single(write_exact(Length.of(portion.number, Unit(portion.unit))))
        return self._setter.amount(portion.number, portion.unit)

    def loose_cross(self, lengths: Sequence[Length]) -> MeasureInWords:
        return self.loose(lengths, (" x ",) * (len(lengths) - 1))

    def words(self, text: str) -> Runs:
        """Words that hold no lengths any more: other amounts in them are said in both systems."""
        return set_amounts(text, self._setter)

    def passage(self, blocks: tuple[Block, ...]) -> Passage:
        """The author's blocks with what is printed for their measures; amounts in plain words are set, too."""

        def resolved(run: Text | Measure, after: str) -> Runs:
            return self.words(run.text) if isinstance(run, Text) else (self.in_words(run, after),)

        return changed(blocks, lambda children: curled_runs(changed_runs(children, resolved)))

    def text(self, text: str) -> Runs:
        """A line of the author's facts as runs, its measures found and printed in both systems."""
        if text.isascii() and not any(map(str.isdigit, text)):
            return (Text(curled(text)),) if text else ()
        found = _found(text)
        runs: list[Run] = []
        at = 0
        for measure in found.measures:
            runs += self.words(_without(text, at, measure.start, found.cancelled))
            said = text[measure.start : measure.end]
            runs.append(self.loose(measure.lengths, measure.joiners, measure.hyphenated, said))
            at = measure.end
        runs += self.words(_without(text, at, len(text), found.cancelled))
        return curled_runs(tuple(run for run in runs if run != Text("")))

    def name(self, text: str) -> Runs:
        """The name of a tool or supply: what it begins with is a measure (`1 in circle punch`), whatever follows."""
        begun = _MEASURE_AND_NOUN.match(text)
        lengths = read_lengths_cross(begun["measure"]) if begun else None
        if begun is None or lengths is None or isinstance(lengths, Unreadable):
            return self.text(text)
        said = begun["measure"]
        measured = self.loose(lengths, (" x ",) * (len(lengths) - 1), begun["joint"] == "-" or "-" in said, said)
        return (measured, *self.text(begun["joint"] + text[begun.end() :]))


def _off_a_roll(after: str) -> bool:
    """Whether `of the cotton twine` follows: what is cut to length by eye."""
    match = _OF_WHAT.match(after)
    kind = kind_of(match["what"]) if match else None
    return kind is not None and kind.name in OFF_A_ROLL


@lru_cache(maxsize=1024)
def _found(text: str) -> ProseMeasures:
    return find_measures(text, length_acts())


def _without(text: str, start: int, end: int, dropped: tuple[int, ...]) -> str:
    return "".join(text[at] for at in range(start, end) if at not in dropped) if dropped else text[start:end]


def _thin(length: Length, system: System) -> Printed:
    if length.unit.system is system:
        return write_exact(length)
    unit, parts = _THIN[system]
    exact = length.mm / unit.mm
    nearly = Fraction(round(exact * parts), parts)
    ruled = Fraction(round(exact * _FINEST_MARK), _FINEST_MARK)
    # 0.8 mm is 0.031 in, and so is 1/32 in: then it is said as people say it.
    said = ruled if system is System.IMPERIAL and abs(ruled - exact) * parts < Fraction(1, 2) else nearly
    return write_exact(Length(said * unit.mm, unit))


@lru_cache(maxsize=4096)
def _alone(mm: Fraction, unit: Unit, system: System, numbers: Length | None) -> Printed:
    """A length nothing else depends on, as it prints in a system."""
    # Keyed by the unit as well: two equal lengths may have been written in different units.
    name = LengthId("words", "alone", "1")
    return close(Lengths({name: Length(mm, unit)}, ()), system, numbers=numbers)[name]


def _as_written(lengths: Sequence[Length], printed: Sequence[Printed]) -> tuple[Printed, ...]:
    """The figures, in the author's own unit where they say just what was written: `1 cm` of a 10 mm panel."""
    return tuple(
        write_exact(length) if figure.mm == length.mm and figure.unit.system is length.unit.system else figure
        for length, figure in zip(lengths, printed, strict=True)
    )
