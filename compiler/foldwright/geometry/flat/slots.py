"""Slots that hold a card: slits across its corners, or half-moons whose tabs lie over two of its edges.

Each is placed by the card's own size. A slit runs from edge to edge of the card, across its corner, and a little
beyond; the corner goes through it. A half-moon's straight side lies just outside the card and stays joined, its round
side is cut and lies over the card. All sizes are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec.structs import replace

from foldwright.finding import Place
from foldwright.geometry.flat.blank import Blank, CardSlots, Drawn, ExactPoint, Opening
from foldwright.geometry.lengths import Ledger, LengthId
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.model import Hole, Piece, Said, Supply

SLOTTED = frozenset({"corner slots", "half-moon slots"})
_CORNER = {System.METRIC: Fraction(15), System.IMPERIAL: Unit.INCH.mm * 5 / 8}
"""How much of either edge a slit cuts off at a corner, and the part of the shorter side it is at most."""
_MOST_CORNER = Fraction(1, 3)
_BEYOND = {System.METRIC: Fraction(2), System.IMPERIAL: Unit.INCH.mm / 16}
"""How far a slit reaches beyond the card at either end."""
_MOON = {System.METRIC: Fraction(20), System.IMPERIAL: Unit.INCH.mm * 3 / 4}
"""How wide a half-moon is, and the part of the edge it lies on that it is at most; it is half as deep."""
_MOST_MOON = Fraction(1, 4)
_CLEAR = {System.METRIC: Fraction(1), System.IMPERIAL: Unit.INCH.mm / 32}
"""How far the straight side of a half-moon stays off the card: more than its place may be rounded by."""

_FIRST = 10_001
"""The number of the first slot among the lines: beyond all that an author or the file of an outline can have."""

type _Line = tuple[ExactPoint, ...]


def sized(
    piece: Piece, pieces: Mapping[str, Piece], supplies: Mapping[str, Supply], ledger: Ledger
) -> tuple[Said[Hole], ...]:
    """The holes of a piece, those that are slots for something with its size; what has none is told. `supplies` by name
    in small letters."""
    known = {name.casefold(): one.size for name, one in pieces.items()}
    known |= {name: supply.size for name, supply in supplies.items()}
    holes = []
    for said in piece.holes:
        hole = said.value
        if hole.shape in SLOTTED and not hole.size:
            size = known.get(hole.holds.casefold())
            if size is None or len(size.value.lengths) < 2:
                ledger.fault("slots-for-what", said.place, piece=piece.name.value, shape=hole.shape, what=hole.holds)
            else:
                hole = replace(hole, size=size.value.lengths[:2])
        holes.append(Said(hole, said.place))
    return tuple(holes)


def with_slots(blank: Blank, holes: Sequence[Said[Hole]], ledger: Ledger) -> Blank:
    """The blank with its slots as cuts of their own; none of its openings is a slot."""
    cards = [one for one in blank.openings if one.shape in SLOTTED]
    blank = replace(blank, openings=tuple(one for one in blank.openings if one.shape not in SLOTTED))
    for card in cards:
        said = holes[card.sizes[0].number - 1]
        system = said.value.size[0].unit.system
        lines = tuple((_corner_slits if card.shape == "corner slots" else _half_moons)(card, system))
        if not _on_one_panel(blank, lines):
            _tell_off(blank, card, said, ledger)
        first = _FIRST + sum(len(one.lines) for one in blank.slots)
        numbers = tuple(range(first, first + len(lines)))
        drawn = tuple(
            Drawn("cut", line, arc=len(line) > 2, number=number) for number, line in zip(numbers, lines, strict=True)
        )
        _note(blank.piece, drawn, said.value.size[0].unit, ledger)
        held = CardSlots(
            card.shape, card.left, card.top, card.width, card.height, card.sizes, numbers, said.value.holds
        )
        blank = replace(blank, drawn=(*blank.drawn, *drawn), slots=(*blank.slots, held))
    return blank


def _corner_slits(card: Opening, system: System) -> Iterator[_Line]:
    """Clockwise from the top left."""
    off = min(_CORNER[system], min(card.width, card.height) * _MOST_CORNER)
    reach, beyond = off + _BEYOND[system], _BEYOND[system]
    for far_x, far_y in ((False, False), (True, False), (True, True), (False, True)):
        x, into = (card.left + card.width, -1) if far_x else (card.left, 1)
        y, down = (card.top + card.height, -1) if far_y else (card.top, 1)
        yield (x + into * reach, y - down * beyond), (x - into * beyond, y + down * reach)


def _half_moons(card: Opening, system: System) -> Iterator[_Line]:
    """Two on each of the two longer edges."""
    level = card.width >= card.height
    long, short = (card.width, card.height) if level else (card.height, card.width)
    wide = min(_MOON[system], long * _MOST_MOON, short * _MOST_MOON * 2)
    start, near = (card.left, card.top) if level else (card.top, card.left)
    for edge, way in ((near - _CLEAR[system], 1), (near + short + _CLEAR[system], -1)):
        for part in (Fraction(1, 4), Fraction(3, 4)):
            along = start + long * part
            points = ((along - wide / 2, edge), (along, edge + way * wide / 2), (along + wide / 2, edge))
            yield points if level else tuple((x, y) for y, x in points)


def _on_one_panel(blank: Blank, lines: Sequence[_Line]) -> bool:
    """Whether every slot stays on the blank, and all of them on one side of every score."""
    xs, ys = ([point[axis] for line in lines for point in line] for axis in (0, 1))
    for places, strips, whole in ((xs, blank.across, blank.width), (ys, blank.down, blank.height)):
        if min(places) < 0 or max(places) > whole:
            return False
        if any(min(places) < strip.end < max(places) for strip in strips[:-1]):
            return False
    return True


def _tell_off(blank: Blank, card: Opening, said: Said[Hole], ledger: Ledger) -> None:
    across, down = said.value.size
    facts = {"piece": blank.piece, "shape": card.shape, "across": across, "down": down}
    place: Place = said.place
    ledger.misfit("slots-off-the-panel", place, **facts)


def _note(piece: str, drawn: Sequence[Drawn], unit: Unit, ledger: Ledger) -> None:
    """How far each end is from the left and the top edge, which was worked out: it is printed on a step."""
    for line in drawn:
        for at, point in enumerate(line.points, 1):
            for side, mm in zip(("across", "down"), point, strict=True):
                name = LengthId(piece, "line", side, line.number, f"point {at}")
                ledger.lengths[name] = Length(mm, unit)
                ledger.worked_out.add(name)
