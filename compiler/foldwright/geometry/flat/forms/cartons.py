"""Cartons whose four walls and glue flap stand side by side: the gable-top."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, BlankFace, Drawn
from foldwright.geometry.flat.forms.making import GLUE, GLUE_AREA, ROOT_2, SQUARE, TAPER, Asked, Made, blank_of, fold

_ROOF, _RIDGE, _TUCK, _GABLE = Fraction(-45), Fraction(45), Fraction(-180), Fraction(120)
"""A roof of 45 degrees: its two sides lean in by that much, the strips along the ridge stand up again. What is left of
the gables is folded flat behind the roof; the angle between it and the leaning gable is 120 degrees: the normals of the
two planes are (0, 1, -1) and (-1, 0, 1) over root 2, and their product is -1/2."""


def gable_top(asked: Asked) -> Blank | None:
    """Four walls and a glue flap side by side; above them the roof and gables, below them the flaps of the floor."""
    wide, deep, high = asked.sizes
    if deep > wide:
        place = (asked.piece.finished or asked.piece.inside or asked.piece.name).place
        asked.ledger.misfit("gables-meet", place, piece=asked.name, wide=asked.lengths[0])
    # How long the roof is from the eaves to the ridge.
    slope, glue = deep / ROOT_2, GLUE[asked.system]
    y0, y1, y2 = glue, glue + slope, glue + slope + high
    bottom = y2 + deep / 2
    x1, x2, x3, x4 = wide, wide + deep, 2 * wide + deep, 2 * (wide + deep)
    zero, taper = Fraction(0), min(glue, high) * TAPER
    outline = (
        (zero, zero), (x1, zero), (x1, y0), (x2, y0), (x2, zero), (x3, zero), (x3, y0), (x4, y0), (x4, y1),
        (x4 + glue, y1 + taper), (x4 + glue, y2 - taper), (x4, y2), (x4, bottom), (zero, bottom),
    )  # fmt: skip
    glued = _glue((x1, x2, x3, x4), (y1, y2, bottom), glue, taper)
    lines = (*_carton_lines((zero, x1, x2, x3, x4), (y0, y1, y2, bottom)), *glued)
    walls = tuple(_walls(asked.made, y1, y2, x4 + glue))
    return blank_of(asked, (x4 + glue, bottom), outline, lines, walls)


def _carton_lines(xs: tuple[Fraction, ...], ys: tuple[Fraction, ...]) -> Iterator[Drawn]:
    y0, y1, y2, bottom = ys
    for x in xs[1:4]:
        yield fold((x, y1), (x, y2), SQUARE)
        yield fold((x, y0), (x, y1), _TUCK)
        yield Drawn("cut", ((x, y2), (x, bottom)))
    yield fold((xs[4], y1), (xs[4], y2), SQUARE)
    for number, (left, right) in enumerate(pairwise(xs)):
        yield fold((left, y1), (right, y1), _ROOF)
        yield fold((left, y2), (right, y2), SQUARE)
        if number % 2 == 0:
            yield fold((left, y0), (right, y0), _RIDGE)
        else:
            middle = (left + right) / 2, y0
            yield fold((left, y1), middle, _GABLE)
            yield fold((right, y1), middle, _GABLE)


def _glue(
    xs: tuple[Fraction, ...], ys: tuple[Fraction, Fraction, Fraction], glue: Fraction, taper: Fraction
) -> Iterator[Drawn]:
    """On the glue flap, and on the two flaps of the floor that are folded in first. (The strips along the ridge are
    glued on their plain side.)"""
    (x1, x2, x3, x4), (eaves, floor, bottom) = xs, ys
    flap = (x4, x4 + glue, eaves + taper, floor - taper)
    for left, right, top, foot in ((x1, x2, floor, bottom), (x3, x4, floor, bottom), flap):
        low, high, upper, lower = left + glue / 8, right - glue / 8, top + glue / 8, foot - glue / 8
        yield Drawn(GLUE_AREA, ((low, upper), (high, upper), (high, lower), (low, lower)))


def _walls(made: Made, top: Fraction, foot: Fraction, end: Fraction) -> Iterator[BlankFace]:
    """The wall at the front is the third of the four: the others go round it to both sides."""
    (across, wide), (deep, long), (high, _) = made
    yield BlankFace(wide + long, 2 * wide + long, top, foot, across, high, "front")
    yield BlankFace(Fraction(0), wide, top, foot, across, high, "back")
    yield BlankFace(wide, wide + long, top, foot, deep, high, "left")
    yield BlankFace(2 * wide + long, 2 * (wide + long), top, foot, deep, high, "right")
    yield BlankFace(2 * (wide + long), end, top, foot, across, high, GLUE_FLAP)
