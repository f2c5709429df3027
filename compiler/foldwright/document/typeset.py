"""From printed figures to phrases: numbers in their parts, and how they are said aloud."""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import cache

from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.wording import number_words
from foldwright.document.words import Figure, SetMeasure
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import Length, System
from foldwright.measure.printed import Printed
from foldwright.measure.steps import BETWEEN_LINES
from foldwright.measure.unit_table import UNITS
from foldwright.measure.writing import TIMES, write_at, write_exact

_CROSS = re.compile(r"\s*(?:[x×X]|by)\s*")
_DASH = re.compile(r"\s*[-–—]\s*")


_REMEMBERED = 20_000
_WRITTEN_OUT = frozenset({"cup", "pint"})
"""Units that have no short sign, and so a plural."""
_FINEST_PART = 64
"""Finer parts of an imperial unit are written with decimals (common practice, no source)."""

type _Key = tuple[tuple[tuple[str, int, int, int, str], ...], tuple[str, ...], bool]


@cache
def typesetter(language: str) -> Typesetter:
    """The typesetter of a language, one for the whole process."""
    return Typesetter(catalogue(language))


class Typesetter:
    """Sets measures in the words of one catalogue. Remembers what it has set: the same figures come again and again."""

    def __init__(self, words: Catalogue) -> None:
        self._words = words
        self._set: dict[_Key, SetMeasure] = {}

    def single(self, printed: Printed) -> SetMeasure:
        return self.phrase((printed,), ())

    def cross(self, lengths: Sequence[Printed]) -> SetMeasure:
        return self.phrase(tuple(lengths), (" x ",) * (len(lengths) - 1))

    def listed(self, lengths: Sequence[Printed]) -> SetMeasure:
        """`3/4, 1 1/2 and 2 in`."""
        say = self._words.say
        joiners = (say("list.comma"),) * (len(lengths) - 2) + (say("list.and"),)
        return self.phrase(tuple(lengths), joiners if len(lengths) > 1 else ())

    def phrase(self, lengths: tuple[Printed, ...], joiners: tuple[str, ...], hyphenated: bool = False) -> SetMeasure:
        """Lengths and the words between them (one fewer). Lengths of one unit carry it once, behind the last.

        `hyphenated` measures stand before a noun: `5 1/2-inch`.
        """
        # What is printed, without the exact value behind it: fractions are slow to hash.
        shown = [(one.unit.symbol, one.whole, one.numerator, one.denominator, one.decimals) for one in lengths]
        key = (tuple(shown), joiners, hyphenated)
        known = self._set.get(key)
        if known is None:
            if len(self._set) >= _REMEMBERED:
                self._set.clear()
            known = self._set[key] = self._compose(lengths, joiners, hyphenated)
        return known

    def _compose(self, lengths: tuple[Printed, ...], joiners: tuple[str, ...], hyphenated: bool) -> SetMeasure:
        shared = len({printed.unit for printed in lengths}) == 1
        parts: list[Figure | str] = []
        plain: list[str] = []
        spoken: list[str] = []
        for number, printed in enumerate(lengths):
            last = number == len(lengths) - 1
            with_unit = last or not shared
            parts.append(figure(printed, with_unit))
            plain.append(printed.plain if with_unit else printed.number)
            spoken.append(self.spoken(printed, with_unit, before_noun=hyphenated and last))
            if not last:
                joiner = joiners[number]
                parts.append(_set_joiner(joiner))
                plain.append(joiner)
                spoken.append(self._spoken_joiner(joiner))
        return SetMeasure(tuple(parts), "".join(plain), "".join(spoken))

    def amount(self, number: Fraction, unit: str) -> SetMeasure:
        """An amount that is no length: `1 1/2 fl oz`, `2.5 ml`."""
        metric = UNITS[unit][2] == System.METRIC.value
        whole, rest = divmod(number, 1)
        said = number_words(number, decimal=metric or rest.denominator > _FINEST_PART)
        fraction = rest and "/" in said
        written = self._words.say(f"unit.{unit}", count=1 if number <= 1 else 2) if unit in _WRITTEN_OUT else unit
        set_number = Figure(said, unit=written)
        if fraction:
            set_number = Figure(str(whole or ""), str(rest.numerator), str(rest.denominator), written)
        spoken = self._spoken_mixed(whole, rest.numerator, rest.denominator) if fraction else said
        form = "one" if number == 1 else "part" if fraction and not whole else "many"
        return SetMeasure(
            (set_number,), f"{said} {written}", self._words.say(f"spoken.unit.{unit}.{form}", number=spoken)
        )

    def spoken(self, printed: Printed, with_unit: bool = True, before_noun: bool = False) -> str:
        """`4 and 1 eighth inches`, `3 quarters of an inch`, `105 millimetres`."""
        number = printed.number
        if printed.numerator:
            number = self._spoken_mixed(printed.whole, printed.numerator, printed.denominator)
        if not with_unit:
            return number
        unit = f"spoken.unit.{printed.unit.symbol}"
        if not printed.whole and printed.numerator and not before_noun:
            return self._words.say(f"{unit}.part", number=number)
        alone = before_noun or (printed.whole == 1 and not printed.numerator and not printed.decimals)
        return self._words.say(f"{unit}.{'one' if alone else 'many'}", number=number)

    def _spoken_mixed(self, whole: int, numerator: int, denominator: int) -> str:
        names = f"spoken.parts.{denominator}"
        if self._words.has(names):
            fraction = self._words.say(names, count=numerator)
        else:
            fraction = self._words.say("spoken.over", numerator=numerator, denominator=denominator)
        return self._words.say("spoken.mixed", whole=whole, fraction=fraction) if whole else fraction

    def _spoken_joiner(self, joiner: str) -> str:
        if _CROSS.fullmatch(joiner):
            return self._words.say("spoken.by")
        return self._words.say("spoken.to") if _DASH.fullmatch(joiner) else joiner


class LengthSetter[S](ABC):
    """Sets lengths, those of the pieces by identity, others as they are. An `S` is ready to stand in a sentence."""

    def __init__(self, setter: Typesetter) -> None:
        self._setter = setter

    @abstractmethod
    def has(self, name: LengthId) -> bool: ...

    @abstractmethod
    def _figures(self, names: Sequence[LengthId]) -> Sequence[tuple[Printed, ...]]:
        """The lengths as they are printed, once for each unit system they are told in."""

    @abstractmethod
    def _told(self, phrases: Iterable[SetMeasure]) -> S:
        """One measure, from its phrase in each of these systems."""

    @abstractmethod
    def alone(self, *lengths: Length) -> S:
        """Lengths that are no piece's: one, or several with `x` between them."""

    @abstractmethod
    def thickness(self, length: Length) -> S:
        """How thick a card is."""

    def alike(self, names: Sequence[LengthId]) -> bool:
        """Whether they all read the same, in every system."""
        return all(len({one.plain for one in printed}) == 1 for printed in self._figures(names))

    def single(self, name: LengthId) -> S:
        return self.cross(name)

    def cross(self, *names: LengthId) -> S:
        """`5 x 4 1/4 in`."""
        return self._told(map(self._setter.cross, self._figures(names)))

    def listed(self, names: Sequence[LengthId]) -> S:
        """`3/4, 1 1/2 and 2 in`."""
        return self._told(map(self._setter.listed, self._figures(names)))

    def added(self, names: Sequence[LengthId]) -> S:
        """`20 + 60 + 20 = 100 mm`: the last is what the others add up to."""
        joiners = (*(" + ",) * (len(names) - 2), " = ")
        return self._told(self._setter.phrase(printed, joiners) for printed in self._figures(names))

    def room(self, outer: LengthId, inner: LengthId, parts: int) -> S:
        """One of so many equal parts of what is left between two lengths as they are printed."""
        both = self._figures((outer, inner))
        rooms = [write_exact(Length((wide.mm - narrow.mm) / parts, wide.unit)) for wide, narrow in both]
        return self._told(map(self._setter.single, rooms))

    def room_at_least(self, outer: LengthId, inner: LengthId, parts: int, taken: Fraction) -> S | None:
        """The same with `taken` (mm) off it, never rounded up; None when nothing is left in one of the systems."""
        rooms = [least_room(wide, narrow, parts, taken) for wide, narrow in self._figures((outer, inner))]
        left = [room for room in rooms if room]
        return self._told(map(self._setter.single, left)) if len(left) == len(rooms) else None


def least_room(outer: Printed, inner: Printed, parts: int, taken: Fraction) -> Printed | None:
    """What is left between two printed lengths when `taken` is off it, in so many parts; None when nothing is.

    On the finest step of the unit system and never rounded up.
    """
    step = BETWEEN_LINES[outer.unit.system][-1]
    left = (outer.mm - inner.mm - taken) / parts // step * step
    return write_at(left, outer.unit, step) if left > 0 else None


def figure(printed: Printed, with_unit: bool = True) -> Figure:
    """The parts of one printed length."""
    unit = printed.unit.symbol if with_unit else ""
    if printed.decimals or not printed.numerator:
        return Figure(printed.number, unit=unit)
    whole = str(printed.whole) if printed.whole else ""
    return Figure(whole, str(printed.numerator), str(printed.denominator), unit)


def _set_joiner(joiner: str) -> str:
    """What stands between two figures: a real multiplication sign or dash for a typed one, other words as they are."""
    if _CROSS.fullmatch(joiner):
        return f" {TIMES} "
    return "–" if _DASH.fullmatch(joiner) else joiner
