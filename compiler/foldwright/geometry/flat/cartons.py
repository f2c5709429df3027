"""The gable-top carton and the pillow box, worked out from their finished size."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from foldwright.geometry.flat.blank import Drawn, ExactPoint
from foldwright.geometry.flat.points import arc_points, floats, kept
from foldwright.measure.length import System, Unit

_GLUE = {System.METRIC: Fraction(12), System.IMPERIAL: Unit.INCH.mm / 2}
"""How wide a glue flap is, and the strip along a ridge that is glued together (common practice, no source)."""
_TAPER = Fraction(1, 4)
"""A glue flap is cut narrower at its ends by this part of its width, or of its length where that is less."""
_ROOF, _RIDGE, _TUCK, _GABLE = Fraction(-45), Fraction(45), Fraction(-180), Fraction(120)
"""A roof of 45 degrees: its two sides lean in by that much, the strips along the ridge stand up again. What is left of
the gables is folded flat behind the roof; the angle between it and the leaning gable is 120 degrees: the normals of the
two planes are (0, 1, -1) and (-1, 0, 1) over root 2, and their product is -1/2."""
_SQUARE = Fraction(-90)


def gable_top(
    wide: Fraction, deep: Fraction, high: Fraction, slope: Fraction, system: System
) -> tuple[Fraction, Fraction, tuple[ExactPoint, ...], tuple[Drawn, ...]]:
    """Width, height, outline and lines of the blank; `slope` is the roof's, from the eaves to the ridge.

    Four walls and a glue flap side by side; above them the roof and the gables, below them the flaps of the floor.
    """
    glue = _GLUE[system]
    y0, y1, y2 = glue, glue + slope, glue + slope + high
    bottom = y2 + deep / 2
    x1, x2, x3, x4 = wide, wide + deep, 2 * wide + deep, 2 * (wide + deep)
    zero, taper = Fraction(0), min(glue, high) * _TAPER
    outline = (
        (zero, zero), (x1, zero), (x1, y0), (x2, y0), (x2, zero), (x3, zero), (x3, y0), (x4, y0), (x4, y1),
        (x4 + glue, y1 + taper), (x4 + glue, y2 - taper), (x4, y2), (x4, bottom), (zero, bottom),
    )  # fmt: skip
    return x4 + glue, bottom, outline, tuple(_carton_lines((zero, x1, x2, x3, x4), (y0, y1, y2, bottom)))


def _carton_lines(xs: tuple[Fraction, ...], ys: tuple[Fraction, ...]) -> Iterator[Drawn]:
    y0, y1, y2, bottom = ys
    for x in xs[1:4]:
        yield _fold((x, y1), (x, y2), _SQUARE)
        yield _fold((x, y0), (x, y1), _TUCK)
        yield Drawn("cut", ((x, y2), (x, bottom)))
    yield _fold((xs[4], y1), (xs[4], y2), _SQUARE)
    for number, (left, right) in enumerate(pairwise(xs)):
        yield _fold((left, y1), (right, y1), _ROOF)
        yield _fold((left, y2), (right, y2), _SQUARE)
        if number % 2 == 0:
            yield _fold((left, y0), (right, y0), _RIDGE)
        else:
            middle = (left + right) / 2, y0
            yield _fold((left, y1), middle, _GABLE)
            yield _fold((right, y1), middle, _GABLE)


def _fold(start: ExactPoint, end: ExactPoint, angle: Fraction) -> Drawn:
    return Drawn("score", (start, end), angle=angle)


def pillow(
    wide: Fraction, long: Fraction, thick: Fraction, system: System
) -> tuple[Fraction, Fraction, tuple[ExactPoint, ...], tuple[Drawn, ...]]:
    """Width, height, outline and lines of a pillow box: two panels and a glue flap, each end closed by curved flaps.

    The flap between the cut arc and the scored one, its mirror image, is as high in the middle as the pillow is thick:
    folded in, it stands upright there and reaches from one panel to the other.
    """
    glue = _GLUE[system]
    rise = thick / 2
    top, foot = rise, rise + long
    x1, x2 = wide, 2 * wide
    outline: list[ExactPoint] = []
    for left, right in ((Fraction(0), x1), (x1, x2)):
        outline += _arc((left, top), ((left + right) / 2, Fraction(0)), (right, top))[:-1]
    taper = min(glue, long) * _TAPER
    outline += [(x2, top), (x2 + glue, top + taper), (x2 + glue, foot - taper), (x2, foot)]
    for right, left in ((x2, x1), (x1, Fraction(0))):
        outline += _arc((right, foot), ((left + right) / 2, foot + rise), (left, foot))[1:]
    lines = [Drawn("score", ((x, top), (x, foot))) for x in (x1, x2)]
    for left, right in ((Fraction(0), x1), (x1, x2)):
        middle = (left + right) / 2
        lines.append(Drawn("score", ((left, top), (middle, top + rise), (right, top)), arc=True))
        lines.append(Drawn("score", ((left, foot), (middle, foot - rise), (right, foot)), arc=True))
    return x2 + glue, foot + rise, tuple(outline), tuple(lines)


def _arc(*ends: ExactPoint) -> list[ExactPoint]:
    """An arc through three places as short lines, its ends as they are."""
    between = arc_points(floats(ends))[1:-1]
    return [ends[0], *((kept(x), kept(y)) for x, y in between), ends[-1]]
