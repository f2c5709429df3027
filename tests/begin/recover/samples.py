"""Made-up samples: known blanks, and readings of them that are off by no more than they may be."""

from __future__ import annotations

from fractions import Fraction
from random import Random

from foldwright.begin.recover.model import SIDES, RulerReading, Sample, SamplePiece, SampleSide
from foldwright.begin.recover.recovering import Recovery
from foldwright.finding import Place
from foldwright.measure.length import Length, Unit

HERE = Place("sample", 0, 0)
INCHES = Length.of(Fraction(1, 32), Unit.INCH)
MILLIMETRES = Length.of(Fraction(1, 2), Unit.MILLIMETRE)

type Rows = tuple[tuple[Fraction, ...], ...]


def blank(random: Random, mark: Fraction, most: int) -> Rows:
    """Two rows of panels on a mark (mm); most of them the same from both ends, as boxes are."""
    rows = []
    for _ in SIDES:
        numbers = [random.randint(3, most) for _ in range(random.choice([1, 2, 3, 3, 3, 4, 5]))]
        if random.random() < 0.6:
            for panel in range(len(numbers) // 2):
                numbers[-1 - panel] = numbers[panel]
        rows.append(tuple(number * mark for number in numbers))
    return tuple(rows)


def read_once(random: Random, rows: Rows, bound: Length, rounded_to: Fraction | None = None) -> Sample:
    """Each panel read once, off by anything up to the bound; `rounded_to` is the mark (mm) a reading is written to."""
    sides = []
    for side, row in zip(SIDES, rows, strict=True):
        readings = []
        for panel, length in enumerate(row):
            read = length + Fraction(random.randint(-1000, 1000), 1000) * bound.mm
            if rounded_to:
                read = round(read / rounded_to) * rounded_to
            readings.append(RulerReading(panel, panel + 1, Length(read, bound.unit), bound, HERE, ""))
        sides.append(SampleSide(side, ("",) * len(row), tuple(readings), HERE))
    return Sample((SamplePiece("base", (sides[0], sides[1]), (), HERE),), (), ())


def rows_of(answer: Recovery) -> Rows:
    assert answer.recovered is not None
    known = answer.recovered.pieces[0]
    return tuple(tuple(length.mm for length in row) for row in (known.across, known.down))
