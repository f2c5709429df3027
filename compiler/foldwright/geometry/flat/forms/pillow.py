"""The pillow box: two panels that curve, closed by curved flaps.

Folded, each panel is a cylinder whose rulings run along the box, and each end flap is the mirror image, in the plane of
its crease, of the paper that would go on there: so no paper is stretched, and a crease that is an arc of a circle in the
flat lies in a plane. Say the arc rises by f(s) above its chord at s across the panel, and the paper stands z(s) over the
middle of the box. In a plane that leans by 45 degrees f(s) = z(s), and the mirror turns rulings that run along the box
upright: the flap, 2 f(s) long there, goes from one panel straight to the other. So an arc that rises by half the
thickness gives that thickness in the middle, and the two flaps of an end lie on each other.

Across, the panel has the slope dz/dx = f' / (1 - f'^2)^(1/2), as s is measured along the paper. At its sides the arc may
be no steeper than 45 degrees: an arc that meets its chord at 45 degrees rises by (root 2 - 1) / 2 of it.
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
_PUSHED = 4
"""Moments at which the ends are looked at while they are pushed in, after the sides have been folded flat."""


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
    shape = _Shape(wide, long, thick / 2, GLUE[asked.system])
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


class _Shape:
    """Where everything lies on the blank, and how it is bent; millimetres."""

    def __init__(self, wide: Fraction, long: Fraction, rise: Fraction, glue: Fraction) -> None:
        self.wide, self.rise = wide, rise
        self.top, self.foot = rise, rise + long
        # From the corner of a panel along its arc: how far across, and how far the arc has risen by then.
        self.arc = [(x, -y) for x, y in arc((Fraction(0),) * 2, (wide / 2, -rise), (wide, Fraction(0)))]
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
        """Everything it turns along, from flat to finished: first its sides, till it lies flat; then the ends go in.

        While they do, the plane of an arc leans ever less from upright: at the angle a from level, f(s) = z(s) / tan a,
        and the mirror turns the flap in the middle by 2 a.
        """
        leans = [0.0, 0.0, *(tan(radians(45.0 * step / _PUSHED)) for step in range(1, _PUSHED + 1))]
        wide = self.wide
        for x in (wide, 2 * wide):
            way = [0.0] + [-180.0 + 2 * self._lean(0, part) for part in leans[1:]]
            yield _bend((x, self.top), (x, self.foot), _spread(way), scored=True)
        for left in (Fraction(0), wide):
            yield from self._rulings(left, leans)
            yield from self._creases(left, leans)
        yield from self._glue_bends(leans)

    def _lean(self, facet: int, part: float) -> float:
        """Degrees a facet rises, when the box is so many parts as thick as in the end."""
        return degrees(asin(self.slopes[facet] * part))

    def _turn(self, at: int, part: float) -> float:
        """Degrees from one facet to the next; both look up, so a panel that is domed has mountains."""
        return self._lean(at, part) - self._lean(at - 1, part)

    def _rulings(self, left: Fraction, leans: Sequence[float]) -> Iterator[Bend]:
        """Of a panel, and of the flaps at its ends, which are its mirror images and so bent the other way."""
        for at in range(1, len(self.stops) - 1):
            x, y = self.stops[at]
            way = _spread([self._turn(at, part) for part in leans])
            back = tuple(-angle for angle in way)
            top, foot = self.top + y, self.foot - y
            yield _bend((left + x, top), (left + x, foot), way)
            yield _bend((left + x, self.top - y), (left + x, top), back)
            yield _bend((left + x, foot), (left + x, self.foot + y), back)

    def _creases(self, left: Fraction, leans: Sequence[float]) -> Iterator[Bend]:
        """The arcs from stop to stop, folded away from who makes it."""
        for facet, ((x1, y1), (x2, y2)) in enumerate(pairwise(self.stops)):
            way = _spread([-self._folded(facet, part) for part in leans])
            yield _bend((left + x1, self.top + y1), (left + x2, self.top + y2), way, scored=True)
            yield _bend((left + x1, self.foot - y1), (left + x2, self.foot - y2), way, scored=True)

    def _folded(self, facet: int, part: float) -> float:
        """The angle between a facet and its mirror image in a plane with the normal (0, 1, -1 / tan a), see `bends`.

        The facet looks in the direction (-sin, 0, cos) of its lean; the image, turned over, in that less twice the part
        of it along the normal, the other way round.
        """
        lean = self.slopes[facet] * part
        return degrees(acos(min(1.0, 2 * (1.0 - lean * lean) / (1.0 + part * part) - 1.0)))

    def _glue_bends(self, leans: Sequence[float]) -> Iterator[Bend]:
        """The glue flap lies behind the front, and is bent as that is."""
        for at in range(1, len(self.stops) - 1):
            x, _ = self.stops[at]
            if x < self.glue:
                way = _spread([self._turn(at, part) for part in leans])
                yield _bend((2 * self.wide + x, self.top), (2 * self.wide + x, self.foot), way)


def _spread(way: Sequence[float]) -> tuple[float, ...]:
    """The moments at even parts of the way: folding the sides takes as long as pushing the ends in."""
    first, flat, *rest = way
    steps = len(rest)
    return (*(first + (flat - first) * step / steps for step in range(steps)), flat, *rest)


def _bend(start: ExactPoint, end: ExactPoint, way: Sequence[float], scored: bool = False) -> Bend:
    return Bend(start, end, way[-1], scored, tuple(way))
