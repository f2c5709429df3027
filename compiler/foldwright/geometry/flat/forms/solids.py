"""Solids with a flat foot: the pyramid and the hexagonal box."""

from __future__ import annotations

from fractions import Fraction
from itertools import chain, pairwise
from math import atan2, degrees

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, BlankFace, ExactPoint
from foldwright.geometry.flat.forms.making import ROOT_3, SQUARE, Asked, blank_of, root, round_ring


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


def hexagonal_box(asked: Asked) -> Blank | None:
    """A regular hexagon with a wall on every side; its finished size is from flat to flat, and how high it is."""
    flat, high = asked.sizes
    side = flat / ROOT_3
    # A side lies level at the top and the bottom; the slanting walls reach farthest left and right.
    wide, tall = 2 * side + 2 * high * ROOT_3 / 2, flat + 2 * high
    x, y = wide / 2, tall / 2
    half, reach = side / 2, high * ROOT_3 / 2
    ring = [(x - half, y - flat / 2), (x + half, y - flat / 2), (x + side, y)]
    outward = [(Fraction(0), -high), (reach, -high / 2), (reach, high / 2)]
    # The other three corners and sides lie opposite.
    ring += [(wide - left, tall - top) for left, top in ring]
    outward += [(-left, -top) for left, top in outward]
    outline: list[ExactPoint] = []
    for (start, end), (off_x, off_y) in zip(pairwise((*ring, ring[0])), outward, strict=True):
        outline += [start, (start[0] + off_x, start[1] + off_y), (end[0] + off_x, end[1] + off_y)]
    across, upright = asked.made
    floor = BlankFace(x - flat / 2, x + flat / 2, y - flat / 2, y + flat / 2, across[0], across[0], "floor")
    blank = blank_of(asked, (wide, tall), tuple(outline), round_ring(ring, SQUARE), (floor,))
    return replace(blank, made=(across, across, upright))
