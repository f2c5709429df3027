"""The scales of drawings that tell theirs.

ISO 5455 has full size, 2 : 1 enlarged, 1 : 2, 1 : 5, 1 : 10 and on by tens for what is reduced; 1 : 4 stands on rulers
in inches as quarter size (common practice, no source).
"""

from __future__ import annotations

from fractions import Fraction

from foldwright.measure.writing import NARROW_SPACE

STATED = tuple(map(Fraction, ("2", "1", "1/2", "1/4", "1/5", "1/10", "1/20", "1/50", "1/100")))
"""Parts of true size, the largest first."""


def stated(most: float) -> Fraction:
    """The largest scale of them that is no larger; the smallest where there is none."""
    return next((one for one in STATED if one <= most), STATED[-1])


def ratio(scale: Fraction) -> str:
    """As it is written beside a drawing: `1 : 2`, `2 : 1`."""
    return f"{scale.numerator}{NARROW_SPACE}:{NARROW_SPACE}{scale.denominator}"
