"""What slides: a piece on a puck along a slot, and a strip through two slits.

The puck is two coins (or discs) with foam between them that stands in the slot: the foam must be narrower than the slot
and thicker than the card with the slot in it, each coin wider than the slot (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.finding import Place
from foldwright.geometry.flat.blank import Blank, Opening
from foldwright.geometry.flat.thickness import Thickness
from foldwright.geometry.lengths import Clearance, Ledger, LengthId
from foldwright.measure.length import Length
from foldwright.recipe.model import Recipe, Supply
from foldwright.vocabulary import kind_of

_SLIT = Fraction(3)
"""Millimetres: a slot no wider than this is a slit, through which a strip runs (common practice, no source)."""


class Slide(Struct, frozen=True):
    """A `piece` that slides along a slot of `under` for so far (`travel`), or through its slits (`travel` is None)."""

    piece: str
    under: str
    travel: LengthId | None


class _Puck(Struct, frozen=True):
    """The pieces that make a slide, of a recipe, as supplies: each where its size is known."""

    foam: Supply | None
    coins: Sequence[Supply]


def slides_along(layer: Blank, opening: Opening) -> bool:
    """Whether a layer over a slot leaves its ends free and cannot fall through: it is meant to slide along it."""
    if opening.shape != "slot" or layer.form:
        return False
    along, across = (layer.width, layer.height) if opening.width >= opening.height else (layer.height, layer.width)
    return along < max(opening.width, opening.height) and across > min(opening.width, opening.height) > _SLIT


def check_slides(
    recipe: Recipe, blanks: Mapping[str, Blank], cards: Mapping[str, Thickness | None], ledger: Ledger
) -> Iterator[Slide]:
    """Everything that slides along a slot or through slits, noted; what does not, told. `blanks` by name in small
    letters."""
    for piece in recipe.pieces:
        blank = blanks.get(piece.name.value.casefold())
        for said in (*piece.goes_on, *piece.slides_in):
            under = blanks.get(said.value.piece.casefold())
            if blank is None or under is None or blank.doubtful or under.doubtful:
                continue
            slot = next((one for one in under.openings if slides_along(blank, one)), None)
            if slot is not None:
                yield from _along(blank, under, slot, _puck_of(recipe), cards.get(under.piece), said.place, ledger)
            elif said in piece.slides_in and len(slits := slits_of(under)) > 1:
                yield from _through(blank, under, slits, said.place, ledger)


def slits_of(blank: Blank) -> list[Opening]:
    """The slots so narrow that a strip is threaded through them."""
    return [one for one in blank.openings if one.shape == "slot" and min(one.width, one.height) <= _SLIT]


def _puck_of(recipe: Recipe) -> _Puck:
    kinds = [(one, kind_of(one.kind.value if one.kind else one.name.value)) for one in recipe.supplies]
    foam, coins = ([one for one, kind in kinds if kind and kind.name == name] for name in ("foam adhesive", "coin"))
    return _Puck(next(iter(foam), None), coins)


def _sizes(supply: Supply | None) -> list[Fraction]:
    """Its sizes, the largest first."""
    return sorted((length.mm for length in supply.size.value.lengths), reverse=True) if supply and supply.size else []


def _along(
    blank: Blank,
    under: Blank,
    slot: Opening,
    puck: _Puck,
    card: Thickness | None,
    place: Place,
    ledger: Ledger,
) -> Iterator[Slide]:
    long, wide = max(slot.width, slot.height), min(slot.width, slot.height)
    unit = ledger.lengths[slot.sizes[0]].unit
    names = {"piece": blank.piece, "under": under.piece, "wide": Length(wide, unit)}
    foam = _sizes(puck.foam)
    if len(foam) > 1 and puck.foam and foam[1] >= wide:
        facts = {"foam": puck.foam.name.value, "size": Length(foam[1], unit)}
        ledger.misfit("foam-wider-than-slot", place, **names, **facts)
        return
    thick = foam[2] if len(foam) > 2 else puck.foam.thickness.value.mm if puck.foam and puck.foam.thickness else None
    if puck.foam and thick is not None and card is not None and thick <= card.length.mm:
        facts = {"foam": puck.foam.name.value, "thick": Length(thick, unit), "card": card.length}
        tell = ledger.thought if card.estimated else ledger.misfit
        tell("foam-thinner-than-card", place, **names, **facts)
        return
    for coin in puck.coins:
        if (sizes := _sizes(coin)) and sizes[min(1, len(sizes) - 1)] <= wide:
            size = Length(sizes[min(1, len(sizes) - 1)], unit)
            ledger.misfit("coin-falls-through", place, **names, coin=coin.name.value, size=size)
            return
    travel = None
    if foam:
        # How the foam is turned in the slot nobody says: its longer side along it.
        travel = LengthId(blank.piece, "slides", "travel", of=under.piece)
        ledger.lengths[travel] = Length(long - foam[0], unit)
        ledger.worked_out.add(travel)
    yield Slide(blank.piece, under.piece, travel)


def _through(blank: Blank, under: Blank, slits: Sequence[Opening], place: Place, ledger: Ledger) -> Iterator[Slide]:
    """A strip through slits that are at least as long as it is wide."""
    narrow = min(slits, key=lambda one: max(one.width, one.height))
    slit = max(zip((narrow.width, narrow.height), narrow.sizes, strict=True))
    sides = [(size, LengthId(blank.piece, side, "size")) for side, size in _sides(blank)]
    strip = min(sides)
    unit = ledger.lengths[narrow.sizes[0]].unit
    if strip[0] >= slit[0]:
        sizes = {"long": Length(slit[0], unit), "wide": Length(strip[0], unit)}
        ledger.misfit("strip-wider-than-slit", place, piece=blank.piece, under=under.piece, **sizes)
        return
    ledger.relations.append(Clearance(slit[1], strip[1]))
    yield Slide(blank.piece, under.piece, None)


def _sides(blank: Blank) -> tuple[tuple[str, Fraction], ...]:
    return ("across", blank.width), ("down", blank.height)
