"""The gift bag: four walls, a top edge that is turned in, and a bottom that is folded of one piece with them.

Every wall hangs on its neighbours down to the lower edge; nothing is cut. The strip below the walls is as long as half
the bag is deep and an overlap. Its folds are those of a paper bag with a block bottom (common practice, no source): the
sides are laid in, which folds a triangle of 45 degrees at every corner, then back and front are glued on one another.
The folds in the sides and across the back let the bag lie flat again; while it stands they are open.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, BlankFace, Drawn, ExactPoint, Opening
from foldwright.geometry.flat.forms.making import (
    FLAT,
    GLUE,
    GLUE_AREA,
    SQUARE,
    TAPER,
    Asked,
    blank_of,
    fold,
    remark_length,
)
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import Length, System, Unit

_HEM = {System.METRIC: Fraction(30), System.IMPERIAL: Unit.INCH.mm * 5 / 4}
"""How much of the top edge is turned in when nobody says, and at most a part of the height (both common practice, no
source)."""
_MOST_HEM = Fraction(1, 4)
_LAP = {System.METRIC: Fraction(15), System.IMPERIAL: Unit.INCH.mm / 2}
"""How far back and front reach past the middle of the bottom (common practice, no source); less where the bag is
nearly square."""
LEAST_LAP = {System.METRIC: Fraction(4), System.IMPERIAL: Unit.INCH.mm / 8}
_HOLE = {System.METRIC: Fraction(5), System.IMPERIAL: Unit.INCH.mm / 4}
"""How wide the holes for handles are (common practice, no source)."""


class _BagPlaces(Struct, frozen=True):
    """Where its folds lie: `xs` the walls from left to right and the end of the glue flap; the top edge, the foot of
    the walls, the lower edge."""

    xs: tuple[Fraction, ...]
    hem: Fraction
    foot: Fraction
    end: Fraction
    glue: Fraction
    taper: Fraction
    flap: Fraction
    """Where the glue flap begins: at the top edge, or below a hole for the handles that it would cover."""

    @property
    def strip(self) -> Fraction:
        """How long the strip below the walls is."""
        return self.end - self.foot


def gift_bag(asked: Asked) -> Blank | None:
    """Back, left, front, right and a glue flap side by side, as wide and deep as the bag is when it stands."""
    wide, deep, high = asked.sizes
    said = asked.piece.finished or asked.piece.inside or asked.piece.name
    least = deep + 2 * LEAST_LAP[asked.system]
    if wide < least:
        asked.ledger.misfit("bag-too-deep", said.place, piece=asked.name, least=Length(least, asked.unit))
        return None
    hem = _hem(asked, high, high - deep / 2)
    if hem > high - deep / 2 and asked.piece.fold and high > deep / 2:
        most = Length(high - deep / 2, asked.unit)
        asked.ledger.misfit("hem-too-wide", asked.piece.fold.place, piece=asked.name, most=most)
        return None
    if high <= deep / 2:
        asked.ledger.misfit("bag-too-low", said.place, piece=asked.name, least=Length(deep / 2, asked.unit))
        return None
    strip = min(deep / 2 + _LAP[asked.system], wide / 2, deep)
    glue = min(GLUE[asked.system], strip)
    foot = hem + high
    xs = (Fraction(0), wide, wide + deep, 2 * wide + deep, 2 * (wide + deep))
    handles = "handles" in asked.remarks
    hole = _HOLE[asked.system]
    covers = handles and wide / 4 - hole / 2 <= glue
    flap = hem + (_drop(hem, asked.system) + hole if covers else 0)
    at = _BagPlaces((*xs, xs[-1] + glue), hem, foot, foot + strip, glue, min(glue, high) * TAPER, flap)
    holes = tuple(_handles(asked, at)) if handles else ()
    drawn = (*_walls_and_hem(at), *_bottom(at), *_open_folds(at, deep), *_glue(at, deep))
    faces, labels = _faces(asked, at), tuple(_labels(at))
    blank = blank_of(asked, (at.xs[-1], at.end), _outline(at), drawn, faces, labels=labels)
    return replace(blank, openings=holes)


def _hem(asked: Asked, high: Fraction, most: Fraction) -> Fraction:
    """How much is turned in: at `most` as far as the folds of the bottom, unless somebody says so."""
    if "no hem" in asked.remarks:
        return Fraction(0)
    said = remark_length(asked, "hem")
    return said.mm if said else min(_HEM[asked.system], high * _MOST_HEM, most)


def _outline(at: _BagPlaces) -> tuple[ExactPoint, ...]:
    zero, corner, end = Fraction(0), at.xs[4], at.xs[5]
    top = ((zero, zero), (corner, zero), (corner, at.flap)) if at.flap else ((zero, zero), (corner, zero))
    return (*top, (end, at.flap + at.taper), (end, at.end), (zero, at.end))


def _walls_and_hem(at: _BagPlaces) -> Iterator[Drawn]:
    for x in at.xs[1:4]:
        if at.hem:
            # What is turned in lies the other way up: it bends the other way.
            yield fold((x, Fraction(0)), (x, at.hem), -SQUARE)
        yield fold((x, at.hem), (x, at.foot), SQUARE)
    yield fold((at.xs[4], at.flap), (at.xs[4], at.foot), SQUARE)
    if at.hem:
        yield fold((Fraction(0), at.hem), (at.xs[4], at.hem), FLAT)
    yield fold((Fraction(0), at.foot), (at.xs[5], at.foot), SQUARE)


def _bottom(at: _BagPlaces) -> Iterator[Drawn]:
    """A triangle on either side of the back's and the front's strip; the glue flap lies on the back's, and has its."""
    for x in at.xs[1:5]:
        yield fold((x, at.foot), (x, at.end), -FLAT)
    for number, x in enumerate(at.xs[:4]):
        yield fold((x, at.foot), (x + (-at.strip if number % 2 else at.strip), at.end), FLAT)
    corner = at.xs[4]
    yield fold((corner, at.foot), (corner + at.glue, at.foot + at.glue), FLAT)


def _open_folds(at: _BagPlaces, deep: Fraction) -> Iterator[Drawn]:
    """Folds that stay open while the bag stands: down the middle of each side, and where the bottom folds up."""
    rise = at.foot - deep / 2
    middles = []
    for left, right in ((at.xs[1], at.xs[2]), (at.xs[3], at.xs[4])):
        middle = (left + right) / 2
        middles.append(middle)
        if at.hem:
            yield Drawn("mountain", ((middle, Fraction(0)), (middle, at.hem)))
        yield Drawn("valley", ((middle, at.hem), (middle, rise)))
        yield Drawn("mountain", ((middle, rise), (left, at.foot)))
        yield Drawn("mountain", ((middle, rise), (right, at.foot)))
    yield Drawn("valley", ((Fraction(0), rise), (middles[0], rise)))
    yield Drawn("valley", ((middles[1], rise), (at.xs[5], rise)))


def _glue(at: _BagPlaces, deep: Fraction) -> Iterator[Drawn]:
    """On the flap, which lies inside the back, and on as much of the back's strip as the front's lies on."""
    corner, end = at.xs[4], at.xs[5]
    yield Drawn(GLUE_AREA, ((corner, at.flap), (end, at.flap + at.taper), (end, at.foot), (corner, at.foot)))
    top, wide = deep - at.strip, at.xs[1]
    points = ((top, at.foot + top), (wide - top, at.foot + top), (wide - at.strip, at.end), (at.strip, at.end))
    yield Drawn(GLUE_AREA, points)


def _faces(asked: Asked, at: _BagPlaces) -> tuple[BlankFace, ...]:
    """The front first: the wall that is looked at."""
    (across, _), (deep, _), (high, _) = asked.made
    sides = list(pairwise(at.xs))
    wide = (across, deep, across, deep, across)
    names = ("back", "left", "front", "right", GLUE_FLAP)
    walls = [
        BlankFace(*ends, at.hem, at.foot, own, high, name) for ends, own, name in zip(sides, wide, names, strict=True)
    ]
    front_and_back = [(*sides[2], across), (*sides[0], across)]
    hems = [BlankFace(left, right, Fraction(0), at.hem, own, high, "hem") for left, right, own in front_and_back]
    floors = [BlankFace(left, right, at.foot, at.end, own, high, "bottom") for left, right, own in front_and_back]
    return (walls[2], walls[0], walls[1], walls[3], walls[4], *(hems if at.hem else ()), *floors)


def _labels(at: _BagPlaces) -> Iterator[tuple[str, ExactPoint]]:
    """The panels of the sides that are known by the same name as those of the front and the back."""
    for left, right in ((at.xs[1], at.xs[2]), (at.xs[3], at.xs[4])):
        yield "bottom", ((left + right) / 2, (at.foot + at.end) / 2)
        for part in (Fraction(1, 4), Fraction(3, 4)) if at.hem else ():
            yield "hem", (left + (right - left) * part, at.hem / 2)


def _drop(hem: Fraction, system: System) -> Fraction:
    """How far below the top edge the middles of the holes are."""
    return hem / 2 if hem else _HOLE[system] * 2


def _handles(asked: Asked, at: _BagPlaces) -> Iterator[Opening]:
    """Two holes in the front and two in the back, half the width apart, through what is turned in as well."""
    wide = _HOLE[asked.system]
    drop, side = _drop(at.hem, asked.system), asked.sizes[0] / 4
    names = [LengthId(asked.name, "handles", place) for place in ("wide", "top", "side")]
    for name, mm in zip(names, (wide, drop, side), strict=True):
        asked.ledger.lengths[name] = Length(mm, asked.unit)
    asked.ledger.worked_out.update(names)
    for left, right, panel in ((at.xs[0], at.xs[1], "back"), (at.xs[2], at.xs[3], "front")):
        for x in (left + side, right - side):
            for y in (at.hem + drop, at.hem - drop) if at.hem else (drop,):
                yield Opening("round", x - wide / 2, y - wide / 2, wide, wide, (names[0],), panel=panel)
