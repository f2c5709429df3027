"""The hinged box: a tray whose back wall goes on as a lid that shuts over the other three.

Where the layers of card lie (every fold in the middle of the card, half a thickness on either side of it):

- across: only the two side walls, half of each: one.
- deep: front and back take one; the flaps of the side walls are stuck to the inside of both: three.
- high: half the floor and half the lid: one.

The lid goes over the tray: beside either side wall there is a thickness and a step of a ruler to spare, before the
front, where the lid's own flaps lie between, a thickness more. The front and the side walls end a step under the lid.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, BlankFace, Drawn, ExactPoint
from foldwright.geometry.flat.forms.making import GLUE, GLUE_AREA, SQUARE, STEP, TAPER, Asked, blank_of, fold
from foldwright.geometry.lengths import Clearance, LengthId
from foldwright.measure.length import Length, System, Unit

_SKIRT = {System.METRIC: Fraction(20), System.IMPERIAL: Unit.INCH.mm * 3 / 4}
"""How high the walls of the lid are at most, and half as high as the box at most (common practice, no source)."""
_WHOLE = {System.METRIC: Fraction(1), System.IMPERIAL: Unit.INCH.mm / 16}
_LEAST = 12
"""So many clear edges high, deep and wide is the smallest box that leaves room for its flaps."""
_HALF, _ZERO, _INSET = Fraction(1, 2), Fraction(0), Fraction(1, 8)


class _Hinged(Struct, frozen=True):
    """Its places: `ys` from the lid's lower edge (the top of the blank) to the front's, `x` and `x_lid` the left and
    right sides of tray and lid; how high the walls of tray and lid are, how wide their flaps, how far edges keep clear.
    """

    ys: tuple[Fraction, ...]
    x: tuple[Fraction, Fraction]
    x_lid: tuple[Fraction, Fraction]
    wall: Fraction
    skirt: Fraction
    flap: Fraction
    ease: Fraction


def hinged_box(asked: Asked) -> Blank | None:
    """From top to bottom: the lid's front, the lid, back, floor, front; side walls with glue flaps beside lid and
    floor."""
    asked = asked.on_ruler()
    wide, deep, high = asked.sizes
    ease, step = asked.easing(1), STEP[asked.system]
    if min(wide, deep, high) < _LEAST * ease:
        place = (asked.piece.finished or asked.piece.inside or asked.piece.name).place
        asked.ledger.misfit("hinged-box-too-small", place, piece=asked.name)
        return None
    beside, before = ease + step, asked.easing(2) + step
    whole = _WHOLE[asked.system]
    skirt = min(_SKIRT[asked.system], high * _HALF) // whole * whole
    wall, left = high - ease, max(high - ease, beside + skirt)
    ys = [_ZERO]
    for long in (skirt, deep + before, high, deep, wall):
        ys.append(ys[-1] + long)
    at = _Hinged(
        tuple(ys),
        (left, left + wide),
        (left - beside, left + wide + beside),
        wall,
        skirt,
        min(GLUE[asked.system], high * _HALF, wide * _HALF - ease),
        ease,
    )
    right = list(_right_edge(at))
    middle = left + wide * _HALF
    outline = (*right, *((2 * middle - x, y) for x, y in reversed(right)))
    places = [(x, y) for x in (*at.x, *at.x_lid) for y in at.ys[1:-1]]
    blank = blank_of(
        asked,
        (2 * middle, ys[-1]),
        outline,
        tuple(_folds(at)),
        tuple(_faces(asked, at)),
        labels=tuple(_flaps(at)),
        set_out=places,
    )
    return replace(blank, beyond=(("across", 2 * beside), ("down", before)))


def _right_edge(at: _Hinged) -> Iterator[ExactPoint]:
    """The right half of the outline, from the top to the bottom."""
    _, y1, y2, y3, y4, y5 = at.ys
    lid, tray = at.x_lid[1], at.x[1]
    lid_flap, taper = min(at.flap, at.skirt), at.flap * TAPER
    yield from ((lid, _ZERO), (lid, y1))
    yield from ((lid + taper, y1 - lid_flap), (lid + at.skirt - taper, y1 - lid_flap), (lid + at.skirt, y1))
    yield from ((lid + at.skirt, y2 - at.ease), (lid, y2 - at.ease), (lid, y2), (tray, y2), (tray, y3))
    out = tray + at.wall
    yield from ((tray + taper, y3 - at.flap), (out - taper, y3 - at.flap), (out, y3))
    yield from ((out, y4), (out - taper, y4 + at.flap), (tray + taper, y4 + at.flap), (tray, y4), (tray, y5))


def _folds(at: _Hinged) -> Iterator[Drawn]:
    _, y1, y2, y3, y4, _ = at.ys
    yield fold((at.x_lid[0], y1), (at.x_lid[1], y1), SQUARE)
    for y in (y2, y3, y4):
        yield fold((at.x[0], y), (at.x[1], y), SQUARE)
    for lid, tray, out in zip(at.x_lid, at.x, (-1, 1), strict=True):
        yield fold((lid, y1), (lid, y2 - at.ease), SQUARE)
        yield fold((tray, y3), (tray, y4), SQUARE)
        yield fold((lid, y1), (lid + out * at.skirt, y1), SQUARE)
        for y in (y3, y4):
            yield fold((tray, y), (tray + out * at.wall, y), SQUARE)
    taper = at.flap * TAPER
    for (x, y), wide, long in _flap_boxes(at):
        clear = long * _INSET
        low, high = sorted((y, y + long))
        inner, end = x - wide / 2 + taper, x + wide / 2 - taper
        edges = low + abs(clear), high - abs(clear)
        yield Drawn(GLUE_AREA, ((inner, edges[0]), (end, edges[0]), (end, edges[1]), (inner, edges[1])))


def _flap_boxes(at: _Hinged) -> Iterator[tuple[ExactPoint, Fraction, Fraction]]:
    """Of each glue flap the middle of its hinge, how long that is, and how far it goes: up where below nothing."""
    _, y1, _, y3, y4, _ = at.ys
    for lid, tray, out in zip(at.x_lid, at.x, (-1, 1), strict=True):
        yield (lid + out * at.skirt / 2, y1), at.skirt, -min(at.flap, at.skirt)
        yield (tray + out * at.wall / 2, y3), at.wall, -at.flap
        yield (tray + out * at.wall / 2, y4), at.wall, at.flap


def _flaps(at: _Hinged) -> Iterator[tuple[str, ExactPoint]]:
    for (x, y), _, long in _flap_boxes(at):
        yield GLUE_FLAP, (x, y + long / 2)


def _faces(asked: Asked, at: _Hinged) -> Iterator[BlankFace]:
    """The floor, which lies still, first."""
    (across, _), (deep, _), (high, _) = asked.made
    y0, y1, y2, y3, y4, y5 = at.ys
    (left, right), (lid_left, lid_right) = at.x, at.x_lid
    own = {
        place: LengthId(asked.name, "made", place)
        for place in ("wall", "lid across", "lid down", "lid high", "lid side")
    }
    sizes = (at.wall, lid_right - lid_left, y2 - y1, at.skirt, y2 - at.ease - y1)
    asked.ledger.lengths.update(
        (name, Length(size, asked.unit)) for name, size in zip(own.values(), sizes, strict=True)
    )
    asked.ledger.relations += (Clearance(own["lid across"], across), Clearance(own["lid down"], deep))
    yield BlankFace(left, right, y3, y4, across, deep, "floor")
    yield BlankFace(left, right, y4, y5, across, own["wall"], "front")
    yield BlankFace(left, right, y2, y3, across, high, "back")
    yield BlankFace(left - at.wall, left, y3, y4, own["wall"], deep, "left")
    yield BlankFace(right, right + at.wall, y3, y4, own["wall"], deep, "right")
    yield BlankFace(lid_left, lid_right, y1, y2, own["lid across"], own["lid down"], "lid")
    yield BlankFace(lid_left, lid_right, y0, y1, own["lid across"], own["lid high"], "lid front")
    for start, name in ((lid_left - at.skirt, "lid left"), (lid_right, "lid right")):
        yield BlankFace(start, start + at.skirt, y1, y2 - at.ease, own["lid high"], own["lid side"], name)
