"""From the room inside a form to its blank, and from a blank to what it measures inside and outside.

Every score is taken to lie in the middle of the card: a wall folded up on it stands half a thickness inside the score
and half outside. A corner flap stuck to a wall adds a thickness on the side where it lies: inside, as flaps are tucked
(common practice, no source), or outside where the author says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.finding import Place
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.lengths import AtLeast, LengthId
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.model import PanelFact

TRAYS = frozenset({"tray", "lid"})
SLEEVES = frozenset({"sleeve"})
_GLUE_FLAP = {System.METRIC: Length.of(12, Unit.MILLIMETRE), System.IMPERIAL: Length.of(Fraction(1, 2), Unit.INCH)}
"""How wide a sleeve's glue flap is when nobody says (common practice, no source)."""


class SumTerm(Struct, frozen=True):
    """A part of a sum that is shown: what it is, how long one is, how many times it counts.

    `code` is inside, folds (half a thickness at each, two together), flap-layers, half-floor, glue-flap-layer, layers
    (of card, half a thickness on either side).
    """

    code: str
    length: Length
    times: Fraction = Fraction(1)

    @property
    def mm(self) -> Fraction:
        return self.length.mm * self.times


class Working(Struct, frozen=True):
    """How a length that nobody wrote was worked out: the terms add up to it exactly."""

    length: LengthId
    terms: tuple[SumTerm, ...]
    total: Length
    estimated: bool


class WorkedRow(Struct, frozen=True):
    """A row of panels worked out from an inside, and the sum behind each panel (None for the same sum as another)."""

    panels: tuple[PanelFact, ...]
    sums: tuple[tuple[SumTerm, ...], ...]


def tray_rows(inside: Sequence[Length], thickness: Length, flap_side: str, place: Place) -> tuple[WorkedRow, WorkedRow]:
    """The rows across and down of a tray or lid that has `inside` (across, down, deep) free.

    `flap_side` names the row whose outer panels the corner flaps stay joined to; empty when none lie inside.
    """
    across, down, deep = inside
    wall = (SumTerm("inside", deep), SumTerm("half-floor", thickness, Fraction(1, 2)))
    height = _total(wall, deep.unit)
    rows = []
    for side, free, other in (("across", across, down), ("down", down, across)):
        # The wall they lie on is as wide as the other floor, which carries no flaps itself.
        layers = 0 if flap_side in ("", side) else flap_layers(height.mm, other.mm + thickness.mm)
        floor: tuple[SumTerm, ...] = (SumTerm("inside", free), SumTerm("folds", thickness))
        if layers:
            floor = (*floor, SumTerm("flap-layers", thickness, Fraction(2 * layers)))
        outer = PanelFact("", height, place)
        rows.append(WorkedRow((outer, PanelFact("", _total(floor, free.unit), place), outer), (wall, floor, wall)))
    return rows[0], rows[1]


def sleeve_rows(inside: Sequence[Length], thickness: Length, glue: Length | None, place: Place) -> WorkedRow:
    """The row across of a sleeve with `inside` (wide, high, long) free; its length down is the third as it is.

    The glue flap lies inside, under the first panel, and takes a thickness of the height.
    """
    wide, high, _ = inside
    top = (SumTerm("inside", wide), SumTerm("folds", thickness))
    wall = (SumTerm("inside", high), SumTerm("folds", thickness), SumTerm("glue-flap-layer", thickness))
    flap = glue or _GLUE_FLAP[wide.unit.system]
    sums = (top, wall, top, wall, (SumTerm("inside", flap),))
    names = ("top", "left side", "bottom", "right side", "glue flap")
    lengths = [_total(terms, wide.unit) for terms in sums[:4]] + [flap]
    panels = tuple(PanelFact(name, length, place) for name, length in zip(names, lengths, strict=True))
    return WorkedRow(panels, (*sums[:4], ()))


def flap_layers(flap: Fraction, wall: Fraction) -> int:
    """How many flaps lie on one another on a wall of this width: two when they reach past its middle."""
    return 2 if 2 * flap > wall else 1


def _total(terms: Sequence[SumTerm], unit: Unit) -> Length:
    return Length(sum((term.mm for term in terms), Fraction(0)), unit)


def named(row: WorkedRow, names: Sequence[str]) -> tuple[PanelFact, ...]:
    """Its panels, called so."""
    return tuple(replace(panel, name=name) for panel, name in zip(row.panels, names, strict=True))


def workings_of(piece: str, side: str, row: WorkedRow, estimated: bool) -> list[Working]:
    """The sum behind each panel, each different sum once."""
    found: list[Working] = []
    for number, (panel, terms) in enumerate(zip(row.panels, row.sums, strict=True), 1):
        if terms and panel.length is not None and all(terms != known.terms for known in found):
            found.append(Working(LengthId(piece, side, "panel", number), terms, panel.length, estimated))
    return found


def room_asked_for(blank: Blank, workings: Sequence[Working]) -> Iterator[AtLeast]:
    """Nothing that was worked out from an inside is cut smaller than the inside asks for, a sleeve no shorter."""
    for working in workings:
        yield AtLeast(working.length, working.total.mm)
    if blank.form in SLEEVES:
        yield AtLeast(LengthId(blank.piece, "down", "size"), blank.height)


class InsideSize(Struct, frozen=True):
    """What a folded form measures in one direction, exactly, in millimetres, by the rule of this module."""

    side: str
    score_to_score: LengthId
    inside: Fraction
    outside: Fraction


def rooms(blank: Blank, thickness: Fraction) -> tuple[InsideSize, ...]:
    """The room of a tray or lid across, down and deep, of a sleeve wide and high, of a form that is worked out by its
    own sizes (of a hexagon from flat to flat, and deep: no room for a box, but what another hexagon goes over)."""
    if blank.form in TRAYS and blank.boxed:
        return (*(_floor_room(blank, side, thickness) for side in ("across", "down")), _depth(blank, thickness))
    if blank.form in SLEEVES and len(blank.across) >= 4:
        walls = [(wall.length, wall.long) for wall in blank.across[:2]]
        return _by_layers(walls, (("wide", 1), ("high", 2 if len(blank.across) > 4 else 1)), thickness)
    made = {length.place: (length, size) for length, size in blank.made}
    beyond = dict(blank.beyond)
    found = _by_layers([made[side] for side, _ in blank.layers], _named_rooms(blank.layers), thickness)
    return tuple(replace(room, outside=room.outside + beyond.get(room.side, 0)) for room in found)


def _named_rooms(layers: Sequence[tuple[str, int]]) -> list[tuple[str, int]]:
    """A thing is high, the room in it deep."""
    return [("deep" if side == "high" else side, count) for side, count in layers]


def _by_layers(
    sizes: Sequence[tuple[LengthId, Fraction]], layers: Sequence[tuple[str, int]], thickness: Fraction
) -> tuple[InsideSize, ...]:
    """Sizes from score to score. What lies on the walls lies on their inside: outside it is half a thickness more at
    either end."""
    return tuple(
        InsideSize(side, length, size - count * thickness, size + thickness)
        for (side, count), (length, size) in zip(layers, sizes, strict=True)
    )


def _floor_room(blank: Blank, side: str, thickness: Fraction) -> InsideSize:
    row, other = (blank.across, blank.down) if side == "across" else (blank.down, blank.across)
    floor = row[1].long
    flaps = Fraction(0)
    if blank.flap_side not in ("", side):
        flaps = 2 * thickness * flap_layers(row[0].long - blank.flap_trimmed, other[1].long)
    inside, outside = (Fraction(0), flaps) if blank.flaps_outside else (flaps, Fraction(0))
    return InsideSize(side, row[1].length, floor - thickness - inside, floor + thickness + outside)


def _depth(blank: Blank, thickness: Fraction) -> InsideSize:
    walls = (blank.across[0], blank.across[-1], blank.down[0], blank.down[-1])
    height, lowest = min((wall.long, number) for number, wall in enumerate(walls))
    return InsideSize("deep", walls[lowest].length, height - thickness / 2, height + thickness / 2)
