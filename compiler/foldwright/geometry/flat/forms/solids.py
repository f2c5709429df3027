"""The pyramid, whose four walls lean together."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import chain
from math import atan2, degrees

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, BlankFace, ExactPoint, Opening
from foldwright.geometry.flat.forms.making import STEP, Asked, blank_of, root, round_ring
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import Length, System, Unit

_HOLE = {System.METRIC: Fraction(3), System.IMPERIAL: Unit.INCH.mm / 8}
_RIM = {System.METRIC: Fraction(2), System.IMPERIAL: Unit.INCH.mm / 16}
_FROM_TIP = {System.METRIC: Fraction(8), System.IMPERIAL: Unit.INCH.mm * 3 / 8}
"""How wide the holes at the tips of a pyramid are, how much card is left beside them, and how far from the tips they
are at least (common practice, no source)."""


def pyramid(asked: Asked) -> Blank | None:
    """A rectangle with a triangle on every side, as high as the walls slant; the four tips meet over its middle."""
    wide, long, high = asked.sizes
    beside, before = root(high * high + wide * wide / 4), root(high * high + long * long / 4)
    x1, x2, y1, y2 = beside, beside + wide, before, before + long
    size = wide + 2 * beside, long + 2 * before
    base = ((x1, y1), (x2, y1), (x2, y2), (x1, y2))
    tips = ((size[0] / 2, Fraction(0)), (size[0], size[1] / 2), (size[0] / 2, size[1]), (Fraction(0), size[1] / 2))
    outline = tuple(chain.from_iterable(zip(base, tips, strict=True)))
    # A wall stands at the angle whose tangent is the height over half the base, and is bent by the rest of 180 degrees.
    bends = (_bend(high, long / 2), _bend(high, wide / 2))
    foot = BlankFace(x1, x2, y1, y2, asked.made[0][0], asked.made[1][0], "floor")
    blank = blank_of(asked, size, outline, round_ring(base, *bends), (foot,))
    own_holes = bool(asked.piece.holes) or "no holes" in asked.remarks
    return blank if own_holes else replace(blank, openings=_tie_holes(asked, tips, (beside, before)))


def _tie_holes(asked: Asked, tips: Sequence[ExactPoint], slants: tuple[Fraction, Fraction]) -> tuple[Opening, ...]:
    """A hole near every tip, as far from it on all four, so that one thread goes through them; none where there is no
    room. `slants` are how long the walls beside and before the base are."""
    hole, (left_right, front_back) = _HOLE[asked.system], slants
    wide, long, _ = asked.sizes
    needed = hole / 2 + _RIM[asked.system]
    # How far from the axis of a wall its edge is, for each millimetre from the tip.
    sines = (long / 2 / root(left_right**2 + long**2 / 4), wide / 2 / root(front_back**2 + wide**2 / 4))
    step = STEP[asked.system]
    off = max(_FROM_TIP[asked.system], *(-(-needed / sine // step) * step for sine in sines))
    if off > min(slants) / 2:
        return ()
    names = [LengthId(asked.name, "tie hole", place) for place in ("wide", "tip")]
    asked.ledger.lengths.update(zip(names, (Length(hole, asked.unit), Length(off, asked.unit)), strict=True))
    (x, y), (x2, y2) = (tips[0][0], tips[3][1]), (tips[1][0], tips[2][1])
    middles = ((x, off), (x2 - off, y), (x, y2 - off), (off, y))
    return tuple(Opening("round", a - hole / 2, b - hole / 2, hole, hole, (names[0],)) for a, b in middles)


def _bend(high: Fraction, half: Fraction) -> Fraction:
    return Fraction(degrees(atan2(float(high), float(half)))) - 180
