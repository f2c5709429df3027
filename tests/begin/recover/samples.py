"""Made-up samples: a maker who cuts to a mark, a ruler with marks of its own, a hand that is not steady.

Nothing here knows how blanks are recovered. `knowing` is the best that anybody could do who knows the maker's habit and
the ruler: the likeliest blank by brute force.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import product
from math import erf, exp, inf, log, sqrt
from random import Random

from msgspec import Struct

from foldwright.begin.recover.model import SIDES, RulerReading, Sample, SamplePiece, SampleSide
from foldwright.begin.recover.recovering import Recovery
from foldwright.finding import Place
from foldwright.measure.length import Length, Unit

HERE = Place("sample", 0, 0)
INCH = Unit.INCH.mm

type Rows = tuple[tuple[Fraction, ...], ...]


class Maker(Struct, frozen=True):
    """Panels are from `least` to `most` times a mark (mm); so many sides are the same from both ends, as boxes are."""

    mark: Fraction
    least: int
    most: int
    mirrored: float = 0.6


class Ruler(Struct, frozen=True):
    """What is read is off by the hand (mm: a standard deviation; or `even`, anything up to the bound), then rounded
    to a mark (mm, 0: not at all). All is off by `zero`, and each fold between takes `fold` (mm)."""

    unit: Unit
    mark: Fraction
    bound: Fraction
    hand: float = 0.0
    even: bool = False
    zero: float = 0.0
    fold: float = 0.0


def marked(unit: Unit, mark: Fraction, hand: float = 0.0, zero: float = 0.0, fold: float = 0.0) -> Ruler:
    """A ruler that is off by half a mark, as it rounds."""
    return Ruler(unit, mark, mark / 2, hand, False, zero, fold)


def even(unit: Unit, bound: Fraction, mark: Fraction = Fraction(0), fold: float = 0.0) -> Ruler:
    """Numbers that are off by anything up to a bound."""
    return Ruler(unit, mark, bound, even=True, fold=fold)


def blank(random: Random, maker: Maker) -> Rows:
    """Two rows of panels."""
    rows = []
    for _ in SIDES:
        numbers = [random.randint(maker.least, maker.most) for _ in range(random.choice([1, 2, 3, 3, 3, 4, 5]))]
        if random.random() < maker.mirrored:
            for panel in range(len(numbers) // 2):
                numbers[-1 - panel] = numbers[panel]
        rows.append(tuple(number * maker.mark for number in numbers))
    return tuple(rows)


def spans(way: str, count: int) -> list[tuple[int, int]]:
    """Between which lines one measures in a way."""
    singly = [(at, at + 1) for at in range(count)]
    running = [(0, at + 1) for at in range(count)]
    return {"singly": singly, "running": running, "all": [*singly, *running, (0, count)]}[way]


def read(random: Random, rows: Rows, ruler: Ruler, way: str, slips: int = 0) -> Sample:
    """The readings of a blank; `slips` of them are off by an eighth to an inch, or by 5 or 10 mm."""
    made = [
        (side, start, end, _said(random, row, ruler, start, end))
        for side, row in enumerate(rows)
        for start, end in spans(random.choice(["singly", "running"]) if way == "mixed" else way, len(row))
    ]
    for at in random.sample(range(len(made)), slips):
        step, times = (INCH / 8, [1, 2, 4, 8]) if ruler.unit is Unit.INCH else (Fraction(5), [1, 2])
        side, start, end, said = made[at]
        slipped = said + random.choice([-1, 1]) * step * random.choice(times)
        made[at] = side, start, end, slipped if slipped > 2 * ruler.bound else said + step
    sides = []
    for number, (name, row) in enumerate(zip(SIDES, rows, strict=True)):
        readings = tuple(
            RulerReading(start, end, Length(said, ruler.unit), Length(ruler.bound, ruler.unit), HERE, "")
            for side, start, end, said in made
            if side == number
        )
        sides.append(SampleSide(name, ("",) * len(row), readings, HERE))
    return Sample((SamplePiece("base", (sides[0], sides[1]), (), HERE),), (), ())


def _said(random: Random, row: Sequence[Fraction], ruler: Ruler, start: int, end: int) -> Fraction:
    off = random.randint(-1000, 1000) / 1000 * float(ruler.bound) if ruler.even else random.gauss(0, ruler.hand)
    length = sum(row[start:end], Fraction(0)) + Fraction(off + ruler.zero - ruler.fold * (end - start - 1))
    return round(length / ruler.mark) * ruler.mark if ruler.mark else length.limit_denominator(10**5)


def rows_of(answer: Recovery) -> Rows:
    """The panels of the one piece that was recovered."""
    assert answer.recovered is not None
    known = answer.recovered.pieces[0]
    return tuple(tuple(length.mm for length in row) for row in (known.across, known.down))


# --- the best there is ------------------------------------------------------------------------------------------------


def knowing(maker: Maker, ruler: Ruler, rows: Rows, sample: Sample) -> bool:
    """Whether the likeliest blank, by the true habit and the true ruler, is the one that was measured."""
    sides = sample.pieces[0].sides
    return all(_likeliest(maker, ruler, row, side.readings) == row for row, side in zip(rows, sides, strict=True))


def _likeliest(
    maker: Maker, ruler: Ruler, true: Sequence[Fraction], readings: Sequence[RulerReading]
) -> tuple[Fraction, ...]:
    """Of all rows within two marks of the true one (within one where a mark is wider than any error), the likeliest."""
    steps = (-2, -1, 0, 1, 2) if maker.mark < 4 else (-1, 0, 1)
    numbers = [int(one / maker.mark) for one in true]
    near = product(*([number + step for step in steps] for number in numbers))
    made = [row for row in near if maker.least <= min(row) and max(row) <= maker.most]
    read = [(one.start, one.end, float(one.length.mm)) for one in readings]
    mark = float(maker.mark)

    def worth(row: tuple[int, ...]) -> float:
        spans = ((mark * sum(row[start:end]) - ruler.fold * (end - start - 1), length) for start, end, length in read)
        return _made(maker, row) + sum(_read(ruler, length - span - ruler.zero) for span, length in spans)

    return tuple(number * maker.mark for number in max(made, key=worth))


def _made(maker: Maker, row: tuple[int, ...]) -> float:
    each = 1 / (maker.most - maker.least + 1)
    unlike = (1 - maker.mirrored) * each ** len(row)
    mirrored = maker.mirrored * each ** ((len(row) + 1) // 2) if row == row[::-1] else 0.0
    return log(unlike + mirrored) if unlike + mirrored else -inf


def _read(ruler: Ruler, off: float) -> float:
    half = float(ruler.mark or 2 * ruler.bound) / 2
    if ruler.even or not ruler.hand:
        return 0.0 if abs(off) <= half + 1e-4 else -inf
    within = (erf((off + half) / ruler.hand / sqrt(2)) - erf((off - half) / ruler.hand / sqrt(2))) / 2
    return log(within) if within > exp(-500) else -inf
