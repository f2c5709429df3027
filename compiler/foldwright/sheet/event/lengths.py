"""Lengths and sizes as the papers of an event print them: in the unit of the folder, exactly."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from foldwright.measure.length import Length, System, Unit
from foldwright.measure.writing import write_readable
from foldwright.sheet.catalogue import Catalogue


class Lengths(Struct, frozen=True):
    """Writes millimetres in the unit of a system."""

    system: System
    words: Catalogue

    @property
    def unit(self) -> Unit:
        return Unit.INCH if self.system is System.IMPERIAL else Unit.MILLIMETRE

    def length(self, mm: Fraction) -> str:
        """`4 1/4 in`, `108 mm`."""
        return self.words.worded(write_readable(Length(mm, self.unit)))

    def bare(self, mm: Fraction) -> str:
        """The same without its unit."""
        return self.length(mm).removesuffix(self.unit.symbol).strip()

    def size(self, width: Fraction, height: Fraction) -> str:
        """`5 x 4 1/4 in`."""
        return self.words.say("event.size", across=self.bare(width), down=self.length(height))

    def nearly(self, length: Length) -> str:
        """A length of no piece: as written in its own system, else to the nearest millimetre or eighth of an inch."""
        if length.unit.system is self.system:
            return self.words.worded(length)
        step = self.unit.mm / 8 if self.system is System.IMPERIAL else self.unit.mm
        return self.length(round(length.mm / step) * step)

    def long(self, mm: Fraction) -> str:
        """A length of twine or ribbon: from a yard up in yards, to a quarter; from a metre up in metres, to a tenth."""
        large, part = (Unit.YARD, 4) if self.system is System.IMPERIAL else (Unit.METRE, 10)
        if mm < large.mm:
            return self.nearly(Length(mm, Unit.MILLIMETRE if self.system is System.IMPERIAL else Unit.INCH))
        rounded = Fraction(round(mm / large.mm * part), part)
        return self.words.worded(write_readable(Length(rounded * large.mm, large)))
