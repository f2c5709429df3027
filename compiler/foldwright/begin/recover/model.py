"""A sample as it was measured: what was read between which two lines of a blank, and how well it could be read."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from foldwright.begin.draft.model import DraftNote
from foldwright.finding import Place
from foldwright.measure.length import Length, System

SIDES = ("across", "down")


class RulerReading(Struct, frozen=True):
    """What a ruler said between two lines of a side: 0 is the left (or top) edge, 1 the first score, and so on.

    `bound` is how far it may be off, either way. `said` is the number in its author's own words.
    """

    start: int
    end: int
    length: Length
    bound: Length
    place: Place
    said: str


class SampleSide(Struct, frozen=True):
    """One side of a blank: its readings, and the names of its panels (empty where nobody gave one)."""

    side: str
    names: tuple[str, ...]
    readings: tuple[RulerReading, ...]
    place: Place

    @property
    def count(self) -> int:
        """How many panels it has."""
        return len(self.names)


class SamplePiece(Struct, frozen=True):
    """A piece with both its sides; `facts` are what else was said of it (`fold`, `flaps`), as a recipe has it."""

    name: str
    sides: tuple[SampleSide, SampleSide]
    facts: tuple[tuple[str, str], ...]
    place: Place


class MakerHabit(Struct, frozen=True):
    """What a maker is known to cut to: a system of units, and the mark (mm) of all panels where that is known."""

    system: System
    mark: Fraction | None = None


class Sample(Struct, frozen=True):
    """All that was read. `facts` are those of the whole: `title`, `card`, `weight`, `thickness`, `sheet`, `summary`.

    `assumed` is what was taken for granted while reading; `made_in` the maker's habit, where somebody said it.
    """

    pieces: tuple[SamplePiece, ...]
    facts: tuple[tuple[str, str], ...]
    assumed: tuple[DraftNote, ...]
    made_in: MakerHabit | None = None

    def fact(self, word: str) -> str:
        """What was said of the whole; empty when nothing was."""
        return dict(self.facts).get(word, "")

    def share_in(self, system: System) -> Fraction:
        """How many of the readings were taken in the units of a system, as a part of them all."""
        sides = (side for piece in self.pieces for side in piece.sides)
        systems = [reading.length.unit.system for side in sides for reading in side.readings]
        return Fraction(systems.count(system), max(len(systems), 1))
