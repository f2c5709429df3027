"""Cards in envelopes: whether an envelope is what its name says, which one a card would go into, and as a letter.

What the post takes changes and is the post's own affair, so all of that is never more than a thought.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import chain

from msgspec import Struct

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.panels import fits_form
from foldwright.geometry.flat.thickness import Thickness
from foldwright.geometry.together.bulk import Bulk, bulk_of
from foldwright.geometry.together.mating import folded_extents
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.paper import envelopes_in, named_sheet
from foldwright.recipe.model import Piece, Recipe, Supply
from foldwright.recipe.words import spoken_text
from foldwright.vocabulary import kind_of

_NAMED = re.compile(r"(?P<name>(?:no\.? ?|#)\d+|[a-z][a-z0-9/]*)[ -](?:sized? )?envelopes?\b", re.IGNORECASE)
"""A bare number before `envelopes` is how many there are."""
_SAME = Unit.INCH.mm / 16
"""A sixteenth of an inch: envelopes of one name differ by that much (common practice, no source)."""


class _Envelope(Struct, frozen=True):
    name: str
    across: Length
    down: Length

    def is_like(self, other: _Envelope) -> bool:
        mine, its = (sorted((one.across.mm, one.down.mm)) for one in (self, other))
        return all(abs(one - two) <= _SAME for one, two in zip(mine, its, strict=True))


def check_envelopes(recipe: Recipe) -> Iterator[Finding]:
    """Names that mean another size than the one that is bought, in the facts and in the words."""
    bought: list[_Envelope] = []
    known: list[_Envelope] = []
    for supply in recipe.supplies:
        if not _is_envelope(supply):
            continue
        named = list(_named_in(supply.name.value, supply.kind.value if supply.kind else ""))
        known += named
        if supply.size is None or len(supply.size.value.lengths) < 2:
            bought += named
            continue
        own = _Envelope(supply.name.value, *supply.size.value.lengths[:2])
        bought.append(own)
        if named and not named[0].is_like(own):
            yield _differs("envelope-named-otherwise", Strength.MISFIT, supply.size.place, named[0], own)
    names = {supply.name.value.casefold() for supply in recipe.supplies}
    for piece in recipe.pieces:
        for said in piece.slides_in:
            wanted = next(_named_in(said.value.piece), None)
            if wanted is None or said.value.piece.casefold() in names:
                continue
            if bought and not any(map(wanted.is_like, bought)):
                yield _differs("envelope-not-the-one-bought", Strength.THOUGHT, said.place, wanted, bought[0])
            known.append(wanted)
    yield from _in_words(recipe, [*bought, *known])


def _in_words(recipe: Recipe, known: list[_Envelope]) -> Iterator[Finding]:
    """Each name that is no envelope of the recipe's once, at the heading it stands under."""
    told: set[str] = set()
    for place, text in _said(recipe) if known else ():
        for named in _named_in(text):
            if named.name not in told and not any(map(named.is_like, known)):
                told.add(named.name)
                yield _differs("words-name-another-envelope", Strength.THOUGHT, place, named, known[0])


def _said(recipe: Recipe) -> Iterator[tuple[Place, str]]:
    if recipe.summary:
        yield recipe.summary.place, recipe.summary.value
    for step in recipe.steps:
        yield step.heading.place, spoken_text(step.words)
    for section in recipe.sections:
        yield section.heading.place, spoken_text(section.words)


def _is_envelope(supply: Supply) -> bool:
    kind = kind_of(supply.kind.value if supply.kind else supply.name.value)
    return kind is not None and kind.name == "envelope"


def _named_in(*texts: str) -> Iterator[_Envelope]:
    for match in chain.from_iterable(map(_NAMED.finditer, texts)):
        if size := named_sheet(f"{match['name']} envelope"):
            yield _Envelope(match["name"], *size)


def _differs(code: str, strength: Strength, place: Place, named: _Envelope, own: _Envelope) -> Finding:
    mine = {"name": named.name, "across": named.across, "down": named.down}
    return Finding.of(code, strength, place, **mine, envelope=own.name, wide=own.across, high=own.down)


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
