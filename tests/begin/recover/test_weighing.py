"""The chance of a blank, reckoned once more from the start: every row, habit and ruler by itself, in plain sums."""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from math import erf, prod, sqrt
from operator import mul

import pytest

from begin.recover.samples import HERE, INCH, rows_of
from foldwright.begin.recover.habits import habits_of
from foldwright.begin.recover.model import MakerHabit, RulerReading, Sample, SamplePiece, SampleSide
from foldwright.begin.recover.recovering import recover
from foldwright.begin.recover.ruler import rulers_of
from foldwright.measure.length import Length, System, Unit

MM = Unit.MILLIMETRE


def sample(
    *lengths: tuple[float, ...], unit: Unit = MM, bound: Fraction = Fraction(1, 2), made: MakerHabit | None = None
) -> Sample:
    """Two sides, each read panel by panel."""
    sides = []
    for name, row in zip(("across", "down"), lengths, strict=True):
        exact = [Length.of(Fraction(one), unit) for one in row]
        readings = tuple(
            RulerReading(at, at + 1, length, Length(bound, unit), HERE, "") for at, length in enumerate(exact)
        )
        sides.append(SampleSide(name, ("",) * len(row), readings, HERE))
    return Sample((SamplePiece("base", (sides[0], sides[1]), (), HERE),), (), (), made)


def coarsest(mm: Fraction, marks: tuple[Fraction, ...]) -> int:
    return next(at for at, mark in enumerate(marks) if not mm % mark)


def made(
    row: tuple[Fraction, ...],
    marks: tuple[Fraction, ...],
    chances: list[list[float]],
    mark: int,
    pattern: tuple[float, float],
) -> float:
    """How likely a maker of a mark makes a row, who makes so many panels like their mirror image, and like others."""
    mirrored, alike = pattern
    chance = 1.0
    for at, panel in enumerate(row):
        own = chances[mark][coarsest(panel, marks)]
        if at:
            own = (1 - alike) * own + alike * row[:at].count(panel) / at
        mirror = len(row) - 1 - at
        if mirror < at:
            own = (1 - mirrored) * own + mirrored * (row[mirror] == panel)
        chance *= own
    return chance


def said(reading: RulerReading, panel: Fraction, hand: float, part: float, zero: float) -> float:
    """How likely a panel is read so: the length off by a hand, and evenly by half a mark; or a slip, one in two
    hundred, somewhere within 60 mm."""
    off, half = float(reading.length.mm - panel) - zero, float(reading.bound.mm) * part
    within = (erf((off + half) / hand / sqrt(2)) - erf((off - half) / hand / sqrt(2))) / 2
    return 0.995 * within / (2 * half) + 0.005 / 60


PATTERNS = [(0.05, 0.02), (0.5, 0.1), (0.95, 0.1), (0.4, 0.6)]


def near(side: SampleSide, finest: Fraction) -> list[tuple[Fraction, ...]]:
    """Every row of panels within 2 1/2 mm of what was read."""
    room = Fraction(5, 2)
    panels = [
        [
            number * finest
            for number in range(int((one.length.mm - room) / finest), int((one.length.mm + room) / finest) + 2)
        ]
        for one in side.readings
    ]
    return list(product(*panels))


def chance_of(blank: tuple[tuple[Fraction, ...], ...], of: Sample) -> float:
    """Bayes' theorem over every blank near what was read, in both systems."""
    known = rulers_of(of)
    rulers = list(zip(*(map(float, one) for one in (known.hand, known.part, known.zero, known.shares)), strict=True))
    sides = of.pieces[0].sides
    whole = own = 0.0
    for system in System:
        habits = habits_of(system, of.made_in, sides[0].readings[0].bound.mm)
        if habits is None:
            continue
        shares, chances = habits.shares.reshape(len(PATTERNS), -1), habits.chances.tolist()
        other = 0.95 if sides[0].readings[0].length.unit.system is system else 0.05
        rows = [near(side, habits.marks[-1]) for side in sides]
        makers = list(product(range(len(PATTERNS)), range(len(habits.marks))))
        prior = [
            [[made(row, habits.marks, chances, mark, PATTERNS[at]) for row in side] for side in rows]
            for at, mark in makers
        ]
        likely = [
            [
                [
                    prod(said(one, panel, *ruler[:3]) for one, panel in zip(side.readings, row, strict=True))
                    for row in its
                ]
                for side, its in zip(sides, rows, strict=True)
            ]
            for ruler in rulers
        ]
        places = [its.index(row) if row in its else None for its, row in zip(rows, blank, strict=True)]
        for ((at, mark), first), (ruler, second) in product(
            zip(makers, prior, strict=True), zip(rulers, likely, strict=True)
        ):
            weight = other * float(shares[at, mark]) * ruler[3]
            whole += weight * prod(sum(map(mul, *both)) for both in zip(first, second, strict=True))
            if None not in places:
                both = zip(places, first, second, strict=True)
                own += weight * prod(one[place] * two[place] for place, one, two in both if place is not None)
    return own / whole


@pytest.mark.parametrize(
    ("measured", "blank"),
    [
        (sample((20,), (33,)), ((20,), (33,))),
        (sample((20, 21), (50,)), ((20, 20), (50,))),
        (sample((19.9,), (40.2,)), ((20,), (40,))),
        (sample((3.0625,), (2,), unit=Unit.INCH, bound=INCH / 32), ((Fraction(49, 16) * INCH,), (2 * INCH,))),
        (sample((20,), (31,), made=MakerHabit(System.METRIC, Fraction(5))), ((20,), (30,))),
    ],
)
def test_the_chance_that_is_told_is_that_of_plain_sums(measured, blank):
    answer = recover(measured)
    assert rows_of(answer) == blank
    assert answer.recovered is not None
    assert answer.recovered.chance == pytest.approx(chance_of(rows_of(answer), measured), rel=0.01)


def test_numbers_that_all_are_tens_come_from_a_maker_of_tens():
    """By hand: of lengths up to 300 mm one maker has 30 and another 300, so four tens are 10,000 times as likely to
    come from the first (before it is counted how many makers there are of each). Four other numbers rule the first
    one out."""
    tens, others = (recover(sample((20, 60), (30, last))).recovered for last in (90, 97))
    assert tens is not None
    assert others is not None
    assert tens.chance > 0.99
    assert tens.chance > others.chance


def test_a_known_maker_is_believed():
    """Read 31 mm: of a maker who keeps to 5 mm that is 30, of one who works in inches 1 1/4."""
    for made_in, length in (
        (MakerHabit(System.METRIC, Fraction(5)), Fraction(30)),
        (MakerHabit(System.METRIC, Fraction(1)), Fraction(31)),
        (MakerHabit(System.IMPERIAL), INCH * 5 / 4),
    ):
        assert rows_of(recover(sample((20,), (31,), made=made_in)))[1] == (length,)
