"""How much quicker more of the same go: the learning curve of the cumulative average model.

The mean of the first n is the first times n^b, b = ln(rate) / ln(2): at rate 8/10 it falls by a fifth each time the
number doubles (T. P. Wright, Journal of the Aeronautical Sciences 3, 1936).
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_HALF_EVEN, Context, Decimal
from fractions import Fraction
from functools import lru_cache
from math import isqrt

_EXACT = Context(prec=40, rounding=ROUND_HALF_EVEN)
_PARTS = 10**30
"""Cut off at the thirtieth place of forty: a figure that is whole (n a power of two) comes out so or just below."""


def seconds_for(first: int, number: int, rate: Fraction | None) -> int:
    """Whole seconds one person takes for the first `number` by Wright's model; without a rate each takes as long.

    The one place where a learnt time is rounded: up, so that two who share some never take less than one who does
    them all. A rate of 1/2 or less, at which more would take no longer than fewer, and one above 1: ValueError.
    """
    return first * number if rate is None else _rounded_up(first, _parts(number, rate))


def seconds_up_to(first: int, most: int, rate: Fraction | None) -> Sequence[int]:
    """`seconds_for` each number from none to the most."""
    if rate is None:
        return range(0, first * most + 1, first) if first else (0,) * (most + 1)
    return _table(first, most, rate)


@lru_cache(maxsize=64)
def _table(first: int, most: int, rate: Fraction) -> tuple[int, ...]:
    return tuple(_rounded_up(first, parts) for parts in _parts_up_to(most, rate))


@lru_cache(maxsize=4)
def _parts_up_to(most: int, rate: Fraction) -> tuple[int, ...]:
    return tuple(_parts(number, rate) for number in range(most + 1))


def _rounded_up(first: int, parts: int) -> int:
    return -(-first * parts // _PARTS)


def _parts(number: int, rate: Fraction) -> int:
    """The total of so many in parts of the time for the first."""
    if not 1 < 2 * rate <= 2:
        raise ValueError(f"rate {rate}: above 1/2, at most 1")
    return int(_EXACT.multiply(_EXACT.multiply(Decimal(number), _power(number, rate)), Decimal(_PARTS)))


def _power(number: int, rate: Fraction) -> Decimal:
    """number^b; that of nought, by which only nought is multiplied, is one."""
    if not 0 < rate <= 1:
        raise ValueError(f"rate {rate}: above 0, at most 1")
    if number < 0:
        raise ValueError(f"number {number}")
    return _power_of(number, rate.numerator, rate.denominator)


@lru_cache(maxsize=1 << 16)
def _power_of(number: int, numerator: int, denominator: int) -> Decimal:
    if number <= 1:
        return Decimal(1)
    # The power of a product is the product of the powers, which is fifty times as quick as a logarithm.
    for factor in range(2, isqrt(number) + 1):
        if number % factor == 0:
            one = _power_of(factor, numerator, denominator)
            return _EXACT.multiply(one, _power_of(number // factor, numerator, denominator))
    rate = _EXACT.divide(Decimal(numerator), Decimal(denominator))
    b = _EXACT.divide(_EXACT.ln(rate), _EXACT.ln(Decimal(2)))
    return _EXACT.exp(_EXACT.multiply(b, _EXACT.ln(Decimal(number))))
