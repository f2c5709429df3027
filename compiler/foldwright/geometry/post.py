"""Cards in envelopes: which envelope one would go into, and whether it would go as a letter.

What the post takes changes and is the post's own affair, so all of this is never more than a thought.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from msgspec import Struct

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.blank import Blank
from foldwright.geometry.mating import folded_extents
from foldwright.geometry.panels import fits_form
from foldwright.geometry.thickness import Thickness
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.paper import envelopes_in
from foldwright.recipe.model import Piece, Recipe
from foldwright.vocabulary import kind_of

_INCH = Fraction(254, 10)
_ROOM = {System.IMPERIAL: _INCH / 8, System.METRIC: Fraction(2)}
"""What a card must have to spare at least in an envelope that is suggested."""
_FOAM = Fraction(3, 2)
"""Millimetres a foam square raises what it carries (common practice, no source)."""


class _Limits(Struct, frozen=True):
    """Of a letter: the longest and highest it may be and how thick, and the least it is longer than it is high."""

    long: Fraction
    high: Fraction
    thick: Fraction
    shape: Fraction


_LETTER = {
    # US: 11 1/2 x 6 1/8 x 1/4 in; less than 1.3 times as long as high costs more (Domestic Mail Manual 101.1, 2010).
    System.IMPERIAL: _Limits(_INCH * Fraction(23, 2), _INCH * Fraction(49, 8), _INCH / 4, Fraction(13, 10)),
    # UK: a letter is at most 240 x 165 x 5 mm (Ofcom). A square is dearer or refused in several countries.
    System.METRIC: _Limits(Fraction(240), Fraction(165), Fraction(5), Fraction(11, 10)),
}


def check_post(recipe: Recipe, blanks: Mapping[str, Blank], cards: Mapping[str, Thickness | None]) -> Iterator[Finding]:
    """Every piece that slides into an envelope; `blanks` are pieces and envelopes by name in small letters."""
    pieces = {piece.name.value.casefold() for piece in recipe.pieces}
    for piece in recipe.pieces:
        card = blanks.get(piece.name.value.casefold())
        for said in piece.slides_in:
            name = said.value.piece.casefold()
            envelope = blanks.get(name)
            if card is None or envelope is None or name in pieces or card.doubtful or not fits_form(card):
                continue
            yield from _too_small(card, envelope, recipe.system, said.place)
            yield from _as_a_letter(piece, envelope, recipe, cards, said.place)


def _too_small(card: Blank, envelope: Blank, system: System, place: Place) -> Iterator[Finding]:
    """The smallest envelope of a known name it would go into."""
    short, long = sorted(extent for _, extent in folded_extents(card))
    own = sorted((envelope.width, envelope.height))
    if short < own[0] and long < own[1]:
        return
    room = _ROOM[system]
    for name, across, down in envelopes_in(system):
        if across.mm >= short + room and down.mm >= long + room:
            facts = {"piece": card.piece, "name": name, "across": across, "down": down}
            yield Finding.of("goes-into-envelope", Strength.THOUGHT, place, **facts)
            return


def _as_a_letter(
    piece: Piece, envelope: Blank, recipe: Recipe, cards: Mapping[str, Thickness | None], place: Place
) -> Iterator[Finding]:
    limits = _LETTER[recipe.system]
    high, long = sorted((envelope.width, envelope.height))
    thick = _thickness(piece, recipe, cards)
    facts: dict[str, object] = {"piece": piece.name.value, "envelope": envelope.piece}
    if long > limits.long or high > limits.high:
        yield Finding.of("too-large-for-a-letter", Strength.THOUGHT, place, **facts)
    elif long < limits.shape * high:
        yield Finding.of("square-letter", Strength.THOUGHT, place, **facts)
    if thick is not None and thick > limits.thick:
        unit = Unit.INCH if recipe.system is System.IMPERIAL else Unit.MILLIMETRE
        yield Finding.of("too-thick-for-a-letter", Strength.THOUGHT, place, thickness=Length(thick, unit), **facts)


def _thickness(piece: Piece, recipe: Recipe, cards: Mapping[str, Thickness | None]) -> Fraction | None:
    """A folded card with all that lies on it; None when nobody knows how thick its card is."""
    own = cards.get(piece.name.value)
    if own is None:
        return None
    leaves = max(len(piece.across), len(piece.down), 1)
    thick = own.length.mm * leaves
    below = {piece.name.value.casefold()}
    layers = list(recipe.pieces)
    while on := [one for one in layers if any(said.value.piece.casefold() in below for said in one.goes_on)]:
        layers = [one for one in layers if one not in on]
        below = {one.name.value.casefold() for one in on}
        # Pieces on the same face lie beside each other or on one another: the thickest of them counts.
        thick += max((card.length.mm for one in on if (card := cards.get(one.name.value))), default=Fraction(0))
    foam = any(
        supply.kind and (kind := kind_of(supply.kind.value)) and kind.name == "foam adhesive"
        for supply in recipe.supplies
    )
    return thick + (_FOAM if foam else 0)
