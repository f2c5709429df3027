"""How much quicker the n-th one goes: the two published models of the learning curve, times in any unit.

Both have b = ln(rate) / ln(2), so that at rate 8/10 something falls by a fifth each time the number doubles. By the
cumulative average model (T. P. Wright, Journal of the Aeronautical Sciences 3, 1936) it is the mean of the first n; by
the unit model (Crawford) it is the n-th one alone. The plan uses Wright's.
"""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_HALF_EVEN, Context, Decimal
from fractions import Fraction
from functools import lru_cache

_EXACT = Context(prec=40, rounding=ROUND_HALF_EVEN)
_SETTLED = Decimal("1e-12")
"""A figure that is whole (n a power of two) is made so, to this, before it is rounded up."""


def average_model_mean(first: int, number: int, rate: Fraction) -> Decimal:
    """Wright: the mean of the first `number` is first x number^b."""
    return _EXACT.multiply(Decimal(first), _power(number, rate))


def average_model_total(first: int, number: int, rate: Fraction) -> Decimal:
    """Wright: the first `number` together take first x number^(b + 1). Nought for none."""
    return _EXACT.multiply(Decimal(first), _EXACT.multiply(Decimal(number), _power(number, rate)))


def average_model_nth(first: int, number: int, rate: Fraction) -> Decimal:
    """Wright: what the `number`-th adds to the total."""
    before = average_model_total(first, number - 1, rate)
    return _EXACT.subtract(average_model_total(first, number, rate), before)


def unit_model_nth(first: int, number: int, rate: Fraction) -> Decimal:
    """Crawford: the `number`-th takes first x number^b."""
    return average_model_mean(first, number, rate)


def unit_model_total(first: int, number: int, rate: Fraction) -> Decimal:
    """Crawford: the first `number` together."""
    total = Decimal(0)
    for nth in range(1, number + 1):
        total = _EXACT.add(total, unit_model_nth(first, nth, rate))
    return total


def seconds_for(first: int, number: int, rate: Fraction | None) -> int:
    """Whole seconds one person takes for the first `number` by Wright's model; without a rate each takes as long.

    The one place where a learnt time is rounded: up, so that two who share some never take less than one who does
    them all. A rate of 1/2 or less, at which more would take no longer than fewer, and one above 1: ValueError.
    """
    if rate is None:
        return first * number
    if not Fraction(1, 2) < rate <= 1:
        raise ValueError(f"rate {rate}: above 1/2, at most 1")
    settled = average_model_total(first, number, rate).quantize(_SETTLED, context=_EXACT)
    return int(settled.to_integral_value(ROUND_CEILING))


def _power(number: int, rate: Fraction) -> Decimal:
    if not 0 < rate <= 1:
        raise ValueError(f"rate {rate}: above 0, at most 1")
    if number < 0:
        raise ValueError(f"number {number}")
    return _power_of(number, rate.numerator, rate.denominator)


@lru_cache(maxsize=20_000)
def _power_of(number: int, numerator: int, denominator: int) -> Decimal:
    """number^b; that of nought, by which nobody multiplies but nought, is one."""
    if number <= 1:
        return Decimal(1)
    rate = _EXACT.divide(Decimal(numerator), Decimal(denominator))
    b = _EXACT.divide(_EXACT.ln(rate), _EXACT.ln(Decimal(2)))
    return _EXACT.exp(_EXACT.multiply(b, _EXACT.ln(Decimal(number))))
