"""Lengths and sizes as the papers of an event print them: in the unit of the folder, exactly."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from foldwright.document.catalogue import Catalogue
from foldwright.document.typeset import typesetter
from foldwright.measure.amounts import AMOUNT_UNITS, Dimension
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.portions import Portion, Rounding, in_system, measured_out
from foldwright.measure.steps import STEPS
from foldwright.measure.writing import write_readable
from foldwright.recipe.model import Amount

_PLAIN_PART = 8
"""A sum with smaller parts than eighths or hundredths is rounded: nobody measures so (common practice, no source)."""


class LengthWriter(Struct, frozen=True):
    """Writes millimetres in the unit of a system."""

    system: System
    words: Catalogue

    @property
    def unit(self) -> Unit:
        return Unit.INCH if self.system is System.IMPERIAL else Unit.MILLIMETRE

    def length(self, mm: Fraction) -> str:
        """`4 1/4 in`, `108 mm`."""
        return self.words.worded(write_readable(Length(mm, self.unit)))

    def written(self, length: Length) -> str:
        """In its own unit."""
        return self.words.worded(write_readable(length))

    def plainest(self, mm: Fraction, step: Fraction) -> str:
        """In the folder's unit where that shows it, else in the other where that is a round number: `2 mm`."""
        other = Unit.MILLIMETRE if self.unit is Unit.INCH else Unit.INCH
        if mm % step and not mm % STEPS[self.system.other][-1]:
            return self.words.worded(write_readable(Length(mm, other)))
        return self.length(mm)

    def bare(self, mm: Fraction) -> str:
        """The same without its unit."""
        return write_readable(Length(mm, self.unit)).number

    def size(self, width: Fraction, height: Fraction) -> str:
        """`5 x 4 1/4 in`."""
        return self.words.say("event.size", across=self.bare(width), down=self.length(height))

    def used(self, amount: Amount) -> str:
        """How much of a supply one kit takes: as written in its own system, else as it can be measured out."""
        return self._portion(in_system(amount.number, amount.unit, self.system))

    def sold(self, amount: Amount) -> str:
        """What a pack holds: as written, since so it stands in the shop, and in the folder's own system."""
        written = Portion(amount.number, amount.unit)
        here = in_system(amount.number, amount.unit, self.system, Rounding.DOWN)
        if here == written:
            return self._portion(written)
        return self.words.say("event.sold", written=self._portion(written), here=self._portion(here))

    def reckoned(self, number: Fraction, unit: str, rounding: Rounding) -> str:
        """A sum or what is left of one: plain numbers of the folder's system stay; empty where nothing is left."""
        portion = Portion(number, unit)
        if AMOUNT_UNITS[unit].system is not self.system or not _is_plain(number) or unit == Unit.MILLIMETRE.symbol:
            portion = measured_out(number, unit, self.system, rounding)
        return self._portion(portion) if portion.number else ""

    def _portion(self, portion: Portion) -> str:
        if AMOUNT_UNITS[portion.unit].dimension is Dimension.LENGTH:
            return self.words.worded(write_readable(Length.of(portion.number, Unit(portion.unit))))
        return typesetter(self.words.language).amount(portion.number, portion.unit).plain


def _is_plain(number: Fraction) -> bool:
    return number.denominator <= _PLAIN_PART or not 100 % number.denominator
