"""Whether the card itself lets the scores be folded: nearer to each other than it is thick, or across its grain."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from foldwright.finding import Finding, Strength
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.thickness import Thickness
from foldwright.measure.length import Length
from foldwright.measure.weight import grammage
from foldwright.recipe.model import Piece, Supply

_HEAVY_GRAMS, _HEAVY_MM = 200, Fraction(28, 100)
"""From about here card cracks when it is folded across its grain (common practice, no source)."""
_ACROSS = "across the fold"


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
                yield Finding.of(
                    "scores-nearer-than-card",
                    strength,
                    place or piece.name.place,
                    piece=blank.piece,
                    panel=strip.name or str(number),
                    width=Length(wide, card.length.unit),
                    thickness=card.length,
                )


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
    if supply is not None and supply.weight is not None:
        weight = supply.weight.value
        grams = grammage(weight.number, weight.unit, weight.grade)
        if grams is not None:
            return grams >= _HEAVY_GRAMS
    return card is not None and card.length.mm >= _HEAVY_MM
