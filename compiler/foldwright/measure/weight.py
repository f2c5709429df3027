"""What a paper weighs: pounds a ream of a grade's basic size, as grams a square metre."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

GRAMS_PER_POUND = Fraction(45_359_237, 100_000)
"""The avoirdupois pound, exactly (international yard and pound agreement, 1 July 1959)."""
SQUARE_METRES_PER_SQUARE_INCH = Fraction(254, 10_000) ** 2
SHEETS_PER_REAM = 500

_BASIC_SIZES = {
    ("bond", "writing", "ledger"): (Fraction(17), Fraction(22)),
    ("text", "book", "offset"): (Fraction(25), Fraction(38)),
    ("cover",): (Fraction(20), Fraction(26)),
    ("index",): (Fraction(51, 2), Fraction(61, 2)),
    ("tag",): (Fraction(24), Fraction(36)),
    ("bristol",): (Fraction(45, 2), Fraction(57, 2)),
}
BASIC_SIZES: Mapping[str, tuple[Fraction, Fraction]] = MappingProxyType(
    {grade: size for grades, size in _BASIC_SIZES.items() for grade in grades}
)
"""The basic sheet of each grade in inches (trade practice; paper makers' guides print the factors that follow)."""

METRIC_WORDS = frozenset({"g/m2", "g/m²", "gsm", "g/sqm", "g/sq m", "g"})
POUND_WORDS = frozenset({"lb", "lbs", "lb.", "pound", "pounds", "#"})


def grammage(number: Fraction, unit: str, grade: str = "") -> Fraction | None:
    """The exact weight in g/m2; None when the unit is not known, or is pounds of no known grade."""
    if unit.lower() in METRIC_WORDS:
        return number
    size = BASIC_SIZES.get(grade.lower())
    if size is None or unit.lower() not in POUND_WORDS:
        return None
    across, down = size
    return number * GRAMS_PER_POUND / (SHEETS_PER_REAM * across * down * SQUARE_METRES_PER_SQUARE_INCH)


def whole_grams(grams: Fraction) -> int:
    """A weight as paper makers print it: whole grams a square metre, a half going up."""
    return int(grams + Fraction(1, 2))
