"""An existing recipe in another size: larger or smaller as a whole, or round other contents.

What holds things together stays as it is: glue flaps, what is trimmed off flaps, the gap of a lid and the play of a
drawer, the borders of mats, the holes of a punch. All else is scaled and rounded to easy numbers; what follows from
another piece follows. What is bought ready-made cannot be scaled, and is named.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.design.model import Things, ThingsLying, ways_to_lie
from foldwright.begin.draft.model import DraftNote
from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, Strip
from foldwright.geometry.flat.inside import TRAYS, rooms
from foldwright.geometry.flat.panels import faces_called, faces_meant
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pieces import Flat
from foldwright.geometry.together.post import ENVELOPE_ROOM
from foldwright.measure.amounts import Dimension
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.paper import envelopes_in
from foldwright.recipe.model import (
    Amount,
    Dims,
    DrawnLine,
    Hole,
    PanelFact,
    Piece,
    PlaceBeside,
    Placement,
    Recipe,
    Repeat,
    Said,
    Supply,
)

_READY_MADE = ("die", "punch", "stamp", "stencil")
"""Tools that make one size of thing only."""

type Grow = Callable[[Fraction], Fraction]
"""From an old length to a new one (mm)."""


class Resized(Struct, frozen=True):
    """The pieces and supplies of the new size, in the order of the recipe, and what is to be said of them."""

    pieces: tuple[Piece, ...]
    supplies: tuple[Supply, ...]
    notes: tuple[DraftNote, ...]


def scaled(recipe: Recipe, flat: Flat, scale: Fraction, step: Length) -> Resized:
    """The recipe `scale` times as large, every scaled number the nearest multiple of the step."""

    def grow(mm: Fraction) -> Fraction:
        return max(round(mm * scale / step.mm), 1) * step.mm

    held = {said.value.casefold() for piece in recipe.pieces for said in piece.holds}
    notes = (
        DraftNote.of("held-as-it-is", thing=supply.name.value)
        for supply in recipe.supplies
        if supply.name.value.casefold() in held and supply.size
    )
    resized = _Resizing(recipe, flat, grow, {}, step).result(_used(supply, scale, step) for supply in recipe.supplies)
    return replace(resized, notes=(*resized.notes, *notes))


def fitted(
    recipe: Recipe, flat: Flat, holder: Blank, held: str, things: Sequence[Things], step: Length, clearance: Fraction
) -> Resized:
    """The recipe with a holder just large enough for other things, in place of the supply that is `held` (or new)."""
    thick = card.length.mm if (card := flat.cards.get(holder.piece)) else Fraction(0)
    old = {room.side: room for room in rooms(holder, thick)}
    ways = ways_to_lie(things)
    best = min(ways, key=lambda lying: _unlike(lying, [old[side].inside for side in ("across", "down", "deep")]))
    box = best.box if old["across"].inside >= old["down"].inside else (best.box[1], best.box[0], best.box[2])
    room = dict(zip(("across", "down", "deep"), (box[0] + clearance, box[1] + clearance, box[2]), strict=True))
    # What the card takes of the panels stays what it was; a longer flap may lie two deep, and takes as much again.
    wanted: dict[LengthId, Fraction] = {}
    walls = (*holder.across[::2], *holder.down[::2])
    low = min(strip.end - strip.start for strip in walls)
    wall = _up(room["deep"] + low - old["deep"].inside, step.mm)
    for side, strip in (("across", holder.across[1]), ("down", holder.down[1])):
        taken = (strip.end - strip.start) - old[side].inside + (2 * thick if wall > low else 0)
        wanted[strip.length] = _up(room[side] + taken, step.mm)
    for strip in walls:
        wanted[strip.length] = _up((strip.end - strip.start) * wall / low, step.mm)
    work = _Resizing(recipe, flat, lambda mm: mm, wanted, step)
    return work.result(_held(supply, held, things) for supply in recipe.supplies)


def _up(mm: Fraction, step: Fraction) -> Fraction:
    return -(-mm // step) * step


def _unlike(lying: ThingsLying, room: Sequence[Fraction]) -> tuple[Fraction, Fraction]:
    """How far a box is from the old room: first in height, then in paper."""
    across, down, high = lying.box
    return abs(high - room[2]), (across + 2 * high) * (down + 2 * high)


def _held(supply: Supply, held: str, things: Sequence[Things]) -> Supply:
    """The supply that is held, as many and as large as the new things."""
    if supply.name.value.casefold() != held.casefold():
        return supply
    (one,) = things
    use = Amount(Dimension.COUNT, Fraction(one.count), "")
    place = supply.name.place
    return replace(supply, size=Said(Dims(one.size), place), use=Said(use, place))


def _used(supply: Supply, scale: Fraction, step: Length) -> Supply:
    """What is used by length (tape, ribbon) is used in proportion, taken up to whole inches or centimetres."""
    length = supply.use.value.length if supply.use else None
    if supply.use is None or length is None:
        return supply
    whole = Unit.INCH.mm if step.unit.system is System.IMPERIAL else Fraction(10)
    grown = Length(_up(length.mm * scale, whole), length.unit)
    return replace(supply, use=replace(supply.use, value=replace(supply.use.value, number=grown.value, length=grown)))


class _Resizing:
    """Works out the new length of everything, each once, what others follow from first."""

    def __init__(
        self, recipe: Recipe, flat: Flat, grow: Grow, wanted: Mapping[LengthId, Fraction], step: Length
    ) -> None:
        self._recipe = recipe
        self._flat = flat
        self._grow = grow
        self._step = step
        self._pieces = {piece.name.value.casefold(): piece for piece in recipe.pieces}
        self._new: dict[LengthId, Fraction] = dict(wanted)
        self._notes: list[DraftNote] = []
        self._at_work: set[str] = set()

    def result(self, supplies: Iterable[Supply]) -> Resized:
        """Every piece settled and written anew, and what is to be said of it."""
        for piece in self._recipe.pieces:
            self._settle(piece.name.value)
        holders = dict(self._envelopes())
        pieces = tuple(self._rewritten(piece, holders) for piece in self._recipe.pieces)
        for tool in self._recipe.tools:
            if any(word in tool.name.value.casefold().split() for word in _READY_MADE):
                self._notes.append(DraftNote.of("tool-has-one-size", tool=tool.name.value))
        bought = tuple(self._bought(supply, holders) for supply in supplies)
        return Resized(pieces, bought, tuple(self._notes))

    # --- lengths --------------------------------------------------------------------------------------------------

    def _old(self, name: LengthId) -> Fraction:
        return self._flat.lengths.by_id[name].mm

    def _settle(self, name: str) -> Blank | None:
        """Every panel of a piece; those it is fitted to are settled first."""
        blank = self._flat.blank(name)
        if blank is None or name in self._at_work or LengthId(name, "across", "size") in self._new:
            return blank
        self._at_work.add(name)
        follows = self._followed(blank)
        for side, strips in (("across", blank.across), ("down", blank.down)):
            for strip in strips:
                self._new.setdefault(strip.length, self._panel(strip, side, follows))
            total = sum((self._new[strip.length] for strip in strips), Fraction(0))
            self._new[LengthId(name, side, "size")] = total
        return blank

    def _panel(self, strip: Strip, side: str, follows: Mapping[tuple[str, Fraction], Fraction]) -> Fraction:
        old = strip.end - strip.start
        if strip.role == GLUE_FLAP:
            return old
        return follows.get((side, old), None) or self._grow(old)

    def _followed(self, blank: Blank) -> dict[tuple[str, Fraction], Fraction]:
        """Lengths of a side that follow from another piece: a lid's floor, a sleeve's walls, a mat's size."""
        found: dict[tuple[str, Fraction], Fraction] = {}
        for gap in self._flat.gaps:
            if gap.outer.piece == blank.piece and gap.inner.piece.casefold() in self._pieces:
                self._settle(gap.inner.piece)
                found[(gap.outer.side, self._old(gap.outer))] = self._new[gap.inner] + gap.between_scores.mm
                self._follow_length(blank, gap.inner.piece, found)
        for said in self._pieces[blank.piece.casefold()].goes_on:
            under = self._settle(said.value.piece) if said.value.piece.casefold() in self._pieces else None
            faces = faces_called(under, said.value.panel) if under and said.value.panel else ()
            face = faces[0] if faces else faces_meant(under, "")[0] if under else None
            if face is not None:
                for side, length in (("across", face.across), ("down", face.down)):
                    own = LengthId(blank.piece, side, "size")
                    border = self._old(length) - self._old(own)
                    if border >= 0 and length in self._new:
                        found[(side, self._old(own))] = self._new[length] - border
        return found

    def _follow_length(self, sleeve: Blank, inner: str, found: dict[tuple[str, Fraction], Fraction]) -> None:
        """A sleeve that is as long as its drawer's floor stays so."""
        drawer = self._flat.blank(inner)
        if drawer is None or not drawer.boxed or sleeve.form != "sleeve":
            return
        long = LengthId(sleeve.piece, "down", "size")
        for strip in (drawer.across[1], drawer.down[1]):
            if self._old(strip.length) == self._old(long):
                found[("down", self._old(long))] = self._new[strip.length]

    # --- ready-made things ----------------------------------------------------------------------------------------

    def _envelopes(self) -> Mapping[str, tuple[str, Length, Length]]:
        """For every ready-made envelope, by name in small letters: the one of a known name that takes what it took."""
        found: dict[str, tuple[str, Length, Length]] = {}
        room = ENVELOPE_ROOM[self._recipe.system]
        for gap in self._flat.gaps[::2]:
            name = gap.outer.piece
            if name.casefold() in self._pieces or name.casefold() in found:
                continue
            other = next(one for one in self._flat.gaps if one.outer.piece == name and one is not gap)
            needed = sorted(self._new[one.inner] for one in (gap, other))
            old = sorted(self._old(one.outer) for one in (gap, other))
            if all(self._new[one.inner] == self._old(one.inner) for one in (gap, other)):
                continue
            sold = envelopes_in(self._recipe.system)
            fit = (one for one in sold if one[1].mm >= needed[0] + room and one[2].mm >= needed[1] + room)
            if (fits := next(fit, None)) is None:
                sizes = tuple(Length(one + room, self._step.unit) for one in needed)
                self._notes.append(DraftNote.of("no-envelope-takes-it", envelope=name, size=sizes))
            elif [fits[1].mm, fits[2].mm] != old:
                found[name.casefold()] = fits
                self._notes.append(DraftNote.of("other-envelope", envelope=name, name=fits[0], size=fits[1:]))
        return found

    def _bought(self, supply: Supply, holders: Mapping[str, tuple[str, Length, Length]]) -> Supply:
        other = holders.get(supply.name.value.casefold())
        if other is None or supply.size is None:
            return supply
        _, short, long = other
        old = supply.size.value.lengths
        dims = Dims((long, short) if old[0] > old[-1] else (short, long))
        return replace(supply, size=Said(dims, supply.size.place))

    # --- pieces ---------------------------------------------------------------------------------------------------

    def _rewritten(self, piece: Piece, holders: Mapping[str, tuple[str, Length, Length]]) -> Piece:
        return replace(
            piece,
            size=self._size(piece),
            inside=self._dims(piece.inside),
            finished=piece.finished if piece.size else self._dims(piece.finished),
            across=self._row(piece, "across", piece.across),
            down=self._row(piece, "down", piece.down),
            holes=tuple(Said(self._hole(hole.value), hole.place) for hole in piece.holes),
            lines=tuple(Said(self._line(line.value), line.place) for line in piece.lines),
            slides_in=tuple(Said(_into(said.value, holders), said.place) for said in piece.slides_in),
        )

    def _size(self, piece: Piece) -> Said[Dims] | None:
        new = [self._new.get(LengthId(piece.name.value, side, "size")) for side in ("across", "down")]
        if piece.size is None or None in new:
            return piece.size
        sides = zip(filter(None, new), piece.size.value.lengths, strict=False)
        return Said(Dims(tuple(Length(mm, old.unit) for mm, old in sides)), piece.size.place)

    def _dims(self, said: Said[Dims] | None) -> Said[Dims] | None:
        return Said(Dims(tuple(map(self._lengthened, said.value.lengths))), said.place) if said else None

    def _lengthened(self, old: Length) -> Length:
        return Length(self._grow(old.mm), old.unit) if old.mm else old

    def _row(self, piece: Piece, side: str, row: Sequence[PanelFact]) -> tuple[PanelFact, ...]:
        def grown(number: int, panel: PanelFact) -> PanelFact:
            new = self._new.get(LengthId(piece.name.value, side, "panel", number))
            return replace(panel, length=Length(new, panel.length.unit)) if panel.length and new else panel

        return tuple(grown(number, panel) for number, panel in enumerate(row, 1))

    def _hole(self, hole: Hole) -> Hole:
        """A punch makes the hole it makes; how far it is from an edge grows with the piece."""
        offsets = tuple((edge, self._lengthened(far), of) for edge, far, of in hole.position.offsets)
        at = self._beside(hole.position.at) if hole.position.at else None
        repeat = self._repeated(hole.position.repeat)
        return replace(hole, position=replace(hole.position, offsets=offsets, at=at, repeat=repeat))

    def _beside(self, place: PlaceBeside) -> PlaceBeside:
        return replace(place, away=tuple((way, self._lengthened(far)) for way, far in place.away))

    def _repeated(self, repeat: Repeat | None) -> Repeat | None:
        return replace(repeat, apart=self._lengthened(repeat.apart)) if repeat else None

    def _line(self, line: DrawnLine) -> DrawnLine:
        grow = self._lengthened
        points = (
            self._beside(point) if isinstance(point, PlaceBeside) else (grow(point[0]), grow(point[1]))
            for point in line.points
        )
        return replace(line, points=tuple(points), repeat=self._repeated(line.repeat))


def _into(placement: Placement, holders: Mapping[str, tuple[str, Length, Length]]) -> Placement:
    """A card that goes into an envelope called by its name goes into the one of another name."""
    other = holders.get(placement.piece.casefold())
    named = placement.piece.casefold().endswith("envelope") and placement.piece.casefold() != "envelope"
    return replace(placement, piece=f"{other[0]} envelope") if other and named else placement


def holder_of(recipe: Recipe, flat: Flat) -> tuple[Blank, str] | None:
    """The piece that other things would go into, and the supply it holds now (empty when it holds none)."""
    for piece in recipe.pieces:
        blank = flat.blank(piece.name.value)
        if blank is not None and blank.form in TRAYS and blank.boxed and (piece.holds or len(recipe.pieces) == 1):
            return blank, piece.holds[0].value if piece.holds else ""
    trays = (flat.blank(piece.name.value) for piece in recipe.pieces if piece.fold and piece.fold.value.form == "tray")
    first = next((blank for blank in trays if blank is not None and blank.boxed), None)
    return (first, "") if first else None
