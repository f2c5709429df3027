"""The envelope folded from a square that stands on its corner."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from foldwright.geometry.flat.blank import Blank, Drawn, ExactPoint
from foldwright.geometry.flat.forms.making import FLAT, GLUE_AREA, ROOT_2, Asked, blank_of, round_ring
from foldwright.measure.length import Length, System, Unit

_OVERLAP = {System.METRIC: Fraction(12), System.IMPERIAL: Unit.INCH.mm / 2}
"""How far the flaps of an envelope lie on each other at its middle when nobody says (common practice, no source)."""
_NOTCH = {System.METRIC: Fraction(5), System.IMPERIAL: Unit.INCH.mm / 4}
"""How much longer the side of the square is than corners that just touch it ask for, so that a notch is left."""
_BAND, _ALONG = Fraction(3, 5), Fraction(2, 5)
"""How wide and how long the band of glue is beside the most it can be (common practice, no source)."""
_ROUNDED = {System.METRIC: Fraction(5), System.IMPERIAL: Unit.INCH.mm / 8}
"""The square is taken up to whole steps of this: 5 mm, 1/8 in."""


def envelope(asked: Asked) -> Blank | None:
    """A square stood on its corner: its corners are the flaps, the rectangle in the middle is the body.

    Two folds run `a` over root 2 from one corner along either edge, two `b` over root 2 from the other. Between them,
    on every edge, a small triangle is cut out.
    """
    piece, unit = asked.piece, asked.unit
    wide, high = asked.sizes
    side = piece.size.value.lengths[0].mm if piece.size else _square_for(wide, high, unit.system)
    if piece.size and piece.size.value.lengths[-1].mm != side:
        return None
    one, other = wide / ROOT_2, high / ROOT_2
    if one + other > side:
        least = Length(_up(one + other, unit.system), unit)
        place = (piece.size or piece.finished or piece.name).place
        asked.ledger.misfit("envelope-too-small", place, piece=asked.name, least=least)
        return None
    folds = (*round_ring(_corners(side, one, other), FLAT), *_glue(side, one, other))
    outline = _square_without_triangles(side, one, other)
    return blank_of(asked, (side, side), outline, folds, written=piece.size is not None)


def _square_without_triangles(side: Fraction, one: Fraction, other: Fraction) -> tuple[ExactPoint, ...]:
    """The outline of an envelope's blank, clockwise from its top left corner."""
    corners = _corners(side, one, other)
    zero = Fraction(0)
    return (
        *((zero, zero), (other, zero), corners[0], (side - one, zero)),
        *((side, zero), (side, one), corners[1], (side, side - other)),
        *((side, side), (side - other, side), corners[2], (one, side)),
        *((zero, side), (zero, side - one), corners[3], (zero, other)),
    )


def _glue(side: Fraction, one: Fraction, other: Fraction) -> Iterator[Drawn]:
    """Where the flap between the two at the sides is stuck to them: folded in, the three lie on each other in a band
    along the diagonal from either lower corner of the body, as wide to both sides of it as the notches are deep."""
    corners, notch = _corners(side, one, other), (side - one - other) / 2
    if notch <= 0:
        return
    half, start, end = notch * _BAND, notch / 4, min(one, other) * _ALONG
    band = ((start + half, start), (end + half, end), (end, end + half), (start, start + half))
    # So far out from the fold of a side flap, and so far along it, both at 45 degrees on the blank.
    for (x, y), way in ((corners[2], 1), (corners[3], -1)):
        yield Drawn(GLUE_AREA, tuple((x + way * out + along, y + way * out - along) for out, along in band))


def _corners(side: Fraction, one: Fraction, other: Fraction) -> tuple[ExactPoint, ...]:
    """The corners of the body, from the one near the top edge clockwise: where the folds cross."""
    middle = side / 2
    # Half the body's diagonals lie along the square's own sides: a corner is (a + b) and (a - b) over 2 root 2 off.
    plus, less = (one + other) / 2, (one - other) / 2
    return (
        (middle - less, middle - plus),
        (middle + plus, middle + less),
        (middle + less, middle + plus),
        (middle - plus, middle - less),
    )


def _square_for(wide: Fraction, high: Fraction, system: System) -> Fraction:
    """The side of a square whose corners reach past each other at the middle and that leaves a notch at every edge."""
    touching = (wide + high) / ROOT_2 + _NOTCH[system]
    meeting = (2 * min(wide, high) + _OVERLAP[system]) / ROOT_2
    return _up(max(touching, meeting), system)


def _up(length: Fraction, system: System) -> Fraction:
    step = _ROUNDED[system]
    return -(-length // step) * step
