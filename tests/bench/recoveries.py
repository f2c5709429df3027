"""How much processor time it takes to recover a blank: of ordinary samples, and of the largest there may be."""

from __future__ import annotations

import time
from collections.abc import Sequence
from fractions import Fraction
from random import Random

from begin.recover.samples import HERE, blank, read
from begin.recover.test_rates import TRIALS
from foldwright.begin.recover.model import RulerReading, Sample, SamplePiece, SampleSide
from foldwright.begin.recover.recovering import MOST_READINGS, recover
from foldwright.measure.length import Length, Unit


def ordinary(each: int) -> list[float]:
    """Seconds of samples of every kind that is tried in the tests."""
    random = Random(1)
    trials = [trial for trial in TRIALS.values() for _ in range(each)]
    return [seconds(read(random, blank(random, one.maker), one.ruler, one.way, one.slips)) for one in trials]


def largest() -> float:
    """Seconds of as many numbers as may be weighed, in four sides, each panel twice and now and then differently."""
    random = Random(2)
    count = MOST_READINGS // 8
    sides = []
    for name in ("across", "down", "across", "down"):
        panels = [random.randint(8, 60) for _ in range(count)]
        noted = [[panel + random.choice([0, 0, 0, 0, 1]) for panel in panels] for _ in range(2)]
        sides.append(_side(name, noted))
    pieces = tuple(
        SamplePiece(name, pair, (), HERE) for name, pair in (("a", (sides[0], sides[1])), ("b", (sides[2], sides[3])))
    )
    return seconds(Sample(pieces, (), ()))


def _side(name: str, noted: Sequence[Sequence[int]]) -> SampleSide:
    readings = tuple(
        RulerReading(
            at, at + 1, Length.of(panel, Unit.MILLIMETRE), Length.of(Fraction(1, 2), Unit.MILLIMETRE), HERE, ""
        )
        for row in noted
        for at, panel in enumerate(row)
    )
    return SampleSide(name, ("",) * len(noted[0]), readings, HERE)


def seconds(sample: Sample) -> float:
    """Processor time, which a busy machine does not lengthen much."""
    started = time.process_time()
    recover(sample)
    return time.process_time() - started
