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

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.inside import SLEEVES, rooms
from foldwright.geometry.flat.panels import fits_form
from foldwright.geometry.flat.thickness import Thickness
from foldwright.measure.amounts import Dimension
from foldwright.measure.length import Length, System, Unit
from foldwright.pack.model import Answer, Packing, Size, Thing
from foldwright.pack.packing import most_that_go_in, pack
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
_HELD = 2
"""A thing is held in a pocket while it is in there with half its length (common practice, no source)."""
_ROOFED = "gable-top"


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


def pack_contents(recipe: Recipe, blanks: Mapping[str, Blank], cards: Mapping[str, Thickness | None]) -> Contents:
    """Every piece that holds something; `blanks` by name in small letters."""
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
        for one in _hold(blank, cards.get(blank.piece), wanted, shut, recipe.system) if wanted else ():
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
    blank: Blank, card: Thickness | None, wanted: Sequence[_WantedThings], shut: bool, system: System
) -> Iterator[Held | Finding]:
    known = [one for one in wanted if one.thing is not None]
    hold = _Hold(blank, card, shut, system)
    if blank.form not in _FLAT and _room(blank, card) is None:
        yield hold.room_unknown(wanted[0].said.place, wanted)
        return
    for one in wanted:
        if one.thing is None:
            yield Finding.of("how-large", Strength.THOUGHT, one.said.place, piece=blank.piece, what=one.name)
    if not known:
        return
    left = hold.left(known)
    if left is not None:
        yield Held(blank.piece, tuple((one.name, one.count) for one in known), left, card is None or card.estimated)
        return
    # What does not go in even by itself is told by itself.
    alone = [one for one in known if len(known) == 1 or hold.left([one]) is None]
    for several in [[one] for one in alone] or [known]:
        yield hold.trouble(several)


def _packed(wanted: Sequence[_WantedThings], room: Size) -> Packing:
    """All of them together in a room; more than anybody would try are only added up."""
    if sum(one.count for one in wanted) > MOST_PIECES:
        volume = sum((one.thing.volume * one.count for one in wanted if one.thing), Fraction(0))
        return Packing(Answer.DOES_NOT if volume > room[0] * room[1] * room[2] else Answer.UNKNOWN)
    return pack([one.thing for one in wanted if one.thing for _ in range(one.count)], room)


class _Hold:
    """One piece, its room, and what is the matter with what it holds."""

    def __init__(self, blank: Blank, card: Thickness | None, shut: bool, system: System) -> None:
        self._blank, self._card, self._shut, self._system = blank, card, shut, system
        self._unit = Unit.INCH if system is System.IMPERIAL else Unit.MILLIMETRE

    def _room(self, wanted: Sequence[_WantedThings], card: Thickness | None) -> Size | None:
        blank = self._blank
        return _pocket(blank, card, wanted) if blank.form in _FLAT else _room(blank, card)

    def left(self, wanted: Sequence[_WantedThings]) -> tuple[Length, Length, Length] | None:
        """The room left, or None when they do not go in, or no way was found."""
        room = self._room(wanted, self._card)
        packing = _packed(wanted, room) if room is not None else None
        if packing is None or packing.left is None:
            return None
        step = _FLOOR[self._system]
        across, down, high = (Length(over // step * step, self._unit) for over in packing.left)
        return across, down, high

    def room_unknown(self, place: Place, wanted: Sequence[_WantedThings]) -> Finding:
        what = tuple(one.name for one in wanted)
        return Finding.of(
            "room-unknown", Strength.THOUGHT, place, piece=self._blank.piece, what=what, form=self._blank.form
        )

    def trouble(self, wanted: Sequence[_WantedThings]) -> Finding:
        place, piece = wanted[-1].said.place, self._blank.piece
        things = tuple(f"{one.count} × {one.name}" for one in wanted)
        room = self._room(wanted, self._card)
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
        most = most_that_go_in(one.thing, one.count, room)
        facts: dict[str, object] = {"piece": piece, "what": one.name, "count": one.count, "most": most}
        if packing.short is None:
            return Finding.of("does-not-go-in", strength, place, **facts)
        axis, missing = packing.short
        code = f"does-not-go-in-{_DIRECTIONS[axis]}"
        return Finding.of(code, strength, place, short=Length(missing, self._unit), **facts)

    def _above(self, wanted: Sequence[_WantedThings], room: Size) -> Fraction | None:
        """How far they stand over the walls; None when something is above these, or they do not go in at all."""
        roofed = self._blank.form == _ROOFED and bool(self._blank.made)
        if (self._shut and not roofed) or self._blank.form in _FLAT:
            return None
        for times in _TALLER:
            tall = _packed(wanted, (room[0], room[1], room[2] * times))
            if tall.answer is Answer.GOES_IN:
                over = max(one.at[2] + one.size[2] for one in tall.laid) - room[2]
                # A roof of 45 degrees rises by half of what it spans.
                return over if not roofed or over < self._blank.made[1][1] / 2 else None
        return None

    def _out(self, wanted: Sequence[_WantedThings], room: Size) -> Fraction | None:
        """How far they stand out at the open end of a pocket; None where they do not go in, or it has none."""
        if self._blank.form != "pocket":
            return None
        tall = _packed(wanted, (room[0], room[1] * _HELD, room[2]))
        if tall.answer is not Answer.GOES_IN:
            return None
        return max(one.at[1] + one.size[1] for one in tall.laid) - room[1]

    def _only_estimated(self, wanted: Sequence[_WantedThings]) -> bool:
        """Whether they would go in if the card were no thickness at all, which only an estimate says it has."""
        if self._card is None or not self._card.estimated:
            return False
        bare = self._room(wanted, None)
        return bare is not None and _packed(wanted, bare).answer is not Answer.DOES_NOT


def _room(blank: Blank, card: Thickness | None) -> Size | None:
    """The room inside; what is scored where nobody knows the card. A sleeve's third side is how long it is."""
    known = rooms(blank, card.length.mm if card else Fraction(0))
    sides = [one.inside for one in known]
    if blank.form in SLEEVES and len(sides) == 2:
        sides = [sides[0], blank.height, sides[1]]
    return (sides[0], sides[1], sides[2]) if len(sides) == 3 and min(sides) > 0 else None


def _pocket(blank: Blank, card: Thickness | None, wanted: Sequence[_WantedThings]) -> Size | None:
    """The room of a pocket, or an envelope laid in rows: what lies in it takes its own thickness of either side.

    The things lie in as few layers as they go in with; in one on another where they do not go in at all.
    """
    if not blank.boxed and blank.form != "pocket":
        return None
    sides = [row[1].long for row in (blank.across, blank.down)] if blank.boxed else [size for _, size in blank.made]
    thin = sorted(((min(one.thing.size), one.count) for one in wanted if one.thing), reverse=True)
    every = sum(count for _, count in thin)
    room = None
    for layers in range(1, every + 1) if len(thin) == 1 else dict.fromkeys((1, len(thin), every)):
        stack = _stack(thin, layers)
        taken = stack + (card.length.mm if card else Fraction(0))
        wide, high = (side - taken for side in sides)
        if min(wide, high) <= 0:
            break
        room = (wide, high, stack)
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


def _go_in_rows(wanted: Sequence[_WantedThings], room: Size) -> bool:
    if len(wanted) == 1 and wanted[0].thing is not None:
        return most_that_go_in(wanted[0].thing, wanted[0].count, room) == wanted[0].count
    return _packed(wanted, room).answer is Answer.GOES_IN


def _wanted(said: Said[str], supply: Supply) -> _WantedThings:
    thing = None
    if supply.size is not None and len(supply.size.value.lengths) == 3:
        a, b, c = (length.mm for length in supply.size.value.lengths)
        thing = Thing((a, b, c), supply.upright)
    use = supply.use.value if supply.use else None
    # As many as one making uses.
    count = int(use.number) if use is not None and use.dimension is Dimension.COUNT and use.number >= 1 else 1
    return _WantedThings(said, supply.name.value, thing, count)
