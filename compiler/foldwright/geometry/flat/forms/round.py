"""Forms of paper that is rolled: the tube, and the cone with its point or without.

Both are developable: rolled up they keep every length along the paper. The circumference is that of the middle of the
card. A cone is a sector of a circle whose radius is its slant; its angle is 360 degrees times the radius of the foot
over the slant (any textbook of solid geometry). What is folded, checked and drawn has facets in place of the curve.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from math import asin, atan2, ceil, cos, degrees, hypot, pi, sin, tan

from msgspec.structs import replace

from foldwright.geometry.flat.blank import GLUE_FLAP, Bend, Blank, BlankFace, Drawn, ExactPoint, Sector, Stance
from foldwright.geometry.flat.forms.making import GLUE, TAPER, Asked, blank_of
from foldwright.geometry.flat.points import floats, kept
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import Length

ROLLED = frozenset({"tube", "cone"})
"""Forms with no fold at all."""
FACETS = 24
"""So many go round: a rim drawn with them looks like a circle."""
_FINE = 10**9
"""Places on a circle are kept to a millionth of a thousandth of a millimetre."""
_STEP = 2.5
"""Degrees of an arc in one short line: 0.04 mm off a circle of 160 mm."""
_LEAST_OF = 4
"""A glue flap is at most this part of what it is glued to."""
_CLEAR = 0.9
"""As a part of what is left of a whole circle: what the glue flap of a cone may take of it."""
_UPRIGHT = 1.5
"""Radians: hardly less than a right angle."""
_FLATTEST = 0.45
"""Radians from the edge of a cone: what of a glue flap lies beyond that is too near the point to be bent."""


def facet_bend(apart: float) -> float:
    """Degrees from one facet to the next, where so many go once round and rulings are `apart` radians.

    On a sphere round the point of the cone the rulings mark a regular polygon with sides as long as that: half its
    inner angle has the sine cos(pi / n) / cos(side / 2) (Napier's rules). Rulings of a tube are parallel: 0 radians.
    """
    return 180.0 - 2 * degrees(asin(cos(pi / FACETS) / cos(apart / 2)))


def tube(asked: Asked) -> Blank | None:
    """A rectangle as wide as it is round, and an overlap for glue."""
    diameter, long = asked.sizes
    around = kept(float(diameter) * pi, _FINE)
    lap = min(GLUE[asked.system], around / _LEAST_OF)
    zero, wide = Fraction(0), around + lap
    across, upright = asked.made
    walls = (
        BlankFace(zero, around, zero, long, LengthId(asked.name, "across", "mark", 1), upright[0], "wall"),
        BlankFace(around, wide, zero, long, LengthId(asked.name, "glue", "wide"), upright[0], GLUE_FLAP),
    )
    glue = Drawn("glue area", ((around, zero), (wide, zero), (wide, long), (around, long)))
    corners = ((zero, zero), (wide, zero), (wide, long), (zero, long))
    _note(asked, {("glue", "wide"): lap})
    blank = blank_of(asked, (wide, long), corners, (glue,), walls, (*corners, (around, zero)))
    return replace(blank, made=(across, across, upright), bends=tuple(tube_bends(around, wide, long, True)))


def tube_bends(around: Fraction, wide: Fraction, long: Fraction, across: bool) -> Iterator[Bend]:
    """The rulings of a rectangle that is rolled up: once `around`, and on to its end."""
    facet, bend = around / FACETS, -facet_bend(0.0)
    at = facet
    while at < wide:
        ends = (at, Fraction(0)), (at, long)
        start, end = ends if across else (ends[0][::-1], ends[1][::-1])
        yield Bend(start, end, bend)
        at += facet


def spot(sector: Sector, turned: float, radius: float) -> ExactPoint:
    """A place of a sector as one of its blank."""
    x, y = sector.place(turned, radius)
    return kept(x, _FINE), kept(y, _FINE)


def cone_of(sector: Sector) -> tuple[float, float]:
    """What a sector is rolled to: how wide its foot is, and how high it is to its point, or to where it is cut off."""
    part = sector.angle / (2 * pi)
    return 2 * sector.radius * part, (sector.radius - sector.inner) * (1.0 - part * part) ** 0.5


def middle_of(sector: Sector) -> ExactPoint:
    """A place on the facet in the middle."""
    return spot(sector, _middle_turn(sector), (sector.radius + sector.inner) / 2)


def stance_of(sector: Sector, foot_up: bool = False) -> Stance:
    """The middle facet upright with its point up (or down), and leaned so that the axis of the cone is upright."""
    towards = degrees(sector.start + _middle_turn(sector))
    lean = degrees(asin(tan(sector.angle / FACETS / 2) / tan(pi / FACETS)))
    return Stance(-90.0 - towards, -lean) if foot_up else Stance(90.0 - towards, lean)


def _middle_turn(sector: Sector) -> float:
    return sector.angle / FACETS * (FACETS // 2 + 0.5)


def arc_of(sector: Sector, radius: float) -> list[ExactPoint]:
    """From its first edge to its second."""
    steps = FACETS * ceil(degrees(sector.angle / FACETS) / _STEP)
    return [spot(sector, sector.angle * step / steps, radius) for step in range(steps + 1)]


def cone_bends(sector: Sector, flap: Sequence[ExactPoint] = (), beyond: float = 1.0) -> Iterator[Bend]:
    """The rulings of a sector, and those that run on in a glue flap beyond its second edge.

    They end on the rim, or at so many times its radius.
    """
    facet = sector.angle / FACETS
    bend = -facet_bend(facet)
    for number in range(1, FACETS):
        turned = facet * number
        yield Bend(spot(sector, turned, sector.inner), spot(sector, turned, sector.radius * beyond), bend)
    if flap:
        yield Bend(flap[-1], flap[0], bend)
        near = hypot(*_way(sector.point, floats(flap)[-1]))
        number = 1
        while facet * number < _FLATTEST:
            turned = sector.angle + facet * number
            yield Bend(spot(sector, turned, near), spot(sector, turned, sector.radius), bend)
            number += 1


def cone(asked: Asked) -> Blank | None:
    """A sector with a glue flap along its second edge. Two diameters and a height make a cone that is cut off."""
    foot, *above, high = (float(size) for size in asked.sizes)
    top = above[0] if above else 0.0
    place = (asked.piece.finished or asked.piece.name).place
    slanting = "slant" in asked.remarks
    if foot == top:
        asked.ledger.misfit("cone-is-a-tube", place, piece=asked.name, diameter=asked.lengths[0])
        return None
    reach = abs(foot - top) / 2
    if slanting and high <= reach:
        asked.ledger.misfit("cone-too-flat", place, piece=asked.name, least=Length(kept(reach), asked.unit))
        return None
    slant = high if slanting else hypot(reach, high)
    radius = slant * max(foot, top) / 2 / reach
    angle = 2 * pi * reach / slant
    # Its point at the top, in the middle: so radius and chord stand upright and level on the paper.
    sector = Sector((0.0, 0.0), (pi - angle) / 2, angle, radius, radius - slant if above else 0.0)
    return _sector_blank(asked, sector, foot_up=top > foot)


def _sector_blank(asked: Asked, sector: Sector, foot_up: bool) -> Blank:
    glue = min(
        float(GLUE[asked.system]), (sector.radius - sector.inner) / _LEAST_OF, _steepest(sector) * sector.radius / 2
    )
    ring = [*arc_of(sector, sector.radius), *_flap(sector, glue)[1:]]
    ring += reversed(arc_of(sector, sector.inner)) if sector.inner else [spot(sector, 0.0, 0.0)]
    left, top = (min(place[axis] for place in ring) for axis in (0, 1))
    sector = replace(sector, point=(-float(left), -float(top)))
    outline = tuple((x - left, y - top) for x, y in ring)
    flap = tuple((x - left, y - top) for x, y in _flap(replace(sector, point=(0.0, 0.0)), glue))
    wide, high = (max(place[axis] for place in outline) for axis in (0, 1))
    across = LengthId(asked.name, "across", "size")
    face = BlankFace(Fraction(0), wide, Fraction(0), high, across, LengthId(asked.name, "down", "size"), "wall")
    sizes = {
        ("sector", "radius"): kept(sector.radius, _FINE),
        ("sector", "chord"): kept(2 * sector.radius * sin(sector.angle / 2), _FINE),
        ("glue", "wide"): kept(glue, _FINE),
    }
    if sector.inner:
        sizes["sector", "inner"] = kept(sector.inner, _FINE)
    blank = blank_of(asked, (wide, high), outline, (Drawn("glue area", flap),), (face,), ())
    _note(asked, sizes)
    foot, *_, upright = asked.made
    return replace(
        blank,
        made=(foot, foot, upright),
        bends=tuple(cone_bends(sector, flap)),
        stance=stance_of(sector, foot_up),
        stays=middle_of(sector),
        sector=sector,
    )


def _steepest(sector: Sector) -> float:
    """How steep its flap may rise from its second edge so that it keeps clear of the first one, which may be near."""
    free = (2 * pi - sector.angle) * _CLEAR
    return tan(free) if free < _UPRIGHT else tan(_UPRIGHT)


def _flap(sector: Sector, glue: float) -> list[ExactPoint]:
    """From the rim along its outer edge to where it begins on the second edge of the sector."""
    taper = float(TAPER) * glue
    rise = taper if sector.inner else glue
    begins = max(sector.inner or glue, glue / _steepest(sector) - rise)

    def beside(along: float, off: float) -> ExactPoint:
        return spot(sector, sector.angle + atan2(off, along), hypot(along, off))

    return [
        spot(sector, sector.angle, sector.radius),
        beside(sector.radius - taper, glue),
        beside(begins + rise, glue),
        spot(sector, sector.angle, begins),
    ]


def _note(asked: Asked, sizes: dict[tuple[str, str], Fraction]) -> None:
    """Lengths that are worked out and no place on the blank has."""
    for (side, place), mm in sizes.items():
        name = LengthId(asked.name, side, place)
        asked.ledger.lengths[name] = Length(mm, asked.unit)
        asked.ledger.worked_out.add(name)


_NEAR = 0.3
"""Millimetres: how far off a circle what a hand or a drawing program drew may be (as edges meet, see `folding.net`)."""


def sector_in(outline: Sequence[tuple[float, float]]) -> Sector | None:
    """The sector of a circle that an outline is, such as a half circle: all of it as far from one point, which is a
    corner of it or the middle of its longest edge. None for any other outline."""
    longest = max(pairwise((*outline, outline[0])), key=lambda ends: hypot(*_way(*ends)))
    for point in (*outline, ((longest[0][0] + longest[1][0]) / 2, (longest[0][1] + longest[1][1]) / 2)):
        rim = [place for place in outline if hypot(*_way(point, place)) > _NEAR]
        far = [hypot(*_way(point, place)) for place in rim]
        if len(rim) < len(outline) - 1 or len(rim) < FACETS // 2 or max(far) - min(far) > _NEAR:
            continue
        turned = sorted(atan2(*reversed(_way(point, place))) for place in rim)
        gap, start = max((after - one, after) for one, after in pairwise((*turned, turned[0] + 2 * pi)))
        if gap > _GAP:
            return Sector(point, start, 2 * pi - gap, sum(far) / len(far))
    return None


_GAP = 0.3
"""Radians that a circle must lack at least to be rolled to a cone."""


def _way(one: tuple[float, float], other: tuple[float, float]) -> tuple[float, float]:
    return other[0] - one[0], other[1] - one[1]
