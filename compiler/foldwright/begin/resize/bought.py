"""What is bought ready-made, and what is used by length: it is not scaled as paper is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec.structs import replace

from foldwright.begin.draft.model import DraftNote
from foldwright.begin.resize.growth import up
from foldwright.geometry.pieces import Flat
from foldwright.geometry.together.post import ENVELOPE_ROOM
from foldwright.measure.length import Length, Unit
from foldwright.measure.paper import envelopes_in
from foldwright.recipe.facts.writing import write_length
from foldwright.recipe.model import Dims, Piece, Placement, Recipe, Said, Supply
from foldwright.vocabulary import kind_of

_TOOLS = {"punch": "punch-has-one-size", "stamp": "stamp-has-one-size"} | dict.fromkeys(
    ("die", "stencil"), "tool-has-one-size"
)
"""Tools that make one size of thing only, and what is to be said of each."""
_WHOLE = {
    Unit.INCH: Fraction(1),
    Unit.FOOT: Fraction(1, 2),
    Unit.YARD: Fraction(1, 4),
    Unit.MILLIMETRE: Fraction(10),
    Unit.CENTIMETRE: Fraction(1),
    Unit.METRE: Fraction(1, 10),
}
"""To what lengths off a spool are taken up, in their own unit (common practice, no source)."""

type Envelopes = Mapping[str, tuple[str, Length, Length]]
"""For an envelope, by its name in small letters, the one that is bought instead: its name and its shorter and longer
side."""


def used(supply: Supply, scale: Fraction) -> Supply:
    """What is used by length (tape, ribbon) is used in proportion, taken up to whole inches or centimetres."""
    length = supply.use.value.length if supply.use else None
    if supply.use is None or length is None or scale == 1:
        return supply
    unit = length.unit
    grown = Length(up(length.value * scale, _WHOLE[unit]) * unit.mm, unit)
    return replace(supply, use=replace(supply.use, value=replace(supply.use.value, number=grown.value, length=grown)))


def uses_told(before: Sequence[Supply], now: Sequence[Supply]) -> Iterator[DraftNote]:
    """What is used by length and now differs: each with its new length, and with the old one."""
    told = []
    for old, new in zip(before, now, strict=True):
        was, is_ = (one.use.value.length if one.use else None for one in (old, new))
        if was and is_ and was != is_:
            told.append(f"{old.name.value} {write_length(is_)} ({write_length(was)})")
    if told:
        yield DraftNote.of("used-in-proportion", things=tuple(told))


def ready_made(recipe: Recipe, pieces: Sequence[Piece]) -> Iterator[DraftNote]:
    """Tools of one size. Of a punch this is said where there is a hole, and it stays."""
    punched = any(hole.value.shape == "round" for piece in pieces for hole in piece.holes)
    for tool in recipe.tools:
        name = tool.name.value
        code = next((code for word, code in _TOOLS.items() if word in name.casefold().split()), "")
        if code and (punched or code != _TOOLS["punch"]):
            yield DraftNote.of(code, tool=name)


# --- envelopes --------------------------------------------------------------------------------------------------------


def envelopes_for(recipe: Recipe, before: Flat, now: Flat, unit: Unit) -> tuple[Envelopes, tuple[DraftNote, ...]]:
    """For every ready-made envelope that no longer suits the one of a known name that takes what it took."""
    found: dict[str, tuple[str, Length, Length]] = {}
    notes: list[DraftNote] = []
    bought = {gap.outer.piece for gap in before.gaps} - {blank.piece for blank in before.blanks}
    for name in sorted(bought):
        pair = [gap for gap in before.gaps if gap.outer.piece == name][:2]
        lengths = now.lengths.by_id
        needed = sorted(lengths[gap.inner].mm for gap in pair)
        if not _is_envelope(name, recipe) or needed == sorted(before.lengths.by_id[gap.inner].mm for gap in pair):
            continue
        room = ENVELOPE_ROOM[recipe.system]
        sold = envelopes_in(recipe.system)
        fits = next((one for one in sold if one[1].mm >= needed[0] + room and one[2].mm >= needed[1] + room), None)
        if fits is None:
            sizes = tuple(Length(one + room, unit) for one in needed)
            notes.append(DraftNote.of("no-envelope-takes-it", envelope=name, size=sizes))
        elif [fits[1].mm, fits[2].mm] != sorted(before.lengths.by_id[gap.outer].mm for gap in pair):
            found[name.casefold()] = fits
            notes.append(DraftNote.of("other-envelope", envelope=name, name=fits[0], size=fits[1:]))
    return found, tuple(notes)


def _is_envelope(name: str, recipe: Recipe) -> bool:
    supply = next((one for one in recipe.supplies if one.name.value.casefold() == name.casefold()), None)
    kind = kind_of(supply.kind.value) if supply and supply.kind else None
    return name.casefold().endswith("envelope") or (kind is not None and kind.name == "envelope")


def bought_again(supply: Supply, envelopes: Envelopes) -> Supply:
    """A supply in the size of the envelope that is bought instead."""
    other = envelopes.get(supply.name.value.casefold())
    if other is None or supply.size is None:
        return supply
    _, short, long = other
    old = supply.size.value.lengths
    dims = Dims((long, short) if old[0] > old[-1] else (short, long))
    return replace(supply, size=Said(dims, supply.size.place))


def renamed(piece: Piece, envelopes: Envelopes) -> Piece:
    """A card that goes into an envelope called by its name goes into the one of another name."""
    return replace(piece, slides_in=tuple(Said(_into(said.value, envelopes), said.place) for said in piece.slides_in))


def _into(placement: Placement, envelopes: Envelopes) -> Placement:
    other = envelopes.get(placement.piece.casefold())
    named = placement.piece.casefold().endswith("envelope") and placement.piece.casefold() != "envelope"
    return replace(placement, piece=f"{other[0]} envelope") if other and named else placement
