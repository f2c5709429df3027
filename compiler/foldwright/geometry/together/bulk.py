"""How thick a card is with all that lies on it, and how much of an envelope's width and height that takes.

An envelope is a band of paper: it goes round what lies in it, and needs as much on its front and its back together as a
thread drawn tight round the card's cross-section. A plain card takes its own thickness of the width; a panel raised in
the middle takes less, for the thread runs down to the card's edge at a slant.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.inside import SLEEVES, TRAYS
from foldwright.geometry.flat.points import kept
from foldwright.geometry.flat.thickness import Thickness
from foldwright.geometry.together.stacks import levels_of
from foldwright.recipe.model import Recipe
from foldwright.vocabulary import kind_of

_FOAM = Fraction(3, 2)
"""Millimetres a foam square raises what it carries, where nobody says (common practice, no source)."""


class Bulk(Struct, frozen=True):
    """`thick` in all, and what the card takes more than it measures, `across` and `down`, all in millimetres.

    `estimated` when a thickness in it follows from a weight alone.
    """

    thick: Fraction
    across: Fraction
    down: Fraction
    estimated: bool


class _LayerTop(Struct, frozen=True):
    """How far a layer reaches, and how high its top lies over the table."""

    across: Fraction
    down: Fraction
    top: Fraction


def bulk_of(
    blank: Blank, recipe: Recipe, blanks: Mapping[str, Blank], cards: Mapping[str, Thickness | None]
) -> Bulk | None:
    """A card folded shut with all that lies on it; None when nobody knows how thick its card is, or it is a box."""
    own = cards.get(blank.piece)
    if own is None or blank.form in TRAYS | SLEEVES or blank.made:
        return None
    across, down = (max(strip.long for strip in row) for row in (blank.across, blank.down))
    leaves = max(len(blank.across), len(blank.down))
    levels = [_LayerTop(across, down, own.length.mm * leaves)]
    estimated = own.estimated
    below, layers = {blank.piece.casefold()}, list(recipe.pieces)
    while on := [one for one in layers if any(said.value.piece.casefold() in below for said in one.goes_on)]:
        layers = [one for one in layers if one not in on]
        below = {one.name.value.casefold() for one in on}
        known = [
            (card.length.mm * levels_of(one, blanks[name], blanks), blanks[name], card)
            for one in on
            if (name := one.name.value.casefold()) in blanks and (card := cards.get(blanks[name].piece))
        ]
        if known:
            # Different pieces on the same face lie beside each other or on one another: the thickest of them counts.
            thick, widest, card = max(known, key=lambda one: one[0])
            top = levels[-1].top + thick
            levels.append(_LayerTop(min(widest.width, across), min(widest.height, down), top))
            estimated = estimated or card.estimated
    raised = levels[-1]
    levels[-1] = _LayerTop(raised.across, raised.down, raised.top + _foam(recipe))
    sides = (_taken([(one.across, one.top) for one in levels]), _taken([(one.down, one.top) for one in levels]))
    return Bulk(levels[-1].top, *sides, estimated)


def _foam(recipe: Recipe) -> Fraction:
    """How high foam raises what it carries: as its supply says, or as is usual."""
    raises = [
        supply.thickness.value.mm if supply.thickness else _FOAM
        for supply in recipe.supplies
        if supply.kind and (kind := kind_of(supply.kind.value)) and kind.name == "foam adhesive"
    ]
    return max(raises, default=Fraction(0))


def _taken(levels: Sequence[tuple[Fraction, Fraction]]) -> Fraction:
    """Half the thread round a cross-section of centred layers, less the width of the lowest."""
    wide, thick = levels[0]
    if len(levels) == 1:
        return thick
    # A piece that goes with another is folded, so that shapely is there anyway.
    from shapely import MultiPoint

    corners = [(0.0, 0.0), (float(wide), 0.0)]
    for width, top in levels:
        corners += [(float(wide - width) / 2, float(top)), (float(wide + width) / 2, float(top))]
    # What is measured along a slant is kept to a ten-thousandth of a millimetre.
    return kept(MultiPoint(corners).convex_hull.length / 2, 10_000) - wide
