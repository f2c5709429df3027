"""What a ruler says of a length: how likely each number is, by all that may be assumed of ruler, hand, folds and
slips.

A number that was read is the length, what the hand was off, and the rounding to a mark of the ruler: off by a normal
part and by an even one, of half a mark either way (a reading's `bound`). All numbers may be off by the same, where a
ruler's nought is not at its end; every fold between two lines may take a little of what is measured across it; and
now and then somebody notes down quite another number. The shares are reasoned guesses (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from itertools import product
from math import erf, sqrt
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.begin.recover.model import RulerReading, Sample, SampleSide

if TYPE_CHECKING:
    from foldwright.begin.recover.habits import Floats

_HANDS = (
    (2, ((0.02, 1.0, 0.22), (0.12, 1.0, 0.22), (0.25, 1.0, 0.27), (0.4, 1.0, 0.22), (0.65, 1.0, 0.07))),
    (1, ((0.02, 1.0, 0.3), (0.12, 1.0, 0.1), (0.12, 0.5, 0.15), (0.25, 0.5, 0.25), (0.4, 0.5, 0.2))),
    (0.5, ((0.02, 1.0, 0.5), (0.12, 1.0, 0.1), (0.1, 0.25, 0.15), (0.25, 0.25, 0.15), (0.4, 0.25, 0.1))),
    (0, ((0.004, 1.0, 0.98), (0.12, 1.0, 0.01), (0.4, 0.5, 0.01))),
)
"""Hands, by the marks that all numbers stand on (in bounds): how far a hand is off (mm, one standard deviation), by
what part of its bound a number really may be, and the share of such hands. Numbers on every mark of the ruler that
was said (two bounds apart) are rounded to it. Those on closer marks come from a better ruler, or are off by anything
up to the bound."""
_ZEROS = {0.3: 0.15, 0.6: 0.15, 1.0: 0.1, 1.5: 0.1}
"""Millimetres that all numbers are off alike, one way or the other, with the share of each."""
_ZERO_OFF, _ZERO_UNTOLD = 0.15, 0.005
"""How many samples are so; and how many count as such where nothing was measured in two ways, so that it hardly
shows."""
_FOLDS = {0.1: 0.05, 0.2: 0.05, 0.3: 0.03, 0.45: 0.02}
"""Millimetres that each fold takes, and the share of such samples."""
_SLIPS, _SLIPS_OVER = 0.005, 60.0
"""How many numbers are slips, and over how many millimetres these lie evenly."""


class Rulers(Struct, frozen=True):
    """Everything that is assumed, side by side: a hand (mm), the part of a bound, a nought, what a fold takes (mm); and
    how likely each combination is."""

    hand: Floats
    part: Floats
    zero: Floats
    fold: Floats
    shares: Floats


def rulers_of(sample: Sample) -> Rulers:
    """The rulers and hands that the readings of a sample may come from."""
    sides = [side for piece in sample.pieces for side in piece.sides]
    readings = [reading for side in sides for reading in side.readings]
    hands = next(at for at, (marks, _) in enumerate(_HANDS) if not marks or _all_on(readings, marks))
    told = any(len({(one.start, one.end) for one in side.readings}) > side.count for side in sides)
    return _rulers(hands, told)


def _all_on(readings: Sequence[RulerReading], marks: float) -> bool:
    """Whether all readings are whole multiples of so many of their bounds."""
    return all((one.length.mm / (one.bound.mm * 2) * round(2 / marks)).denominator == 1 for one in readings)


@cache
def _rulers(hands: int, told: bool) -> Rulers:
    import numpy as np

    off = _ZERO_OFF if told else _ZERO_UNTOLD
    common = [(0.0, 0.0, 1 - off - sum(_FOLDS.values()))]
    common += [(way * zero, 0.0, share * off) for zero, share in _ZEROS.items() for way in (-1, 1)]
    common += [(0.0, fold, share) for fold, share in _FOLDS.items()]
    rows = [
        (hand, part, zero, fold, share * other)
        for (hand, part, share), (zero, fold, other) in product(_HANDS[hands][1], common)
    ]
    return Rulers(*np.array(rows).T)


def likelihoods(side: SampleSide, spans: Floats, rulers: Rulers) -> Floats:
    """The logarithm of how likely the readings of a side are: blanks by rulers.

    `spans` has a row for each blank, and in it what each reading (mm) would be if nothing were off.
    """
    import numpy as np

    found: Floats = np.zeros((len(spans), len(rulers.hand)))
    for reading, span in zip(side.readings, spans.T, strict=True):
        # Of many blanks few have another span here.
        apart, which = np.unique(span, return_inverse=True)
        found += np.log(_density(reading, apart, rulers) + _SLIPS / _SLIPS_OVER)[which]
    return found


def slip_chance(reading: RulerReading, span: float, rulers: Rulers) -> Floats:
    """How likely a reading of a span (mm) is a slip, by rulers."""
    import numpy as np

    slip = _SLIPS / _SLIPS_OVER
    found: Floats = slip / (_density(reading, np.array([span]), rulers)[0] + slip)
    return found


def _density(reading: RulerReading, spans: Floats, rulers: Rulers) -> Floats:
    """How likely it is (for each mm) to read this number, and no slip, of each span: spans by rulers."""
    half = float(reading.bound.mm) * rulers.part
    taken = (reading.end - reading.start - 1) * rulers.fold
    off = float(reading.length.mm) - spans[:, None] - rulers.zero + taken
    within = normal((off + half) / rulers.hand) - normal((off - half) / rulers.hand)
    found: Floats = (1 - _SLIPS) * within / (2 * half)
    return found


@cache
def _table() -> tuple[Floats, Floats]:
    import numpy as np

    at = np.linspace(-6, 6, 2401)
    return at, np.array([(1 + erf(one / sqrt(2))) / 2 for one in at])


def normal(at: Floats) -> Floats:
    """The distribution function of the normal distribution, from a table (off by less than 0.000002)."""
    import numpy as np

    return np.interp(at, *_table())
