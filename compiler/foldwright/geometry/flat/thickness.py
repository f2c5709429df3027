"""How thick a piece's card is, and who says so."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from msgspec import Struct

from foldwright.measure.length import Length, Unit
from foldwright.measure.weight import grammage
from foldwright.recipe.model import Piece, Studio, Supply

USUAL_BULK = Fraction(13, 10)
"""cm3/g. Thickness in micrometres is grammage in g/m2 times bulk (ISO 534); 1.3 is a guide value for card."""

_KEPT_PARTS = 100
"""An estimate is kept to hundredths of a millimetre: it knows no more."""


class Thickness(Struct, frozen=True):
    """`source` says whose word it is: `piece`, `supply`, `studio`, or `weight` for an estimate."""

    length: Length
    source: str

    @property
    def estimated(self) -> bool:
        """Whether it follows from the weight alone: no fault may rest on it."""
        return self.source == "weight"


def thickness_of(piece: Piece, supplies: Mapping[str, Supply], studio: Studio) -> Thickness | None:
    """The piece's own word, else its supply's, the studio's, or an estimate from the weight; None without any."""
    supply = supplies.get(piece.supply.value.casefold()) if piece.supply else None
    if piece.thickness:
        return Thickness(piece.thickness.value, "piece")
    if supply and supply.thickness:
        return Thickness(supply.thickness.value, "supply")
    if studio.card_thickness:
        return Thickness(studio.card_thickness.value, "studio")
    if supply and supply.weight:
        weight = supply.weight.value
        grams = grammage(weight.number, weight.unit, weight.grade)
        if grams is not None:
            millimetres = Fraction(round(grams * USUAL_BULK / 1000 * _KEPT_PARTS), _KEPT_PARTS)
            return Thickness(Length(millimetres, Unit.MILLIMETRE), "weight")
    return None
