"""The room inside a piece that holds something: a box, or a shape in which boxes of many sizes stand.

A shape is known by one rule: how high a box with a given foot may be in it. Things that lie in rows ask it with the
foot of those rows, so that a hexagon, a lens or a pyramid is tried as it is and not as one box inside it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from itertools import combinations, pairwise
from math import cos, hypot, pi, sin, sqrt, tan

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank
from foldwright.geometry.flat.forms.sided import SIDES_OF_TRAYS
from foldwright.geometry.flat.inside import SLEEVES, rooms
from foldwright.geometry.flat.points import kept
from foldwright.pack.model import Answer, LaidThing, Packing, Size, Thing
from foldwright.pack.packing import pack
from foldwright.pack.rounds import circles_in_circle

type Foot = Callable[[float, float], float]
"""How high a box of this width and depth (mm) may be; nothing or less where it does not stand in the room at all."""

_ZERO = Fraction(0)
_FINEST = 1000
"""What comes of roots and arcs is taken down to a thousandth of a millimetre."""
_MOST_IN_A_ROW = 12
_PARTS = 8
"""Feet tried for things of several kinds: so many parts of the room in either direction."""
_MOST_BOXES = 48
_TURNS = 30
"""In so many steps a rectangle is turned among walls, as far as half the angle from one to the next."""
_HAIR = 1e-9


class Room(Struct, frozen=True):
    """`bounds` is the box round it, `volume` what goes in at most (mm3); `above` is None where it is that box.

    `rounded` is its width where it is a circle from above, so that round things may be laid as circles in a circle.
    `prism` when it is as wide at every height, so that higher walls give more room. `tilts` when any side may be up.
    """

    bounds: Size
    volume: Fraction
    above: Foot | None = None
    rounded: Fraction | None = None
    prism: bool = True
    tilts: bool = False

    @classmethod
    def box(cls, size: Size, tilts: bool = False) -> Room:
        return cls(size, size[0] * size[1] * size[2], tilts=tilts)

    def boxes(self, things: Sequence[Thing]) -> tuple[Size, ...]:
        """Boxes that stand in it, the roomiest first: those on whose feet rows of the things stand."""
        if self.above is None:
            across, down, high = self.bounds
            turned = ((across, high, down), (down, high, across)) if self.tilts else ()
            return tuple(dict.fromkeys((self.bounds, *turned)))
        found = {}
        for wide, deep in _feet(things, self.bounds):
            tall = self.above(float(wide), float(deep))
            if tall > 0:
                found[wide, deep] = (wide, deep, Fraction(int(tall * _FINEST), _FINEST))
        boxes = sorted(found.values(), key=lambda box: (-box[0] * box[1] * box[2], box))
        return tuple(boxes[:_MOST_BOXES])

    def takes(self, thing: Thing) -> bool:
        """Whether one thing by itself goes in."""
        if self.above is None:
            return any(thing.ways_into(box) for box in self.boxes(()))
        above = self.above
        return any(above(float(way[0]), float(way[1])) >= float(way[2]) for way in thing.ways)

    def higher(self, times: Fraction) -> Room:
        """The same with walls so many times as high, of a room that is as wide at every height."""
        across, down, high = self.bounds
        above = self.above
        taller = None if above is None else lambda wide, deep: above(wide, deep) * float(times)
        return replace(self, bounds=(across, down, high * times), volume=self.volume * times, above=taller)


class FreeRoom(Struct, frozen=True):
    """A box between walls: its sides from fold to fold (mm), by how many thicknesses of card each is less inside, and
    whether all its sides are there; where one is not, it is the last that is open."""

    sides: Size
    layers: Size
    shut: bool


def free_room(free: FreeRoom, card: Fraction) -> Room | None:
    """The box less its card; one that is shut may stand on any of its sides."""
    across, down, high = (side - card * layers for side, layers in zip(free.sides, free.layers, strict=True))
    return Room.box((across, down, high), tilts=free.shut) if min(across, down, high) > 0 else None


def less(room: Room, taken: Size) -> Room | None:
    """A room in which something is stuck to the walls and the floor."""
    if not any(taken):
        return room
    across, down, high = (side - off for side, off in zip(room.bounds, taken, strict=True))
    return Room.box((across, down, high), room.tilts) if min(across, down, high) > 0 else None


def pack_in(room: Room, things: Sequence[Thing]) -> Packing:
    """Things in a room of any shape: in the first of its boxes they go into, the roomiest first."""
    if not things:
        return Packing(Answer.GOES_IN, (), room.bounds)
    if room.rounded and things[0].round and all(thing == things[0] for thing in things):
        layers = _in_the_round(things[0], len(things), room)
        if layers is not None:
            return layers
    if room.above is not None and any(not room.takes(thing) for thing in dict.fromkeys(things)):
        # A ball lies lower between slanting walls than the box round it.
        known = room.prism or not any(thing.round for thing in things)
        return Packing(Answer.DOES_NOT, short=_too_high(room, things)) if known else Packing(Answer.UNKNOWN)
    found = []
    for box in room.boxes(things):
        found.append(pack(things, box))
        if found[-1].answer is Answer.GOES_IN:
            return found[-1]
    if room.above is None:
        decided = all(one.answer is Answer.DOES_NOT for one in found)
        return found[0] if decided or len(found) == 1 else Packing(Answer.UNKNOWN)
    volume = sum((thing.volume for thing in things), Fraction(0))
    proven = volume > room.volume and not any(thing.round for thing in things)
    return Packing(Answer.DOES_NOT if proven else Answer.UNKNOWN)


def _in_the_round(thing: Thing, count: int, room: Room) -> Packing | None:
    """Round things that stand in a round room, as many a layer as circles go into a circle; None if they do not."""
    wide, _, long = thing.size
    assert room.rounded is not None
    each = circles_in_circle(float(room.rounded), float(wide))
    layers = -(-count // each) if each else 0
    if not each or layers * long > room.bounds[2]:
        return None
    beside = room.rounded - wide if each == 1 or count == 1 else Fraction(0)
    # Only how high each lies is looked at.
    laid = tuple(LaidThing(at, (_ZERO, _ZERO, at // each * long), thing.size) for at in range(count))
    return Packing(Answer.GOES_IN, laid, (beside, beside, room.bounds[2] - layers * long))


def _too_high(room: Room, things: Sequence[Thing]) -> tuple[int, Fraction] | None:
    """By how much the walls of a straight room are too low for the one kind of thing that stands on its floor."""
    if not room.prism or room.above is None or any(thing != things[0] for thing in things):
        return None
    stands = [way[2] for way in things[0].ways if room.above(float(way[0]), float(way[1])) > 0]
    return (2, min(stands) - room.bounds[2]) if stands and len(things) == 1 else None


def _feet(things: Sequence[Thing], bounds: Size) -> Iterator[tuple[Fraction, Fraction]]:
    kinds = dict.fromkeys(things)
    for thing in kinds:
        for way in thing.ways:
            for many in range(1, min(_MOST_IN_A_ROW, int(bounds[0] // way[0])) + 1):
                for rows in range(1, min(_MOST_IN_A_ROW, int(bounds[1] // way[1])) + 1):
                    yield many * way[0], rows * way[1]
    if len(kinds) > 1:
        for part in range(1, _PARTS + 1):
            for other in range(1, _PARTS + 1):
                yield bounds[0] * part / _PARTS, bounds[1] * other / _PARTS


# --- by form ----------------------------------------------------------------------------------------------------------


def room_of(blank: Blank, card: Fraction) -> Room | None:
    """The room inside, with so much card; None where nothing is known of it, or the card fills it."""
    made = {length.place: size for length, size in blank.made}
    known = {one.side: one.inside for one in rooms(blank, card)}
    if blank.form in SIDES_OF_TRAYS and {"across", "deep"} <= known.keys():
        return regular(SIDES_OF_TRAYS[blank.form], known["across"], known["deep"])
    if blank.form == "prism" and len(made) == 2:
        count = sum(face.name not in ("top", "bottom", GLUE_FLAP) for face in blank.faces)
        # A tab lies on a wall, and on each end.
        flat = kept(float(made["side"]) / tan(pi / count)) - 3 * card if count > 2 else _ZERO
        return regular(count, flat, made["high"] - 3 * card) if count > 2 else None
    if blank.form == "tube" and {"diameter", "long"} <= known.keys():
        return cylinder(known["diameter"] - card, known["long"])
    if blank.form == "cone" and blank.sector is not None and blank.made:
        foot, high = blank.made[0][1], blank.made[-1][1]
        return cone(foot, high, card, kept(blank.sector.inner / blank.sector.radius))
    if blank.form == "pyramid" and len(made) == 3:
        return pyramid((made["across"], made["down"], made["high"]), card)
    if blank.form == "pillow box" and len(made) == 3:
        return pillow((made["across"], made["down"], made["high"]), card)
    if tube := _tube(blank, card):
        return tube
    sides = list(known.values())
    if blank.form in SLEEVES and len(sides) == 2:
        # A sleeve's third side is how long it is.
        sides = [sides[0], blank.height, sides[1]]
    if len(sides) != 3 or min(sides) <= 0:
        return None
    return Room.box((sides[0], sides[1], sides[2]))


def _tube(blank: Blank, card: Fraction) -> Room | None:
    """A wall that is rolled up and glued: as wide as its length goes round, less a card at either side and the flap."""
    if blank.form == "tube" and blank.made:
        return cylinder(blank.made[0][1] - 2 * card, blank.made[-1][1])
    row = [strip for strip in blank.across if strip.role != GLUE_FLAP]
    if blank.form or len(blank.across) != 2 or len(row) != 1 or len(blank.down) != 1 or blank.outline:
        return None
    return cylinder(kept(float(row[0].long) / pi) - 2 * card, blank.height)


def regular(count: int, flat: Fraction, high: Fraction) -> Room | None:
    """A room with so many equal walls, each half of `flat` from the middle. What stands in it may be turned.

    A rectangle w x d turned by an angle stays behind a wall when its middle is no nearer to it than w |cos| + d |sin|,
    halved, of the angle between it and the wall's normal. With walls that face each other the best middle is that of
    the room, as both are alike when turned by half a turn. Where there is none such, three walls round a middle leave
    room when their distances, weighed so that their normals come to nothing, do (Farkas' lemma, with Helly's theorem).
    """
    if min(flat, high) <= 0:
        return None
    normals = [2 * pi * number / count for number in range(count)]
    threes = list(_threes(normals)) if count % 2 else []
    turns = [pi / count * turn / _TURNS for turn in range(_TURNS + 1)]

    def above(wide: float, deep: float) -> float:
        if hypot(wide, deep) <= float(flat):
            return float(high)
        for turn in turns:
            free = [float(flat) - wide * abs(cos(one - turn)) - deep * abs(sin(one - turn)) for one in normals]
            if min(free) >= -_HAIR:
                return float(high)
            if threes and all(sum(free[at] * by for at, by in three) >= -_HAIR for three in threes):
                return float(high)
        return 0.0

    corner = kept(float(flat) / cos(pi / count))
    area = count / 4 * float(flat) ** 2 * tan(pi / count)
    # What is round stands in the circle that touches all walls.
    return Room((corner, corner, high), kept(area) * high, above, rounded=flat)


def _threes(normals: Sequence[float]) -> Iterator[tuple[tuple[int, float], ...]]:
    """Walls that stand round a place, three at a time, each with its weight."""
    for numbers in combinations(range(len(normals)), 3):
        one, two, three = (normals[number] for number in numbers)
        weights = sin(three - two), sin(one - three), sin(two - one)
        if min(weights) > _HAIR:
            yield tuple(zip(numbers, weights, strict=True))


def cylinder(wide: Fraction, high: Fraction) -> Room | None:
    """A round room: a rectangle stands in a circle that is as wide as its diagonal."""
    if min(wide, high) <= 0:
        return None

    def above(across: float, deep: float) -> float:
        return float(high) if hypot(across, deep) <= float(wide) + 1e-9 else 0.0

    return Room((wide, wide, high), kept(pi / 4 * float(wide) ** 2) * high, above, rounded=wide)


def cone(foot: Fraction, high: Fraction, card: Fraction = _ZERO, cut: Fraction = _ZERO) -> Room | None:
    """It narrows evenly: at height z it is (1 - z / whole height) of its foot. Of one that is cut off, `cut` is the
    part of the foot that its other end has.

    Its card and that of its overlap stand inside, measured square to the wall.
    """
    whole = float(high) / (1 - float(cut))
    wide = float(foot) - 2 * float(card) * hypot(whole, float(foot) / 2) / whole
    if min(wide, whole) <= 0:
        return None

    def above(across: float, deep: float) -> float:
        return min(float(high), whole * wide / float(foot) * (1 - hypot(across, deep) / wide))

    ends = kept(wide)
    volume = kept(pi / 12 * float(foot) ** 2) * high * (1 + cut + cut * cut)
    return Room((ends, ends, high), volume, above, rounded=kept(wide * float(cut)) if cut else None, prism=False)


def pyramid(made: Size, card: Fraction) -> Room | None:
    """At height z both sides of its foot are (1 - z / high) of what they are below.

    The walls stand half a card inside their scores, measured square to the wall: along the foot that is as much more
    as the wall slants. That is the same as a pyramid of the same slants that is smaller all round.
    """
    wide, long, high = map(float, made)
    half = float(card) / 2
    slants = [half * hypot(high, side / 2) / high for side in (wide, long)]
    across, down = (side * (1 - half / high) - 2 * off for side, off in zip((wide, long), slants, strict=True))
    one, other = (high * foot / side for foot, side in ((across, wide), (down, long)))
    if min(across, down) <= 0:
        return None

    def above(foot: float, deep: float) -> float:
        return min(one * (1 - foot / across), other * (1 - deep / down))

    bounds = kept(across), kept(down), kept(min(one, other))
    return Room(bounds, bounds[0] * bounds[1] * bounds[2] / 3, above, prism=False)


def pillow(made: Size, card: Fraction) -> Room | None:
    """The lens between two panels that bulge.

    Flat, the scored arc of an end rises r(u) over the straight line between its ends, u from the middle of the panel. A
    curved fold that lies in one plane makes of what is beyond it the mirror image, in that plane, of what would go on.
    The end stands upright, so the plane leans by 45 degrees, and the panel stands as high over the line as the arc lies
    inside it: Z = r(u). The panel is as long across as before, so dX = sqrt(1 - r'(u)^2) du. Between the ends, which
    come in by r as well, there is the length less the thickness.
    """
    wide, long, thick = map(float, made)
    rise = thick / 2
    radius = (wide * wide / 4 + rise * rise) / (2 * rise) if rise > 0 else 0.0
    if radius <= 0 or wide / 2 > radius / sqrt(2):
        return None
    curve = _lens(wide, rise, radius)
    t = float(card)
    across, down, high = 2 * curve[-1][0] - 2 * t, long - thick - 3 * t, thick - t
    if min(across, down, high) <= 0:
        return None

    def above(foot: float, deep: float) -> float:
        return 2 * _height_at(foot / 2 + t, curve) - t if deep <= down and foot <= across else 0.0

    bounds = kept(across), kept(down), kept(high)
    return Room(bounds, bounds[0] * bounds[1] * bounds[2], above, prism=False)


_STEPS = 200


def _lens(wide: float, rise: float, radius: float) -> list[tuple[float, float]]:
    """Half the upper panel from its middle outwards, as (X, Z), by Simpson's rule."""
    step = wide / 2 / _STEPS

    def run(u: float) -> float:
        return sqrt(max(0.0, 1 - u * u / (radius * radius - u * u)))

    def height(u: float) -> float:
        return sqrt(radius * radius - u * u) - (radius - rise)

    points, x = [(0.0, height(0.0))], 0.0
    for number in range(_STEPS):
        u = number * step
        x += step / 6 * (run(u) + 4 * run(u + step / 2) + run(u + step))
        points.append((x, height(u + step)))
    return points


def _height_at(x: float, curve: Sequence[tuple[float, float]]) -> float:
    for (before, high), (after, low) in pairwise(curve):
        if before <= x <= after:
            return high + (low - high) * (x - before) / (after - before)
    return 0.0
