"""Cards in envelopes: which envelope one would go into, and whether it would go as a letter.

What the post takes changes and is the post's own affair, so all of this is never more than a thought.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from msgspec import Struct

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.panels import fits_form
from foldwright.geometry.flat.thickness import Thickness
from foldwright.geometry.together.bulk import Bulk, bulk_of
from foldwright.geometry.together.mating import folded_extents
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.paper import envelopes_in
from foldwright.recipe.model import Piece, Recipe

_INCH = Unit.INCH.mm
ENVELOPE_ROOM = {System.IMPERIAL: _INCH / 8, System.METRIC: Fraction(2)}
"""What a card must have to spare at least in an envelope that is suggested."""
_LOOSE = {System.IMPERIAL: _INCH / 2, System.METRIC: Fraction(12)}
"""With more than this to spare a card slips about in its envelope (common practice, no source)."""


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
            yield from _another_size(card, envelope, recipe.system, said.place)
            bulk = bulk_of(card, recipe, blanks, cards)
            yield from _as_a_letter(piece, envelope, recipe.system, bulk, said.place)


def _another_size(card: Blank, envelope: Blank, system: System, place: Place) -> Iterator[Finding]:
    """The smallest envelope of a known name it would go into, where it does not go into its own, or is lost in it."""
    short, long = sorted(extent for _, extent in folded_extents(card))
    own = sorted((envelope.width, envelope.height))
    goes_in = short < own[0] and long < own[1]
    lost = max(own[0] - short, own[1] - long) > _LOOSE[system]
    if goes_in and not lost:
        return
    room = ENVELOPE_ROOM[system]
    for name, across, down in envelopes_in(system):
        spare = across.mm - short, down.mm - long
        if min(spare) >= room and (not goes_in or max(spare) <= _LOOSE[system]):
            facts = {"piece": card.piece, "name": name, "across": across, "down": down, "envelope": envelope.piece}
            code = "loose-in-envelope" if goes_in else "goes-into-envelope"
            yield Finding.of(code, Strength.THOUGHT, place, **facts)
            return


def _as_a_letter(piece: Piece, envelope: Blank, system: System, bulk: Bulk | None, place: Place) -> Iterator[Finding]:
    limits = _LETTER[system]
    high, long = sorted((envelope.width, envelope.height))
    facts: dict[str, object] = {"piece": piece.name.value, "envelope": envelope.piece}
    if long > limits.long or high > limits.high:
        yield Finding.of("too-large-for-a-letter", Strength.THOUGHT, place, **facts)
    elif long < limits.shape * high:
        yield Finding.of("square-letter", Strength.THOUGHT, place, **facts)
    if bulk is not None and bulk.thick > limits.thick:
        unit = Unit.INCH if system is System.IMPERIAL else Unit.MILLIMETRE
        thickness = Length(bulk.thick, unit)
        yield Finding.of("too-thick-for-a-letter", Strength.THOUGHT, place, thickness=thickness, **facts)
