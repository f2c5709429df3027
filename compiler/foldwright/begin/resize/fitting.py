"""A recipe round other contents: its holder just large enough for them, and all that follows from the holder."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec.structs import replace

from foldwright.begin.design.model import Things, ThingsLying, ways_to_lie
from foldwright.begin.draft.model import DraftNote
from foldwright.begin.resize.bought import used, uses_told
from foldwright.begin.resize.growth import Growth, Stretch, up
from foldwright.begin.resize.model import Resized
from foldwright.begin.resize.resizing import Resizing
from foldwright.begin.resize.rewriting import Rewriter, with_rows
from foldwright.begin.resize.scaling import alone
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.inside import InsideSize, rooms
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pieces import Flat
from foldwright.measure.amounts import Dimension
from foldwright.measure.length import Length
from foldwright.recipe.model import Amount, Dims, Piece, Recipe, Said, Supply

_ROOM = ("across", "down", "deep")
_SOLID = 3


def holder_of(recipe: Recipe, flat: Flat) -> tuple[Blank, str] | None:
    """The piece that other things would go into, and the supply it holds now (empty when it holds none)."""
    laid = ((piece, flat.blank(piece.name.value)) for piece in recipe.pieces)
    roomy = [(piece, blank) for piece, blank in laid if blank and _room(blank, flat)]
    for piece, blank in roomy:
        if piece.holds:
            return blank, piece.holds[0].value
    trays = [blank for piece, blank in roomy if blank.form != "lid" or len(recipe.pieces) == 1]
    return (trays[0], "") if trays else None


def _room(blank: Blank, flat: Flat) -> Mapping[str, InsideSize]:
    """The room inside a box, by its sides; nothing where a form has no such room."""
    card = flat.cards.get(blank.piece)
    found = {room.side: room for room in rooms(blank, card.length.mm if card else Fraction(0))}
    return found if set(_ROOM) <= found.keys() else {}


def ways_fitted(
    recipe: Recipe, flat: Flat, holder: Blank, held: str, things: Things, step: Length, clearance: Fraction
) -> Iterator[Resized]:
    """The recipe with a holder just large enough for other things, in place of the supply that is `held` (or new): as
    the things can lie in it, the way that changes least first."""
    old = _room(holder, flat)
    piece = next(one for one in recipe.pieces if one.name.value == holder.piece)
    others = (things, *_held_as_well(recipe, piece))
    growth = Growth(Fraction(1), step)
    across = _longer_across(holder, old, flat)
    for lying in sorted(ways_to_lie(others), key=lambda way: _unlike(way, [old[side].inside for side in _ROOM])):
        box = lying.box if across else (lying.box[1], lying.box[0], lying.box[2])
        made = _made_for(piece, holder, old, box, step, clearance)
        times = _times_round(box, old)
        supplies = tuple(used(_held(supply, held, things), times) for supply in recipe.supplies)
        resized = Resizing(recipe, flat, growth, supplies, (made,)).result()
        notes = (*resized.notes, *uses_told(recipe.supplies, supplies))
        if held and held.casefold() != things.name.casefold():
            notes = (*notes, DraftNote.of("still-called", thing=held))
        if held:
            notes = (*notes, *(DraftNote.of("alone-as-it-was", piece=name, thing=held) for name in alone(recipe)))
        yield replace(resized, notes=notes)


def _longer_across(holder: Blank, old: Mapping[str, InsideSize], flat: Flat) -> bool:
    """Whether the longer side lies across, as it did. That of a square drawer goes in along its sleeve."""
    if old["across"].inside == old["down"].inside or holder.width == holder.height:
        return all(gap.inner != old["across"].score_to_score or gap.how != "into" for gap in flat.gaps)
    return old["across"].inside > old["down"].inside


def _held_as_well(recipe: Recipe, holder: Piece) -> Iterator[Things]:
    """What lies in the holder besides what is taken out of it, where its size and number are known."""
    supplies = {supply.name.value.casefold(): supply for supply in recipe.supplies}
    for said in holder.holds[1:]:
        supply = supplies.get(said.value.casefold())
        size, use = (supply.size, supply.use) if supply else (None, None)
        if size and use and len(size.value.lengths) == _SOLID and use.value.dimension is Dimension.COUNT:
            yield Things(said.value, int(use.value.number), size.value.lengths)


def _unlike(lying: ThingsLying, room: Sequence[Fraction]) -> tuple[Fraction, Fraction]:
    """How far a box is from the old room: first in height, then in paper."""
    across, down, high = lying.box
    return abs(high - room[2]), (across + 2 * high) * (down + 2 * high)


def _times_round(box: Sequence[Fraction], old: Mapping[str, InsideSize]) -> Fraction:
    """How many times as far it is round the box: across, down and up together."""
    return sum(box, Fraction(0)) / sum((old[side].inside for side in _ROOM), Fraction(0))


def _made_for(
    piece: Piece,
    holder: Blank,
    old: Mapping[str, InsideSize],
    box: Sequence[Fraction],
    step: Length,
    clearance: Fraction,
) -> Piece:
    """The holder with that much room. What the card takes of it stays what it was."""
    closed = clearance if holder.made else Fraction(0)
    room = dict(zip(_ROOM, (box[0] + clearance, box[1] + clearance, box[2] + closed), strict=True))
    if piece.inside or holder.made:
        # What it measures finished is larger than its room by what it was.
        return replace(
            piece,
            inside=_sized(piece.inside, [room[side] for side in _ROOM], step),
            finished=_sized(piece.finished, _finished(holder, old, room), step),
        )
    new = _panels(piece, holder, old, room, step)
    stretches = {
        side: Stretch(tuple((strip.long, new[strip.length]) for strip in strips))
        for side, strips in (("across", holder.across), ("down", holder.down))
    }
    return Rewriter(holder, stretches, Growth(Fraction(1), step), ()).marks(with_rows(piece, holder, new, Fraction(1)))


def _finished(holder: Blank, old: Mapping[str, InsideSize], room: Mapping[str, Fraction]) -> list[Fraction]:
    made = [size for _, size in holder.made]
    return [size - old[side].inside + room[side] for size, side in zip(made, _ROOM, strict=False)]


def _sized(said: Said[Dims] | None, sizes: Sequence[Fraction], step: Length) -> Said[Dims] | None:
    if said is None:
        return None
    lengths = (Length(up(mm, step.mm), old.unit) for mm, old in zip(sizes, said.value.lengths, strict=False))
    return Said(Dims(tuple(lengths)), said.place)


def _panels(
    piece: Piece, holder: Blank, old: Mapping[str, InsideSize], room: Mapping[str, Fraction], step: Length
) -> dict[LengthId, Fraction]:
    """The panels of a tray. A longer flap may lie two deep, and takes as much again."""
    new: dict[LengthId, Fraction] = {}
    walls = (*holder.across[::2], *holder.down[::2])
    low = min(strip.long for strip in walls)
    wall = up(room["deep"] + low - old["deep"].inside, step.mm)
    thick = 2 * (low - old["deep"].inside)
    for side, strip in (("across", holder.across[1]), ("down", holder.down[1])):
        taken = strip.long - old[side].inside + (2 * thick if wall > low else 0)
        new[strip.length] = up(room[side] + taken, step.mm)
    for strip in walls:
        new[strip.length] = up(strip.long * wall / low, step.mm)
    for side, strips in (("across", holder.across), ("down", holder.down)):
        total = sum((new[strip.length] for strip in strips), Fraction(0))
        new[LengthId(piece.name.value, side, "size")] = total
    return new


def _held(supply: Supply, held: str, things: Things) -> Supply:
    """The supply that is held, as many and as large as the new things."""
    if not held or supply.name.value.casefold() != held.casefold():
        return supply
    use = Amount(Dimension.COUNT, Fraction(things.count), "")
    place = supply.name.place
    return replace(supply, size=Said(Dims(things.size, things.round), place), use=Said(use, place))
