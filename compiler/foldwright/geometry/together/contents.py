"""What a piece holds, packed into the room inside it, all of it together.

The room is that of a tray, a lid or a sleeve by the rule of `inside`. What stands higher than the walls of an open tray
is only a thought; under a lid, or in a sleeve, it does not go; under a roof it may, as far as the roof rises. How high
a lid stands over what lies in its tray depends on how it is put on: it is taken to rest on the rim, so that the tray's
own walls are the room.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.flat.blank import Blank, CardSlots
from foldwright.geometry.flat.inside import SLEEVES
from foldwright.geometry.flat.panels import fits_form
from foldwright.geometry.flat.points import kept
from foldwright.geometry.flat.thickness import Thickness
from foldwright.geometry.together.rooms import FreeRoom, Room, free_room, less, pack_in, room_of
from foldwright.geometry.together.slots import slot_fit
from foldwright.geometry.together.stacks import Stack
from foldwright.geometry.together.walls import taken_inside
from foldwright.measure.amounts import Dimension
from foldwright.measure.length import Length, System, Unit
from foldwright.pack.model import Answer, Packing, Size, Thing
from foldwright.pack.packing import most_that_go_in
from foldwright.recipe.facts.limits import MOST_PIECES
from foldwright.recipe.model import Recipe, Said, Supply

_DIRECTIONS = ("across", "down", "high")
_FLOOR = {System.METRIC: Fraction(1, 2), System.IMPERIAL: Unit.INCH.mm / 32}
"""Room to spare is told in whole halves of a millimetre or thirty-seconds of an inch, never more than there is."""
_TALLER = (Fraction(5, 4), Fraction(3, 2), Fraction(2), Fraction(3), Fraction(100))
"""How many times as high as its walls things may stand in an open tray, the least first; the last is the sky."""
_SHUT = SLEEVES | {"envelope", "tuck box", "hinged box", "cube", "prism"}
"""Forms that have no open top."""
_FLAT = frozenset({"envelope", "pocket"})
"""Forms that are as deep inside as what lies in them."""
_SLOT_PLAY = Fraction(1)
"""Millimetres by which a card may differ from that its slots are for (common practice, no source)."""
_HELD = 2
"""A thing is held in a pocket while it is in there with half its length (common practice, no source)."""
_ROOFED = "gable-top"
_NOTHING: Size = (Fraction(0), Fraction(0), Fraction(0))


class Held(Struct, frozen=True):
    """What lies in a piece: the name and number of each kind, and the room left across, down and in height."""

    piece: str
    things: tuple[tuple[str, int], ...]
    left: tuple[Length, Length, Length]
    estimated: bool


class _WantedThings(Struct, frozen=True):
    """So many of one supply, where a piece is said to hold it; `thing` is None when nobody says how large it is."""

    said: Said[str]
    name: str
    thing: Thing | None
    count: int


class Contents(Struct, frozen=True):
    """What each thing of a recipe holds, and what does not go in."""

    held: tuple[Held, ...] = ()
    findings: tuple[Finding, ...] = ()


def pack_contents(
    recipe: Recipe,
    blanks: Mapping[str, Blank],
    cards: Mapping[str, Thickness | None],
    stacks: Sequence[Stack] = (),
    free: Mapping[str, FreeRoom] | None = None,
) -> Contents:
    """Every piece that holds something; `blanks` by name in small letters.

    `stacks` are what is stuck on panels, `free` what is free between walls whose folds are drawn, by piece.
    """
    supplies = {supply.name.value.casefold(): supply for supply in recipe.supplies}
    covered = {said.value.piece.casefold() for piece in recipe.pieces for said in piece.fits_over}
    covered |= set(_drawers(recipe, blanks))
    held: list[Held] = []
    findings: list[Finding] = []
    for piece in recipe.pieces:
        blank = blanks.get(piece.name.value.casefold())
        if blank is None or blank.doubtful or not fits_form(blank) or not piece.holds:
            continue
        shut = blank.form in _SHUT or blank.piece.casefold() in covered or bool(piece.fits_over)
        named = dict.fromkeys(said.value.casefold() for said in piece.holds)
        said = {one.value.casefold(): one for one in reversed(piece.holds)}
        wanted = [_wanted(said[name], supplies[name]) for name in named if name in supplies]
        stuck = [one for one in stacks if one.under == blank.piece.casefold() and one.face == "inside"]
        inside = _Inside(
            cards.get(blank.piece),
            taken_inside(blank, stuck),
            (free or {}).get(blank.piece),
            any(one.estimated for one in stuck),
        )
        for one in _hold(blank, inside, wanted, shut, recipe.system) if wanted else ():
            if isinstance(one, Finding):
                findings.append(one)
            else:
                held.append(one)
    return Contents(tuple(held), tuple(findings))


def _drawers(recipe: Recipe, blanks: Mapping[str, Blank]) -> Iterator[str]:
    """What slides in a sleeve, whichever of the two says so."""
    for piece in recipe.pieces:
        for said in piece.slides_in:
            pair = piece.name.value.casefold(), said.value.piece.casefold()
            forms = [blanks[name].form if name in blanks else "" for name in pair]
            if any(form in SLEEVES for form in forms):
                yield from (name for name, form in zip(pair, forms, strict=True) if form not in SLEEVES)


def _hold(
    blank: Blank, inside: _Inside, wanted: Sequence[_WantedThings], shut: bool, system: System
) -> Iterator[Held | Finding]:
    if blank.slots:
        wanted = [one for one in wanted if not any(_lies_in(one, slots) for slots in blank.slots)]
        if not wanted:
            return
    known = [one for one in wanted if one.thing is not None]
    hold = _Hold(blank, inside, shut, system)
    if blank.slots and blank.form not in SLEEVES and not hold.has_room:
        yield from (_slots_for_another(blank, one, system) for one in wanted)
        return
    if any(slot_fit(blank, *map(float, one.thing.size[:2])) for one in known if one.thing):
        yield from _under_slots(blank, known, system)
        return
    if not hold.has_room:
        yield hold.room_unknown(wanted[0].said.place, wanted)
        return
    for one in wanted:
        if one.thing is None:
            yield Finding.of("how-large", Strength.THOUGHT, one.said.place, piece=blank.piece, what=one.name)
    if not known:
        return
    left = hold.left(known)
    if left is not None:
        yield Held(blank.piece, tuple((one.name, one.count) for one in known), left, inside.estimated)
        return
    # What does not go in even by itself is told by itself.
    alone = [one for one in known if len(known) == 1 or hold.left([one]) is None]
    for several in [[one] for one in alone] or [known]:
        yield hold.trouble(several)


def _slots_for_another(blank: Blank, wanted: _WantedThings, system: System) -> Finding:
    """A card that its slots are not made for."""
    slots, unit = blank.slots[0], Unit.INCH if system is System.IMPERIAL else Unit.MILLIMETRE
    facts = {"piece": blank.piece, "what": wanted.name, "shape": slots.shape}
    sizes = {"across": Length(slots.wide, unit), "down": Length(slots.high, unit)}
    return Finding.of("slots-for-another", Strength.MISFIT, wanted.said.place, **facts, **sizes)


def _lies_in(wanted: _WantedThings, slots: CardSlots) -> bool:
    """Whether slots hold it: they are for a card as wide and as high, lying either way."""
    if wanted.thing is None:
        return slots.name.casefold() == wanted.name.casefold()
    _, short, long = sorted(wanted.thing.size)
    own = sorted((slots.wide, slots.high))
    return all(abs(one - other) <= _SLOT_PLAY for one, other in zip((short, long), own, strict=True))


def _under_slots(blank: Blank, wanted: Sequence[_WantedThings], system: System) -> Iterator[Finding]:
    """Cards that are pushed under half-moons."""
    unit = Unit.INCH if system is System.IMPERIAL else Unit.MILLIMETRE
    for one in wanted:
        thing = one.thing
        fit = slot_fit(blank, *map(float, sorted(thing.size, reverse=True)[:2])) if thing else None
        if fit is None or fit.fits:
            continue
        near = fit.over > 0 and fit.over >= -fit.held
        by = Length(kept(fit.over if near else -fit.held), unit)
        code = "slots-too-near" if near else "slots-too-far"
        yield Finding.of(code, Strength.MISFIT, one.said.place, piece=blank.piece, what=one.name, by=by)


class _Inside(Struct, frozen=True):
    """What the room of a piece depends on: its card, what is stuck inside, and what is free between drawn walls."""

    card: Thickness | None
    taken: Size
    free: FreeRoom | None
    stuck_estimated: bool = False

    @property
    def estimated(self) -> bool:
        return self.card is None or self.card.estimated or self.stuck_estimated

    def bare(self) -> _Inside:
        """The same with card that is no thickness at all."""
        return replace(self, card=None, taken=_NOTHING if self.stuck_estimated else self.taken)


def _packed(wanted: Sequence[_WantedThings], room: Room) -> Packing:
    """All of them together in a room; more than anybody would try are only added up."""
    count = sum(one.count for one in wanted)
    if count > MOST_PIECES:
        volume = sum((one.thing.volume * one.count for one in wanted if one.thing), Fraction(0))
        return Packing(Answer.DOES_NOT if volume > room.volume else Answer.UNKNOWN)
    return pack_in(room, [one.thing for one in wanted if one.thing for _ in range(one.count)])


class _Hold:
    """One piece, its room, and what is the matter with what it holds."""

    def __init__(self, blank: Blank, inside: _Inside, shut: bool, system: System) -> None:
        self._blank, self._inside, self._system = blank, inside, system
        self._shut = shut or (inside.free is not None and inside.free.shut)
        self._unit = Unit.INCH if system is System.IMPERIAL else Unit.MILLIMETRE

    @property
    def has_room(self) -> bool:
        """Whether anything is known of its room."""
        return is_pocket(self._blank) or self._room((), self._inside) is not None

    def _room(self, wanted: Sequence[_WantedThings], inside: _Inside) -> Room | None:
        blank = self._blank
        card = inside.card.length.mm if inside.card else Fraction(0)
        if is_pocket(blank):
            return _pocket(blank, card, wanted)
        room = free_room(inside.free, card) if inside.free else room_of(blank, card)
        return less(room, inside.taken) if room else None

    def left(self, wanted: Sequence[_WantedThings]) -> tuple[Length, Length, Length] | None:
        """The room left, or None when they do not go in, or no way was found."""
        room = self._room(wanted, self._inside)
        packing = _packed(wanted, room) if room is not None else None
        if packing is None or packing.left is None:
            return None
        step = _FLOOR[self._system]
        across, down, high = (Length(over // step * step, self._unit) for over in packing.left)
        return across, down, high

    def room_unknown(self, place: Place, wanted: Sequence[_WantedThings]) -> Finding:
        what = tuple(one.name for one in wanted)
        return Finding.of("room-unknown", Strength.THOUGHT, place, piece=self._blank.piece, what=what)

    def trouble(self, wanted: Sequence[_WantedThings]) -> Finding:
        place, piece = wanted[-1].said.place, self._blank.piece
        things = tuple(f"{one.count} × {one.name}" for one in wanted)
        room = self._room(wanted, self._inside)
        if room is None:
            return self.room_unknown(place, wanted)
        out = self._out(wanted, room)
        if out is not None:
            over = Length(out, self._unit)
            return Finding.of(
                "stands-out-of-the-pocket", Strength.THOUGHT, place, piece=piece, things=things, over=over
            )
        above = self._above(wanted, room)
        if above is not None:
            over = Length(above, self._unit)
            return Finding.of("stands-above-the-wall", Strength.THOUGHT, place, piece=piece, things=things, over=over)
        packing = _packed(wanted, room)
        if packing.answer is Answer.UNKNOWN:
            return Finding.of("no-way-found-in", Strength.THOUGHT, place, piece=piece, things=things)
        strength = Strength.THOUGHT if self._only_estimated(wanted) else Strength.MISFIT
        if len(wanted) > 1:
            return Finding.of("does-not-go-in-together", strength, place, piece=piece, things=things)
        (one,) = wanted
        assert one.thing is not None
        most = max((most_that_go_in(one.thing, one.count, box) for box in room.boxes([one.thing])), default=0)
        facts: dict[str, object] = {"piece": piece, "what": one.name, "number": one.count, "count": most}
        facts["things"] = things
        if packing.short is None:
            return Finding.of("does-not-go-in", strength, place, **facts)
        axis, missing = packing.short
        code = f"does-not-go-in-{_DIRECTIONS[axis]}"
        return Finding.of(code, strength, place, short=Length(missing, self._unit), **facts)

    def _above(self, wanted: Sequence[_WantedThings], room: Room) -> Fraction | None:
        """How far they stand over the walls; None when something is above these, or they do not go in at all."""
        roofed = self._blank.form == _ROOFED and bool(self._blank.made)
        if (self._shut and not roofed) or not room.prism or room.tilts or is_pocket(self._blank):
            return None
        for times in _TALLER:
            tall = _packed(wanted, room.higher(times))
            if tall.answer is Answer.GOES_IN:
                over = max(one.at[2] + one.size[2] for one in tall.laid) - room.bounds[2]
                # A roof of 45 degrees rises by half of what it spans.
                return over if not roofed or over < self._blank.made[1][1] / 2 else None
        return None

    def _out(self, wanted: Sequence[_WantedThings], room: Room) -> Fraction | None:
        """How far they stand out at the open end of a pocket; None where they do not go in, or it has none."""
        if self._blank.form != "pocket":
            return None
        across, down, thick = room.bounds
        tall = _packed(wanted, Room.box((across, down * _HELD, thick)))
        if tall.answer is not Answer.GOES_IN:
            return None
        return max(one.at[1] + one.size[1] for one in tall.laid) - down

    def _only_estimated(self, wanted: Sequence[_WantedThings]) -> bool:
        """Whether they would go in if the card were no thickness at all, which only an estimate says it has."""
        if self._inside.card is None or not self._inside.estimated:
            return False
        bare = self._room(wanted, self._inside.bare())
        return bare is not None and _packed(wanted, bare).answer is not Answer.DOES_NOT


def is_pocket(blank: Blank) -> bool:
    """Whether it is flat, so that what lies in it takes its own thickness of its width and height."""
    return blank.form in _FLAT and (blank.boxed or bool(blank.made))


def _pocket(blank: Blank, card: Fraction, wanted: Sequence[_WantedThings]) -> Room | None:
    """The room of an envelope: what lies in it takes its own thickness of the width and of the height.

    The things lie in as few layers as they go in with; in one on another where they do not go in at all.
    """
    sides = [size for _, size in blank.made[:2]] if blank.made else [row[1].long for row in (blank.across, blank.down)]
    thin = sorted(((min(one.thing.size), one.count) for one in wanted if one.thing), reverse=True)
    every = sum(count for _, count in thin)
    room = None
    for layers in range(1, every + 1) if len(thin) == 1 else dict.fromkeys((1, len(thin), every)):
        stack = _stack(thin, layers)
        wide, high = (side - stack - card for side in sides)
        if min(wide, high) <= 0:
            break
        room = Room.box((wide, high, stack))
        if _go_in_rows(wanted, room):
            break
    return room


def _stack(thin: Sequence[tuple[Fraction, int]], layers: int) -> Fraction:
    """How high the thickest lie on one another in so many layers."""
    total = Fraction(0)
    for thickness, count in thin:
        total += thickness * min(count, layers)
        layers -= min(count, layers)
    return total


def _go_in_rows(wanted: Sequence[_WantedThings], room: Room) -> bool:
    if len(wanted) == 1 and wanted[0].thing is not None:
        return most_that_go_in(wanted[0].thing, wanted[0].count, room.bounds) == wanted[0].count
    return _packed(wanted, room).answer is Answer.GOES_IN


def _wanted(said: Said[str], supply: Supply) -> _WantedThings:
    use = supply.use.value if supply.use else None
    # As many as one making uses.
    count = int(use.number) if use is not None and use.dimension is Dimension.COUNT and use.number >= 1 else 1
    return _WantedThings(said, supply.name.value, _thing(supply), count)


def _thing(supply: Supply) -> Thing | None:
    """A thing with three sides, or a round one; None when nobody says how large it is."""
    if supply.size is None:
        return None
    sizes = [length.mm for length in supply.size.value.lengths]
    if supply.size.value.round:
        return Thing((sizes[0], sizes[0], sizes[-1]), supply.upright, round=True)
    return Thing((sizes[0], sizes[1], sizes[2]), supply.upright) if len(sizes) == 3 else None
