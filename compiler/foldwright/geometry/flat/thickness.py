"""How thick a piece's card is, who says so, and whether such card lets its scores be folded."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.finding import Finding, Strength
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.points import kept
from foldwright.measure.length import Length, Unit
from foldwright.measure.weight import grammage
from foldwright.recipe.model import Piece, Studio, Supply

USUAL_BULK = Fraction(13, 10)
"""cm3/g. Thickness in micrometres is grammage in g/m2 times bulk (ISO 534); 1.3 is a guide value for card."""
_HEAVY_GRAMS, _HEAVY_MM = 200, Fraction(28, 100)
"""From about here card cracks when it is folded across its grain (common practice, no source)."""
_ACROSS = "across the fold"


class Thickness(Struct, frozen=True):
    """`source` says whose word it is: `piece`, `supply`, `studio`, or `weight` for an estimate."""

    length: Length
    source: str

    @property
    def estimated(self) -> bool:
        """Whether it follows from the weight alone: no fault may rest on it."""
        return self.source == "weight"


def thickness_of(piece: Piece, supplies: Mapping[str, Supply], studio: Studio) -> Thickness | None:
    """The piece's own word, else its supply's, the studio's, or an estimate from the weight; None without any. What is
    stacked is as thick as all of it together; what folds is folded one by one."""
    one = _of_one(piece, supplies, studio)
    if one is None or piece.stacked is None or piece.fold:
        return one
    return replace(one, length=one.length * piece.stacked.value)


def _of_one(piece: Piece, supplies: Mapping[str, Supply], studio: Studio) -> Thickness | None:
    supply = supplies.get(piece.supply.value.casefold()) if piece.supply else None
    if piece.thickness:
        return Thickness(piece.thickness.value, "piece")
    if supply and supply.thickness:
        return Thickness(supply.thickness.value, "supply")
    if studio.card_thickness:
        return Thickness(studio.card_thickness.value, "studio")
    grams = _grams(supply)
    if grams is not None:
        # An estimate is kept to hundredths of a millimetre: it knows no more.
        return Thickness(Length(kept(grams * USUAL_BULK / 1000, 100), Unit.MILLIMETRE), "weight")
    return None


def _grams(supply: Supply | None) -> Fraction | None:
    """What its weight says, in grams a square metre."""
    weight = supply.weight.value if supply and supply.weight else None
    return grammage(weight.number, weight.unit, weight.grade) if weight else None


def check_scores(piece: Piece, blank: Blank, card: Thickness | None, supply: Supply | None) -> Iterator[Finding]:
    """What only an estimated thickness says is never more than a thought."""
    yield from _too_near(piece, blank, card)
    yield from _across_grain(piece, blank, card, supply)


def _too_near(piece: Piece, blank: Blank, card: Thickness | None) -> Iterator[Finding]:
    if card is None:
        return
    for strips, place in ((blank.across, piece.across_place), (blank.down, piece.down_place)):
        for number, strip in enumerate(strips if len(strips) > 1 else (), 1):
            wide = strip.long
            if 0 < wide < card.length.mm:
                strength = Strength.THOUGHT if card.estimated else Strength.MISFIT
                facts = {"piece": blank.piece, "panel": strip.name or str(number)}
                lengths = {"width": Length(wide, card.length.unit), "thickness": card.length}
                where = place or piece.name.place
                yield Finding.of("scores-nearer-than-card", strength, where, **facts, **lengths)


def _across_grain(piece: Piece, blank: Blank, card: Thickness | None, supply: Supply | None) -> Iterator[Finding]:
    """Only where the author says how the grain runs on the piece, and the card is heavy."""
    if piece.grain is None or not is_heavy(card, supply):
        return
    upright, level = len(blank.across) > 1, len(blank.down) > 1
    grain = piece.grain.value
    # Scores between panels across run from top to bottom: grain that runs across meets them.
    crossed = {_ACROSS: upright or level, "across": upright, "down": level}
    if crossed.get(grain):
        yield Finding.of("score-across-the-grain", Strength.THOUGHT, piece.grain.place, piece=blank.piece)


def is_heavy(card: Thickness | None, supply: Supply | None) -> bool:
    """Whether it cracks when it is folded flat across its grain."""
    grams = _grams(supply)
    if grams is not None:
        return grams >= _HEAVY_GRAMS
    return card is not None and card.length.mm >= _HEAVY_MM
