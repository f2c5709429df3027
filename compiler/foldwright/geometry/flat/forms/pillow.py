"""The pillow box: two panels that curve, closed by curved flaps.

Folded, each panel is a cylinder whose rulings run along the box, and each end flap is the mirror image, in the plane
of its crease, of the paper that would go on there: so no paper is stretched, and a crease that is an arc of a circle
in the flat lies in a plane. Say the arc rises by f(s) above its chord at s across the panel, and the paper stands z(s)
over the middle of the box. In a plane that leans by 45 degrees f(s) = z(s), and the mirror turns rulings that run along
the box upright: the flap, 2 f(s) long there, goes from one panel straight to the other. So an arc that rises by half
the thickness gives that thickness in the middle, and the two flaps of an end lie on each other.

Across, the panel has the slope dz/dx = f' / (1 - f'^2)^(1/2), as s is measured along the paper. At its sides the arc
may be no steeper than 45 degrees: an arc that meets its chord at 45 degrees rises by (root 2 - 1) / 2 of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from math import acos, asin, degrees, radians, tan

from msgspec.structs import replace

from foldwright.geometry.flat.blank import GLUE_FLAP, Bend, Blank, BlankFace, Drawn, ExactPoint
from foldwright.geometry.flat.forms.making import GLUE, ROOT_2, Asked, arc, blank_of
from foldwright.measure.length import Length

_FULL = Fraction(9, 10)
"""How thick a pillow box that is given too thick is drawn, as a part of what it may be."""
_EVERY = 2
"""A facet for every second short line of an arc: twelve of them look round."""
_LEANS = (0.0, 0.0, tan(radians(15.0)), tan(radians(30.0)), 1.0, 1.0, 1.0, 1.0)
"""Moments on the way, by how thick the box is as a part of what it will be: flat, folded flat at its sides, bulged more
and more with its flaps still out, then with those of the back pushed in, looked at once more, and those of the front.
"""
_IN = {False: 7, True: 5}
"""The first moment at which the flaps of the front are in, and of the back."""


def thickest_of(wide: Fraction, long: Fraction) -> Fraction:
    """From here on it cannot be: arcs as steep as 45 degrees, or arcs at both ends that take half of its length."""
    return min((ROOT_2 - 1) * wide, long / 2)


def pillow_box(asked: Asked) -> Blank | None:
    """Two panels and a glue flap, each end closed by curved flaps as high in the middle as the pillow is thick."""
    wide, long, thick = asked.sizes
    thickest = thickest_of(wide, long)
    if thick >= thickest:
        most = Length(thickest, asked.unit)
        asked.ledger.misfit(
            "pillow-too-thick", (asked.piece.finished or asked.piece.name).place, piece=asked.name, most=most
        )
        # Drawn as thick as it can be, and as doubtful: its arcs would run through one another.
        thick = thickest * _FULL
    shape = _PillowPlan(wide, long, thick / 2, GLUE[asked.system])
    across, down = 2 * wide + shape.glue, shape.foot + shape.rise
    ids = asked.made[0][0], asked.made[1][0]
    panels = (
        BlankFace(Fraction(0), wide, shape.top, shape.foot, *ids, "front"),
        BlankFace(wide, 2 * wide, shape.top, shape.foot, *ids, "back"),
        BlankFace(2 * wide, across, shape.top, shape.foot, *ids, GLUE_FLAP),
    )
    outline = tuple(shape.outline())
    blank = blank_of(asked, (across, down), outline, tuple(shape.lines()), panels, outline[-1:])
    if thick != asked.sizes[2]:
        return replace(blank, doubtful=frozenset({"across", "down"}))
    return replace(blank, bends=tuple(shape.bends()))


class _PillowPlan:
    """Where everything lies on the blank, and how it is bent; millimetres."""

    def __init__(self, wide: Fraction, long: Fraction, rise: Fraction, glue: Fraction) -> None:
        self.wide, self.rise = wide, rise
        self.top, self.foot = rise, rise + long
        # From the corner of a panel along its arc: how far across, and how far the arc has risen by then.
        # One half mirrors the other to the last digit, however its places are rounded: the two flaps of an end lie on
        # each other the other way round, facet on facet.
        places = [(x, -y) for x, y in arc((Fraction(0),) * 2, (wide / 2, -rise), (wide, Fraction(0)))]
        half = places[: len(places) // 2]
        self.arc = [*half, (wide / 2, rise), *((wide - x, y) for x, y in reversed(half))]
        self.glue = min(glue, wide / 4)
        self.stops = self.arc[::_EVERY]
        self.slopes = [float((high - low) / (after - before)) for (before, low), (after, high) in pairwise(self.stops)]
        """Of each facet: how much its arc rises for each millimetre of paper, which is the sine of how it leans."""

    def outline(self) -> Iterator[ExactPoint]:
        """Clockwise from the left end of the first arc. The glue flap keeps clear of the arc it comes to lie behind."""
        wide, end = self.wide, 2 * self.wide + self.glue
        (x, y) = self.arc[1]
        taper = self.glue * y / x
        for left in (Fraction(0), wide):
            yield from ((left + x, self.top - y) for x, y in self.arc[:-1])
        yield 2 * wide, self.top
        yield end, self.top + taper
        yield end, self.foot - taper
        yield 2 * wide, self.foot
        for left in (wide, Fraction(0)):
            yield from ((left + x, self.foot + y) for x, y in self.arc[-2::-1])

    def lines(self) -> Iterator[Drawn]:
        """What is scored: the two sides, and the four arcs."""
        wide, middle = self.wide, self.wide / 2
        for x in (wide, 2 * wide):
            yield Drawn("score", ((x, self.top), (x, self.foot)))
        for left in (Fraction(0), wide):
            for edge, way in ((self.top, self.rise), (self.foot, -self.rise)):
                points = ((left, edge), (left + middle, edge + way), (left + wide, edge))
                yield Drawn("score", points, arc=True)

    def bends(self) -> Iterator[Bend]:
        """Everything it turns along, from flat to finished: first its sides, till it lies flat; then the ends go in."""
        wide = self.wide
        for x in (wide, 2 * wide):
            way = [0.0, *(-180.0 + 2 * self._lean(0, part) for part in _LEANS[1:])]
            yield _bend((x, self.top), (x, self.foot), way, scored=True)
        for back in (False, True):
            yield from self._rulings(back)
            yield from self._creases(back)
        yield from self._glue_bends()

    def _lean(self, facet: int, part: float) -> float:
        """Degrees a facet rises, when the box is so many parts as thick as in the end."""
        return degrees(asin(self.slopes[facet] * part))

    def _turns(self, at: int) -> list[float]:
        """Degrees from one facet to the next at every moment; both look up, so a panel that is domed has mountains."""
        return [self._lean(at, part) - self._lean(at - 1, part) for part in _LEANS]

    def _rulings(self, back: bool) -> Iterator[Bend]:
        """Of a panel, and of the flaps at its ends: they go on as the panel does, and are bent the other way once they
        are pushed in, being its mirror images."""
        left = self.wide * back
        for at in range(1, len(self.stops) - 1):
            x, y = self.stops[at]
            way = self._turns(at)
            flap = [-angle if moment >= _IN[back] else angle for moment, angle in enumerate(way)]
            top, foot = self.top + y, self.foot - y
            yield _bend((left + x, top), (left + x, foot), way)
            yield _bend((left + x, self.top - y), (left + x, top), flap)
            yield _bend((left + x, foot), (left + x, self.foot + y), flap)

    def _creases(self, back: bool) -> Iterator[Bend]:
        """The arcs from stop to stop, folded away from who makes it."""
        left = self.wide * back
        for facet, ((x1, y1), (x2, y2)) in enumerate(pairwise(self.stops)):
            # Between a facet, which looks in the direction (-sin, 0, cos) of its lean, and its mirror image in the
            # plane with the normal (0, 1, -1), turned over.
            folded = -degrees(acos(-(self.slopes[facet] ** 2)))
            way = [folded if moment >= _IN[back] else 0.0 for moment in range(len(_LEANS))]
            yield _bend((left + x1, self.top + y1), (left + x2, self.top + y2), way, scored=True)
            yield _bend((left + x1, self.foot - y1), (left + x2, self.foot - y2), way, scored=True)

    def _glue_bends(self) -> Iterator[Bend]:
        """The glue flap lies behind the front, and is bent as that is."""
        for at in range(1, len(self.stops) - 1):
            x = 2 * self.wide + self.stops[at][0]
            if x < 2 * self.wide + self.glue:
                yield _bend((x, self.top), (x, self.foot), self._turns(at))


def _spread(way: Sequence[float]) -> tuple[float, ...]:
    """The moments at even parts of the way: folding the sides takes as long as pushing the ends in."""
    first, flat, *rest = way
    steps = len(rest)
    return (*(first + (flat - first) * step / steps for step in range(steps)), flat, *rest)


def _bend(start: ExactPoint, end: ExactPoint, way: Sequence[float], scored: bool = False) -> Bend:
    return Bend(start, end, way[-1], scored, _spread(way))
