"""Where lines lie by their readings: against textbook formulas, and a library's least squares."""

from __future__ import annotations

from fractions import Fraction
from random import Random
from statistics import NormalDist, pstdev

import numpy as np
import pytest

from begin.recover.samples import HERE
from foldwright.begin.recover.habits import habits_of
from foldwright.begin.recover.model import RulerReading, SampleSide
from foldwright.begin.recover.near import fit_lines, rows_near, unmeasured
from foldwright.begin.recover.ruler import normal
from foldwright.measure.length import Length, System, Unit

HAND, ZERO, FOLD = 0.3, 0.5, 0.2
"""What `near` takes for granted, in millimetres."""


def reading(start: int, end: int, mm: float, bound: float = 0.5) -> RulerReading:
    length, wide = (Length.of(Fraction(one).limit_denominator(10000), Unit.MILLIMETRE) for one in (mm, bound))
    return RulerReading(start, end, length, wide, HERE, "")


def own(bound: float) -> float:
    """The variance of one reading by itself.

    A ruler rounds to its marks: an even error of half a mark either way, whose standard deviation is half a mark over
    the root of three (B. N. Taylor and C. E. Kuyatt, NIST Technical Note 1297, section 4.6).
    """
    return bound**2 / 3 + HAND**2


def test_rounding_to_a_mark_is_off_by_half_of_it_over_the_root_of_three():
    random = Random(3)
    offs = [round(length) - length for length in (random.uniform(10, 100) for _ in range(20000))]
    assert pstdev(offs) ** 2 == pytest.approx(own(0.5) - HAND**2, rel=0.02)


def test_one_reading_is_as_sure_as_its_ruler():
    fit = fit_lines(1, [reading(0, 1, 40)])
    assert fit.middle == pytest.approx([40])
    assert fit.spread[0, 0] ** 2 == pytest.approx(own(0.5) + ZERO**2)


def test_readings_of_the_same_average_by_their_weights():
    """The weighted mean and its variance: J. R. Taylor, An Introduction to Error Analysis, chapter 7 (from memory)."""
    fit = fit_lines(1, [reading(0, 1, 40, 0.5), reading(0, 1, 41, 1)])
    weights = np.array([1 / own(0.5), 1 / own(1)])
    assert fit.middle[0] == pytest.approx((weights * [40, 41]).sum() / weights.sum())
    # What is common to both does not average away.
    assert fit.spread[0, 0] ** 2 == pytest.approx(1 / weights.sum() + ZERO**2)


def test_the_errors_of_panels_add_by_their_squares():
    """The propagation of errors over a sum: J. R. Taylor, chapter 3 (from memory)."""
    fit = fit_lines(3, [reading(at, at + 1, 20) for at in range(3)])
    covariance = fit.spread @ fit.spread.T
    assert fit.middle == pytest.approx([20, 40, 60])
    # Three of their own, and three times the same nought.
    assert covariance[2, 2] == pytest.approx(3 * own(0.5) + 9 * ZERO**2)


@pytest.mark.parametrize("seed", range(20))
def test_lines_lie_where_least_squares_put_them(seed):
    """numpy's `lstsq` of the readings made independent of each other, by the whole matrix of what they have in
    common."""
    random = Random(seed)
    count = random.randint(1, 4)
    spans = [(at, at + 1) for at in range(count)]
    spans += [tuple(sorted(random.sample(range(count + 1), 2))) for _ in range(4)]
    readings = [
        reading(start, end, 25 * (end - start) + random.gauss(0, 1), random.choice([0.5, 1])) for start, end in spans
    ]
    design = np.array([[float(start < line <= end) for line in range(1, count + 1)] for start, end in spans])
    folds = np.array([end - start - 1.0 for start, end in spans])
    common = np.diag([own(float(one.bound.mm)) for one in readings]) + ZERO**2 + FOLD**2 * np.outer(folds, folds)
    apart = np.linalg.inv(np.linalg.cholesky(common))
    read = np.array([float(one.length.mm) for one in readings])
    panels, squares, *_ = np.linalg.lstsq(apart @ design, apart @ read)
    fit = fit_lines(count, readings)
    assert fit.middle == pytest.approx(np.cumsum(panels))
    for left_out, gain in enumerate(fit.gains):
        rest = [at for at in range(len(readings)) if at != left_out]
        if len(rest) > count and not unmeasured(count, [readings[at] for at in rest]):
            less = np.linalg.inv(np.linalg.cholesky(common[np.ix_(rest, rest)]))
            fewer = np.linalg.lstsq(less @ design[rest], less @ read[rest])[1]
            assert gain == pytest.approx(squares[0] - fewer[0], rel=1e-6, abs=1e-6)


def test_rows_near_are_all_that_are_likely():
    """Two panels read 20 and 30 mm: every pair of whole millimetres about them is there, and each only once."""
    side = SampleSide("across", ("", ""), (reading(0, 1, 20), reading(1, 2, 30)), HERE)
    habits = habits_of(System.METRIC, None, Fraction(1, 2))
    assert habits is not None
    rows = [tuple(int(parts) * habits.marks[-1] for parts in row) for row in rows_near(side, habits, 2)]
    assert len(rows) == len(set(rows))
    assert {(one, other) for one in (19, 20, 21) for other in (29, 30, 31)} <= set(rows)


def test_the_normal_distribution_is_that_of_the_tables():
    """NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.1 (from memory), and the standard library."""
    for at, area in ((0.0, 0.5), (1.0, 0.84134), (1.645, 0.95002), (1.96, 0.97500), (2.576, 0.99500), (-1.0, 0.15866)):
        assert float(normal(np.array(at))) == pytest.approx(area, abs=1e-5)
    places = np.linspace(-8, 8, 999)
    assert normal(places) == pytest.approx([NormalDist().cdf(one) for one in places], abs=2e-6)
