"""What a piece holds, packed into the room inside it.

The room is that of a tray, a lid or a sleeve by the rule of `inside`. What stands higher than the walls of an open tray
is only a thought; under a lid, or in a sleeve, it does not go. How high a lid stands over what lies in its tray depends
on how it is put on: it is taken to rest on the rim, so that the tray's own walls are the room.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from msgspec import Struct

from foldwright.finding import Finding, Strength
from foldwright.geometry.blank import Blank
from foldwright.geometry.inside import SLEEVES, rooms
from foldwright.geometry.thickness import Thickness
from foldwright.measure.amounts import Dimension
from foldwright.measure.length import Length, System, Unit
from foldwright.pack.model import Answer, Packing, Size, Thing
from foldwright.pack.packing import most_that_go_in, pack
from foldwright.recipe.model import Recipe, Said, Supply

_DIRECTIONS = ("across", "down", "high")
_FLOOR = {System.METRIC: Fraction(1, 2), System.IMPERIAL: Unit.INCH.mm / 32}
"""Room to spare is told in whole halves of a millimetre or thirty-seconds of an inch, never more than there is."""
_SKY = 100
_SHUT = SLEEVES | {"envelope"}
"""Forms that have no open top."""


class Held(Struct, frozen=True):
    """What lies in a piece: the name and number of things, and the room left across, down and in height.

    `above` is how far it stands over the walls of an open tray, None when it does not.
    """

    piece: str
    what: str
    count: int
    left: tuple[Length, Length, Length]
    estimated: bool
    above: Length | None = None


class Contents(Struct, frozen=True):
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
        if blank is None or blank.doubtful or not piece.holds:
            continue
        shut = blank.form in _SHUT or blank.piece.casefold() in covered or bool(piece.fits_over)
        for said in piece.holds:
            supply = supplies.get(said.value.casefold())
            if supply is not None:
                for one in _hold(blank, cards.get(blank.piece), said, supply, shut, recipe.system):
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
    blank: Blank,
    card: Thickness | None,
    said: Said[str],
    supply: Supply,
    shut: bool,
    system: System,
) -> Iterator[Held | Finding]:
    facts: dict[str, object] = {"piece": blank.piece, "what": supply.name.value}
    thing, count = _thing(supply), _count(supply)
    room = _pocket(blank, card, thing, count) if blank.form == "envelope" else _room(blank, card)
    if room is None:
        yield Finding.of("room-unknown", Strength.THOUGHT, said.place, form=blank.form, **facts)
        return
    if thing is None:
        yield Finding.of("how-large", Strength.THOUGHT, said.place, **facts)
        return
    facts["count"] = count
    packing = pack([thing] * count, room)
    unit = Unit.INCH if system is System.IMPERIAL else Unit.MILLIMETRE
    estimated = card is None or card.estimated
    if packing.answer is Answer.GOES_IN:
        yield Held(blank.piece, supply.name.value, count, _left(packing, system, unit), estimated)
        return
    above = _above(thing, count, room) if not shut else None
    if above is not None:
        over = Length(above, unit)
        yield Finding.of("stands-above-the-wall", Strength.THOUGHT, said.place, over=over, **facts)
        return
    yield _does_not(packing, thing, count, room, said, facts, unit, _only_estimated(blank, card, thing, count))


def _does_not(
    packing: Packing,
    thing: Thing,
    count: int,
    room: Size,
    said: Said[str],
    facts: dict[str, object],
    unit: Unit,
    only_estimated: bool,
) -> Finding:
    if packing.answer is Answer.UNKNOWN:
        return Finding.of("no-way-found-in", Strength.THOUGHT, said.place, **facts)
    strength = Strength.THOUGHT if only_estimated else Strength.MISFIT
    most = most_that_go_in(thing, count, room)
    if packing.short is None:
        return Finding.of("does-not-go-in", strength, said.place, most=most, **facts)
    axis, missing = packing.short
    code = f"does-not-go-in-{_DIRECTIONS[axis]}"
    return Finding.of(code, strength, said.place, most=most, short=Length(missing, unit), **facts)


def _room(blank: Blank, card: Thickness | None) -> Size | None:
    """The room inside; what is scored where nobody knows the card. A sleeve's third side is how long it is."""
    known = rooms(blank, card.length.mm if card else Fraction(0))
    sides = [one.inside for one in known]
    if blank.form in SLEEVES and len(sides) == 2:
        sides = [sides[0], blank.height, sides[1]]
    return (sides[0], sides[1], sides[2]) if len(sides) == 3 and min(sides) > 0 else None


def _pocket(blank: Blank, card: Thickness | None, thing: Thing | None, count: int) -> Size | None:
    """The room of an envelope laid in rows: what lies in it takes its own thickness of the width and of the height.

    The things lie in as few layers as they go in with; in one on another where they do not go in at all.
    """
    if not blank.boxed or thing is None:
        return None
    room = None
    for layers in range(1, count + 1):
        stack = min(thing.size) * layers
        taken = stack + (card.length.mm if card else Fraction(0))
        wide, high = (row[1].end - row[1].start - taken for row in (blank.across, blank.down))
        if min(wide, high) <= 0:
            break
        room = (wide, high, stack)
        if most_that_go_in(thing, count, room) == count:
            break
    return room


def _only_estimated(blank: Blank, card: Thickness | None, thing: Thing, count: int) -> bool:
    """Whether it would go in if the card were no thickness at all, which only an estimate says it has."""
    if card is None or not card.estimated:
        return False
    bare = _room(blank, None)
    return bare is not None and pack([thing] * count, bare).answer is not Answer.DOES_NOT


def _thing(supply: Supply) -> Thing | None:
    if supply.size is None or len(supply.size.value.lengths) != 3:
        return None
    a, b, c = (length.mm for length in supply.size.value.lengths)
    return Thing((a, b, c), supply.upright)


def _count(supply: Supply) -> int:
    """As many as one making uses."""
    use = supply.use.value if supply.use else None
    counted = use is not None and use.dimension is Dimension.COUNT and use.number >= 1
    return int(use.number) if use is not None and counted else 1


def _left(packing: Packing, system: System, unit: Unit) -> tuple[Length, Length, Length]:
    assert packing.left is not None
    step = _FLOOR[system]
    across, down, high = (Length(left // step * step, unit) for left in packing.left)
    return across, down, high


def _above(thing: Thing, count: int, room: Size) -> Fraction | None:
    """How far the things stand over the walls when they need not lie under them; None when they do not go in at all."""
    tall = pack([thing] * count, (room[0], room[1], room[2] * _SKY))
    if tall.answer is not Answer.GOES_IN:
        return None
    return max(one.at[2] + one.size[2] for one in tall.laid) - room[2]
