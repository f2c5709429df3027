"""What cannot be had however it is cut."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from msgspec import Struct

from foldwright.event.plan.cutting import SheetPlan


class Missing(Struct, frozen=True):
    """What cannot be had: so many of a piece that come out of no sheet, or lengths of `width` that come off no spool.

    `scarce` when sheets would be large enough, but there are too few and none is sold. A length has no piece.
    """

    supply: str
    colour: str
    recipe: int
    piece: str
    count: int
    width: Fraction
    height: Fraction = Fraction(0)
    scarce: bool = False


def missing_pieces(plan: SheetPlan) -> Iterator[Missing]:
    """The pieces of a plan that come out of none of its sheets, or of too few."""
    lacking = [(number, plan.wanted[number].count, False) for number in plan.cutting.too_large]
    for number, count, scarce in [*lacking, *((number, count, True) for number, count in plan.cutting.short)]:
        one = plan.wanted[number]
        yield Missing(plan.supply, plan.colour, one.recipe, one.piece, count, one.width, one.height, scarce)
