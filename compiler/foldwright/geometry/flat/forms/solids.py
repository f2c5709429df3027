"""The pyramid, whose four walls lean together."""

from __future__ import annotations

from fractions import Fraction
from itertools import chain
from math import atan2, degrees

from foldwright.geometry.flat.blank import Blank, BlankFace
from foldwright.geometry.flat.forms.making import Asked, blank_of, root, round_ring


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
    return blank_of(asked, size, outline, round_ring(base, *bends), (foot,))


def _bend(high: Fraction, half: Fraction) -> Fraction:
    return Fraction(degrees(atan2(float(high), float(half)))) - 180
