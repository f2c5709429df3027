"""What must hold in printed figures, said once more from the design, in plain fractions."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from foldwright.figures.model import Figures
from foldwright.geometry.lengths import AtLeast, Clearance, Equal, Lengths, Relation, Rest, Sum, Within
from foldwright.measure.printed import Printed


def worth(printed: Printed) -> Fraction:
    """What a reader of the figures would take them for, worked out from the figures alone."""
    if printed.decimals:
        return Fraction(f"{printed.whole}.{printed.decimals}") * printed.unit.mm
    return Fraction(printed.whole * printed.denominator + printed.numerator, printed.denominator) * printed.unit.mm


def broken(lengths: Lengths, figures: Figures) -> Iterator[Relation]:
    """Every relation that does not hold in print."""
    mm = {name: worth(printed) for name, printed in figures.printed.items()}
    for relation in lengths.relations:
        match relation:
            case Sum(total, parts):
                holds = mm[total] == sum(mm[part] for part in parts)
            case Equal(one, other):
                holds = mm[one] == mm[other]
            case Clearance(outer, inner):
                designed = lengths.by_id[outer].mm - lengths.by_id[inner].mm
                step = max(figures.steps.get(outer, Fraction(0)), figures.steps.get(inner, Fraction(0)))
                gap = mm[outer] - mm[inner]
                holds = gap > 0 and gap >= designed - step / 2
            case Within(length, limit):
                holds = mm[length] <= limit
            case AtLeast(length, least):
                holds = mm[length] >= least
            case Rest(length, outer, inner, parts):
                holds = mm[length] * parts == mm[outer] - mm[inner]
        if not holds:
            yield relation
